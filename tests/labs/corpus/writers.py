"""Files of each kind, the same bytes every time."""

from __future__ import annotations

import io
import struct
import zipfile
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Any
from xml.sax.saxutils import escape

import xlsxwriter
import xlwt

STAMP = datetime(2025, 9, 1, 12, 0, 0)
Rows = Sequence[Sequence[Any]]


def delimited(rows: Rows, mark: str = ",", end: str = "\n") -> str:
    """Return rows as delimited text; a cell with the mark or a quote in it is quoted."""

    def cell(text: str) -> str:
        if mark in text or '"' in text or "\n" in text:
            return '"' + text.replace('"', '""') + '"'
        return text

    return end.join(mark.join(cell(str(one)) for one in row) for row in rows) + end


def columns(rows: Rows, widths: Sequence[int], right: Iterable[int] = ()) -> str:
    """Return rows in fixed widths; ``right`` are the columns set to the right."""
    right = set(right)
    lines = []
    for row in rows:
        cells = [
            str(text).rjust(width) if place in right else str(text).ljust(width)
            for place, (text, width) in enumerate(zip(row, widths, strict=False))
        ]
        lines.append(" ".join(cells).rstrip())
    return "\n".join(lines) + "\n"


class Workbook:
    """An XLSX workbook in memory."""

    def __init__(self) -> None:
        self._held = io.BytesIO()
        self.book = xlsxwriter.Workbook(
            self._held, {"in_memory": True, "default_date_format": "yyyy-mm-dd"}
        )
        self.book.set_properties({"created": STAMP})
        self.bold = self.book.add_format({"bold": True})
        self._formats: dict[str, Any] = {}

    def sheet(self, name: str) -> Any:
        return self.book.add_worksheet(name)

    def format(self, shown: str) -> Any:
        if shown not in self._formats:
            self._formats[shown] = self.book.add_format({"num_format": shown})
        return self._formats[shown]

    def number(self, sheet: Any, row: int, column: int, text: str) -> None:
        """Write a printed number as a number that is shown so; other text as text."""
        try:
            value = float(text)
        except ValueError:
            sheet.write_string(row, column, text)
            return
        _, _, after = text.partition(".")
        sheet.write_number(
            row, column, value, self.format("0." + "0" * len(after) if after else "0")
        )

    def rows(self, sheet: Any, rows: Rows, top: int = 0, left: int = 0) -> None:
        """Write rows: dates as dates, printed numbers as numbers, ``None`` as nothing."""
        for down, row in enumerate(rows):
            for across, cell in enumerate(row):
                if cell is None or cell == "":
                    continue
                if isinstance(cell, date):
                    sheet.write_datetime(top + down, left + across, cell, self.format("yyyy-mm-dd"))
                else:
                    self.number(sheet, top + down, left + across, str(cell))

    def content(self) -> bytes:
        self.book.close()
        return self._held.getvalue()


def xls(sheets: dict[str, Rows]) -> bytes:
    """Return an old workbook; a cell ``("percent", text)`` holds a fraction shown as percent."""
    book = xlwt.Workbook()
    for name, rows in sheets.items():
        sheet = book.add_sheet(name)
        for down, row in enumerate(rows):
            for across, cell in enumerate(row):
                _xls_cell(sheet, down, across, cell)
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()


def _xls_cell(sheet: Any, down: int, across: int, cell: Any) -> None:
    if cell is None or cell == "":
        return
    if isinstance(cell, date):
        sheet.write(down, across, cell, xlwt.easyxf(num_format_str="D-MMM-YY"))
        return
    if isinstance(cell, tuple):
        shown = xlwt.easyxf(num_format_str="0.0%")
        sheet.write(down, across, round(float(cell[1]) / 100, 6), shown)
        return
    try:
        value = float(cell)
    except ValueError:
        sheet.write(down, across, str(cell))
        return
    _, _, after = str(cell).partition(".")
    shown = "0." + "0" * len(after) if after else "0"
    sheet.write(down, across, value, xlwt.easyxf(num_format_str=shown))


_ODS_HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?><office:document-content '
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" office:version="1.2">'
    "<office:body><office:spreadsheet>"
)
_ODS_TYPE = "application/vnd.oasis.opendocument.spreadsheet"
_ODS_MANIFEST = (
    '<?xml version="1.0" encoding="UTF-8"?><manifest:manifest '
    'xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0" manifest:version="1.2">'
    f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{_ODS_TYPE}"/>'
    '<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/>'
    "</manifest:manifest>"
)


def ods(sheets: dict[str, Rows]) -> bytes:
    """Return an OpenDocument spreadsheet; a cell ``(text, n)`` is merged over n columns."""
    parts = [_ODS_HEAD]
    for name, rows in sheets.items():
        parts.append(f'<table:table table:name="{escape(name)}">')
        for row in rows:
            cells = "".join(_ods_cell(cell) for cell in row)
            parts.append(f"<table:table-row>{cells}</table:table-row>")
        parts.append("</table:table>")
    parts.append("</office:spreadsheet></office:body></office:document-content>")
    return zipped(
        {
            "mimetype": _ODS_TYPE.encode(),
            "META-INF/manifest.xml": _ODS_MANIFEST.encode(),
            "content.xml": "".join(parts).encode(),
        }
    )


def _ods_cell(cell: Any) -> str:
    if cell is None or cell == "":
        return "<table:table-cell/>"
    if isinstance(cell, tuple):
        text, over = cell
        covered = "<table:covered-table-cell/>" * (over - 1)
        return (
            f'<table:table-cell table:number-columns-spanned="{over}" '
            f'table:number-rows-spanned="1" office:value-type="string">'
            f"<text:p>{escape(text)}</text:p></table:table-cell>{covered}"
        )
    if isinstance(cell, date):
        day = f'office:value-type="date" office:date-value="{cell.isoformat()}"'
        return f"<table:table-cell {day}><text:p>{cell.isoformat()}</text:p></table:table-cell>"
    try:
        kind = f'office:value-type="float" office:value="{float(cell)!r}"'
    except ValueError:
        kind = 'office:value-type="string"'
    return f"<table:table-cell {kind}><text:p>{escape(str(cell))}</text:p></table:table-cell>"


def zipped(files: dict[str, bytes]) -> bytes:
    """Return a ZIP archive whose bytes never change."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        for name, content in files.items():
            entry = zipfile.ZipInfo(name, (2025, 9, 1, 12, 0, 0))
            entry.compress_type = zipfile.ZIP_STORED if name == "mimetype" else zipfile.ZIP_DEFLATED
            archive.writestr(entry, content)
    return held.getvalue()


def noise(seed: int, size: int) -> bytes:
    """Return bytes that are no file of any kind."""
    state, out = seed, []
    for _ in range(size // 4):
        state = (state * 1664525 + 1013904223) % 2**32
        out.append(struct.pack("<I", state))
    return b"\x9c\x07\x00\x01" + b"".join(out)
