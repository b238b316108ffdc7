"""Hay as marks that can be counted: the wall of a whole yard, and the bales of one lot.

A mark is one ton in the wall and one bale in a lot. What becomes of it is told by its form, so that
nothing rests on color alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape
from itertools import count
from typing import Final

#: One mark in a cell of 24.
GLYPHS: Final[Mapping[str, str]] = {
    "gone": '<circle class="b-gone" cx="12" cy="12" r="3"/>',
    "stands": '<circle class="b-feed" cx="12" cy="12" r="10" stroke="var(--straw-ink)" '
    'stroke-width="2"/>',
    "rolled": '<circle class="b-feed" cx="12" cy="12" r="10.6" stroke="var(--straw-ink)" '
    'stroke-width="1.4"/><path class="b-turn" stroke-width="1.5" d="M10.6 12a2 2 0 0 1 4 0'
    'a3.5 3.5 0 0 1-7 0a5 5 0 0 1 10 0a6.3 6.3 0 0 1-10.5 4.7"/>',
    "danger": '<circle class="b-unsafe" cx="12" cy="12" r="10" stroke-width="2"/>'
    '<path class="b-unsafe-f" d="M12 5.4 18.2 16.4H5.8Z"/>',
    "reserve": '<circle class="b-left" cx="12" cy="12" r="11"/>'
    '<circle class="b-core" cx="12" cy="12" r="4.6"/>',
    "free": '<circle class="b-left" cx="12" cy="12" r="11"/>',
    "barred": '<circle class="b-unsafe" cx="12" cy="12" r="9" stroke-width="2.6"/>'
    '<path class="b-unsafe" d="M6 18 18 6" stroke-width="2.6"/>',
    "lost": '<path class="b-lost" stroke-width="2" d="M7 7l10 10M17 7 7 17"/>',
    "sold": '<rect class="b-sold" x="6" y="6" width="12" height="12" stroke-width="1.8"/>',
    "ghost": '<circle class="b-ghost" cx="12" cy="12" r="9.6" stroke-width="1.6" '
    'stroke-dasharray="3 2.6"/>',
    "missing": '<circle class="b-miss" cx="12" cy="12" r="9.6" stroke-width="2.2" '
    'stroke-dasharray="4 3.2"/>',
}
_CELL: Final = 24
#: More marks than this are too small to count: then each stands for as many as it takes.
MOST_MARKS: Final = 600
#: Marks beside each other in one row of a lot, on one scale for all lots of a page.
LOT_COLUMNS: Final = 64


@dataclass(frozen=True, slots=True)
class Part:
    """Marks of one kind, one after another."""

    kind: str
    marks: int


def per_mark(amount: float, most: int = MOST_MARKS) -> int:
    """Return how much one mark stands for.

    Parameters
    ----------
    amount : float
        All that is to be drawn.
    most : int
        The most marks that can be counted.

    Returns
    -------
    int
        1, 2, 5, 10, 20 and so on.

    Examples
    --------
    >>> [per_mark(tons) for tons in (308, 900, 7_000)]
    [1, 2, 20]
    """
    digits = (1, 2, 5)
    step = digits[0]
    for number in count(1):
        if amount <= most * step:
            break
        step = digits[number % 3] * int(f"1{'0' * (number // 3)}")
    return step


def whole_marks(amounts: Sequence[float], per: float = 1.0) -> list[int]:
    """Return amounts as whole marks that together are as many as their sum.

    Parameters
    ----------
    amounts : sequence of float
        The parts of a whole, none negative.
    per : float
        How much one mark stands for.

    Returns
    -------
    list of int
        The marks of each part.

    Examples
    --------
    >>> whole_marks([10.4, 20.4, 30.4])
    [10, 21, 30]
    """
    found, told, exact = [], 0, 0.0
    for amount in amounts:
        exact += amount / per
        marks = max(0, round(exact) - told)
        told += marks
        found.append(marks)
    return found


def wall(parts: Sequence[Part], rows: int, label: str, name: str, css: str = "") -> str:
    """Return a wall of marks, filled column by column.

    Parameters
    ----------
    parts : sequence of Part
        In their order.
    rows : int
        How many marks stand on each other.
    label : str
        What it shows, in words and figures.
    name : str
        A name that no other wall of the page has.
    css : str
        Classes of the drawing.

    Returns
    -------
    str
        SVG.
    """
    columns = -(-sum(one.marks for one in parts) // rows) or 1
    return _drawn(parts, rows, columns, label, name, css)


def lot_bales(parts: Sequence[Part], label: str, name: str) -> str:
    """Return the bales of a lot, two high, on the same scale for every lot of a page.

    Parameters
    ----------
    parts : sequence of Part
        In their order.
    label : str
        What it shows, in words and figures.
    name : str
        A name that no other drawing of the page has.

    Returns
    -------
    str
        SVG.
    """
    rows = max(2, -(-sum(one.marks for one in parts) // LOT_COLUMNS))
    return _drawn(parts, rows, LOT_COLUMNS, label, name, "")


def key_mark(kind: str) -> str:
    """Return one mark for the list that says what each means.

    Parameters
    ----------
    kind : str
        The kind of mark.

    Returns
    -------
    str
        SVG.
    """
    return (
        f'<svg width="24" height="24" viewBox="0 0 24 24" aria-hidden="true">{GLYPHS[kind]}</svg>'
    )


def _drawn(parts: Sequence[Part], rows: int, columns: int, label: str, name: str, css: str) -> str:
    patterns, shapes, begun = "", "", 0
    for number, one in enumerate(part for part in parts if part.marks):
        key = f"{name}-{number}"
        patterns += (
            f'<pattern id="{key}" width="24" height="24" patternUnits="userSpaceOnUse">'
            f"{GLYPHS[one.kind]}</pattern>"
        )
        shapes += f'<path d="{_cells(begun, begun + one.marks, rows)}" fill="url(#{key})"/>'
        begun += one.marks
    classes = f' class="{css}"' if css else ""
    return (
        f'<svg{classes} viewBox="0 0 {columns * _CELL} {rows * _CELL}" role="img" '
        f'aria-label="{escape(label)}"><defs>{patterns}</defs>{shapes}</svg>'
    )


def _cells(first: int, last: int, rows: int) -> str:
    """Return the outline of the cells from one number to the one before another."""
    left, top = divmod(first, rows)
    right, bottom = divmod(last, rows)
    if left == right:
        return _box(left, top, 1, bottom - top)
    outline = ""
    if top:
        outline += _box(left, top, 1, rows - top)
        left += 1
    if right > left:
        outline += _box(left, 0, right - left, rows)
    return outline + (_box(right, 0, 1, bottom) if bottom else "")


def _box(column: int, row: int, wide: int, high: int) -> str:
    x, y, w, h = (_CELL * one for one in (column, row, wide, high))
    return f"M{x} {y}h{w}v{h}h{-w}z"
