"""Sheets as many offices print them, with own checks, goals and prices: nothing is wrong."""

from __future__ import annotations

import pytest
from sheets.held import Held, held
from sheets.houses import house_sheet

from rickyard.labs.intake import read_file
from rickyard.labs.parsing.apart import parsed_in_here

FEW, MORE, MANY = range(0, 50, 4), 125, 1500


@pytest.fixture
def in_here(monkeypatch):
    """Parse workbooks and pages without a process of their own, which takes its time."""
    monkeypatch.setattr("rickyard.labs.reading.documents.parsed_apart", parsed_in_here)


def compared(number: int) -> tuple[str, Held]:
    """Return how a sheet was read, with its name; what is asked to be no sample is left out."""
    sheet = house_sheet(number)
    reading = read_file(sheet.name, sheet.data)
    reading.samples = [
        one
        for one in reading.samples
        if not any(asked.key.startswith("sample or not") for asked in one.questions)
    ]
    return sheet.name, held(sheet, reading)


def of_many(numbers: range, least: float = 0.9) -> None:
    right = asked = missed = 0
    for number in numbers:
        name, found = compared(number)
        assert not found.wrong, name
        right += found.right
        asked += found.asked
        missed += len(found.missed)
    assert right >= least * (right + asked + missed)
    assert missed <= 0.05 * (right + asked + missed)


def test_nothing_of_the_sheet_of_a_house_is_wrong_in_silence(in_here):
    of_many(FEW, 0.8)


@pytest.mark.more
def test_nothing_of_more_sheets_of_houses_is_wrong_in_silence(in_here):
    of_many(range(MORE))


@pytest.mark.long
def test_nothing_of_a_thousand_sheets_of_houses_is_wrong_in_silence(in_here):
    of_many(range(MORE, MANY))


HEADS = "Lab no,Sample,Moisture % as received,CP % DM,ADF % DM,NDF % DM\n"
ROW = ",9.9,11.2,36.1,58.4\n"


def open_of(rows: str) -> list[str]:
    """Return the names of the samples whose values are all open."""
    samples = read_file("a.csv", (HEADS + rows).encode()).samples
    return [one.name for one in samples if all(value.status == "ask" for value in one.values)]


def test_what_has_no_number_or_another_kind_of_number_beside_numbered_samples_is_asked():
    rows = f"Q101,West{ROW}Q103,East{ROW},Ridge pool{ROW}IQ/7,Low hay{ROW}Q99,Creek{ROW}"
    assert open_of(rows) == ["Ridge pool", "Low hay"]


def test_the_name_of_a_sample_with_a_word_behind_it_is_asked_and_a_second_run_is_not():
    rows = f"Q101,West{ROW}Q103,West dup{ROW}Q104,East{ROW}Q104-R,East{ROW}"
    assert open_of(rows) == ["West dup"]


def test_what_stands_behind_a_unit_and_is_not_understood_is_asked_and_not_passed_over():
    text = "Sample;Protein (% kryten);ADF (% kryten)\nWest;11,2;36,1\nEast;10,2;35,1\n"
    reading = read_file("a.csv", text.encode())
    told = {(v.analyte, v.unit, v.basis, v.status) for one in reading.samples for v in one.values}
    assert told == {("cp", "pct", "", "ask"), ("adf", "pct", "", "ask")}
    assert [one.key for one in reading.questions] == ["basis"]


def test_the_day_of_one_sample_is_not_that_of_the_next():
    text = (
        "Results on dry matter basis\n\nSample:,West\nSampled:,2025-07-01\nCP %,11.2\nADF %,36.1\n"
        "\nSample:,East\nTaken on:,2025-07-09,Fee,35.00\nCP %,10.2\nADF %,35.1\n"
        "\nSample:,Ridge\nCP %,9.2\nADF %,37.1\n"
    )
    days = [one.sampled_on for one in read_file("a.csv", text.encode()).samples]
    assert [day and day.day for day in days] == [1, 9, None]


def test_a_year_beside_a_goal_is_the_result_and_a_price_is_none():
    text = (
        "Sample:,West\nResults on dry matter basis\nItem,Unit,2025,Dry cow goal,Price\n"
        "CP,%,11.2,8.0,4.00\nADF,%,36.1,40.0,5.00\nNDF,%,58.4,60.0,6.00\n"
    )
    sample = read_file("a.csv", text.encode()).samples[0]
    assert [(one.value, one.status) for one in sample.values] == [
        (11.2, "sure"), (36.1, "sure"), (58.4, "sure")
    ]  # fmt: skip


def test_the_mean_of_two_runs_counts_and_the_runs_are_no_samples():
    text = (
        "Sample:,West\nLab no.:,Q101\nResults on dry matter basis\nTest,Unit,Rep 1,Rep 2,Mean\n"
        "CP,%,11.0,11.4,11.2\nADF,%,36.0,36.2,36.1\nNDF,%,58.2,58.6,58.4\n"
    )
    (sample,) = read_file("a.csv", text.encode()).samples
    assert (sample.id, [one.value for one in sample.values]) == ("West", [11.2, 36.1, 58.4])


def test_a_bill_and_a_list_of_limits_under_the_samples_are_no_rows_of_theirs():
    under = (
        "\nItem,Qty,Price $\nNitrate test,3,12.00\n\nTest,Method,Limit of quantification\n"
        "CP,AOAC 990.03,0.5\nADF,AOAC 973.18,1.0\n\nCP % DM,9.0\nADF % DM,40.0\n"
    )
    reading = read_file("a.csv", f"{HEADS}Q101,West{ROW}Q103,East{ROW}{under}".encode())
    sure = [one.name for one in reading.samples if any(v.status == "sure" for v in one.values)]
    assert sure == ["West", "East"]


def test_samples_of_a_second_table_without_numbers_under_one_with_them_are_asked():
    guide = "\nKinds of hay\n" + HEADS.replace("Lab no,", ",") + f",Oats{ROW}"
    assert open_of(f"Q101,West{ROW}Q103,East{ROW}{guide}") == ["Oats"]


def test_a_name_that_begins_as_an_analyte_does_and_ends_in_another_word_is_one():
    text = "Test,K-Bar,North 8\nCP % DM,11.2,12.0\nADF % DM,36.1,35.0\nNDF % DM,58.4,57.0\n"
    assert [one.id for one in read_file("a.csv", text.encode()).samples] == ["K-Bar", "North 8"]


def test_a_name_cut_into_lines_is_no_basis_of_the_columns_behind_it():
    text = (
        "Results are expressed as received.\n,,Dry,,Total,\n,,matter,,digestible,\n"
        "Lab no.,Sample,(DM),Ash,nutrients,ADF\n,,%,%,%,%\nQ1,West,88.2,7.0,55.1,31.2\n"
        "Q2,East,87.2,7.4,56.1,30.2\n"
    )
    first = read_file("a.csv", text.encode()).samples[0]
    told = [(one.analyte, one.basis) for one in first.values]
    assert told == [("dm", "ar"), ("ash", "ar"), ("tdn", "ar"), ("adf", "ar")]


def test_columns_headed_by_numbers_are_named_by_the_key_under_them():
    text = (
        "Dry matter basis\nLab no.,Sample,(1),(2),(3)\nQ1,West,11.2,36.1,88.2\n"
        "Q2,East,10.2,35.1,87.2\n\n(1) = Crude protein (%)\n(2) = ADF (%)\n(3) = Dry matter (%)\n"
    )
    first = read_file("a.csv", text.encode()).samples[0]
    told = {one.analyte: (one.value, one.status) for one in first.values}
    assert told == {"cp": (11.2, "sure"), "adf": (36.1, "sure"), "dm": (88.2, "sure")}


def test_rows_with_several_numbers_more_than_headings_are_asked():
    rows = "Q1,West,9.9,11.2,36.1,58.4,1.2,0.4\nQ2,East,9.8,10.2,35.1,57.4,1.3,0.5\n"
    assert open_of(rows) == ["West", "East"]


def test_a_large_number_as_received_is_told_in_figures():
    text = "Sample,DM %,Nitrate-N ppm\nWest,88.2,1760\nEast,87.2,900\n"
    (asked,) = [one for one in read_file("a.csv", text.encode()).questions if one.key == "basis"]
    assert "as received it would be 2000 dry" in asked.text


def test_on_dry_matter_in_portuguese_is_no_sodium():
    text = "Amostra;Teste;Expresso em;Resultado;Unid.\nA;Cinzas;na MS;9,2;%\nA;Amido;na MS;2,1;%\n"
    (sample,) = read_file("a.csv", text.encode()).samples
    assert {one.analyte for one in sample.values} == {"ash", "starch"}
