"""Units and bases that a section tells for all, and cells of web pages that reach down."""

from __future__ import annotations

from rickyard.labs.intake import read_file

SECTIONS = """\
[Units]
CP=%
ADF=%
ME=MJ/kg
MOIST=%
[Basis]
MOIST=asfed
CP=dry
ADF=dry
ME=dry
[Sample 3350]
NAME=Cocksfoot
MOIST=12.2
CP=12.4
ADF=36.7
ME=9.1
[Sample 3351]
NAME=Vetch
MOIST=10.7
CP=9.5
ADF=36.2
ME=9.2
"""


def test_sections_of_units_and_bases_tell_them_of_every_sample() -> None:
    samples = read_file("a.txt", SECTIONS.replace("\n", "\r\n").encode()).samples
    assert [(one.id, one.lab_no) for one in samples] == [("Cocksfoot", "3350"), ("Vetch", "3351")]
    assert [(v.analyte, v.value, v.unit, v.basis, v.status) for v in samples[1].values] == [
        ("moisture", 10.7, "pct", "ar", "sure"),
        ("cp", 9.5, "pct", "dm", "sure"),
        ("adf", 36.2, "pct", "dm", "sure"),
        ("me", 9.2, "mj_per_kg", "dm", "sure"),
    ]


PAGE = """\
<html><body><table><tr><th rowspan=2>Lab ID</th><th rowspan=2>Sample</th><th>As received</th>
<th colspan=3>Dry basis</th></tr><tr><th>DM %</th><th>CP %</th><th>ADF %</th><th>NDF %</th></tr>
<tr><td>A1</td><td>North</td><td>86.2</td><td>11.9</td><td>37.5</td><td>60.5</td></tr>
<tr><td>A2</td><td>Teff</td><td>86.9</td><td>9.5</td><td>36.9</td><td>68.4</td></tr></table>
"""


def test_a_cell_that_reaches_down_moves_the_cells_of_the_next_row() -> None:
    samples = read_file("a.xls", PAGE.encode()).samples
    assert [(one.lab_no, one.id) for one in samples] == [("A1", "North"), ("A2", "Teff")]
    told = [(v.analyte, v.value, v.basis, v.status) for v in samples[0].values]
    assert told[:2] == [("dm", 86.2, "ar", "sure"), ("cp", 11.9, "dm", "sure")]
    assert told[3] == ("ndf", 60.5, "dm", "sure")
