"""Lines that tell two analytes at once: "Ca / P   1.32 / 0.29 %"."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.vocabulary import is_only_unit, label_of

_SLASH: Final = re.compile(r"\s*/\s*")
#: "1.32 / 0.29 %": as many numbers as there are labels, and a unit for all of them.
_NUMBERS: Final = re.compile(
    r"(?P<numbers>[<>]?\d[\d.,]*(?:\s*/\s*[<>]?\d[\d.,]*)+)\s*(?P<unit>[^\d/].*)?"
)
#: A label with its value has two cells; a unit may stand in a third.
_CELLS: Final = (2, 3)


def with_labels_apart(document: Document) -> Document:
    """Return a document in which a line with two labels and two values is a line for each.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document; other lines are as they were.
    """
    return replace(document, pages=[_apart(page) for page in document.pages])


def _apart(page: Page) -> Page:
    rows = [part for row in page.rows for part in (_lines(row) or [row])]
    if len(rows) == len(page.rows):
        return page
    return replace(
        page, rows=[[replace(cell, row=n) for cell in row] for n, row in enumerate(rows)]
    )


def _lines(row: list[Cell]) -> list[list[Cell]]:
    """Return a line for each label of a row that has several; none where it has not."""
    if len(row) not in _CELLS or "/" not in row[0].text or row[1].number is not None:
        return []
    labels = _SLASH.split(row[0].text.strip(" :"))
    told = _NUMBERS.fullmatch(row[1].text.strip())
    if told is None or any(not is_only_unit(cell.text) for cell in row[2:]):
        return []
    numbers, unit = _SLASH.split(told["numbers"]), (told["unit"] or "").strip()
    named = [label_of(one) for one in labels]
    known = {one.candidates for one in named if one is not None and len(one.candidates) == 1}
    if len(known) < len(labels) or len(numbers) != len(labels):
        return []
    if unit and not is_only_unit(unit):
        return []
    return [
        [replace(row[0], text=label), replace(row[1], text=f"{number} {unit}".strip()), *row[2:]]
        for label, number in zip(labels, numbers, strict=True)
    ]
