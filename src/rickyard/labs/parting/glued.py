"""Cells of two columns that are printed so near that they are one text, parted by the columns."""

from __future__ import annotations

import itertools
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from rickyard.labs.common import Cell
from rickyard.labs.tables import Seen, has_value, seen
from rickyard.labs.vocabulary import Comma, field_of, is_aside, is_only_unit, label_of

#: So many cells make a column, in so many rows that are looked at.
_LEAST_CELLS = 3
_ROWS_UNDER = 30
_MOST_WORDS = 14
_MOST_COLUMNS = 6
#: How far a part of a text may stand from its column, in letters; more where it is known.
_NEAR = 1.6
_NEAR_KNOWN = 2.8
_LONGEST = 120
_STEP = 0.01


def parted_by_columns(rows: list[list[Seen]], comma: Comma) -> list[list[Seen]]:
    """Part headings by the columns under them, and units from the labels before them.

    Parameters
    ----------
    rows : list of list of Seen
        The rows of a page whose cells stand where they are printed.
    comma : Comma
        How the file writes its decimals.

    Returns
    -------
    list of list of Seen
        The rows, with such cells parted.
    """
    edges = _edges_of_units(rows)
    rows = [[part for one in row for part in _day_apart(one, comma)] for row in rows]
    made = []
    for place, row in enumerate(rows):
        if (
            len(row) > 1
            and not _is_number_and_name(row)
            and not any(has_value(one) or _leads_field(one) for one in row)
        ):
            under = [each for each in rows[place + 1 :][: 2 * _ROWS_UNDER] if each][:_ROWS_UNDER]
            if _are_right_under(under):
                row = [part for one in row for part in _heading(one, under, comma)]
        elif edges and len(row) > 1:
            row = [*_with_unit(row[0], edges, comma), *row[1:]]
        made.append(row)
    return made


#: "17-Sep-202584.8": a day, and the number of the next column right behind it.
_DAY_AND_NUMBER = re.compile(
    r"(?P<day>\d{1,2}[-./ ](?:[A-Za-z]{3,9}|\d{1,2})[-./ ](?:19|20)\d\d|(?:19|20)\d\d-\d\d-\d\d)"
    r"(?P<number>\d{1,4}(?:[.,]\d{1,3})?)"
)


def _day_apart(one: Seen, comma: Comma) -> list[Seen]:
    """Part a day from a number that is printed right behind it."""
    told = _DAY_AND_NUMBER.fullmatch(one.text.strip())
    if told is None:
        return [one]
    cut = one.cell.x0 + (one.cell.x1 - one.cell.x0) * len(told["day"]) / len(one.text)
    return [
        seen(replace(one.cell, text=told["day"], x1=cut - _STEP), comma),
        seen(replace(one.cell, text=told["number"], x0=cut), comma),
    ]


#: "Q4553   Badger barn stack": number and name of a sample, and no headings.
_NUMBER = re.compile(r"#?(?:\d\d[-/])?[A-Z]{0,5}[-/.]?\d[\w/.-]*")


def _is_number_and_name(row: Sequence[Seen]) -> bool:
    return len(row) < _LEAST_CELLS and bool(_NUMBER.fullmatch(row[0].text.strip()))


def _leads_field(one: Seen) -> bool:
    """Return whether a text leads to what stands behind it: "Sample:"."""
    return bool(one.field) and one.text.endswith(":")


def _are_right_under(under: Sequence[Sequence[Seen]]) -> bool:
    """Return whether values stand right under a row, or under a row of units."""
    for row in under:
        if any(has_value(one) for one in row):
            return True
        if not all(one.only_unit or _FORM_OF_DAYS.fullmatch(one.text) for one in row):
            return False
    return False


#: "MM/DD/YY" in a row of units.
_FORM_OF_DAYS = re.compile(r"\(?[dmy]{1,4}[./-][dmy]{1,4}[./-][dmy]{1,4}\)?", re.IGNORECASE)


def _edges_of_units(rows: Sequence[Sequence[Seen]]) -> list[float]:
    """Return where columns of units begin."""
    starts = Counter(
        round(one.cell.x0)
        for row in rows
        for one in row[1:2]
        if one.only_unit and not one.only_basis and row[0].label
    )
    return [float(start) for start, often in starts.items() if often >= _LEAST_CELLS]


def _with_unit(one: Seen, edges: Sequence[float], comma: Comma) -> list[Seen]:
    """Part a unit from the label that reaches as far as its column."""
    if one.label is not None or one.is_value or len(one.text) > _LONGEST:
        return [one]
    width = (one.cell.x1 - one.cell.x0) / len(one.text)
    for edge in edges:
        if not one.cell.x0 < edge < one.cell.x1:
            continue
        for space in re.finditer(r"\s+", one.text):
            left, right = one.text[: space.start()], one.text[space.end() :]
            if label_of(left) and is_only_unit(right) and not label_of(right):
                cut = one.cell.x0 + space.start() * width
                return [
                    seen(replace(one.cell, text=left, x1=min(cut, edge - width)), comma),
                    seen(replace(one.cell, text=right, x0=edge), comma),
                ]
    return [one]


def _heading(one: Seen, under: Sequence[Sequence[Seen]], comma: Comma) -> list[Seen]:
    """Part a heading that reaches over several columns and names each of them."""
    words = one.text.split()
    whole = one.only_unit or bool(one.label) or bool(one.field)
    if whole or len(one.text) > _LONGEST or not 1 < len(words) <= _MOST_WORDS:
        return [one]
    columns = _columns_under(one.cell, under)
    if not 1 < len(columns) <= min(_MOST_COLUMNS, len(words)):
        return [one]
    parts = _best(one, columns)
    return [seen(part, comma) for part in parts] if parts else [one]


def _columns_under(cell: Cell, under: Sequence[Sequence[Seen]]) -> list[tuple[float, float]]:
    """Return how far each column of values or units reaches that stands under a cell."""
    columns: list[list[Cell]] = []
    for row in under:
        for one in row:
            if min(one.cell.x1, cell.x1) <= max(one.cell.x0, cell.x0):
                continue
            if not (has_value(one) or one.only_unit):
                continue
            for column in columns:
                if min(one.cell.x1, column[0].x1) > max(one.cell.x0, column[0].x0):
                    column.append(one.cell)
                    break
            else:
                columns.append([one.cell])
    spans = [
        (min(cell.x0 for cell in column), max(cell.x1 for cell in column))
        for column in columns
        if len(column) >= _LEAST_CELLS
    ]
    return sorted(spans)


def _best(one: Seen, columns: Sequence[tuple[float, float]]) -> list[Cell] | None:
    """Return a heading parted so that each part stands over its column, if that is so."""
    width = (one.cell.x1 - one.cell.x0) / len(one.text)
    spaces = [space.start() for space in re.finditer(r"\s+", one.text)]
    best: tuple[int, float] | None = None
    found: list[Cell] | None = None
    for cuts in itertools.combinations(spaces, len(columns) - 1):
        ends = [0, *cuts, len(one.text)]
        parts = [
            replace(
                one.cell,
                text=one.text[start:end].strip(),
                x0=one.cell.x0 + (start + (start > 0)) * width,
                x1=one.cell.x0 + end * width,
            )
            for start, end in itertools.pairwise(ends)
        ]
        unknown = sum(not _known(part.text) for part in parts)
        off = _off(parts, columns) / width
        if off > (_NEAR if unknown else _NEAR_KNOWN) or unknown == len(parts):
            continue
        if best is None or (unknown, off) < best:
            best, found = (unknown, off), parts
    return found


def _off(parts: Sequence[Cell], columns: Sequence[tuple[float, float]]) -> float:
    """Return how far parts stand from their columns, by their right, left or middle."""
    pairs = list(zip(parts, columns, strict=True))
    return min(
        max(abs(part.x1 - x1) for part, (_, x1) in pairs),
        max(abs(part.x0 - x0) for part, (x0, _) in pairs),
        max(abs(part.x0 + part.x1 - x0 - x1) / 2 for part, (x0, x1) in pairs),
    )


def _known(text: str) -> bool:
    known = label_of(text)
    return (
        is_only_unit(text)
        or bool(field_of(text))
        or is_aside(text)
        or (known is not None and known.ours)
    )
