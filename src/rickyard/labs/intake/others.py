"""Tests of other things than forage, which share some of its analytes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page, Sample
from rickyard.labs.vocabulary import label_of, plain

#: What only a test of forage or feed has.
_OF_FORAGE: Final = frozenset(
    ("cp", "adf", "ndf", "tdn", "nem", "neg", "nel", "rfv", "rfq", "lignin", "wsc", "esc", "starch")
)
_OTHERS: Final[tuple[tuple[str, re.Pattern[str]], ...]] = tuple(
    (what, re.compile(pattern, re.IGNORECASE))
    for what, pattern in (
        ("soil", r"\bsoil\b|\bbuffer ph\b|\bcec\b|cation exchange|base saturation|\bmehlich|"
         r"\bbray[- ]p|\bolsen\b|\blime (?:req|need|index|t)"),
        ("water", r"\bwater (?:test|sample|analysis|quality)|\bhardness\b|total dissolved solids|"
         r"\bwell water\b|\bturbidity\b"),
        ("manure", r"\bmanure\b|\bslurry\b|\bcompost\b|\bdigestate\b|\blitter\b"),
        ("plant tissue", r"\btissue (?:test|analysis|sample)|\bpetiole|\bleaf (?:test|analysis)"),
        ("blood or milk", r"\bblood (?:test|sample|panel)|\bserum\b|\bsomatic cell|"
         r"\bmilk (?:test|urea)"),
    )
)  # fmt: skip


#: A sheet that is named by what it tests, where that is not forage.
_SHEET: Final = re.compile(
    r"(?:soil|water|manure|slurry|tissue|invoice)s?(?: (?:tests?|results?|samples?|report))?"
)
#: Heads of columns that say what each sample is.
_KINDS: Final = frozenset(
    ("matrix", "material", "type", "sample type", "kind", "class", "sample class", "medium")
)
#: What stands in such a column where the row is not of forage.
_NOT_FORAGE: Final = re.compile(
    r"(?:stock |well |drinking |ground )?water|soil|manure|slurry|compost|tissue|"
    r"(?:lab(?:oratory)? |quality )?(?:control|qc|blank|check|duplicate check)(?: sample)?"
)


def forage_alone(document: Document) -> Document:
    """Return a document without the sheets and the rows that say they are of other things.

    What is left out is told in the notes. A sheet goes only where another stays: a file that holds
    nothing but soil is refused as such.

    Parameters
    ----------
    document : Document
        One way of reading a file.
    """
    out = [page for page in document.pages if _of_other(page)]
    if len(out) == len(document.pages):
        out = []
    notes = [f'"{page.name}" is not of forage, and was passed over.' for page in out]
    pages = []
    for page in document.pages:
        if page not in out:
            rows, others = _of_forage(page) if page.gridded else (page.rows, {})
            notes += [f"Rows of {what} were passed over: {n}." for what, n in others.items()]
            pages.append(replace(page, rows=rows))
    return replace(document, pages=pages, notes=[*document.notes, *notes])


def _of_other(page: Page) -> bool:
    texts = [cell.text for cell in page.cells()]
    if _SHEET.fullmatch(plain(page.name)):
        return True
    labels = [label for text in texts if len(text) < 60 and (label := label_of(text))]
    if any(one in _OF_FORAGE for label in labels for one in label.candidates):
        return False
    return any(_OTHERS[0][1].search(text) for text in texts)


def _of_forage(page: Page) -> tuple[list[list[Cell]], Counter[str]]:
    """Return the rows without those of other things, and how many there are of each thing."""
    kinds: set[float] = set()
    rows, others = [], Counter[str]()
    for row in page.rows:
        heads = {cell.x0 for cell in row if plain(cell.text) in _KINDS} if len(row) > 2 else set()
        kinds = heads or kinds
        said = [cell.text for cell in row if cell.x0 in kinds]
        other = next((text for text in said if _NOT_FORAGE.fullmatch(plain(text))), "")
        if other:
            others[plain(other)] += 1
        else:
            rows.append(row)
    return rows, others


def other_test(documents: Sequence[Document], samples: Sequence[Sample]) -> str:
    """Return what a report is about, where it is not about forage; else an empty string.

    Parameters
    ----------
    documents : sequence of Document
        The ways in which the file may be read.
    samples : sequence of Sample
        What was read of it.
    """
    if any(value.analyte in _OF_FORAGE for sample in samples for value in sample.values):
        return ""
    texts = [cell.text for page in documents[0].pages for cell in page.cells()]
    return next(
        (what for what, pattern in _OTHERS if any(pattern.search(text) for text in texts)), ""
    )
