"""Older messages that a reply quotes beneath its own results."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page

#: A reply with fewer lines of numbers than these may only speak of those it quotes.
_LEAST_LINES: Final = 3
_LEAST_NUMBERS: Final = 6
_NUMBER: Final = re.compile(r"(?<![\d.])\d+\.\d+\s*%")
_OLDER: Final = re.compile(
    r"\b(?:last|previous|prior) (?:year|season)|\b(?:year|season) before\b", re.IGNORECASE
)
_VALUE: Final = re.compile(r"[A-Za-z]{2}.{0,120}?\d\.\d")
#: "On 11 Oct 2024 Skerry Lane wrote:": over what is quoted.
_WROTE: Final = re.compile(r"^On\b.{4,80}\bwrote:\s*$|^-+ ?Original message ?-+$", re.IGNORECASE)
_YEAR: Final = re.compile(r"\b20\d\d\b")


def without_older(document: Document) -> tuple[Document, list[str]]:
    """Return a text without the signs of quoting, and without the older results that it quotes.

    What is quoted counts where the reply has no results of its own, or where nothing tells that
    it is of an earlier year.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    tuple of (Document, list of str)
        The document, and the first lines of the older results that were left out.
    """
    passed: list[str] = []
    pages = [_unquoted(_without(page, passed)) for page in document.pages]
    return replace(document, pages=pages), passed


#: The signs before a line that a reply quotes.
_QUOTED: Final = re.compile(r"^(?:>\s*)+(?!\s*\d[\d.,]*\s*(?:%|[a-zA-Z/%]*$|\s[|;,]))")


#: The same before a number too, in lines that are quoted for certain.
_EACH_QUOTED: Final = re.compile(r"^(?:>\s*)+")
#: So many lines one under the other that begin with the sign, words among them, are quoted.
_LEAST_QUOTED: Final = 3
_WORDS_QUOTED: Final = re.compile(r"^(?:>\s*)+[^\W\d_]{2}")


def _unquoted(page: Page) -> Page:
    """Return a text without the signs of quoting before its lines."""
    rows: list[list[Cell]] = []
    for led, run in itertools.groupby(page.rows, key=_is_led):
        lines = list(run)
        if led:
            words = any(_WORDS_QUOTED.match(row[0].text) for row in lines)
            each = words and len(lines) >= _LEAST_QUOTED
            if each or not page.gridded:
                signs = _EACH_QUOTED if each else _QUOTED
                lines = [_stripped(row, signs) for row in lines]
        rows.extend(lines)
    return replace(page, rows=rows)


def _is_led(row: Sequence[Cell]) -> bool:
    return bool(row) and row[0].text.startswith(">")


def _stripped(row: Sequence[Cell], signs: re.Pattern[str]) -> list[Cell]:
    """Return a row without what its first cell begins with; nothing of it where that is all."""
    first = replace(row[0], text=signs.sub("", row[0].text))
    return [each for each in (first, *row[1:]) if each.text.strip()]


def _without(page: Page, passed: list[str]) -> Page:
    lines = [" ".join(cell.text for cell in row) for row in page.rows]
    deeper = [bool(_DEEPER.match(line)) for line in lines]
    if _is_older(lines, deeper):
        passed.append(next(line for line, deep in zip(lines, deeper, strict=True) if deep))
        rows = [[] if deep else row for row, deep in zip(page.rows, deeper, strict=True)]
        return _without(replace(page, rows=rows), passed)
    is_quoted = [line.startswith(">") or bool(_WROTE.search(line)) for line in lines]
    beneath = [line for line, quoted in zip(lines, is_quoted, strict=True) if quoted]
    over = [line for line, quoted in zip(lines, is_quoted, strict=True) if not quoted]
    told_here = [line for line in over if _VALUE.search(line)]
    numbers = sum(len(_NUMBER.findall(line)) for line in told_here)
    if len(told_here) < _LEAST_LINES and numbers < _LEAST_NUMBERS:
        return page
    if not any(map(_VALUE.search, beneath)):
        return page
    told = next((line for line in beneath if _OLDER.search(line)), "")
    if not told and not 0 < _last_year(beneath) < _last_year(over):
        return page
    passed.append((told or beneath[0]).strip("> "))
    rows = [[] if out else row for row, out in zip(page.rows, is_quoted, strict=True)]
    return replace(page, rows=rows)


#: "> > Crude protein: 9.4 %": a line of a mail that the quoted mail quotes itself.
_DEEPER: Final = re.compile(r"^>\s*>")


def _is_older(lines: list[str], deeper: list[bool]) -> bool:
    """Return whether what a quoted mail quotes itself is of an earlier year than what it tells."""
    within = [line for line, deep in zip(lines, deeper, strict=True) if deep]
    around = [line for line, deep in zip(lines, deeper, strict=True) if line and not deep]
    if not any(map(_VALUE.search, within)) or not any(map(_VALUE.search, around)):
        return False
    return any(map(_OLDER.search, within)) or 0 < _last_year(within) < _last_year(around)


def _last_year(lines: list[str]) -> int:
    return max((int(year) for line in lines for year in _YEAR.findall(line)), default=0)


#: A shorter line is not broken because it is full.
_LEAST_BROKEN: Final = 45


def sentences(rows: Sequence[Sequence[Cell]], gridded: bool) -> list[Cell]:
    """Return the texts of a page, with sentences whole that go on in the next line.

    Parameters
    ----------
    rows : sequence of sequence of Cell
        The texts of each row.
    gridded : bool
        Whether cells stand in columns of their own; such sentences are whole.

    Returns
    -------
    list of Cell
        The texts, in order.

    Examples
    --------
    >>> first = "The table gives the results of your four samples on a dry"
    >>> rows = [[Cell(first, 0, 0, 57, "")], [Cell("matter basis.", 1, 0, 13, "")]]
    >>> len(sentences(rows, gridded=False)), len(sentences(rows, gridded=True))
    (1, 2)
    """
    made: list[Cell] = []
    broken = False
    for row in rows:
        alone = len(row) == 1 and not gridded
        if alone and broken and row[0].text[:1].islower():
            made[-1] = replace(made[-1], text=f"{made[-1].text} {row[0].text}")
        else:
            made.extend(row)
        ended = not alone or row[0].text.endswith((".", ":", ";", "!", "?"))
        broken = not ended and (len(row[0].text) >= _LEAST_BROKEN)
    return made
