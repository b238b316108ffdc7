"""Units that stand together over several columns, or are told once for many lines."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.tables import Seen, seen
from rickyard.labs.vocabulary import Comma, basis_in, is_only_unit, written_in

#: Where a unit begins behind another: "% g/kg ts", "g/kg MJ/kg ts".
_NEXT_UNIT: Final = re.compile(
    r"(?<=\S)\s+(?=%|(?:m|u|µ|k)?g\s?/|(?:mj|mcal|kcal|kj)\s?/|pp[mb]\b|cfu\s?/)", re.IGNORECASE
)
#: A row of units has so many cells at least.
_LEAST: Final = 2
#: "Par kg de matière sèche (MS) :", "Per kg DM:", "Je kg TM".
_BY_THE_KILOGRAM: Final = re.compile(
    r"(?:par|per|je|pro|por|pr\.?|na|in|i|v|op|al|the following per)\s+"
    r"(?:1\s+|un\s+|einem\s+|one\s+|each\s+)?(?:kg|kilograms?|kilos?|kilogramme)\b.{1,60}",
    re.IGNORECASE,
)
#: "All values per kg dry matter", "Alle gehalten zijn per kg droge stof": a sentence of all values.
_OF_ALL: Final = re.compile(
    r"\b(?:all|everything|results?|values?|alle|alla|alles|gehalten|werte|ergebnisse|toutes|tous|"
    r"valeurs|r[eé]sultats|todos|todas|valores|resultados|tutti|tutte|valori|risultati|waarden|"
    r"resultaten|resultater|værdier|v[äa]rden|wyniki|wartości|hodnoty)\b.{0,60}?"
    r"\b(?:par|per|je|pro|por|pr\.?|na)\s+(?:kg|kilograms?|kilos?)\b.{0,40}",
    re.IGNORECASE,
)
#: "2'310 mg": an amount without what it is of.
_AMOUNT: Final = re.compile(
    r"[<>]?\s*\d[\d.,' \u2009\u202f’]*\s*(?:[mµu]?g|mj|mcal|kcal|kj)", re.IGNORECASE
)
#: How the basis of such a list is said for the lines under it.
_SAID: Final = {"dm": "Dry matter basis", "ar": "As received basis"}
#: More words than these in a line are a sentence, which ends such a list.
_MOST_WORDS: Final = 9


def with_units_parted(rows: Sequence[list[Seen]], comma: Comma) -> list[list[Seen]]:
    """Return rows in which units that run together stand apart, each over its own column.

    Parameters
    ----------
    rows : sequence of list of Seen
        The rows of a page on which columns are told by where they stand.
    comma : Comma
        How the file writes its decimals.

    Returns
    -------
    list of list of Seen
        The rows.
    """
    return [
        [part for one in row for part in _parted(one, comma)] if _is_of_units(row) else row
        for row in rows
    ]


def _is_of_units(row: Sequence[Seen]) -> bool:
    units = sum(one.only_unit or _NEXT_UNIT.search(one.text) is not None for one in row)
    return len(row) >= _LEAST and units == len(row)


def _parted(one: Seen, comma: Comma) -> list[Seen]:
    text = one.text
    cuts = [0, *(found.start() for found in _NEXT_UNIT.finditer(text)), len(text)]
    parts = [text[a:b] for a, b in itertools.pairwise(cuts)]
    if len(parts) < _LEAST or not all(
        is_only_unit(part.strip()) and written_in(part).unit for part in parts
    ):
        return [one]
    wide = (one.cell.x1 - one.cell.x0) / max(len(text), 1)
    return [
        seen(
            replace(
                one.cell,
                text=text[a:b].strip(),
                x0=one.cell.x0 + wide * (a + len(text[a:b]) - len(text[a:b].lstrip())),
                x1=one.cell.x0 + wide * b,
            ),
            comma,
        )
        for a, b in itertools.pairwise(cuts)
    ]


def with_kilograms_told(document: Document) -> Document:
    """Return a document in which amounts under "Per kg of dry matter:" are told by the kilogram.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document.
    """
    pages = [_by_the_kilogram(page) for page in document.pages]
    return replace(document, pages=pages)


def _by_the_kilogram(page: Page) -> Page:
    within = states = False
    rows = []
    for row in page.rows:
        texts = [cell.text for cell in row if cell.number is None]
        if len(row) == len(texts) == 1:
            head = _BY_THE_KILOGRAM.fullmatch(texts[0].strip())
            basis = basis_in(texts[0]) if head else ""
            within = basis in _SAID
            if within:
                rows.append([replace(row[0], text=_SAID[basis])])
                continue
        states = states or any(map(_states_kilogram, texts))
        within &= sum(len(text.split()) for text in texts) <= _MOST_WORDS
        rows.append([_told(cell) for cell in row] if within or states else row)
    return replace(page, rows=rows)


def _states_kilogram(text: str) -> bool:
    """Return whether a sentence says that all is told by the kilogram of dry matter."""
    told = _OF_ALL.search(text)
    return told is not None and basis_in(text[told.start() :]) in _SAID


def _told(cell: Cell) -> Cell:
    if cell.number is not None or not _AMOUNT.fullmatch(cell.text.strip()):
        return cell
    return replace(cell, text=f"{cell.text.strip()}/kg")
