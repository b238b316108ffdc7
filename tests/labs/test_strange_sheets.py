"""Sheets in fourteen languages with the troubles of real ones: nothing is wrong in silence."""

from __future__ import annotations

import pytest
from sheets.held import Held, held
from sheets.strange import strange

from rickyard.labs.intake import read_file
from rickyard.labs.parsing.apart import parsed_in_here

FEW, MORE, MANY = 10, 60, 1200
ROMANCE = ("es", "fr", "it", "pt")


@pytest.fixture
def in_here(monkeypatch):
    """Parse workbooks without a process of their own, which takes its time."""
    monkeypatch.setattr("rickyard.labs.reading.documents.parsed_apart", parsed_in_here)


def compared(number: int) -> tuple[str, Held]:
    """Return how a sheet was read, with its name."""
    made = strange(number)
    sheet = made.sheet
    romance = sheet.name.split("-")[1] in ROMANCE
    reading = read_file(sheet.name, sheet.data)
    numbers = {bag.number: at for at, bag in enumerate(sheet.content.bags)}
    names = {bag.name: at for at, bag in enumerate(sheet.content.bags)}
    silent = []
    for sample in reading.samples:
        bag = numbers.get(sample.lab_no, names.get(sample.id, 0))
        keyed = [((bag, one.analyte, one.basis), one) for one in sample.values]
        silent += [str(key) for key, one in keyed if key in made.must_ask and one.status == "sure"]
        said = [one for key, one in keyed if one.op == "nd" and made.right_words(key, romance)]
        sample.values = [one for one in sample.values if one not in said]
    found = held(sheet, reading)
    found.wrong += [f"not asked: {key}" for key in silent]
    return sheet.name, found


def of_many(numbers: range) -> None:
    right = asked = missed = 0
    for number in numbers:
        name, found = compared(number)
        assert not found.wrong, name
        right += found.right
        asked += found.asked * ("contradicted" not in name)
        missed += len(found.missed)
    assert missed <= 0.05 * (right + asked + missed)
    assert right >= 0.9 * (right + asked + missed)


def test_nothing_of_a_strange_sheet_is_wrong_in_silence(in_here):
    of_many(range(FEW))


@pytest.mark.more
def test_nothing_of_more_strange_sheets_is_wrong_in_silence(in_here):
    of_many(range(FEW, MORE))


@pytest.mark.long
def test_nothing_of_a_thousand_strange_sheets_is_wrong_in_silence(in_here):
    of_many(range(MORE, MANY))
