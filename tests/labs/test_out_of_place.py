"""Values that stand in line with another column than the one they were taken for."""

from __future__ import annotations

from rickyard.labs.common import Cell
from rickyard.labs.tables.headings import understood
from rickyard.labs.tables.places import out_of_place


def cell(text, row, left):
    return Cell(text, row, left, left + len(text) - 0.1, "here")


COLUMNS = [understood(cell("CP", 0, 10), ["CP"]), understood(cell("ADF", 0, 20), ["ADF"])]
ROWS = [(cell("12.2", n, 12), 0) for n in range(4)] + [(cell("35.1", n, 22), 1) for n in range(4)]


def test_values_in_line_with_their_column_are_in_place():
    wide = (cell("1,212.2", 5, 9), 0)
    assert out_of_place(COLUMNS, [*ROWS, wide]) == {}


def test_a_value_in_line_with_the_next_column_is_told():
    assert out_of_place(COLUMNS, [*ROWS, (cell("33.0", 5, 22), 0)]) == {8: 1}


def test_a_column_of_few_values_is_held_against_its_heading():
    assert out_of_place(COLUMNS, [(cell("33.0", 1, 20), 0)]) == {0: 1}
