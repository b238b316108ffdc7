"""Tables of a text whose columns are parted by one space, and rows that ran together."""

from __future__ import annotations

import pytest

from rickyard.labs.intake import read_file

#: Columns as narrow as what stands in them, with one space between.
NARROW = """All results on a dry matter basis, dry matter as received.

Lab no Sample      DM   CP   ADF  Cl   Mo
                   %    %    %    %    ppm
4101   Creek stack 88.1 12.2 35.1      4.0
4108   East bench  86.1 15.2 33.1 0.45 -
4115   Hill 40     90.0 9.8  38.4 —    1.2
"""


def test_columns_one_space_apart_are_told_by_what_every_row_leaves_blank():
    reading = read_file("a.txt", NARROW.encode())
    found = {
        sample.id: {v.analyte: v.value for v in sample.values if v.status == "sure"}
        for sample in reading.samples
    }
    assert found == {
        "Creek stack": {"dm": 88.1, "cp": 12.2, "adf": 35.1, "mo": 4.0},
        "East bench": {"dm": 86.1, "cp": 15.2, "adf": 33.1, "cl": 0.45},
        "Hill 40": {"dm": 90.0, "cp": 9.8, "adf": 38.4, "mo": 1.2},
    }


def test_a_name_that_ends_in_a_value_is_asked_with_its_row():
    text = (
        "Lab no,Sample,DM % AR,CP % DM,ADF % DM,NDF % DM\n"
        "4101,Creek stack 84.6,,12.2,35.1,55.0\n4108,East bench,86.1,15.2,33.1,50.0\n"
    )
    first, second = read_file("a.csv", text.encode()).samples
    assert "id" in first.asked
    assert {v.status for v in first.values} == {"ask"}
    assert {v.status for v in second.values} == {"sure"}


HEADED_IN_LINES = """Lab   Sample              Dry    Crude
no.                    matter  protein      ADF      NDF
                     % as rec     % DM     % DM     % DM

3300  Barn 2 top row     90.7      8.2     35.0     57.5
3301  Quarry bench       85.2     17.2     33.3     39.3
3302  Lower twenty       85.5     15.5     34.5     49.4
"""


def test_headings_over_several_lines_are_no_list_of_values():
    reading = read_file("a.txt", HEADED_IN_LINES.encode())
    assert [(one.lab_no, one.id) for one in reading.samples] == [
        ("3300", "Barn 2 top row"),
        ("3301", "Quarry bench"),
        ("3302", "Lower twenty"),
    ]
    first = {(v.analyte, v.basis): v.value for v in reading.samples[0].values}
    assert first == {
        ("dm", "ar"): 90.7,
        ("cp", "dm"): 8.2,
        ("adf", "dm"): 35.0,
        ("ndf", "dm"): 57.5,
    }


def test_a_table_drawn_with_lines_of_an_old_code_page_is_read():
    text = (
        "┌───────┬──────────────┬────────┬───────┐\n"
        "│ Lab no│ Sample       │ DM     │ CP    │\n"
        "│       │              │ % a.r. │ % DM  │\n"
        "├───────┼──────────────┼────────┼───────┤\n"
        "│ 01-97 │ Cabin meadow │   83,9 │   9,0 │\n"
        "│ 02-97 │ Two field    │   87,4 │  15,8 │\n"
        "└───────┴──────────────┴────────┴───────┘\na.r. = as received\n"
    )
    reading = read_file("a.txt", text.encode("cp437"))
    assert [one.of("cp").value for one in reading.samples] == [9.0, 15.8]


def test_too_many_to_count_is_no_short_word_for_its_unit():
    text = (
        "Sample SW-8298   Lower block\nDry matter   88.1  %\nCrude protein   12.2  % DM\n"
        "ADF   35.1  % DM\nYeast   TNTC  CFU/g\nMold   4300  CFU/g\n"
    )
    sample = read_file("a.txt", text.encode()).samples[0]
    assert sample.of("yeast").op == "tntc"


def test_a_day_of_three_words_is_not_parted():
    text = (
        "Sample ID     Collected     CP %  ADF %\nCreek field   Sep 20, 2026  10.3  36.9\n"
        "Barn field    Sep 23, 2026  11.5  35.4\nHill field    Sep 21, 2026  10.9  34.0\n"
    )
    samples = read_file("a.txt", text.encode()).samples
    assert [one.sampled_on.day for one in samples] == [20, 23, 21]
    assert [one.of("adf").value for one in samples] == [36.9, 35.4, 34.0]


@pytest.mark.parametrize(("sign", "op"), [("TNTC", "tntc"), ("ND", "nd"), ("BDL", "nd")])
def test_a_sign_beside_a_unit_is_no_short_word_for_it(sign, op):
    """A row of cells "TNTC | CFU/g" does not say "TNTC = CFU/g"."""
    text = f"Sample SW-8298\nDry matter,88.1,%\nYeast,{sign},CFU/g\nMold,4300,CFU/g\n"
    sample = read_file("a.csv", text.encode()).samples[0]
    assert (sample.of("mold").value, sample.of("mold").unit) == (4300.0, "cfu_per_g")
    assert sample.of("yeast").op == op


def test_headings_over_four_lines_are_no_list_of_values():
    text = (
        "Lab   Sample             Dry    Crude                 NE\n"
        "no.                   matter  protein      ADF   maint.\n"
        "                    % as rec     % DM     % DM  Mcal/lb\n"
        "                                                     DM\n"
        "-------------------------------------------------------\n"
        "3300  Barn 2 top        90.7      8.2     35.0     0.63\n"
        "3301  Quarry bench      85.2     17.2     33.3     0.64\n"
    )
    samples = read_file("a.txt", text.encode()).samples
    assert [one.lab_no for one in samples] == ["3300", "3301"]
    assert [one.of("nem").value for one in samples] == [0.63, 0.64]
