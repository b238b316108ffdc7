"""What a single cell can be: a label, a value, a unit, a basis, a field."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from rickyard.labs.shapes import Cell, Page
from rickyard.labs.understanding.beside import field_of
from rickyard.labs.understanding.days import printed_day
from rickyard.labs.understanding.labels import Label, label_of
from rickyard.labs.understanding.numbers import Comma, Op, Printed, printed
from rickyard.labs.understanding.texts import plain
from rickyard.labs.understanding.units import is_only_basis, is_only_unit, written_in


_WHOLLY_DRY: Final = re.compile(r"100\s*%?\s*(?:dm|d\.m\.?|dry(?: matter)?)(?: basis)?")


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
    value = printed(text, comma)
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
    assert cell.number is not None
    as_shown = printed(cell.text, Comma.POINT)
    if as_shown.op is not Op.IS or as_shown.value is None:
        return Printed(Op.IS, cell.number, 0.0)
    percent = as_shown.rest.startswith("%")
    stored = cell.number * (100.0 if percent else 1.0)
    near = abs(stored - as_shown.value) <= as_shown.step
    return Printed(Op.IS, as_shown.value if near else stored, as_shown.step, as_shown.rest)


def _is_value(text: str, value: Printed) -> bool:
    if value.op is Op.UNREADABLE:
        return bool(value.doubt)
    if value.op in (Op.NOT_DETECTED, Op.TOO_MANY, Op.ABSENT):
        return True
    if not value.rest:
        return printed_day(text) is None
    rest = value.rest.strip("()[] *†‡§¶^,;")
    if not rest or is_only_unit(rest):
        return True
    words = written_in(rest)
    left = plain(words.rest).strip("()[] ,;")
    return left in ("", "a", "b", "c", "d", "h", "l", "w", "n", "est", "est.", "calc", "calc.", "nir",
                    "wet", "hi", "lo", "high", "low", "q", "j", "e", "r", "1", "2", "3", "cfu", "x",
                    "dry", "ok")  # fmt: skip


def looked_at(page: Page, comma: Comma) -> list[list[Seen]]:
    """Look at every cell of a page."""
    return [[seen(cell, comma) for cell in row] for row in page.rows]


def beside(first: Cell, second: Cell, gridded: bool) -> float:
    """Return how far two cells are from standing over one another; 0 where they overlap.

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
