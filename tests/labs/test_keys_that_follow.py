"""Keys whose basis holds for all that follow, and names that go on in the next line."""

from __future__ import annotations

from rickyard.labs.intake import read_file
from rickyard.labs.legends.legend import legend_of

SURVEY = """\
Heronry - stack survey, summer 2025

Stack                              MO     CP    ADF    NDF    NEM      P    NN

Bottom stack next to the old     11.3   10.0   34.4   55.4   0.63   0.23   124
ferry landing
Bottom 2                         12.4   10.7   38.3   61.2   0.58   0.29   635
Bottom 3                         15.5   13.0   34.4   50.5   0.63   0.28   540

MO moisture, % as received. All following on the dry matter:
CP crude protein, %. ADF acid detergent fiber, %. NDF neutral detergent fiber, %.
NEM net energy for maintenance, Mcal per pound. P phosphorus, %.
NN nitrate nitrogen (NO3-N), ppm.
"""


def test_a_key_gives_its_basis_to_all_codes_that_follow() -> None:
    first, second, _ = read_file("a.txt", SURVEY.encode()).samples
    assert first.id == "Bottom stack next to the old ferry landing"
    assert second.id == "Bottom 2"
    told = {v.analyte: (v.value, v.unit, v.basis, v.status) for v in second.values}
    assert told["moisture"] == (12.4, "pct", "ar", "sure")
    assert told["adf"] == (38.3, "pct", "dm", "sure")
    assert told["nem"] == (0.58, "mcal_per_lb", "dm", "sure")
    assert told["nitrate_no3n"] == (635.0, "ppm", "dm", "sure")


def test_a_list_of_analytes_may_hold_elements_of_one_letter() -> None:
    legend = legend_of(["cp, adf, ca, k and p are % of DRY MATTER"])
    assert {legend.basis_of[one] for one in ("cp", "ca", "k", "p")} == {"dm"}


PASTED = """\
Millrace Agrochem
Results: % of dry matter, except moisture (% as received)

Lab number
Sample
Moisture
Crude protein
ADF
NDF

MR-8
Sheep paddock
14.9
8.2
37.6
60.0

MR-9
Trefoil
15.7
19.1
30.0
38.2
"""


def test_a_table_pasted_cell_by_cell_is_put_together_again() -> None:
    samples = read_file("a.txt", PASTED.encode()).samples
    assert [(one.lab_no, one.id) for one in samples] == [
        ("MR-8", "Sheep paddock"),
        ("MR-9", "Trefoil"),
    ]
    assert [(v.analyte, v.value, v.basis, v.status) for v in samples[1].values][:2] == [
        ("moisture", 15.7, "ar", "sure"),
        ("cp", 19.1, "dm", "sure"),
    ]


CODED = """\
╔════════════════════════════════════════════════════╗
║ NO     BAG               B    MOIST    PROT    NDF ║
╟────────────────────────────────────────────────────╢
║ 4410   BROME LOW FLD     A     14.4    10.0   51.9 ║
║                          D             11.7   60.6 ║
║ 4411   ALFALFA SHED      A     12.6    14.3   34.3 ║
║                          D             16.4   39.3 ║
╟────────────────────────────────────────────────────╢
║ B: A = AS FED    D = MOISTURE FREE          1 OF 1 ║
╚════════════════════════════════════════════════════╝
"""


def test_a_framed_print_tells_the_basis_of_each_row_by_a_letter() -> None:
    samples = read_file("a.txt", CODED.encode()).samples
    assert [one.id for one in samples] == ["BROME LOW FLD", "ALFALFA SHED"]
    told = {(v.analyte, v.basis): (v.value, v.status) for v in samples[0].values}
    assert told["cp", "ar"] == (10.0, "sure")
    assert told["cp", "dm"] == (11.7, "sure")
