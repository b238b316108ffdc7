"""Tests of other things than forage, which share some of its analytes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from rickyard.labs.common import Document, Sample

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
