"""What stands around names, numbers and values: taken away, kept apart, or asked about."""

from __future__ import annotations

from pathlib import Path

import pytest
import xlsxwriter

from rickyard.labs.common import FileReading
from rickyard.labs.intake import read_file
from rickyard.labs.parting import with_names_whole
from rickyard.labs.reading import documents_of


def _sure(reading: FileReading) -> dict[str, dict[str, float | None]]:
    """Return the sure values of each sample by its name."""
    return {
        one.id: {v.analyte: v.value for v in one.values if v.status == "sure"}
        for one in reading.samples
    }


def test_the_words_of_a_letter_around_a_name_are_not_of_it() -> None:
    told = (
        'UV-3301, marked "Meadow, under cover":\nDry matter 89.2 %\nCrude protein 11.3 % of DM\n'
        'NDF 62.6 % of DM\n\nUV-3302, marked "Lucerne, late":\nDry matter 84.4 %\n'
        "Crude protein 18.1 % of DM\nNDF 46.4 % of DM\n"
    )
    names = [one.id for one in read_file("letter.txt", told.encode()).samples]
    assert names == ["Meadow, under cover", "Lucerne, late"]


def test_the_word_sample_before_a_number_is_not_of_it() -> None:
    told = (
        b"[sample TB509]\nBag=West 40\nProtein.pct.dm=8.4\nADF.pct.dm=37.3\nNDF.pct.dm=61.6\n\n"
        b"[sample TB510]\nBag=East 40\nProtein.pct.dm=11.2\nADF.pct.dm=35.7\nNDF.pct.dm=51.4\n"
    )
    assert [one.lab_no for one in read_file("a.txt", told).samples] == ["TB509", "TB510"]


@pytest.mark.parametrize(
    ("title", "names", "numbers"),
    [
        ("Green Hollow Analysis", ["Front gate", "Back forty"], ["GH-5", "GH-6"]),
        ("Mill Creek Analysis", ["GH-5 Front gate", "GH-6 Back forty"], ["", ""]),
    ],
)
def test_a_short_number_with_the_letters_of_the_laboratory_is_no_name(
    title: str, names: list[str], numbers: list[str]
) -> None:
    told = f"{title}\n\nTest,Unit,GH-5 Front gate,GH-6 Back forty\nDry matter,% as fed,90.0,89.8\n"
    told += "Crude protein,% of DM,10.7,10.2\nADF,% of DM,37.0,36.1\n"
    samples = read_file("a.csv", told.encode()).samples
    assert [one.id for one in samples] == names
    assert [one.lab_no for one in samples] == numbers


BROKEN = """\
                            Feno do        Luzerna de
Amostra
                            vale           regadio

Proteina bruta (% MS)       10,2           17,8
FDA (% MS)                  38,3           35,3
FDN (% MS)                  59,9           45,4
"""


@pytest.mark.parametrize("between", ["\nAmostra\n", "\nAmostra"])
def test_names_that_are_broken_over_two_lines_are_whole(between: str) -> None:
    lower = "vale           regadio"
    lines = BROKEN.split(lower)
    room = 28 - len(between.rsplit("\n", 1)[1])
    told = lines[0].split("\n")[0] + between + " " * room + lower + lines[1]
    names = list(_sure(read_file("a.txt", told.encode())))
    assert names == ["Feno do vale", "Luzerna de regadio"]


def test_two_lines_of_which_none_goes_on_are_two_things() -> None:
    told = "           First cutting   Second cutting\nSample     West 40         East 40\n"
    (document,) = (one for one in documents_of(told.encode()) if not one.pages[0].gridded)
    texts = [[cell.text for cell in row] for row in with_names_whole(document).pages[0].rows]
    assert texts[1] == ["Sample", "West 40", "East 40"]


MAIL = """Hello,

Moisture is on the hay as it came; the rest is on dry matter. All are NIR with the nitrate by wet
method.

The bag marked "School rounds" came in at 14.0 percent moisture. Protein is 11.6 percent, ADF 34.3
and NDF 56.3 percent; nitrate-N was 356 ppm. A year ago that field gave you 16.4% protein with
41.0% ADF, so this is the better hay.

We would want hay for milking cows above 18% protein and below 40% NDF.
"""


def test_an_earlier_year_in_a_letter_is_no_sample_and_a_wet_method_no_basis() -> None:
    (sample,) = read_file("mail.txt", MAIL.encode()).samples
    assert sample.id == "School rounds"
    told = {value.analyte: (value.value, value.basis, value.status) for value in sample.values}
    assert told["cp"] == (11.6, "dm", "sure")
    assert told["ndf"] == (56.3, "dm", "sure")
    assert told["nitrate_no3n"] == (356.0, "dm", "sure")


CORRECTED = """\
No.         Bag                     DM %        CP %        ADF %       NDF %
640-1       Long acre               85.6        10.3        35.1        59.9
640-2       Lane end    {first:<8}    84.5        16.2        33.1        50.7
640-2       Lane end    {second:<8}    84.5        11.8        33.1        50.7

All but DM on dry matter.
"""


@pytest.mark.parametrize(
    ("first", "second", "protein"),
    [("VOID", "RE-RUN", 11.8), ("", "RE-RUN", 11.8), ("", "VOID", 16.2), ("VOID", "VOID", None)],
)
def test_a_row_that_is_taken_back_or_replaced_is_left_out_and_told(
    first: str, second: str, protein: float | None
) -> None:
    reading = read_file("a.txt", CORRECTED.format(first=first, second=second).encode())
    ends = [one for one in reading.samples if one.id == "Lane end"]
    assert [value.value for one in ends for value in one.values if value.analyte == "cp"] == (
        [protein] if protein else []
    )
    assert any("Lane end" in one for one in reading.notes)


def test_void_where_one_value_stands_takes_back_that_value_alone() -> None:
    told = b"Sample,CP % DM,ADF % DM,NDF % DM\nWest 40,VOID,35.1,55.5\nEast 40,12.2,34.0,51.0\n"
    assert _sure(read_file("a.csv", told))["West 40"] == {"adf": 35.1, "ndf": 55.5}


def test_the_unit_of_nitrate_is_not_told_by_its_number() -> None:
    told = b"Results on dry matter\nSample,CP %,ADF %,NDF %,NO3-N\nWest 40,12.2,35.1,55.5,810\n"
    (sample,) = read_file("a.csv", told).samples
    (nitrate,) = [value for value in sample.values if value.analyte == "nitrate_no3n"]
    assert nitrate.status == "ask"
    assert any("without a unit" in one.text for one in sample.questions)


def test_each_table_has_the_method_of_the_line_over_it(tmp_path: Path) -> None:
    path = tmp_path / "two.xlsx"
    rows = (
        ("First room (wet chemistry). All on dry matter.",),
        ("Bag", "No.", "CP %", "ADF %", "NDF %"),
        ("Split 1", "GW40", 8.1, 34.6, 56.5),
        (),
        (),
        ("Second room (NIR). All on dry matter.",),
        ("Bag", "No.", "CP %", "ADF %", "NDF %"),
        ("Split 2", "FS-113", 8.6, 34.7, 56.8),
    )
    with xlsxwriter.Workbook(str(path)) as book:
        sheet = book.add_worksheet("compare")
        for place, row in enumerate(rows):
            sheet.write_row(place, 0, row)
    samples = read_file(path.name, path.read_bytes()).samples
    assert [(one.id, one.method) for one in samples] == [
        ("Split 1", "wet chemistry"),
        ("Split 2", "NIR"),
    ]


def test_dry_matter_that_is_a_moisture_is_asked_about_under_a_short_heading() -> None:
    told = "LAB    TAG          DRYMAT  CRPROT     ADF     NDF\n"
    told += "NO                     %AR     %DM     %DM     %DM\n"
    told += "3310   SEC 9 EAST     83.5    10.5    35.3    60.2\n"
    told += "3311   PIVOT          86.6    10.5    33.2    55.6\n"
    told += "3316   ORCHARD        13.9    13.1    36.6    52.4\n"
    reading = read_file("run.prn", told.encode())
    assert _sure(reading)["SEC 9 EAST"] == {"dm": 83.5, "cp": 10.5, "adf": 35.3, "ndf": 60.2}
    (orchard,) = [one for one in reading.samples if one.id == "ORCHARD"]
    assert any(one.level == "open" and "dm" in one.analytes for one in orchard.questions)


def test_numbers_of_a_laboratory_are_no_analyte_with_its_value() -> None:
    told = b"What the bag says,Desk,Moisture,Protein,ADF\n"
    told += b"Coastal,MG 14,13.0 % as fed,10.9 % DM,37.6 % DM\n"
    told += b"Hill,MG 15,12.5 % as fed,10.2 % DM,33.9 % DM\n"
    assert _sure(read_file("a.csv", told)) == {
        "Coastal": {"moisture": 13.0, "cp": 10.9, "adf": 37.6},
        "Hill": {"moisture": 12.5, "cp": 10.2, "adf": 33.9},
    }


@pytest.mark.parametrize(
    ("sheets", "bases"),
    [
        (("As received", "Dry matter basis"), {("cp", "ar"): 9.9, ("cp", "dm"): 11.1}),
        (("Dry", "Wet"), {}),
    ],
)
def test_the_name_of_a_sheet_tells_the_basis_of_its_values(
    tmp_path: Path, sheets: tuple[str, str], bases: dict[tuple[str, str], float]
) -> None:
    path = tmp_path / "two.xlsx"
    with xlsxwriter.Workbook(str(path)) as book:
        for name, row in zip(sheets, ((9.9, 32.1, 47.2), (11.1, 36.2, 53.2)), strict=True):
            sheet = book.add_worksheet(name)
            sheet.write_row(0, 0, ("Lab no", "Id", "CP %", "ADF %", "NDF %"))
            sheet.write_row(1, 0, ("TD-31", "Ewes", *row))
    samples = read_file(path.name, path.read_bytes()).samples
    values = [one for sample in samples for one in sample.values if one.status == "sure"]
    assert {(v.analyte, v.basis): v.value for v in values if v.analyte == "cp"} == bases


@pytest.mark.parametrize(
    ("note", "analyte", "status"),
    [
        ("* as nitrate-nitrogen (NO3-N)", "nitrate_no3n", "sure"),
        ("* expressed as NO3", "nitrate_no3", "sure"),
        ("* by electrode", "nitrate", "ask"),
    ],
)
def test_a_footnote_tells_the_form_of_nitrate(note: str, analyte: str, status: str) -> None:
    told = f"Sample,CP % DM,ADF % DM,NDF % DM,Nitrate* ppm DM\nWest,12.2,35.1,55.5,810\n\n{note}\n"
    (sample,) = read_file("a.csv", told.encode()).samples
    (value,) = [one for one in sample.values if one.analyte.startswith("nitrate")]
    assert (value.analyte, value.status) == (analyte, status)


NUMBERED = """\
lab^bag^test^state^result
C61^West^14^R^7.9
C61^West^14^D^9.5
C61^West^22^D^62.0
C61^West^21^D^38.3

# tests: 14 crude protein, %; 21 acid detergent fiber, %; 22 neutral detergent fiber, %
# state: R as received, D dry matter.
"""


def test_numbers_of_tests_are_read_by_the_list_that_explains_them() -> None:
    (sample,) = read_file("a.csv", NUMBERED.encode()).samples
    assert {(v.analyte, v.basis): (v.value, v.status) for v in sample.values} == {
        ("cp", "ar"): (7.9, "sure"),
        ("cp", "dm"): (9.5, "sure"),
        ("ndf", "dm"): (62.0, "sure"),
        ("adf", "dm"): (38.3, "sure"),
    }


def test_units_and_bases_are_read_by_the_key_that_explains_their_codes(tmp_path: Path) -> None:
    path = tmp_path / "coded.xlsx"
    data = [("Bag", "Code", "Res", "U", "B"), ("West", "W", 10.6, 1, "w")]
    data += [("West", "N1", 11.5, 1, "d"), ("West", "X7", 227, 2, "d")]
    key = [("Code", "Meaning"), ("W", "Moisture"), ("N1", "Crude protein (N x 6.25)")]
    key += [("X7", "Nitrate, given as nitrogen (NO3-N)"), (), ("U", "Unit"), (1, "%")]
    key += [(2, "mg/kg"), (), ("B", "Basis"), ("w", "as received (wet)"), ("d", "dry matter")]
    with xlsxwriter.Workbook(str(path)) as book:
        for name, rows in (("Data", data), ("Key", key)):
            sheet = book.add_worksheet(name)
            for place, row in enumerate(rows):
                sheet.write_row(place, 0, row)
    (sample,) = read_file(path.name, path.read_bytes()).samples
    told = {v.analyte: (v.value, v.unit, v.basis, v.status) for v in sample.values}
    assert told == {
        "moisture": (10.6, "pct", "ar", "sure"),
        "cp": (11.5, "pct", "dm", "sure"),
        "nitrate_no3n": (227.0, "ppm", "dm", "sure"),
    }
