"""Letters, lists, protocols and keys in sentences, by chance: nothing is wrong in silence."""

from __future__ import annotations

import pytest
from sheets.held import Held, held
from sheets.written import written

from rickyard.labs.intake import read_file
from rickyard.labs.parsing.apart import parsed_in_here

FEW, MORE, MANY = 12, 60, 1200


@pytest.fixture
def in_here(monkeypatch):
    """Parse pages without a process of their own, which takes its time."""
    monkeypatch.setattr("rickyard.labs.reading.documents.parsed_apart", parsed_in_here)


def compared(number: int) -> tuple[str, Held]:
    """Return how a report was read, with its name; a name that is asked may hold its number."""
    sheet = written(number)
    reading = read_file(sheet.name, sheet.data)
    for sample in reading.samples:
        if "id" in sample.asked:
            names = [bag.name for bag in sheet.content.bags if bag.name in sample.id]
            sample.id = (names or [sample.id])[0]
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


def test_nothing_of_a_written_report_is_wrong_in_silence(in_here):
    of_many(range(FEW), 0.8)


@pytest.mark.more
def test_nothing_of_more_written_reports_is_wrong_in_silence(in_here):
    of_many(range(FEW, MORE))


@pytest.mark.long
def test_nothing_of_a_thousand_written_reports_is_wrong_in_silence(in_here):
    of_many(range(MORE, MANY))
