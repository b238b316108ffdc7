"""Cells that hold names by where they stand, whatever else they look like: a bag "K 12" or "DM"."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import Final

from rickyard.labs.tables import IDENTITY, Seen, beside

#: A row with so many names of fields and tests heads columns.
_LEAST_HEADS: Final = 3
#: A row of a table has so many cells.
_LEAST_CELLS: Final = 3


def names_in_columns(rows: Sequence[Sequence[Seen]], gridded: bool) -> frozenset[str]:
    """Take what stands under or behind "Sample" for names, and for no label, unit or basis.

    Parameters
    ----------
    rows : sequence of sequence of Seen
        The rows of the page; their cells are changed.
    gridded : bool
        Whether cells stand in columns of their own.

    Returns
    -------
    frozenset of str
        The names that might be read as something else; they are never parted.

    Examples
    --------
    >>> from rickyard.labs.common import Cell
    >>> from rickyard.labs.tables import seen
    >>> from rickyard.labs.vocabulary import Comma
    >>> texts = (["Field", "CP", "ADF", "NDF"], ["K 12", "10.9", "37.6", "58.1"])
    >>> rows = [
    ...     [seen(Cell(t, n, x, x, ""), Comma.OPEN) for x, t in enumerate(row)]
    ...     for n, row in enumerate(texts)
    ... ]
    >>> sorted(names_in_columns(rows, True))
    ['K 12']
    """
    names: list[Seen] = []
    for place, row in enumerate(rows):
        if _heads_columns(row):
            for head in row:
                if head.field in IDENTITY and head.label is None:
                    names.extend(_under(head, rows, place, gridded))
        elif _heads_samples(row, rows[place + 1 : place + 3]):
            names.extend(_beside_head(row))
        elif _names_one(row):
            names.append(row[1])
    for one in names:
        one.label, one.field, one.only_unit, one.only_basis = None, "", False, False
    return frozenset(one.text for one in names if any(map(str.isalpha, one.text)))


def _heads_columns(row: Sequence[Seen]) -> bool:
    """Return whether a row names fields and tests, and holds no values."""
    if any(map(_is_number, row)):
        return False
    known = sum(bool(one.field or one.label) for one in row)
    tests = sum(one.label is not None for one in row)
    of_tests = tests > 1 or any(one.field == "analyte" for one in row)
    return known >= _LEAST_HEADS and of_tests


def _is_number(one: Seen) -> bool:
    return one.is_value and one.value.value is not None


def _under(head: Seen, rows: Sequence[Sequence[Seen]], place: int, gridded: bool) -> list[Seen]:
    """Return the cells under a heading, down to the next row that heads columns."""
    found: list[Seen] = []
    for row in rows[place + 1 :]:
        if _heads_columns(row) and not all(one.only_unit for one in row):
            break
        if len(row) < _LEAST_CELLS or not any(map(_is_number, row)):
            continue
        found.extend(one for one in row if beside(one.cell, head.cell, gridded) == 0.0)
    labels = sum(one.label is not None for one in found)
    return found if 2 * labels <= len(found) else []


#: Cells of a line with the name of one sample.
_LABEL_AND_NAME: Final = 2


def _names_one(row: Sequence[Seen]) -> bool:
    """Return whether a row tells the name of one sample: "Sample:   DM 4"."""
    return (
        len(row) == _LABEL_AND_NAME
        and row[0].field in IDENTITY
        and row[0].text.rstrip().endswith(":")
        and not (row[1].field or row[1].text.rstrip().endswith(":"))
    )


#: What may stand between "Sample" and the names behind it.
_OF_LINES: Final = ("unit", "basis", "method", "analyte", "qualifier")


def _beside_head(row: Sequence[Seen]) -> list[Seen]:
    """Return the cells behind "Sample", without headings of units and bases between."""
    return list(itertools.dropwhile(lambda one: one.field in _OF_LINES, row[1:]))


def _heads_samples(row: Sequence[Seen], under: Sequence[Sequence[Seen]]) -> bool:
    """Return whether a row names samples side by side: "Field | K 12 | DM 4" over tests."""
    if len(row) < _LEAST_CELLS or row[0].field not in IDENTITY or row[0].label is not None:
        return False
    others = _beside_head(row)
    if not others or 2 * sum(one.label is not None for one in others) > len(others):
        return False
    if any(one.field or one.only_unit or one.only_basis for one in others):
        return False
    return any(len(below) > 1 and (below[0].field or below[0].label) for below in under)
