"""Tables pasted with one cell a line: labels, units and values under one another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.vocabulary import (
    Op,
    field_of,
    is_only_basis,
    is_only_unit,
    label_of,
    printed,
    written_in,
)

#: So many labels and values must stand alone, on so great a part of the lines.
_LEAST: Final = 4
_MOSTLY: Final = 0.8
_LONGEST_UNIT: Final = 4
#: A row has no more cells than these.
_WIDEST: Final = 6
#: Where a value stands that is in none of the columns.
_NO_COLUMN: Final = 20
_OF_TABLES: Final = frozenset(["analyte", "result", "unit", "basis", "method"])


def with_lines_together(document: Document) -> Document:
    """Return a document in which a table with one cell a line has its rows.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document; pages of other kinds are as they were.
    """
    return replace(document, pages=[_together(page) for page in document.pages])


def _together(page: Page) -> Page:
    filled = [row for row in page.rows if row]
    alone = [row[0] for row in filled if len(row) == 1]
    if page.gridded or len(alone) < _MOSTLY * len(filled) or len(alone) < 2 * _LEAST:
        return page
    kinds = [_kind(cell) for row in filled for cell in row]
    if kinds.count("label") < _LEAST or kinds.count("value") < _LEAST:
        return page
    behind = sum(
        first == "label" and any(one == "value" for one in kinds[n + 1 : n + 4])
        for n, first in enumerate(kinds)
    )
    if 2 * behind < kinds.count("label"):
        return page
    rows: list[list[Cell]] = []
    run: list[Cell] = []
    for row in [*filled, []]:
        if len(row) == 1:
            run.append(row[0])
            continue
        rows += _rows(run, [_kind(cell) for cell in run])
        run = []
        rows.append([replace(cell, x0=float(n), x1=n + 0.9) for n, cell in enumerate(row)])
    made = [[replace(cell, row=n) for cell in row] for n, row in enumerate(rows)]
    return Page(page.name, made, gridded=True)


def _kind(cell: Cell) -> str:
    """Return what a cell is: a value, a label, a unit, a basis, a field or another text."""
    text = cell.text.strip()
    read = printed(text)
    if read.value is not None and (not read.rest or is_only_unit(read.rest)):
        return "value"
    if read.op is Op.ABSENT and text:
        return "value"  # "-" holds the place of a number
    known = written_in(text)
    if is_only_unit(text) and (":" in text or len(text.split()) > _LONGEST_UNIT):
        return "text"  # "Basis of results: DM" says something of all
    if is_only_unit(text) and known.unit and known.basis:
        return "unit"  # "% DM"
    label = label_of(text.rstrip(":"))
    if label is not None and not label.misspelled:
        return "maybe" if label.maybe_basis else "label"
    if is_only_unit(text):
        return "basis" if is_only_basis(text) else "unit"
    return field_of(text) or "text"


def _rows(cells: Sequence[Cell], kinds: Sequence[str]) -> list[list[Cell]]:
    """Return rows that begin at each label and each field, in columns side by side."""
    rows: list[list[Cell]] = []
    heads: Sequence[str] = ()
    at = 0
    while at < len(cells):
        end = _end(kinds, at)
        here = kinds[at:end]
        heads = here if here[0] in _OF_TABLES else heads
        places = _places(here, heads) if here[0] in ("label", "maybe") else range(len(here))
        rows.append(
            [
                replace(cell, x0=float(place), x1=place + 0.9)
                for place, cell in zip(places, cells[at:end], strict=True)
            ]
        )
        if kinds[at] == "text":
            rows.append([])
        at = end
    return rows


def _places(here: Sequence[str], heads: Sequence[str]) -> list[int]:
    """Return in which columns the cells of a row stand, by the headings over them.

    Of two columns of values, nothing tells in which one stands that is alone.
    """
    of_values = [n for n, one in enumerate(heads) if one in ("result", "basis", "maybe")]
    of_units = [n for n, one in enumerate(heads) if one == "unit"]
    values = here.count("value")
    if not heads or (values == len(of_values) and len(here) == len(heads)):
        return list(range(len(here)))
    if values != len(of_values) and (len(of_values) > 1 and here[0] == "label"):
        return [0, *range(_NO_COLUMN, _NO_COLUMN + len(here) - 1)]
    free = {"value": of_values, "unit": of_units}
    made = [0]
    for n, kind in enumerate(here[1:], 1):
        own = free.get(kind, [])
        made.append(own.pop(0) if own else _NO_COLUMN + n)
    return made if made == sorted(made) else list(range(len(here)))


def _end(kinds: Sequence[str], at: int) -> int:
    """Return where a row ends that begins at a place."""
    first = kinds[at]
    end = at + 1
    if first in _OF_TABLES:  # headings of the table: as many as stand together
        while end < len(kinds) and kinds[end] in (*_OF_TABLES, "basis", "maybe", "unit"):
            end += 1
            if kinds[end - 1] == "maybe" and end < len(kinds) and kinds[end] in ("value", "unit"):
                return end - 1  # "Dry matter" with its value begins the table
        return end
    if first in ("label", "maybe"):
        while end < len(kinds) and end - at < _WIDEST and kinds[end] in ("value", "unit", "basis"):
            end += 1
        return end
    if first not in ("text", "value", "unit", "basis"):  # a field and what is behind it
        return min(end + 1, len(kinds)) if kinds[end : end + 1] not in ([], ["label"]) else end
    return end
