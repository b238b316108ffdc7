"""PDF pages as words in the order of sight: by where they stand, not by how they were written.

Headings that stand turned over their columns are put into the rows of the upright page.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace

import pypdfium2

from rickyard.labs.common import Cell, Document, Page, Refused
from rickyard.labs.parsing.limits import MOST_PAGES
from rickyard.labs.parsing.signs import Sign, TurnedText, lines_of, signs_of

#: Between two signs of one word, between two words of one text: parts of the height of a letter.
_WORD_GAP = 0.18
_TEXT_GAP = 0.75
#: A page with so many written spaces writes one between two words; texts apart without one are
#: two, from a smaller gap on where one of them is a number.
_LEAST_SPACES = 3
_UNWRITTEN_GAP = 0.22
_FIGURES = frozenset("0123456789<>%.,-–—")
_LEADERS = re.compile(r"\s*(?:\.{3,}|(?:\. ){3,}\.?|_{3,}|…+)\s*")
_LEAST_SIGNS = 12
#: Fewer turned texts beside one another head no columns: a note along the margin.
_LEAST_TURNED = 2
#: Headings may stand so far over or under the upright ones of their row, in points.
_ONE_ROW = 7.0


def pdf_document(data: bytes) -> Document:
    """Read the text of a PDF with its places.

    Raises
    ------
    Refused
        If it is locked, damaged, a scan without text, or longer than any report.
    """
    try:
        book = pypdfium2.PdfDocument(data)
        count = len(book)
    except pypdfium2.PdfiumError as error:
        if "password" in str(error).casefold() or "security" in str(error).casefold():
            raise Refused("The PDF is locked with a password. Ask for it without one.") from None
        raise Refused(
            "The PDF is damaged and cannot be opened. Ask the laboratory to send it again."
        ) from None
    if count > MOST_PAGES:
        raise Refused(
            f"The PDF has {count} pages; more than {MOST_PAGES} are not read at once. Send the "
            "pages with results."
        )
    document = Document("pdf", [])
    for number in range(count):
        try:
            signs, turned = signs_of(book[number])
        except pypdfium2.PdfiumError:
            document.notes.append(f"Page {number + 1} cannot be read.")
            continue
        document.pages.append(Page(f"page {number + 1}", _rows(signs, turned, number + 1), False))
    total = sum(len(cell.text) for page in document.pages for cell in page.cells())
    if total < _LEAST_SIGNS:
        raise Refused(
            "The PDF holds pictures and no text: it is a scan. Ask the laboratory for the PDF as "
            "it left the computer, a spreadsheet or a CSV, or type the values in."
        )
    empty = [str(n + 1) for n, page in enumerate(document.pages) if not any(page.rows)]
    if empty and len(empty) < count:
        document.notes.append(f"Pages without text were passed over: {', '.join(empty)}.")
    return document


def _rows(signs: list[Sign], turned: list[TurnedText], page: int) -> list[list[Cell]]:
    lines = lines_of(signs)
    top = max((sign.foot for sign in signs), default=0.0)
    spaces = sum(sign.spaced for sign in signs) >= _LEAST_SPACES
    rows = [
        _cells(sorted(line, key=lambda one: one.x0), row, page, top, spaces=spaces)
        for row, line in enumerate(lines)
    ]
    feet = [min(sign.foot for sign in line) for line in lines]
    return with_turned(rows, feet, turned, page)


def _cells(line: list[Sign], row: int, page: int, top: float, *, spaces: bool) -> list[Cell]:
    cells: list[Cell] = []
    last: Sign | None = None
    for sign in line:
        if (
            last is not None
            and sign.text == last.text
            and abs(sign.x0 - last.x0) < 0.06 * last.height
        ):
            continue  # bold made by printing twice
        gap = math.inf if last is None else sign.x0 - last.x1
        size = sign.height if last is None else min(sign.height, last.height)
        if last is None or gap > _least_gap(last, sign, spaces=spaces) * size:
            place = f"page {page}, {sign.x0:.0f} across, {top - sign.foot:.0f} down"
            cells.append(Cell(sign.text, row, sign.x0, sign.x1, place))
        else:
            cells[-1].text += (" " if sign.spaced or gap > _WORD_GAP * size else "") + sign.text
            cells[-1].x1 = max(cells[-1].x1, sign.x1)
        last = sign
    return [part for cell in cells for part in _without_leaders(cell)]


def _least_gap(last: Sign, sign: Sign, *, spaces: bool) -> float:
    """Return how far two signs of two texts are apart at least, in heights of a letter.

    Where spaces are written, what stands apart without one was printed as two texts: columns may
    stand as near as words do.
    """
    if sign.spaced or not spaces:
        return _TEXT_GAP
    number = last.text[-1] in _FIGURES or sign.text[0] in _FIGURES
    return _WORD_GAP if number else _UNWRITTEN_GAP


def _without_leaders(cell: Cell) -> list[Cell]:
    """Part a text at a row of dots that leads the eye from a label to its value."""
    cuts = list(_LEADERS.finditer(cell.text))
    if not cuts:
        return [cell]
    scale = (cell.x1 - cell.x0) / len(cell.text)
    starts = [0, *(cut.end() for cut in cuts)]
    ends = [*(cut.start() for cut in cuts), len(cell.text)]
    return [
        replace(
            cell,
            text=cell.text[start:end],
            x0=cell.x0 + start * scale,
            x1=cell.x0 + end * scale,
        )
        for start, end in zip(starts, ends, strict=True)
        if cell.text[start:end].strip()
    ]


def with_turned(
    rows: list[list[Cell]], feet: Sequence[float], turned: Sequence[TurnedText], page: int
) -> list[list[Cell]]:
    """Return the rows of a page with its turned headings as a row of their own.

    Parameters
    ----------
    rows : list of list of Cell
        The upright rows from top to bottom.
    feet : sequence of float
        Where each of them stands.
    turned : sequence of TurnedText
        The turned texts of the page.
    page : int
        Its number.
    """
    made = list(zip(feet, rows, strict=True))
    for band in _bands(turned):
        if len(band) < _LEAST_TURNED:
            continue
        foot = min(one.foot for one in band)
        cells = [
            Cell(one.text, 0, one.x0, one.x1, f"page {page}, {one.x0:.0f} across, turned")
            for one in band
        ]
        beside = next((one for one in made if abs(one[0] - foot) <= _ONE_ROW), None)
        if beside is not None and not _overlaps(beside[1], cells):
            beside[1].extend(cells)
            beside[1].sort(key=lambda cell: cell.x0)
        else:
            cells.sort(key=lambda cell: cell.x0)
            place = next((n for n, one in enumerate(made) if one[0] < foot), len(made))
            made.insert(place, (foot, cells))
    for number, (_, row) in enumerate(made):
        for cell in row:
            cell.row = number
    return [row for _, row in made]


def _bands(turned: Sequence[TurnedText]) -> list[list[TurnedText]]:
    """Return texts in groups that stand beside one another."""
    bands: list[list[TurnedText]] = []
    for one in sorted(turned, key=lambda text: -text.head):
        if bands and one.head > min(other.foot for other in bands[-1]):
            bands[-1].append(one)
        else:
            bands.append([one])
    return bands


def _overlaps(row: Sequence[Cell], cells: Sequence[Cell]) -> bool:
    return any(min(a.x1, b.x1) - max(a.x0, b.x0) > 1.0 for a in row for b in cells)
