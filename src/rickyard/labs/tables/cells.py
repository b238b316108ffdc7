"""What a single cell can be: a label, a value, a unit, a basis, a field."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.labs.common import Cell, Page
from rickyard.labs.vocabulary import (
    Comma,
    Label,
    Op,
    Printed,
    field_of,
    is_only_basis,
    is_only_unit,
    label_of,
    phrases,
    plain,
    printed,
    printed_day,
    written_in,
)

#: What may stand behind a number without making it another: flags, marks, methods.
_BEHIND_NUMBERS: Final = frozenset(
    phrases(
        "|a|b|c|d|h|l|w|n|est|est.|calc|calc.|nir|wet|hi|lo|high|low|q|j|e|r|1|2|3|cfu|x|dry|ok"
    )
)
#: A number that reads the same whatever else the file holds.
_PLAIN_NUMBER: Final = re.compile(r"-?\d{1,9}(?:\.\d{1,2})?")
#: So many cells, and so great a part of a column, make it a column of bases.
_LEAST_BASES: Final = 2
_MOSTLY_BASES: Final = 0.6
#: So many names of fields and tests head a table.
_LEAST_HEADS: Final = 4
_RAISED: Final = "¹²³⁴⁵⁶⁷⁸⁹"
_FIRST_YEAR: Final = 1990
_LAST_YEAR: Final = 2079
_YEAR_SIGNS: Final = 4
_RULE: Final = re.compile(r"[-=_+:|~*\s]{2,}")
_WHOLLY_DRY: Final = re.compile(
    r"(?:100\s*%?|90\s*%)\s*(?:dm|d\.m\.?|dry(?: matter)?)(?: basis)?(?:\s*,?\s*[(]?%[)]?)?"
)


@dataclass(slots=True)
class Seen:
    """A cell with everything that it may be."""

    cell: Cell
    label: Label | None
    value: Printed
    is_value: bool
    only_unit: bool
    only_basis: bool
    field: str

    @property
    def text(self) -> str:
        """Return the printed text."""
        return self.cell.text


def seen(cell: Cell, comma: Comma) -> Seen:
    """Look at a cell.

    Parameters
    ----------
    cell : Cell
        The cell.
    comma : Comma
        How the file writes its decimals.

    Returns
    -------
    Seen
        What it may be: label, value, unit, basis or field.

    Examples
    --------
    >>> seen(Cell("CP (%)", 0, 0, 1, ""), Comma.OPEN).label.candidates
    ('cp',)
    >>> seen(Cell("12.5", 0, 0, 1, ""), Comma.OPEN).is_value
    True
    """
    text = cell.text
    if cell.number is not None:
        return Seen(cell, None, _stored(cell), True, False, False, "")
    if cell.day is not None:
        return Seen(cell, None, Printed(Op.UNREADABLE), False, False, False, "")
    if comma is not Comma.COMMA and _PLAIN_NUMBER.fullmatch(text):
        point = text.find(".")
        step = 10.0 ** -(len(text) - point - 1) if point >= 0 else 1.0
        return Seen(cell, None, Printed(Op.IS, float(text), step), True, False, False, "")
    value = printed(text, comma)
    if text[:1] in _RAISED and not text.strip(_RAISED).isdigit():
        value = Printed(Op.UNREADABLE)  # "² percent of dry matter" explains a mark
    if _WHOLLY_DRY.fullmatch(plain(text)):
        return Seen(cell, None, Printed(Op.UNREADABLE), False, True, True, "")
    if cell.trouble:
        return Seen(cell, None, Printed(Op.UNREADABLE, doubt=cell.trouble), True, False, False, "")
    only_unit = is_only_unit(text)
    only_basis = only_unit and is_only_basis(text)
    is_value = _is_value(text, value)
    if is_value and value.value is not None:
        return Seen(cell, None, value, True, False, False, "")
    words = value.op in (Op.NOT_DETECTED, Op.TOO_MANY, Op.ABSENT)
    label = None if words and text != "Na" and text != "NA" else label_of(text)
    return Seen(
        cell, label, value, is_value and label is None, only_unit, only_basis, field_of(text)
    )


def _stored(cell: Cell) -> Printed:
    """Return the number that a workbook stored, rounded as it is shown, and its last place."""
    assert cell.number is not None
    percent = cell.text.endswith("%")
    text = cell.text[:-1] if percent else cell.text
    stored = cell.number * 100.0 if percent else cell.number
    point = text.find(".")
    step = 10.0 ** -(len(text) - point - 1) if point >= 0 else 1.0
    rest = "%" if percent else ""
    try:
        as_shown = float(text)
    except ValueError:
        return Printed(Op.IS, stored, 0.0, rest)
    near = abs(stored - as_shown) <= step
    return Printed(Op.IS, as_shown if near else stored, step, rest)


def _is_value(text: str, value: Printed) -> bool:
    if value.op is Op.UNREADABLE:
        return bool(value.doubt) and printed_day(text) is None  # "2025-08-30" is no range
    if value.op in (Op.NOT_DETECTED, Op.TOO_MANY, Op.ABSENT):
        return True
    if not value.rest:
        return printed_day(text) is None
    rest = value.rest.strip("()[] *†‡§¶^,;.")
    if not rest or is_only_unit(rest):
        return True
    words = written_in(rest)
    left = plain(words.rest).strip("()[] ,;")
    return left in _BEHIND_NUMBERS


def looked_at(page: Page, comma: Comma) -> list[list[Seen]]:
    """Look at every cell of a page.

    Parameters
    ----------
    page : Page
        The page.
    comma : Comma
        How the file writes its decimals.

    Returns
    -------
    list of list of Seen
        A row for each row of the page; a drawn line is an empty one.
    """
    return [[] if _is_rule(row) else [seen(cell, comma) for cell in row] for row in page.rows]


def _is_rule(row: Sequence[Cell]) -> bool:
    """Return whether a row holds nothing but lines drawn with signs: "---|---:"."""
    return any(len(cell.text) > 2 for cell in row) and all(
        cell.number is None and _RULE.fullmatch(cell.text) for cell in row
    )


def beside(first: Cell, second: Cell, gridded: bool) -> float:
    """Return how far two cells are from standing over one another; 0 where they overlap.

    Parameters
    ----------
    first, second : Cell
        The cells.
    gridded : bool
        Whether cells stand in columns of their own.

    Returns
    -------
    float
        The distance; 99 for two columns of a grid. [columns of letters]

    Examples
    --------
    >>> beside(Cell("", 0, 10, 20, ""), Cell("", 1, 15, 30, ""), False)
    0
    >>> beside(Cell("", 0, 10, 20, ""), Cell("", 1, 25, 30, ""), False)
    5
    """
    if gridded:
        return (
            0.0 if first.x0 <= second.x0 <= first.x1 or second.x0 <= first.x0 <= second.x1 else 99.0
        )
    return max(first.x0 - second.x1, second.x0 - first.x1, 0)


def is_year(one: Seen) -> bool:
    """Return whether a cell is a year and no value.

    Parameters
    ----------
    one : Seen
        The cell.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> is_year(seen(Cell("2025", 0, 0, 1, ""), Comma.OPEN))
    True
    """
    number = one.value.value
    return (
        one.is_value
        and number is not None
        and _FIRST_YEAR <= number <= _LAST_YEAR
        and len(one.text) == _YEAR_SIGNS
    )


#: "T-2" is a toxin, but between T-1 and T-3 the number of a sample.
_NUMBERED: Final = re.compile(r"(?P<letters>[A-Za-z]{1,2})[-. ]?(?P<number>\d{1,2})")


def leave_numbered(rows: Sequence[Sequence[Seen]]) -> None:
    """Take no number of a sample for a label: "T-2" where the page holds "T-1" too.

    Parameters
    ----------
    rows : sequence of sequence of Seen
        The rows of the page; their cells are changed.
    """
    labelled = [
        (one, found["letters"])
        for row in rows
        for one in row
        if one.label is not None and (found := _NUMBERED.fullmatch(one.text.strip()))
    ]
    if not labelled:
        return
    each = {
        (found["letters"], found["number"])
        for row in rows
        for one in row
        if (found := _NUMBERED.fullmatch(one.text.strip()))
    }
    known = Counter(letters for letters, _ in each)  # "NO3" in each block is one and the same
    for one, letters in labelled:
        if known[letters] > 1 and not one.field:
            one.label = None


def _mark_under_basis(rows: Sequence[Sequence[Seen]]) -> None:
    """Mark "Dry matter" as a basis in a column that its heading says is one of bases."""
    for place, row in enumerate(rows):
        heads = [one for one in row if one.field == "basis" and not one.text.endswith(":")]
        named = sum(bool(one.field or one.label) for one in row)
        if len(heads) != 1 or named < _LEAST_HEADS or any(one.is_value for one in row):
            continue
        for below in rows[place + 1 :]:
            if not below or any(one.field == "basis" for one in below):
                break
            for one in below:
                over = min(one.cell.x1, heads[0].cell.x1) - max(one.cell.x0, heads[0].cell.x0)
                if over > 0.0 and one.label is not None and one.label.maybe_basis:
                    one.label, one.only_unit, one.only_basis, one.field = None, True, True, ""


def mark_bases(rows: Sequence[Sequence[Seen]]) -> None:
    """Mark "Dry matter" as a basis where it stands in a column of bases beside labels.

    Parameters
    ----------
    rows : sequence of sequence of Seen
        The rows of the page; their cells are changed.
    """
    _mark_under_basis(rows)
    places: dict[int, list[Seen]] = {}
    for row in rows:
        labelled = False
        for place, one in enumerate(row):
            after = row[place + 1] if place + 1 < len(row) else None
            own = after is not None and after.value.value is not None
            own &= place > 0 and row[place - 1].value.value is not None
            if labelled and not (own and one.label is not None):
                places.setdefault(round(one.cell.x0), []).append(one)
            labelled |= one.label is not None and not one.is_value
    for cells in places.values():
        maybe = [one for one in cells if one.label is not None and one.label.maybe_basis]
        bases = len(maybe) + sum(one.only_basis for one in cells)
        if len(maybe) < _LEAST_BASES or _MOSTLY_BASES * len(cells) > bases:
            continue
        for one in maybe:
            one.label, one.only_unit, one.only_basis, one.field = None, True, True, ""
