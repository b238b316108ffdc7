"""Keys that explain the ends of headings, tests in rows with both bases beside, bills, old mail."""

from __future__ import annotations

import io

import pytest
from openpyxl import Workbook

from rickyard.labs.common import Cell
from rickyard.labs.intake import read_file
from rickyard.labs.legends.legend import legend_of
from rickyard.labs.tables.headings import understood


def book(sheets):
    made = Workbook()
    made.remove(made.active)
    for name, rows in sheets.items():
        sheet = made.create_sheet(name)
        for row in rows:
            sheet.append(row)
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def told(sample):
    return {(one.analyte, one.value, one.unit, one.basis, one.status) for one in sample.values}


def test_a_number_behind_a_code_is_the_basis_that_a_key_on_another_sheet_gives_it():
    data = book(
        {
            "Data": [
                ["LABNO", "FIELD", "DM_1", "CP_2", "ADF_2", "CP_1"],
                [7010, "Kettle 1", 88.4, 8.4, 37.4, 7.4],
            ],
            "Key": [["_1", "as received"], ["_2", "on dry matter"]],
        }
    )
    (sample,) = read_file("a.xlsx", data).samples
    assert told(sample) == {
        ("dm", 88.4, "pct", "ar", "sure"),
        ("cp", 8.4, "pct", "dm", "sure"),
        ("cp", 7.4, "pct", "ar", "sure"),
        ("adf", 37.4, "pct", "dm", "sure"),
    }


def test_a_test_in_each_row_has_its_numbers_under_two_bases():
    text = (
        "lab,bag,in,dry matter %,test,ppm as received,ppm dry\n"
        "HL1,sudan head,2025-09-20,84.1,nitrate-N,1506,1791\n"
        "HL3,corn stalks,2025-09-22,90.9,nitrate,712,783\n"
    )
    first, second = read_file("a.csv", text.encode()).samples
    assert told(first) == {
        ("dm", 84.1, "pct", "ar", "sure"),
        ("nitrate_no3n", 1506.0, "ppm", "ar", "sure"),
        ("nitrate_no3n", 1791.0, "ppm", "dm", "sure"),
    }
    assert {one.status for one in second.values if one.analyte == "nitrate"} == {"ask"}


def test_a_bill_is_no_report():
    bill = (
        "Forage Room    INVOICE 7731-B\n\n4 x basic panel (protein, ADF)  @ 18.50   74.00\n"
        "1 x nitrate  @ 9.00   9.00\n"
    )
    assert read_file("a.txt", bill.encode()).refused


def test_what_a_quoted_mail_quotes_of_an_earlier_year_is_passed_over():
    text = (
        "From: Pat\nSubject: hay tests\n\n"
        "> Lab number: LR-2207\n> Bag: Lower barn\n> Moisture (as received): 13.0 %\n"
        "> Crude protein: 11.3 % DM\n> ADF: 34.1 % DM\n>\n"
        "> > Date: Mon, 30 Sep 2024\n> > LAST YEAR'S REPORT\n> > Lab number: LR-1150\n"
        "> > Bag: Lower barn\n> > Moisture (as received): 11.7 %\n> > Crude protein: 9.4 % DM\n"
    )
    (sample,) = read_file("a.txt", text.encode()).samples
    assert (sample.lab_no, sample.of("cp").value) == ("LR-2207", 11.3)


def test_a_name_ends_before_the_day_on_which_it_was_drawn():
    text = (
        "bag: Oats south, drawn 22 Aug 2025\nall numbers dry matter basis except moisture\n\n"
        " moisture   13.0\n CP         11.3\n ADF        36.5\n NDF        57.4\n"
    )
    (sample,) = read_file("a.txt", text.encode()).samples
    assert (sample.id, str(sample.sampled_on)) == ("Oats south", "2025-08-22")


def test_letters_in_brackets_are_the_bases_that_a_sentence_gives_them():
    text = (
        "Columns with (D) are on dry matter; with (A) as received.\n\n"
        "Lab #|Bag says|Moisture % (A)|CP % (D)|NDF % (D)\nQF-411|North 1|14.3|11.9|56.6\n"
        "QF-412|Barn B|14.2|14.5|47.8\n"
    )
    first, _ = read_file("a.csv", text.encode()).samples
    assert ("ndf", 56.6, "pct", "dm", "sure") in told(first)


def test_units_of_a_list_of_analytes_are_those_of_each():
    legend = legend_of(["Units: DM, Starch in g kg-1; Net energy, gain in MJ/kg; Zn, Fe in mg/kg."])
    assert legend.unit_of == {
        "dm": "g_per_kg",
        "starch": "g_per_kg",
        "neg": "mj_per_kg",
        "zn": "ppm",
        "fe": "ppm",
    }
    assert legend.basis == ""


@pytest.mark.parametrize("words", ["Zn Diff.", "Mg Change", "Potassium +/-", "CP (rating)"])
def test_what_stands_beside_the_results_of_an_analyte_is_none(words):
    assert understood(Cell(words, 0, 0, 1, ""), [words]).aside


def test_two_cells_parted_by_a_comma_are_no_number_of_a_letter():
    text = (
        "Sampled,2025-08-04,last year\nDescription,North eighty,\nWater %,13.8,13.1\n"
        "ADF % DM,35.2,30.4\nProtein % DM,14.4,13.7\nZn mg/kg DM,19,19\n"
    )
    (sample,) = read_file("a.csv", text.encode()).samples
    assert [one.value for one in sample.values] == [13.8, 35.2, 14.4, 19.0]


def test_the_same_labels_on_the_other_basis_go_on_with_the_samples_over_them():
    text = (
        "Sample ID,Long meadow,Badger field\nLab no.,Q1,Q2\n"
        "Ash (% as received),5.6,7.0\nNDF (% as received),55.4,50.8\nWater (%),9.8,9.6\n"
        "Ash (% dry matter),6.2,7.8\nNDF (% dry matter),61.4,56.2\n"
    )
    samples = read_file("a.csv", text.encode()).samples
    assert [len(one.values) for one in samples] == [5, 5]
