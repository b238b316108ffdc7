"""Headings of an element with the wavelength at which it was measured: "Ca 317.933"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document

#: An element, perhaps its state, and a wavelength of three figures and three decimals, or in nm.
_LINE: Final = re.compile(
    r"(?P<element>Ca|P|Mg|K|S|Na|Fe|Mn|Zn|Cu|Mo|Co|B|Se|Al|Ni|Cr|Cd|Pb|As|Si)"
    r"(?:_| |-)?(?:II? ?)?\(?(?P<length>\d{3}\.\d{3}(?: ?nm)?|\d{3}(?:\.\d{1,4})? ?nm)\)?"
    r"(?P<rest>(?:[ ,(\[].*)?)"
)
#: Of visible and near light, in nm; where elements of plants have their lines.
_LEAST: Final = 160.0
_MOST: Final = 900.0
#: So many in one row are headings; one alone may be a value.
_LEAST_ALIKE: Final = 3


def without_wavelengths(document: Document) -> Document:
    """Return a document whose headings of elements are without their wavelengths.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The same, where no row has several of them.

    Examples
    --------
    >>> from rickyard.labs.common import Page
    >>> texts = ("Ca 317.933", "P 213.617", "K 766.490")
    >>> cells = [Cell(text, 0, at, at + 0.9, "") for at, text in enumerate(texts)]
    >>> made = without_wavelengths(Document("table", [Page("", [cells], True)]))
    >>> [one.text for one in made.pages[0].rows[0]]
    ['Ca', 'P', 'K']
    """
    pages = [
        replace(page, rows=[_bare(row) for row in page.rows])
        if any(map(_is_of, page.rows))
        else page
        for page in document.pages
    ]
    return replace(document, pages=pages)


def _line(cell: Cell) -> re.Match[str] | None:
    found = _LINE.fullmatch(cell.text.strip())
    return found if found and _LEAST <= float(found["length"].rstrip("nm ")) <= _MOST else None


def _is_of(row: Sequence[Cell]) -> bool:
    return len(row) >= _LEAST_ALIKE and sum(_line(cell) is not None for cell in row) >= _LEAST_ALIKE


def _bare(row: list[Cell]) -> list[Cell]:
    if not _is_of(row):
        return row
    told = [(cell, _line(cell)) for cell in row]
    return [
        replace(cell, text=found["element"] + found["rest"]) if found else cell
        for cell, found in told
    ]
