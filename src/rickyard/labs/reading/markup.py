"""Tables of web pages, which some laboratories send under the name of a workbook; and mails."""

from __future__ import annotations

import email
import email.policy
import re
from email.message import EmailMessage
from html.parser import HTMLParser
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.parsing import MOST_COLUMNS, MOST_TEXT

_MARKUP: Final = re.compile(
    r"^\s*(?:<\?xml[^>]*>\s*)?(?:<!doctype html|<html|<table|<head|<body|<meta)", re.IGNORECASE
)
_MAIL: Final = re.compile(r"^(?:[A-Z][\w-]*:.*\n)+", re.MULTILINE)
_BREAKS: Final = frozenset(
    ["br", "p", "div", "li", "h1", "h2", "h3", "h4", "h5", "h6", "pre", "hr"]
)
_UNSEEN: Final = frozenset(["script", "style", "title", "template", "noscript"])


def is_markup(text: str) -> bool:
    """Return whether a text is a web page.

    Examples
    --------
    >>> is_markup("<html><body>"), is_markup("Sample,CP")
    (True, False)
    """
    return bool(_MARKUP.match(text[:2000]))


def is_mail(text: str) -> bool:
    """Return whether a text is a mail as it was sent, with its head."""
    head = _MAIL.match(text[:20000])
    return bool(head and re.search(r"^(?:mime-version|content-type):", head[0], re.I | re.M))


def mail_text(data: bytes) -> str:
    """Return what a person reads of a mail: its plain text, else its web page."""
    message = email.message_from_bytes(data, policy=email.policy.default)
    assert isinstance(message, EmailMessage)
    body = message.get_body(preferencelist=("plain", "html"))
    if body is None:
        return ""
    try:
        return str(body.get_content())
    except (LookupError, ValueError, KeyError):
        return ""


def files_of_mail(data: bytes) -> list[tuple[str, bytes]]:
    """Return the files that a mail holds, each with its name; none where it is no mail."""
    head = data[:20000].decode("latin-1").replace("\r\n", "\n")
    if b"multipart" not in data[:20000].lower() or not is_mail(head):
        return []
    message = email.message_from_bytes(data, policy=email.policy.default)
    assert isinstance(message, EmailMessage)
    found = []
    try:
        for part in message.iter_attachments():
            held = part.get_payload(decode=True)
            if isinstance(held, bytes) and held.strip():
                found.append((part.get_filename() or "without a name", held))
    except (LookupError, ValueError, KeyError, TypeError):
        return []
    return found


def markup_document(text: str) -> Document:
    """Read the tables and lines of a web page."""
    reader = _Reader()
    reader.feed(text)
    reader.close()
    reader.end_line()
    return Document("page", [Page("page", reader.rows, True)])


def _spans(attrs: list[tuple[str, str | None]], name: str) -> int:
    """Return over how many columns or rows a cell reaches."""
    told = next((value for key, value in attrs if key == name), None) or "1"
    return max(min(int(told), MOST_COLUMNS), 1) if told.isdecimal() else 1


class _Reader(HTMLParser):
    """Gathers rows of cells; a text outside tables is a row of one cell."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.rows: list[list[Cell]] = []
        self._row: list[Cell] | None = None
        self._text: list[str] = []
        self._span = self._down = 1
        self._column = 0
        self._held: dict[int, int] = {}
        self._in_cell = False
        self._unseen = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Begin a row, a cell or a line."""
        if tag in _UNSEEN:
            self._unseen += 1
        elif tag == "tr":
            self._end_cell()
            self.end_line()
            self._end_row()
            self._row, self._column = [], 0
            self._held = {column: rows - 1 for column, rows in self._held.items() if rows > 1}
        elif tag == "dt":
            self._end_cell()
            self.end_line()
            self._end_row()
            self._row, self._column, self._in_cell = [], 0, True
            self._span = self._down = 1
        elif tag == "dd":
            self._end_cell()
            self._in_cell = True
            self._span = self._down = 1
        elif tag in ("td", "th"):
            self._end_cell()
            self._in_cell = True
            self._span, self._down = _spans(attrs, "colspan"), _spans(attrs, "rowspan")
        elif tag in _BREAKS and not self._in_cell:
            self.end_line()
        elif tag in _BREAKS:
            self._text.append(" ")

    def handle_endtag(self, tag: str) -> None:
        """End a row, a cell or a line."""
        if tag in _UNSEEN:
            self._unseen = max(self._unseen - 1, 0)
        elif tag in ("td", "th"):
            self._end_cell()
        elif tag in ("tr", "table", "dl"):
            self._end_cell()
            self._end_row()
            self._held = {} if tag == "table" else self._held
        elif tag in _BREAKS and not self._in_cell:
            self.end_line()

    def _end_row(self) -> None:
        """End a row; some pages leave out the sign for its end."""
        if self._row:
            self.rows.append(self._row)
        self._row = None

    def handle_data(self, data: str) -> None:
        """Take a text."""
        if not self._unseen:
            self._text.append(data)

    def _taken(self) -> str:
        text = " ".join("".join(self._text).split())[:MOST_TEXT]
        self._text = []
        return text

    def _end_cell(self) -> None:
        if not self._in_cell:
            return
        self._in_cell = False
        text = self._taken()
        if self._row is None:
            self._row = []
        while self._column in self._held:  # a cell of a row above reaches down to here
            self._column += 1
        if self._down > 1:
            across = range(self._column, self._column + self._span)
            self._held.update(dict.fromkeys(across, self._down))
        if text:
            row = len(self.rows)
            place = f"row {row + 1}, column {self._column + 1}"
            last = self._column + self._span - 1 + 0.9
            self._row.append(Cell(text, row, self._column, last, place))
        self._column += self._span

    def end_line(self) -> None:
        """End a line of text outside tables."""
        text = self._taken()
        if text and self._row is None:
            row = len(self.rows)
            self.rows.append([Cell(text, row, 0, 0.9, f"row {row + 1}")])
