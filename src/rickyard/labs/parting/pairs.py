"""Cells that hold a value on both bases: "10.7 / 12.2", "9.8 % DM (8.3 % as fed)"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.vocabulary import both_bases, label_of, printed, written_in

_NUMBER: Final = r"[<>]?\s?\d[\d.,]*"
_PAIR: Final = re.compile(
    rf"^(?P<first>{_NUMBER})\s*(?P<after>%?[^\d/|;(\[<>]{{0,24}}?)\s*(?:/|\||;|,\s|\(|\[|=|\bor\b|\band\b)"
    rf"\s*(?P<second>{_NUMBER})(?![\d/:-])\s*(?P<behind>[^\d/|;<>()\[\]]{{0,24}}?)\s*"
    r"(?:[)\]]\s*(?P<last>[^\d|;<>()\[\]]{0,16}?))?$"
)
#: So many pairs must tell which base comes first where no words do.
_LEAST: Final = 4
#: Dry matter makes one of the two so many times as large as the other at most.
_MOST_RATIO: Final = 12.0
#: Beyond rounding, the dry matter of samples of one file is apart by this much.
_MOST_APART: Final = 0.12
#: Where in a cell with two numbers the unit may stand.
_UNITS_AT: Final = ("after", "behind", "last")
_WORDS: Final = {"dm": "dry matter", "ar": "as received"}


#: One of a list of values in a line: "neutral detergent fibre 38.7 (43.7) %".
_ITEM: Final = re.compile(
    rf"(?P<label>[^\W\d_][^:=;]*?)\s*[:=]?\s+(?P<value>{_NUMBER}\s*(?:%[^,;]{{0,20}}|[^\d\s,;][^,;]{{0,14}})?"
    rf"(?:\s*[(\[/]\s*{_NUMBER}[^,;]{{0,24}})?)"
)
#: Where an item of such a list begins.
_ITEMS: Final = re.compile(r"\s*[,;]\s+(?=[^\W\d_])|\s{2,}(?=[^\W\d_])")
#: So many labels with pairs behind them make a page of such lists.
_LEAST_ITEMS: Final = 4
#: How far behind its label a value is put, in signs.
_BEHIND: Final = 100.0
_LONGEST_LIST: Final = 400


def _items(cells: list[Cell]) -> list[tuple[Cell, Cell]]:
    """Return the labels and values of a line that is a list of them; nothing where it is none."""
    text = "  ".join(cell.text for cell in cells)
    if len(text) > _LONGEST_LIST or any(cell.number is not None for cell in cells):
        return []
    made = []
    for part in _ITEMS.split(text.strip(" .;,-•*·")):
        item = _ITEM.fullmatch(part.strip(" ."))
        label = label_of(item["label"]) if item else None
        if item is None or label is None or label.misspelled:
            return []
        made.append(
            (
                replace(cells[0], text=item["label"], x1=cells[0].x0 + _BEHIND / 2),
                replace(cells[0], text=item["value"], x0=cells[0].x0 + _BEHIND,
                        x1=cells[0].x0 + _BEHIND + 40.0),
            )
        )  # fmt: skip
    return made


def _with_items_apart(page: Page) -> Page:
    """Return a page in which lists of values with pairs among them have a line for each."""
    if page.gridded:
        return page
    found = {n: items for n, row in enumerate(page.rows) if row and (items := _items(row))}
    pairs = sum(bool(_PAIR.match(value.text)) for items in found.values() for _, value in items)
    if pairs < _LEAST_ITEMS:
        return page
    rows: list[list[Cell]] = []
    for n, row in enumerate(page.rows):
        rows.extend([list(item) for item in found[n]] if n in found else [row])
    rows = [[replace(cell, row=n) for cell in row] for n, row in enumerate(rows)]
    return replace(page, rows=rows)


def with_pairs_apart(document: Document) -> Document:
    """Return a document in which cells with a value on both bases are two cells.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document, each value in a cell of its own.
    """
    document = replace(document, pages=list(map(_with_items_apart, document.pages)))
    cells = [
        (cell, pair)
        for page in document.pages
        for cell in page.cells()
        if cell.number is None and (pair := _PAIR.match(cell.text))
    ]
    if not cells:
        return document
    telling = [
        (cell, pair)
        for cell, pair in cells
        if not _own(pair) and ("." in pair[0] or "," in pair[0])
    ]
    order = _told(document)
    if order is None and len(telling) >= _LEAST:
        order = _shown(pair for _, pair in telling)
    known = _Known(
        order, {cell.row for cell, _ in telling}, {round(cell.x0) for cell, _ in telling}
    )
    return replace(document, pages=[_apart(page, known) for page in document.pages])


@dataclass(frozen=True)
class _Known:
    """Which basis comes first, and the rows and columns in which such pairs stand."""

    order: tuple[str, str] | None
    rows: set[int]
    columns: set[int]

    def of(self, cell: Cell, pair: re.Match[str]) -> tuple[str, str] | None:
        """Return the bases of a bare pair, if it stands among others and can be one."""
        if self.order is None or written_in(pair["after"]).basis:
            return None
        if cell.row not in self.rows and round(cell.x0) not in self.columns:
            return None
        first, second = printed(pair["first"].strip()), printed(pair["second"].strip())
        if not first.value or not second.value:
            return self.order if first.value is not None and second.value is not None else None
        ratio = first.value / second.value
        return self.order if 1.0 / _MOST_RATIO < ratio < _MOST_RATIO else None


def _own(pair: re.Match[str]) -> tuple[str, str] | None:
    """Return the bases that stand with the two numbers of a cell themselves."""
    first, second = (written_in(pair[name]).basis for name in ("after", "behind"))
    if {first, second} == {"dm", "ar"}:
        return first, second
    if first in _WORDS and not second and "(" in pair[0]:
        return first, "ar" if first == "dm" else "dm"
    return None


def _told(document: Document) -> tuple[str, str] | None:
    """Return which basis comes first by a heading or a sentence that names both in one breath."""
    found = {
        order
        for page in document.pages
        for cell in page.cells()
        if cell.number is None and (order := both_bases(cell.text))
    }
    return found.pop() if len(found) == 1 else None


def _shown(pairs: Iterable[re.Match[str]]) -> tuple[str, str] | None:
    """Return which basis comes first by the numbers: water only makes a value smaller.

    The numbers of a pair must be as far apart everywhere as dry matter makes them.
    """
    parts = []
    for pair in pairs:
        first, second = printed(pair["first"].strip()), printed(pair["second"].strip())
        if not first.value or not second.value:
            return None
        room = 0.5 * (first.step / first.value + second.step / second.value)
        parts.append((first.value / second.value, room))
    for turned in (False, True):
        ratios = [(1.0 / ratio if turned else ratio, room) for ratio, room in parts]
        exact = min(ratios, key=lambda one: one[1])[0]
        if (
            0.2 < exact < 0.99
            and all(abs(ratio - exact) <= room + _MOST_APART for ratio, room in ratios)
            and all(ratio <= 1.0 + room for ratio, room in ratios)
        ):
            return ("dm", "ar") if turned else ("ar", "dm")
    return None


def _apart(page: Page, known: _Known) -> Page:
    rows = [[one for cell in row for one in _two(cell, known)] for row in page.rows]
    return replace(page, rows=rows)


def _two(cell: Cell, known: _Known) -> list[Cell]:
    pair = _PAIR.match(cell.text) if cell.number is None else None
    if pair is None:
        return [cell]
    bases = _own(pair) or known.of(cell, pair)
    if bases is None:
        return [cell]
    unit = next((one for name in _UNITS_AT if (one := _unit(pair[name] or ""))), "")
    return [
        replace(
            cell,
            text=" ".join(f"{pair[name].strip()} {unit} {_WORDS[basis]}".split()),
            x0=cell.x0 + 0.001 * place,
        )
        for place, (name, basis) in enumerate(zip(("first", "second"), bases, strict=True))
    ]


def _unit(text: str) -> str:
    """Return the unit in a text as it is printed."""
    return (
        text.strip()
        if written_in(text).unit and not written_in(text).basis
        else ("%" if written_in(text).unit == "pct" else "")
    )
