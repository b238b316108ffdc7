"""Sheets that one person lays out alone, with keys, letters and habits of one's own."""

from __future__ import annotations

import pytest
from sheets.desks import desk_sheet
from sheets.held import held

from rickyard.labs.intake import read_file
from rickyard.labs.parsing.apart import parsed_in_here

FEW, MORE, MANY = range(500, 515), range(150), range(150, 900)


@pytest.fixture
def in_here(monkeypatch):
    """Parse workbooks and pages without a process of their own, which takes its time."""
    monkeypatch.setattr("rickyard.labs.reading.documents.parsed_apart", parsed_in_here)


def of_many(numbers: range) -> None:
    right = asked = missed = 0
    for number in numbers:
        sheet = desk_sheet(number)
        found = held(sheet, read_file(sheet.name, sheet.data))
        assert not found.wrong, sheet.name
        right, asked = right + found.right, asked + found.asked
        missed += len(found.missed)
    assert right >= 0.95 * (right + asked + missed)
    assert missed <= 0.02 * (right + asked + missed)


def test_nothing_of_the_sheet_of_a_desk_is_wrong_in_silence(in_here):
    of_many(FEW)


@pytest.mark.more
def test_nothing_of_more_sheets_of_desks_is_wrong_in_silence(in_here):
    of_many(MORE)


@pytest.mark.long
def test_nothing_of_many_sheets_of_desks_is_wrong_in_silence(in_here):
    of_many(MANY)
