"""Cells that hold a label together with its value, parted: "Crude protein 15.6 %"."""

from __future__ import annotations

import itertools
import re
from collections.abc import Container
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document
from rickyard.labs.tables import Seen, is_year, seen
from rickyard.labs.vocabulary import LONGEST_LABEL, Comma, label_of

#: A row with so many labels and no value heads columns.
_LEAST_IN_HEADS: Final = 2
#: A sentence has more signs than a cell of a table.
_WORDS: Final = 20
#: Where a value may begin in a text.
STARTS: Final = re.compile(
    r"(?<![\w.,])(?=[<>]?\s?[-+]?[.,]?\d)|"
    r"(?<!\S)(?=(?:nd|n/a|tntc|bdl|n\.d\.|trace)\b)",
    re.IGNORECASE,
)


def labels_and_values(
    row: list[Seen], comma: Comma, gridded: bool, whole: Container[str] = ()
) -> list[Seen]:
    """Part cells that hold a label together with its value: "Crude protein 15.6 %".

    Texts that are ``whole`` are left as they are.
    """
    made: list[Seen] = []
    named = sum(bool(one.label or one.field) for one in row)
    heads = named >= _LEAST_IN_HEADS and not any(one.is_value for one in row)
    for one in _with_signs(row, comma):
        pieces = None
        if one.text in whole:
            pass
        elif one.label is None and not one.is_value and not one.only_unit and one.cell.day is None:
            pieces = _pieces(one.cell, comma, gridded)
        if pieces and heads and any(is_year(each) or _OF_YEAR.match(each.text) for each in pieces):
            pieces = None  # "Zn  Zn 2024", "CP 2024, % DM": a column of another year
        made.extend(pieces or [one])
    return made


#: "Means in a row without a common letter differ": what letters behind means say.
_LETTERS_TELL: Final = re.compile(
    r"\b(?:letters?|superscripts?|buchstaben?|lettres?|letras?)\b.*"
    r"\b(?:differ\w*|significan\w*|unterscheid\w*|diff[eè]r\w*|difier\w*|p\s?[<≤])",
    re.IGNORECASE,
)
_LETTERED: Final = re.compile(r"(?P<number>[<>]?\s?\d[\d.,]*)\s?(?:[a-h]{1,4}|[A-D]{1,3})")


def without_letters(document: Document) -> Document:
    """Return a document without the letters that say which means differ: "9.8 ab".

    A sentence must say that letters do so.

    Parameters
    ----------
    document : Document
        One way of reading a file.
    """
    texts = (one.text for page in document.pages for one in page.cells() if len(one.text) > _WORDS)
    if not any(map(_LETTERS_TELL.search, texts)):
        return document

    def bare(cell: Cell) -> Cell:
        told = _LETTERED.fullmatch(cell.text.strip()) if cell.number is None else None
        return replace(cell, text=told["number"]) if told else cell

    pages = [
        replace(page, rows=[list(map(bare, row)) for row in page.rows]) for page in document.pages
    ]
    return replace(document, pages=pages)


_OF_YEAR: Final = re.compile(r"(?:19|20)\d\d[,;:)\s]")


def _with_signs(row: list[Seen], comma: Comma) -> list[Seen]:
    """Put a "<" that stands in a cell of its own before the number in the next."""
    made: list[Seen] = []
    for one in row:
        before = made[-1] if made else None
        if before is not None and before.text in ("<", ">") and one.value.value is not None:
            cell = replace(one.cell, text=before.text + one.text, number=None, x0=before.cell.x0)
            if one.cell.x0 - before.cell.x0 >= 1.0:
                cell.x0 = one.cell.x0
            made[-1] = seen(cell, comma)
        else:
            made.append(one)
    return made


def _pieces(cell: Cell, comma: Comma, gridded: bool) -> list[Seen] | None:
    text = cell.text
    if len(text) > 2 * LONGEST_LABEL or not any(sign.isdigit() for sign in text + "0"):
        return None
    for start in STARTS.finditer(text):
        at = start.start()
        before = text[:at].strip(" \t:=.…-")
        numbered = text[at] in "-+" and at and not text[at - 1].isspace()
        numbered = numbered or bool(re.search(r"[A-Za-z][-/]$", text[:at]))
        if not before or numbered:
            continue  # "CA-4711" or "PB/17" is a number of the laboratory
        label = label_of(before)
        if label is None:
            continue
        values = _values(cell, text, at, comma, gridded)
        if values:
            named = seen(_piece(cell, before, 0, len(before), gridded), comma)
            return [named, *values]
    return None


def _values(cell: Cell, text: str, at: int, comma: Comma, gridded: bool) -> list[Seen] | None:
    starts = [at, *(one.start() for one in STARTS.finditer(text, at + 1))]
    for count in range(1, min(len(starts), 4) + 1):
        cuts = [*starts[:count], len(text)]
        made = [
            seen(_piece(cell, text[a:b].strip(" ,;|"), a, b, gridded), comma)
            for a, b in itertools.pairwise(cuts)
        ]
        if all(one.is_value and not one.cell.trouble for one in made) and (
            count == 1 or all(one.value.value is not None for one in made)
        ):
            return made
    return None


def _piece(cell: Cell, text: str, start: int, end: int, gridded: bool) -> Cell:
    if gridded:
        return replace(cell, text=text, x0=cell.x0 + start * 0.001, x1=cell.x1)
    scale = (cell.x1 - cell.x0) / max(len(cell.text), 1)
    return replace(cell, text=text, x0=cell.x0 + start * scale, x1=cell.x0 + end * scale)
