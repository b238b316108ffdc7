"""Tests of other things than forage, which share some of its analytes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Document, Page, Sample
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
    ("matrix", "material", "type", "sample type", "kind", "class", "sample class", "medium", "what")
)
#: What stands in such a column where the row is not of forage.
_NOT_FORAGE: Final = re.compile(
    r"(?:stock |well |drinking |ground )?water|soil|manure|slurry|compost|tissue|"
    r"(?:lab(?:oratory)? |quality )?(?:control|qc|blank|check|duplicate check)(?: sample)?"
)


def forage_alone(document: Document) -> Document:
    """Return a document without the sheets and the rows that say they are of other things.

    A sheet goes only where another stays: a file that holds nothing but soil is refused as such.

    Parameters
    ----------
    document : Document
        One way of reading a file.
    """
    pages = [page for page in document.pages if not _of_other(page)] or document.pages
    return replace(document, pages=[_rows_of_forage(page) for page in pages])


def _of_other(page: Page) -> bool:
    texts = [cell.text for cell in page.cells()]
    if _SHEET.fullmatch(plain(page.name)):
        return True
    labels = [label for text in texts if len(text) < 60 and (label := label_of(text))]
    if any(one in _OF_FORAGE for label in labels for one in label.candidates):
        return False
    return any(_OTHERS[0][1].search(text) for text in texts)


def _rows_of_forage(page: Page) -> Page:
    kinds: set[float] = set()
    rows = []
    for row in page.rows:
        heads = {cell.x0 for cell in row if plain(cell.text) in _KINDS} if len(row) > 2 else set()
        kinds = heads or kinds
        if any(cell.x0 in kinds and _NOT_FORAGE.fullmatch(plain(cell.text)) for cell in row):
            continue
        rows.append(row)
    return replace(page, rows=rows) if page.gridded and len(rows) < len(page.rows) else page


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
