"""Cells that hold a value on both bases: "10.7 / 12.2", "9.8 % DM (8.3 % as fed)"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.vocabulary import both_bases, label_of, printed, written_in

_NUMBER: Final = r"[<>]?\s?\d[\d.,]*"
#: A unit with a stroke or a figure in it.
_UNIT: Final = (
    r"(?:(?:m|u|µ)?g\s?/\s?k?g\b|(?:Mcal|MJ|kcal|kJ|MCAL)\s?/\s?(?:kg|lb|LB|KG)\b|"
    r"(?:m?g|MJ|Mcal) kg-1)"
)
_PAIR: Final = re.compile(
    rf"^(?P<first>{_NUMBER})\s*(?P<after>{_UNIT}?%?[^\d/|;(\[<>]{{0,24}}?)\s*"
    rf"(?:/|\||;|,\s|\(|\[|=|\bor\b|\band\b)"
    rf"\s*(?P<second>{_NUMBER})(?![\d/:-])\s*(?P<behind>{_UNIT}?[^\d/|;<>()\[\]]{{0,24}}?)\s*"
    rf"(?:[)\]]\s*(?P<last>{_UNIT}?[^\d|;<>()\[\]]{{0,16}}?))?$"
)
#: Days and months are smaller than this, and are written without spaces between them.
_LEAST_WHOLE: Final = 12
#: So many pairs must tell which base comes first where no words do.
_LEAST: Final = 4
#: Dry matter makes one of the two so many times as large as the other at most.
_MOST_RATIO: Final = 12.0
#: Beyond rounding, the dry matter of samples of one file is apart by this much.
_MOST_APART: Final = 0.12
#: Where in a cell with two numbers the unit may stand.
_UNITS_AT: Final = ("after", "behind", "last")
_WORDS: Final = {"dm": "dry matter", "ar": "as received"}


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
    pages = [
        replace(page, rows=[_whole_again(row) for row in page.rows]) for page in document.pages
    ]
    document = replace(document, pages=pages)
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
    telling += _whole(cells, order)
    known = _Known(
        order, {cell.row for cell, _ in telling}, {round(cell.x0) for cell, _ in telling}
    )
    return replace(document, pages=[_apart(page, known) for page in document.pages])


#: "4.0 [" before "4.7] %": a pair that was parted at the wide space within its bracket.
_OPEN: Final = re.compile(rf"{_NUMBER}\s*%?\s*[(\[]")
_SHUT: Final = re.compile(rf"{_NUMBER}\s*%?\s*[)\]].{{0,16}}")


def _whole_again(row: list[Cell]) -> list[Cell]:
    """Return a row with pairs whole of which only one bracket stands in each of two cells."""
    made: list[Cell] = []
    for cell in row:
        before = made[-1] if made else None
        if before is not None and _OPEN.fullmatch(before.text) and _SHUT.fullmatch(cell.text):
            made[-1] = replace(before, text=f"{before.text} {cell.text}", x1=cell.x1)
        else:
            made.append(cell)
    return made


def _whole(
    cells: list[tuple[Cell, re.Match[str]]], order: tuple[str, str] | None
) -> list[tuple[Cell, re.Match[str]]]:
    """Return pairs of whole numbers that stand as words tell: "411/370" on "DM / as received"."""
    found = []
    for cell, pair in cells if order is not None else ():
        first, second = printed(pair["first"].strip()).value, printed(pair["second"].strip()).value
        if first and second and not _own(pair) and order is not None:
            ratio = second / first if order[0] == "dm" else first / second
            apart = " " in pair[0].strip() or max(first, second) > _LEAST_WHOLE
            if 1.0 / _MOST_RATIO < ratio <= 1.0 and apart:
                found.append((cell, pair))
    return found if len(found) >= _LEAST else []


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


#: "first figure: as received", "[in brackets]: dry matter": how the pairs are told.
_OF_PAIRS: Final = re.compile(
    r"\b(?:first|second|brackets?|parenthes[ei]s|left|right|upper|lower|klammern?|"
    r"parenth[eè]ses|par[eé]ntesis)\b",
    re.IGNORECASE,
)


def _apart(page: Page, known: _Known) -> Page:
    rows = [
        [one for cell in row for one in _two(_without_both(cell), known)]
        for row in page.rows
        if not (known.order and _tells_of_pairs(row))
    ]
    return replace(page, rows=rows)


#: Where the two bases of a heading may begin: "CP % (as is/dry)".
_BEGINS: Final = re.compile(r"[\s,:;–-]*[(\[]\s*|[\s,:;–-]+")
_LONGEST_HEAD: Final = 60


def _without_both(cell: Cell) -> Cell:
    """Return the label of a column of pairs without the two bases that it tells behind it."""
    if cell.number is not None or len(cell.text) > _LONGEST_HEAD or not both_bases(cell.text):
        return cell
    for begin in _BEGINS.finditer(cell.text):
        label, behind = cell.text[: begin.start()], cell.text[begin.end() :].rstrip(" )]")
        if label and both_bases(behind) and label_of(label) is not None:
            return replace(cell, text=label)
    return cell


def _tells_of_pairs(row: list[Cell]) -> bool:
    """Return whether the cells of a row say which number of a pair is which, and head none."""
    bases = [written_in(cell.text).basis for cell in row if _OF_PAIRS.search(cell.text)]
    return len(bases) == len(row) and set(bases) == set(_WORDS)


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


#: How a unit is written that stood together with a basis.
_WRITTEN: Final = {
    "pct": "%", "g_per_kg": "g/kg", "ppm": "mg/kg", "mcal_per_lb": "Mcal/lb",
    "mcal_per_kg": "Mcal/kg", "mj_per_kg": "MJ/kg",
}  # fmt: skip


def _unit(text: str) -> str:
    """Return the unit in a text as it is printed."""
    known = written_in(text)
    return text.strip() if known.unit and not known.basis else _WRITTEN.get(known.unit, "")
