"""PDF pages as words in the order of sight: by where they stand, not by how they were written."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pypdfium2

from rickyard.labs.common import Cell, Document, Page, Refused
from rickyard.labs.reading.limits import MOST_PAGES
from rickyard.labs.reading.signs import Sign, TurnedText, lines_of, signs_of
from rickyard.labs.reading.turned import with_turned

#: Between two signs of one word, between two words of one text: parts of the height of a letter.
_WORD_GAP = 0.18
_TEXT_GAP = 0.75
_LEADERS = re.compile(r"\s*(?:\.{3,}|(?:\. ){3,}\.?|_{3,}|…+)\s*")
_LEAST_SIGNS = 12


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
    rows = [
        _cells(sorted(line, key=lambda one: one.x0), row, page, top)
        for row, line in enumerate(lines)
    ]
    feet = [min(sign.foot for sign in line) for line in lines]
    return with_turned(rows, feet, turned, page)


def _cells(line: list[Sign], row: int, page: int, top: float) -> list[Cell]:
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
        if gap > _TEXT_GAP * size:
            place = f"page {page}, {sign.x0:.0f} across, {top - sign.foot:.0f} down"
            cells.append(Cell(sign.text, row, sign.x0, sign.x1, place))
        else:
            cells[-1].text += (" " if sign.spaced or gap > _WORD_GAP * size else "") + sign.text
            cells[-1].x1 = max(cells[-1].x1, sign.x1)
        last = sign
    return [part for cell in cells for part in _without_leaders(cell)]


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
