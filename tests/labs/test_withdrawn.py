"""Numbers that a sentence of the file takes back, and grams in a pound."""

from __future__ import annotations

from pathlib import Path

import xlsxwriter

from rickyard.labs.intake import read_file, take_in
from rickyard.labs.layouts import Answer

CORRECTED = b"""The protein of 771 was typed the wrong way round: it is 11.8%, not 18.1%.

Results by NIR, on dry matter except moisture:

West 40 (lab no. 771)
  Moisture 11.9%   Protein 18.1%   ADF 35.1%   NDF 55.5%
"""


def test_a_number_that_the_laboratory_takes_back_is_asked_about() -> None:
    (sample,) = read_file("letter.txt", CORRECTED).samples
    status = {value.analyte: value.status for value in sample.values}
    assert status["cp"] == "ask"
    assert status["adf"] == status["ndf"] == "sure"
    (question,) = [one for one in sample.questions if "not 18.1" in one.text]
    assert question.choices == ("11.8", "as printed")


def test_the_answer_to_it_counts_and_what_was_printed_is_kept() -> None:
    said = {"withdrawn cp 18.1": Answer("11.8", "Dale", "2026-09-18", "their letter")}
    reading = take_in("letter.txt", CORRECTED, said).reading
    (protein,) = [one for one in reading.samples[0].values if one.analyte == "cp"]
    assert (protein.value, protein.status, protein.printed) == (11.8, "sure", "18.1")
    assert [(one.printed, one.corrected) for one in reading.corrections] == [("18.1", "11.8")]


def test_grams_in_a_pound_are_not_taken_for_grams_in_a_kilogram() -> None:
    told = b"Sample,Crude Protein g/lb DM,ADF g/lb DM\nWest 40,55.3,159.2\n"
    (sample,) = read_file("horse.csv", told).samples
    assert {(one.analyte, one.unit) for one in sample.values} == {("cp", "pct"), ("adf", "pct")}
    assert [round(one.value or 0.0, 1) for one in sample.values] == [12.2, 35.1]


def test_sheets_and_rows_of_other_things_are_left_out_and_told(tmp_path: Path) -> None:
    path = tmp_path / "everything.xlsx"
    sheets = {
        "Hay": (
            ("Lab #", "Sample", "Kind", "CP % DM", "ADF % DM"),
            ("F-1", "Hill", "hay", 12.2, 35.1),
            ("C-1", "house sample", "lab control", 10.0, 30.0),
        ),
        "Spring": (
            ("Lab #", "Field", "pH", "P ppm", "K ppm", "CEC"),
            ("S-1", "Mill", 6.4, 22, 148, 12),
        ),
        "Water": (("Lab #", "Source", "Nitrate-N mg/L"), ("W-1", "Hydrant", 4.1)),
    }
    with xlsxwriter.Workbook(str(path)) as book:
        for name, rows in sheets.items():
            sheet = book.add_worksheet(name)
            for number, row in enumerate(rows):
                sheet.write_row(number, 0, row)
    reading = read_file(path.name, path.read_bytes())
    assert [(one.id, one.lab_no) for one in reading.samples] == [("Hill", "F-1")]
    told = " ".join(reading.notes)
    assert '"Spring" is not of forage' in told
    assert '"Water" is not of forage' in told
    assert "Rows of lab control were passed over: 1." in told


def test_a_file_of_soil_alone_is_refused_as_such() -> None:
    soil = b"Lab #,Field,pH,OM %,P ppm,K ppm,CEC\nS-1,Hill,6.4,3.1,22,148,12.1\n"
    assert "soil" in (read_file("soil.csv", soil).refused or "")
