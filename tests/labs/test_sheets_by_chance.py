"""Sheets laid out by chance: nothing is wrong in silence, and each value stands at its place."""

from __future__ import annotations

import pytest
from sheets.chance import sheet
from sheets.held import Held, held

from rickyard.labs.intake import read_file
from rickyard.labs.parsing.apart import parsed_in_here

FEW, MANY = 20, 320


@pytest.fixture
def in_here(monkeypatch):
    """Parse workbooks and pages without a process of their own, which takes its time."""
    monkeypatch.setattr("rickyard.labs.reading.documents.parsed_apart", parsed_in_here)


def compared(number: int) -> Held:
    file = sheet(number)
    return held(file, read_file(file.name, file.data))


@pytest.mark.parametrize("number", range(FEW))
def test_nothing_of_a_sheet_is_wrong_in_silence(number, in_here):
    found = compared(number)
    assert not found.wrong, sheet(number).name
    assert not found.missed, sheet(number).name
    assert found.right > found.asked


@pytest.mark.long
def test_nothing_of_hundreds_of_sheets_is_wrong_in_silence(in_here):
    right = asked = missed = 0
    for number in range(FEW, MANY):
        found = compared(number)
        assert not found.wrong, sheet(number).name
        right += found.right
        asked += found.asked
        missed += len(found.missed)
    every = right + asked + missed
    assert right >= 0.9 * every
    assert missed <= 0.05 * every


def test_a_value_from_another_place_or_of_another_number_is_told():
    file = sheet(3)
    reading = read_file(file.name, file.data)
    value = next(one for one in reading.samples[0].values if one.status == "sure")
    value.value += 1.0
    assert len(held(file, reading).wrong) == 1
    value.value -= 1.0
    reading.samples[0].id = "Another"
    assert any("id Another" in text for text in held(file, reading).wrong)
