"""Answers that people gave, kept with the layout they hold for and applied the next time.

A layout is known by its headings, never by a name or a logo. Others use what is listed here.
"""

# fmt: off
from rickyard.labs.layouts.applied import apply_answers
from rickyard.labs.layouts.files import (
    Answer, LayoutFile, LayoutFileError, is_lasting, layout_text, read_answers, read_layout,
)
from rickyard.labs.layouts.structure import structure_of

__all__ = [
    "Answer", "LayoutFile", "LayoutFileError", "apply_answers", "is_lasting", "layout_text",
    "read_answers", "read_layout", "structure_of",
]
