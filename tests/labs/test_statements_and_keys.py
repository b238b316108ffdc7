"""Two statements that contradict, runs of one test, keys of codes, marks between columns."""

from __future__ import annotations

import io

import openpyxl
import pytest

from rickyard.labs.intake import read_file
from rickyard.labs.vocabulary import label_of


def statuses(sample):
    return {(v.analyte, v.basis): v.status for v in sample.values}


def numbers(sample):
    return {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"}


CONTRADICTED = """ALL RESULTS ON AS-FED BASIS;;
Item;Lot 18;Lot 19
Check no.;TM-071;TM-072
Moisture, %;16.5;12.0
Crude protein, %;14.5;11.7
ADF, %;35.5;35.6

Note: results above other than moisture are reported on 100 % dry matter basis.;;
"""


def test_a_report_that_states_both_bases_of_all_values_is_asked():
    reading = read_file("a.csv", CONTRADICTED.encode())
    asked = [one.key for one in reading.questions]
    assert asked == ["basis"]
    assert "states elsewhere that all results are dry" in reading.questions[0].text
    for sample in reading.samples:
        assert statuses(sample) == {
            ("moisture", "ar"): "sure",
            ("cp", "ar"): "ask",
            ("adf", "ar"): "ask",
        }


def test_what_a_letter_stands_for_contradicts_nothing():
    text = (
        "Sample,Lab no,CP % DM,ADF % DM,NDF % DM\nEast,71,12.2,35.1,55.0\n"
        "Samples on this page: 1. a.r. = as received.\n"
    )
    sample = read_file("a.csv", text.encode()).samples[0]
    assert set(statuses(sample).values()) == {"sure"}


RUNS = """DM as received; CP, ADF, NDF, Ca on DM, all %

no.|mark|run|DM|CP|ADF|NDF|Ca
C1|hoop barn|1|90.0|17.0|29.1|36.4|1.29
C3|sale lot 7|1|87.9|15.2|36.2|50.5|0.80
C3|sale lot 7|2||17.8|||
"""


def test_of_two_runs_of_one_test_neither_is_taken():
    reading = read_file("a.csv", RUNS.encode())
    assert [one.id for one in reading.samples] == ["hoop barn", "sale lot 7"]
    again = reading.samples[1]
    assert statuses(again)["cp", "dm"] == "ask"
    assert any("tested twice: 15.2" in one.text and "17.8" in one.text for one in again.questions)
    assert numbers(again)["adf", "dm"] == 36.2


@pytest.mark.parametrize("mark", ["^", "~", "!", "¦"])
def test_columns_are_parted_by_any_mark(mark):
    rows = [
        ("lab", "mark", "item", "amount", "uom", "on"),
        ("94", "Bin 4 alf", "dry matter", "89.7", "%", "as received"),
        ("94", "Bin 4 alf", "crude protein", "20.8", "%", "DM"),
        ("94", "Bin 4 alf", "selenium", "<0.05", "ppm", "DM"),
        ("95", "Bin 5", "dry matter", "83.6", "%", "as received"),
        ("95", "Bin 5", "crude protein", "14.6", "%", "DM"),
    ]
    reading = read_file("a.txt", "\n".join(mark.join(row) for row in rows).encode())
    assert [(one.id, one.lab_no) for one in reading.samples] == [
        ("Bin 4 alf", "94"),
        ("Bin 5", "95"),
    ]
    assert numbers(reading.samples[1]) == {("dm", "ar"): 83.6, ("cp", "dm"): 14.6}


def test_a_key_on_another_sheet_tells_units_and_bases():
    book = openpyxl.Workbook()
    data = book.active
    data.append(["Ref", "Bag", "Analysis", "Result", "Unit code", "Basis code"])
    for name, number, unit, basis in (
        ("Dry matter", 88.2, "A", 1),
        ("Crude protein", 11.7, "A", 2),
        ("Crude protein", 10.3, "A", 1),
        ("NEm", 0.61, "D", 2),
        ("Manganese", 86, "B", 2),
    ):
        data.append(["S40", "green tag", name, number, unit, basis])
    key = book.create_sheet("Key")
    for row in (
        ("Code", "Meaning"),
        ("Unit A", "% by weight"),
        ("Unit B", "mg/kg"),
        ("Unit D", "Mcal/lb"),
        ("Basis 1", "as received"),
        ("Basis 2", "dry matter (oven dry)"),
    ):
        key.append(row)
    out = io.BytesIO()
    book.save(out)
    sample = read_file("a.xlsx", out.getvalue()).samples[0]
    assert numbers(sample) == {
        ("dm", "ar"): 88.2,
        ("cp", "dm"): 11.7,
        ("cp", "ar"): 10.3,
        ("nem", "dm"): 0.61,
        ("mn", "dm"): 86.0,
    }
    assert {v.unit for v in sample.values} == {"pct", "mcal_per_lb", "ppm"}


def test_a_basis_by_its_number_stands_behind_each_heading():
    text = (
        "# basis: 1 = as received, 0 = dry matter\n"
        'sample,ref,"DM % (1)","CP % (0)","CP % (1)","NDF % (0)"\n'
        "Fescue A,SB1,85.9,10.7,9.2,62.2\n"
    )
    sample = read_file("a.csv", text.encode()).samples[0]
    assert numbers(sample) == {
        ("dm", "ar"): 85.9,
        ("cp", "dm"): 10.7,
        ("cp", "ar"): 9.2,
        ("ndf", "dm"): 62.2,
    }


SECTIONS = """Register      K1       K2
[R]
Dry matter, % 88.4     85.0
[D]
Protein, %    11.6     13.1
ADF, %        38.7     33.6
NDF, %        60.8     46.3

[R] per sample as it reached us   [D] per dry matter
"""


def test_sections_are_headed_by_letters_that_the_foot_explains():
    for sample in read_file("a.txt", SECTIONS.encode()).samples:
        assert {basis for _, basis in numbers(sample)} == {"ar", "dm"}
        assert ("ndf", "dm") in numbers(sample)


UNITS_MISSING = """Mark,Code,DM (as received),CP (DM),ADF (DM),NDF (DM),Cu (DM),Nitrate-N (DM)
,,%,%,%,%,,
Saddle 1,U-4,89.4,15.3,32.1,43.3,8.5,162
"""


def test_a_unit_that_is_left_out_among_printed_ones_is_asked():
    sample = read_file("a.csv", UNITS_MISSING.encode()).samples[0]
    asked = {name for (name, _), status in statuses(sample).items() if status == "ask"}
    assert asked == {"cu", "nitrate_no3n"}


def test_a_basis_over_a_name_is_no_share_of_it():
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(
        ["Lab no.", "Sample", "Dry matter %", "As received, %", None, "Dry matter basis, %"]
    )
    sheet.append([None, None, None, "Crude protein", "NDF", "Crude protein", "NDF"])
    sheet.append([51300, "North bottoms", 83.8, 7.2, 47.8, 8.6, 57.1])
    sheet.append([51301, "Airstrip", 86.6, 17.5, 36.9, 20.2, 42.6])
    for cells in ("A1:A2", "B1:B2", "C1:C2", "D1:E1", "F1:G1"):
        sheet.merge_cells(cells)
    out = io.BytesIO()
    book.save(out)
    first = read_file("a.xlsx", out.getvalue()).samples[0]
    assert numbers(first)["ndf", "dm"] == 57.1
    assert numbers(first)["dm", "ar"] == 83.8


def test_a_name_with_a_word_of_a_basis_is_that_of_its_column():
    text = (
        "Component,Unit,Basis,Cane round bales,Cane (wet ones)\nLab number,,,640,641\n"
        "Moisture,%,AS IS,8.9,11.9\nCrude protein,%,DRY,9.4,8.1\nADF,%,DRY,35.3,38.6\n"
    )
    reading = read_file("a.csv", text.encode())
    assert [one.id for one in reading.samples] == ["Cane round bales", "Cane (wet ones)"]


def test_a_number_with_a_stroke_is_no_lead():
    text = "Sample,Number,Moisture %,CP % DM,ADF % DM\nSplit 1,PB/17,13.9,18.9,32.8\n"
    assert [one.lab_no for one in read_file("a.csv", text.encode()).samples] == ["PB/17"]


def test_two_analytes_in_a_row_are_no_bound_protein():
    assert label_of("protein with ADF") is None
    assert label_of("CP ADF") is None
    for name in ("ADF-CP", "CP bound in ADF", "protein in ADF", "Acid detergent fiber protein"):
        assert label_of(name).candidates == ("adicp",)


@pytest.mark.parametrize(
    ("words", "sign", "number"),
    [
        ("below 50 ppm NO3-N", "<", 50.0),
        ("nitrate nitrogen under 20 ppm", "<", 20.0),
        ("more than 900 ppm NO3-N", ">", 900.0),
        ("nitrate nitrogen 702 ppm", "=", 702.0),
    ],
)
def test_a_limit_in_words_is_no_result(words, sign, number):
    text = (
        "Everything is on a dry matter basis. East 40 had 21.2 % crude protein, 29.8 % ADF and "
        f"37.5 % NDF. In it we found {words}.\n"
    )
    value = read_file("a.txt", text.encode()).samples[0].of("nitrate_no3n")
    assert (value.op, value.value) == (sign, number)


def test_lowest_and_highest_under_a_mean_are_no_samples():
    text = (
        "LAB#    SAMPLE         MOIST    CP   ADF   NDF\n"
        "                        % AR   %DM   %DM   %DM\n"
        "D9170   N PIVOT 1ST     10.0  13.0  36.9  58.6\n"
        "D9171   N PIVOT 2ND     13.7   8.0  33.7  52.5\n"
        "MEAN                    12.1  13.5  35.2  53.3\n"
        "LOW                      9.3   8.0  31.2  40.6\n"
        "HIGH                    15.1  19.9  39.1  61.7\n"
    )
    reading = read_file("a.txt", text.encode())
    assert [one.id for one in reading.samples] == ["N PIVOT 1ST", "N PIVOT 2ND"]


def test_a_table_that_a_reply_quotes_of_an_earlier_year_is_passed_over():
    text = (
        "received 2 Oct 2025. Moisture as received, the rest dry basis.\n\n"
        "bag             moist %     CP %    ADF %    NDF %\n"
        "Bay 1              11.1     11.8     36.7     51.8\n"
        "Bay 2              16.4     15.8     37.2     53.9\n"
        "Bay 4 (top)         9.1     11.9     37.7     53.1\n\n"
        "On 11 Oct 2024 the laboratory wrote:\n"
        "> bag            moist %     CP %    ADF %    NDF %\n"
        "> Bay 1             12.0      9.9     36.0     55.1\n"
        "> Bay 3             14.1     10.6     35.2     53.7\n"
    )
    reading = read_file("a.txt", text.encode())
    assert [one.id for one in reading.samples] == ["Bay 1", "Bay 2", "Bay 4 (top)"]
    assert reading.samples[0].of("cp").value == 11.8


def test_a_number_of_the_laboratory_is_no_name_under_a_name():
    text = (
        "Bezeichnung,Einheit,Wiese 1,Luzerne Berg\nProbe Nr.,,N-5,N-7\n"
        "Trockenmasse,% FM,88.5,88.3\nRohprotein,% TM,9.3,20.7\nADF,% TM,36.5,31.0\n"
    )
    reading = read_file("a.csv", text.encode())
    assert [(one.id, one.lab_no) for one in reading.samples] == [
        ("Wiese 1", "N-5"),
        ("Luzerne Berg", "N-7"),
    ]


def test_the_word_basis_before_a_row_of_bases_hides_no_name():
    text = (
        "Sample,Number,Dry matter,Crude protein,ADF\n,,%,%,%\nbasis,,fresh,dry,dry\n"
        "Long Barrow,GF-61,89.4,11.7,39.3\nSarsen ley,GF-63,88.5,14.5,32.6\n"
    )
    reading = read_file("a.csv", text.encode())
    assert [(one.id, one.lab_no) for one in reading.samples] == [
        ("Long Barrow", "GF-61"),
        ("Sarsen ley", "GF-63"),
    ]


def test_a_column_that_holds_only_codes_of_bases_is_read_by_its_key():
    text = (
        "labno;bag;assay;value;units;b\n551;Heath;Dry matter;86.6;%;A\n"
        "551;Heath;Crude protein;11.0;%;D\n551;Heath;Sulphur;0.16;%;D\n"
        "551;Heath;Nitrate (as NO3);751;mg/kg;A\n\nKey to b\nA;as received\nD;dry matter\n"
    )
    sample = read_file("a.csv", text.encode()).samples[0]
    assert {(v.analyte, v.basis) for v in sample.values if v.status == "sure"} == {
        ("dm", "ar"),
        ("cp", "dm"),
        ("s", "dm"),
        ("nitrate_no3", "ar"),
    }


def test_a_unit_that_only_the_report_writes_so_is_read_by_its_foot():
    text = (
        "LAB#   SAMPLE      CP   ADF   NEM   NEG\n                  %DM   %DM  M/LB  M/LB\n"
        "D917   N PIVOT   13.0  36.9  0.60  0.34\nD918   S PIVOT    8.0  33.7  0.63  0.37\n\n"
        "M/LB = MCAL PER POUND, DRY MATTER BASIS.\n"
    )
    for sample in read_file("a.txt", text.encode()).samples:
        assert {(sample.of(n).unit, sample.of(n).status) for n in ("nem", "neg")} == {
            ("mcal_per_lb", "sure")
        }
