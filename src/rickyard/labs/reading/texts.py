"""Text files as pages: by their delimiter, and by where words stand in the line."""

from __future__ import annotations

import csv
import re
from collections import Counter
from typing import Final

from rickyard.labs.reading.limits import MOST_CELLS, MOST_COLUMNS, MOST_TEXT
from rickyard.labs.shapes import Cell, Document, Page, Refused

_DELIMITERS: Final = ("\t", ";", ",", "|")
#: A table of more lines than these is not looked at as running text too.
MOST_LINES_TWICE: Final = 3000
_MOST_JOINED: Final = 6
#: What stands between a label and its value: dots, underscores, wide space, bars.
_BETWEEN: Final = re.compile(
    r"\s*(?:\.{3,}|…+|_{3,}|(?:\. ){3,}\.?|-{4,}|={3,})\s*|\t+|\s{2,}|\s*[|│┃]\s*"
)
_COLON: Final = re.compile(r":(?:\s+|$)|\s=\s|:(?=[<>]?\d+[.,]\d)")


def decoded(data: bytes) -> str:
    """Return the text of a file, whatever encoding it is in.

    Examples
    --------
    >>> decoded("Süd".encode("cp1252")), decoded("Süd".encode("utf-16"))
    ('Süd', 'Süd')
    """
    for mark, name in (
        (b"\xef\xbb\xbf", "utf-8-sig"),
        (b"\xff\xfe", "utf-16"),
        (b"\xfe\xff", "utf-16"),
    ):
        if data.startswith(mark):
            return data.decode(name, errors="replace")
    half = max(len(data) // 2, 1)
    if data[1::2].count(0) > half * 0.4:
        return data.decode("utf-16-le", errors="replace")
    if data[0::2].count(0) > half * 0.4:
        return data.decode("utf-16-be", errors="replace")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def text_documents(data: bytes) -> list[Document]:
    """Return the ways in which a text may be read, the likeliest first.

    Raises
    ------
    Refused
        If it holds more cells than any report.
    """
    text = decoded(data).replace("\x00", "")
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    found = []
    for delimiter, _ in _likely(lines):
        rows = _rows(lines, delimiter)
        found.append(Document("table", [_grid(rows)]))
    if not found or len(lines) < MOST_LINES_TWICE:
        found.append(Document("text", [_by_place(lines)]))
    return found


def _likely(lines: list[str]) -> list[tuple[str, float]]:
    filled = [line for line in lines if line.strip()][:400]
    scores = []
    for delimiter in _DELIMITERS:
        widths = Counter(line.count(delimiter) for line in filled if delimiter in line)
        if not widths:
            continue
        width, often = max(widths.items(), key=lambda one: one[0] * one[1])
        near = sum(n for w, n in widths.items() if abs(w - width) <= 1)
        if (often >= 2 and near >= 0.3 * len(filled)) or width >= 4:
            scores.append((delimiter, width * near / max(len(filled), 1)))
    scores.sort(key=lambda one: -one[1])
    return scores[:2]


def _rows(lines: list[str], delimiter: str) -> list[list[str]]:
    rows: list[list[str]] = []
    place = 0
    while place < len(lines):
        line, taken = lines[place], 1
        if line.count('"') % 2:
            whole = line
            for more in range(1, _MOST_JOINED):
                if place + more >= len(lines):
                    break
                whole += "\n" + lines[place + more]
                if whole.count('"') % 2 == 0:
                    line, taken = whole, more + 1
                    break
        rows.append(_split(line, delimiter))
        rows.extend([] for _ in range(taken - 1))
        place += taken
        if place * max(len(rows[-1]), 1) > 50 * MOST_CELLS:
            raise Refused("The text holds more cells than any report. Send the rows with results.")
    return rows


def _split(line: str, delimiter: str) -> list[str]:
    if line.count('"') % 2 == 0 and '"' in line:
        try:
            rows = list(csv.reader(line.split("\n"), delimiter=delimiter))
        except csv.Error:
            rows = []
        if len(rows) == 1 and rows[0]:
            return [one.replace("\n", " ") for one in rows[0]]
        if rows:
            try:
                return [
                    one.replace("\n", " ") for one in next(csv.reader([line], delimiter=delimiter))
                ]
            except (csv.Error, StopIteration):
                pass
    return [part.strip().strip('"') for part in line.replace("\n", " ").split(delimiter)]


def _grid(rows: list[list[str]]) -> Page:
    made = []
    for row, texts in enumerate(rows):
        made.append(
            [
                Cell(
                    text.strip()[:MOST_TEXT],
                    row,
                    column,
                    column + 0.9,
                    f"line {row + 1}, column {column + 1}",
                )
                for column, text in enumerate(texts[:MOST_COLUMNS])
                if text.strip()
            ]
        )
    return Page("text", made, True)


def _by_place(lines: list[str]) -> Page:
    made = []
    for row, line in enumerate(lines):
        made.append(_line_cells(line.expandtabs(8) if "\t" not in line.strip() else line, row))
    return Page("text", made, False)


def _line_cells(line: str, row: int) -> list[Cell]:
    line = line[: 20 * MOST_TEXT]
    cells = []
    at = 0
    for found in [*_BETWEEN.finditer(line), None]:
        end = found.start() if found else len(line)
        cells.extend(_pieces(line, at, end, row))
        at = found.end() if found else end
    return cells


def _pieces(line: str, start: int, end: int, row: int) -> list[Cell]:
    """Return the cells of one stretch of a line, parted after the colon of a short label."""
    text = line[start:end]
    cut = _COLON.search(text)
    parts = [(start, end)]
    if cut and 0 < cut.start() <= 48 and cut.end() < len(text):
        parts = [(start, start + cut.start()), (start + cut.end(), end)]
    elif cut and cut.end() >= len(text):
        parts = [(start, start + cut.start())]
    cells = []
    for x0, x1 in parts:
        piece = line[x0:x1]
        if piece.strip():
            left = x0 + len(piece) - len(piece.lstrip())
            cells.append(
                Cell(
                    piece.strip()[:MOST_TEXT],
                    row,
                    left,
                    left + len(piece.strip()) - 0.1,
                    f"line {row + 1}, sign {left + 1}",
                )
            )
    return cells
