"""Columns headed by numbers, with a key beside the table: "(1)  (2)", "(1) = Crude protein (%)"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document
from rickyard.labs.vocabulary import label_of

_NUMBER: Final = re.compile(r"[(\[]?(?P<number>\d{1,2})[)\]]?[.:]?")
_TOLD: Final = re.compile(
    r"[(\[]?(?P<number>\d{1,2})[)\]]?\s*(?:=|:|\.|-|–|\s)\s*(?P<means>[^\W\d].{1,60})"
)
#: So many numbers must be explained, and head columns, before a key is believed.
_LEAST: Final = 2


def with_heads_told(document: Document) -> Document:
    """Return a document with names in place of the numbers that head columns.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The same where no key explains such numbers.
    """
    known = _key_of(document)
    if len(known) < _LEAST:
        return document
    pages = [
        replace(page, rows=[_named(row, known) for row in page.rows]) for page in document.pages
    ]
    return replace(document, pages=pages)


def _key_of(document: Document) -> dict[str, str]:
    """Return what each number stands for, of lines and of lists parted by semicolons."""
    known: dict[str, str] = {}
    for page in document.pages:
        for row in page.rows:
            text = " ".join(cell.text for cell in row)
            told = [_TOLD.fullmatch(part.strip(" .")) for part in text.split(";") if part.strip()]
            for one in told if all(told) else ():
                label = label_of(one["means"]) if one is not None else None
                if one is not None and label is not None and label.ours and not label.misspelled:
                    known.setdefault(one["number"], one["means"])
    return known


def _named(row: Sequence[Cell], known: Mapping[str, str]) -> list[Cell]:
    """Return a row with names for its numbers, where they count the columns it heads."""
    told = [_NUMBER.fullmatch(cell.text.strip()) for cell in row]
    numbers = [one["number"] for one in told if one is not None]
    counts = numbers == sorted(set(numbers), key=int) and set(numbers) <= set(known)
    others = [cell for cell, one in zip(row, told, strict=True) if one is None]
    if (
        len(numbers) < _LEAST
        or not counts
        or any(map(str.isdigit, "".join(c.text for c in others)))
    ):
        return list(row)
    return [
        cell if one is None else replace(cell, text=known[one["number"]], number=None)
        for cell, one in zip(row, told, strict=True)
    ]
