"""Names of samples that are broken over two lines at the head of their columns, made whole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.tables import IDENTITY
from rickyard.labs.vocabulary import field_of, is_only_unit, label_of, phrases

#: Words after which a name goes on, in the languages in which reports come.
_GOES_ON: Final = frozenset(
    phrases(
        "and|of|the|by|in|on|at|near|behind|under|over|from|with|do|da|de|del|della|di|du|des|dos|"
        "das|la|le|les|el|los|las|et|y|e|und|am|im|an|der|die|das|vom|von|bei|van|het|op|en|aan|"
        "sur|sous|no|na|al|am|zum|zur|ter|ten|st|st."
    )
)
_LEAST_NAMES: Final = 2


def with_names_whole(document: Document) -> Document:
    """Return a document in which names of samples that are broken over lines stand in one.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document; rows of cells in columns of their own are as they were.
    """
    return replace(document, pages=list(map(_whole, document.pages)))


def _whole(page: Page) -> Page:
    if page.gridded:
        return page
    rows = [list(row) for row in page.rows]
    for place, row in enumerate(rows):
        over = _row_before(rows, place)
        if over < 0 or not row or field_of(row[0].text) not in IDENTITY:
            continue
        under = _row_behind(rows, place) if len(row) == 1 else place
        upper, lower = rows[over], rows[under] if under != place else row[1:]
        if under < 0 or not _are_parts(row[0], upper, lower):
            continue
        if under == place and not _go_on(upper, lower):
            continue
        rows[place] = [row[0], *map(_joined, upper, lower)]
        rows[over] = []
        if under != place:
            rows[under] = []
    return replace(page, rows=rows)


def _row_before(rows: Sequence[Sequence[Cell]], place: int) -> int:
    return place - 1 if place and rows[place - 1] else -1


def _row_behind(rows: Sequence[Sequence[Cell]], place: int) -> int:
    return place + 1 if place + 1 < len(rows) and rows[place + 1] else -1


def _are_parts(label: Cell, upper: Sequence[Cell], lower: Sequence[Cell]) -> bool:
    """Return whether words stand over words, column by column, and all beside the label."""
    if len(upper) != len(lower) or len(upper) < _LEAST_NAMES:
        return False
    return all(
        label.x1 < min(one.x0, other.x0)
        and min(one.x1, other.x1) > max(one.x0, other.x0)
        and _is_word(one)
        and _is_word(other)
        for one, other in zip(upper, lower, strict=True)
    )


def _is_word(cell: Cell) -> bool:
    """Return whether a text can be a part of a name: no number, label, field or unit."""
    text = cell.text.strip()
    known = field_of(text) or label_of(text) or is_only_unit(text)
    return any(map(str.isalpha, text)) and ":" not in text and not known


def _go_on(upper: Sequence[Cell], lower: Sequence[Cell]) -> bool:
    """Return whether a name begins in the one line and goes on in the other."""
    ends = any(cell.text.split()[-1].casefold() in _GOES_ON for cell in upper)
    return ends or all(cell.text.strip()[:1].islower() for cell in lower)


def _joined(one: Cell, other: Cell) -> Cell:
    return replace(
        one,
        text=f"{one.text.strip()} {other.text.strip()}",
        x0=min(one.x0, other.x0),
        x1=max(one.x1, other.x1),
    )
