"""PDF pages as words in the order of sight: by where they stand, not by how they were written."""

from __future__ import annotations

import ctypes
import math
import re
from collections import Counter
from dataclasses import dataclass, replace

import pypdfium2
import pypdfium2.raw as pdfium

from rickyard.labs.common import Cell, Document, Page, Refused
from rickyard.labs.reading.limits import MOST_CELLS, MOST_PAGES

#: Between two signs of one word, between two words of one text: parts of the height of a letter.
_WORD_GAP = 0.18
_TEXT_GAP = 0.75
#: Signs whose feet differ by less than this part of their height stand in one line.
_LINE_TOLERANCE = 0.45
_LEADERS = re.compile(r"\s*(?:\.{3,}|(?:\. ){3,}\.?|_{3,}|…+)\s*")
_LEAST_SIGNS = 12
_UPSIDE_STEPS = 4


@dataclass(slots=True)
class _Sign:
    text: str
    x0: float
    x1: float
    foot: float
    height: float


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
            signs = _signs(book[number])
        except pypdfium2.PdfiumError:
            document.notes.append(f"Page {number + 1} cannot be read.")
            continue
        document.pages.append(Page(f"page {number + 1}", _rows(signs, number + 1), False))
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


def _signs(page: pypdfium2.PdfPage) -> list[_Sign]:
    text = page.get_textpage()
    count = text.count_chars()
    if count > MOST_CELLS:
        raise Refused("A page of the PDF holds more text than any report.")
    width, height = page.get_size()
    if page.get_rotation() in (90, 270):
        width, height = height, width
    raw: list[tuple[str, float, float, float, float, int]] = []
    turns: Counter[int] = Counter()
    box = pdfium.FS_RECTF()
    for place in range(count):
        code = pdfium.FPDFText_GetUnicode(text, place)
        if code in (0, 0xFFFE, 0xFFFF) or pdfium.FPDFText_IsGenerated(text, place) == 1:
            continue
        sign = chr(code) if code < 0x110000 and not 0xD800 <= code < 0xE000 else ""
        if not sign.strip():
            continue
        if not pdfium.FPDFText_GetLooseCharBox(text, place, ctypes.byref(box)):
            continue
        if not all(map(math.isfinite, (box.left, box.right, box.bottom, box.top))):
            continue
        angle = pdfium.FPDFText_GetCharAngle(text, place)
        turn = round(angle / (math.pi / 2)) % _UPSIDE_STEPS if angle >= 0 else 0
        turns[turn] += 1
        raw.append((sign, box.left, box.right, box.bottom, box.top, turn))
    if not raw:
        return []
    main = turns.most_common(1)[0][0]
    return [
        _turned(sign, left, right, bottom, top, main)
        for sign, left, right, bottom, top, turn in raw
        if turn == main
    ]


def _turned(sign: str, left: float, right: float, bottom: float, top: float, turn: int) -> _Sign:
    """Return a sign as it stands when the page is held so that its text is upright."""
    if turn == 0:
        x0, x1, foot, head = left, right, bottom, top
    elif turn == 1:
        x0, x1, foot, head = -top, -bottom, left, right
    elif turn == 2:
        x0, x1, foot, head = -right, -left, -top, -bottom
    else:
        x0, x1, foot, head = bottom, top, -right, -left
    return _Sign(sign, x0, x1, foot, max(head - foot, 1.0))


def _rows(signs: list[_Sign], page: int) -> list[list[Cell]]:
    lines: list[list[_Sign]] = []
    for sign in sorted(signs, key=lambda one: (-one.foot, one.x0)):
        for line in reversed(lines[-3:]):
            if abs(line[0].foot - sign.foot) <= _LINE_TOLERANCE * min(line[0].height, sign.height):
                line.append(sign)
                break
        else:
            lines.append([sign])
    rows = []
    top = max((sign.foot for sign in signs), default=0.0)
    for row, line in enumerate(lines):
        rows.append(_cells(sorted(line, key=lambda one: one.x0), row, page, top))
    return rows


def _cells(line: list[_Sign], row: int, page: int, top: float) -> list[Cell]:
    cells: list[Cell] = []
    last: _Sign | None = None
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
            cells[-1].text += (" " if gap > _WORD_GAP * size else "") + sign.text
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
