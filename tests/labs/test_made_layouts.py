"""Layouts made by chance: everything printed is read, sure and right."""

from __future__ import annotations

import pytest

from rickyard.labs.intake import read_file
from support.lab_layouts import basis_of, made, unit_of
from support.rows import few

FILES = 80


@pytest.mark.parametrize("number", few(range(FILES), 30))
def test_a_layout_made_by_chance_is_read_whole(number):
    file = made(number)
    reading = read_file(file.name, file.data)
    assert not reading.refused
    assert {one.lab_no for one in reading.samples} == set(file.values)
    for sample in reading.samples:
        assert sample.id == file.names[sample.lab_no]
        assert sample.sampled_on == file.days[sample.lab_no]
        wanted = file.values[sample.lab_no]
        found = {
            (one.analyte, one.value, one.unit, one.basis)
            for one in sample.values
            if one.status == "sure"
        }
        assert found == {
            (name, float(text), unit_of(name), basis_of(name)) for name, text in wanted.items()
        }, file.name
