"""Workbooks as pages: stored values only, no formula is ever worked out."""

from __future__ import annotations

import io
import math
from datetime import date, datetime, time, timedelta
from typing import Any

import python_calamine as calamine

from rickyard.labs.common import Cell, Document, Page, Refused
from rickyard.labs.parsing.limits import MOST_CELLS, MOST_COLUMNS, MOST_TEXT
from rickyard.labs.parsing.workbook_parts import SheetParts, parts_of, shown

_DAMAGED = (
    "The workbook is damaged or locked and cannot be opened. Open it in a spreadsheet program, "
    "save it again, and send that."
)


def workbook_document(data: bytes, kind: str) -> Document:
    """Read a workbook.

    Parameters
    ----------
    data : bytes
        The file.
    kind : str
        ``xlsx``, ``xls`` or ``ods``.

    Raises
    ------
    Refused
        If it cannot be opened, or holds more than any report.
    """
    try:
        book = calamine.CalamineWorkbook.from_filelike(io.BytesIO(data))
        metadata = list(book.sheets_metadata)
    except (calamine.CalamineError, ValueError, OSError) as error:
        raise Refused(_DAMAGED) from error
    parts = parts_of(data) if kind == "xlsx" else {}
    document = Document("workbook", [])
    if kind == "xlsx" and not parts:
        document.notes.append("Hidden rows, hidden columns and formats could not be looked up.")
    for sheet in metadata:
        if sheet.visible != calamine.SheetVisibleEnum.Visible:
            document.notes.append(f'The hidden sheet "{sheet.name}" was not read.')
            continue
        if sheet.typ != calamine.SheetTypeEnum.WorkSheet:
            continue
        page = _sheet(book, sheet.name, parts.get(sheet.name, SheetParts()), document.notes)
        if any(page.rows):
            document.pages.append(page)
    return document


def _sheet(book: Any, name: str, parts: SheetParts, notes: list[str]) -> Page:
    try:
        sheet = book.get_sheet_by_name(name)
        if sheet.height * max(sheet.width, 1) > 20 * MOST_CELLS:
            raise Refused(
                "The workbook holds more cells than any report. Send the sheet of results."
            )
        rows = sheet.to_python(skip_empty_area=False)
        merged = list(sheet.merged_cell_ranges or ())
    except (calamine.CalamineError, ValueError, OSError) as error:
        raise Refused(_DAMAGED) from error
    spans = {tuple(first): tuple(last) for first, last in merged}
    made: list[list[Cell]] = []
    for row, values in enumerate(rows):
        made.append([])
        for column, value in enumerate(values[:MOST_COLUMNS]):
            cell = _cell(name, row, column, value, parts)
            if cell is None:
                continue
            last = spans.get((row, column))
            if last is not None:
                cell.x1 = last[1] + 0.9
            made[-1].append(cell)
    _fill_down(made, spans)
    _mark_hidden(made, parts, name, notes)
    return Page(name, made, True)


def _mark_hidden(made: list[list[Cell]], parts: SheetParts, name: str, notes: list[str]) -> None:
    """Empty hidden rows, and mark what stands in hidden columns."""
    hidden = [row for row in parts.hidden_rows if row < len(made) and made[row]]
    for row in hidden:
        made[row] = []
    if hidden:
        notes.append(f'{len(hidden)} hidden rows of sheet "{name}" were not read.')
    columns = {int(c.x0) for cells in made for c in cells if int(c.x0) in parts.hidden_columns}
    if columns:
        for cell in (one for cells in made for one in cells):
            cell.hidden = int(cell.x0) in columns
        notes.append(
            f'{len(columns)} columns of sheet "{name}" are hidden: what they hold is asked.'
        )


def _fill_down(rows: list[list[Cell]], spans: dict[tuple[int, ...], tuple[int, ...]]) -> None:
    """Let a cell that is merged over several rows stand in each of them."""
    for (row, column), (last_row, _) in spans.items():
        if last_row == row or last_row - row > 200 or row >= len(rows):
            continue
        top = next((cell for cell in rows[row] if int(cell.x0) == column), None)
        if top is None:
            continue
        for below in range(row + 1, min(last_row + 1, len(rows))):
            copy = Cell(top.text, below, top.x0, top.x1, top.place, top.number, top.day)
            rows[below].append(copy)
            rows[below].sort(key=lambda cell: cell.x0)


def _cell(name: str, row: int, column: int, value: object, parts: SheetParts) -> Cell | None:
    place = f"sheet {name}, cell {letters(column)}{row + 1}"
    cell = Cell("", row, column, column + 0.9, place)
    if (row, column) in parts.without_value:
        cell.text, cell.trouble = "?", "a formula whose result was never stored"
        return cell
    if isinstance(value, bool):
        cell.text = str(value)
    elif isinstance(value, (int, float)) and not math.isfinite(value):
        cell.text, cell.trouble = "?", "a number too large to be one"
    elif isinstance(value, (int, float)):
        cell.number = float(value)
        cell.text = shown(float(value), parts.formats.get((row, column), ""))
    elif isinstance(value, datetime):
        cell.day, cell.text = value.date(), value.date().isoformat()
    elif isinstance(value, date):
        cell.day, cell.text = value, value.isoformat()
    elif isinstance(value, (time, timedelta)):
        cell.text = str(value)
    else:
        cell.text = str(value).strip()[:MOST_TEXT]
    return cell if cell.text else None


def letters(column: int) -> str:
    """Return the letters of a column of a workbook.

    Examples
    --------
    >>> letters(0), letters(27)
    ('A', 'AB')
    """
    text = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        text = chr(65 + rest) + text
    return text
