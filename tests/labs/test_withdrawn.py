"""Numbers that a sentence of the file takes back, and grams in a pound."""

from __future__ import annotations

from rickyard.labs.intake import read_file

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
    (question,) = [one for one in sample.questions if "takes 18.1" in one.text]
    assert question.choices == ("11.8", "18.1")


def test_grams_in_a_pound_are_not_taken_for_grams_in_a_kilogram() -> None:
    told = b"Sample,Crude Protein g/lb DM,ADF g/lb DM\nWest 40,55.3,159.2\n"
    (sample,) = read_file("horse.csv", told).samples
    assert {(one.analyte, one.unit) for one in sample.values} == {("cp", "pct"), ("adf", "pct")}
    assert [round(one.value or 0.0, 1) for one in sample.values] == [12.2, 35.1]


def test_a_sheet_of_soil_beside_hay_holds_no_sample_of_hay() -> None:
    soil = b"Lab #,Field,pH,OM %,P ppm,K ppm,CEC\nS-1,Hill,6.4,3.1,22,148,12.1\n"
    reading = read_file("soil.csv", soil)
    assert "soil" in reading.refused
