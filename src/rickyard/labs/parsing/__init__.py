"""Workbooks and PDFs to cells, in a process of its own with limits on time and memory.

That process loads this room and the shapes of what is read, and nothing of what is understood.
"""

# fmt: off
from rickyard.labs.parsing.apart import parsed_apart
from rickyard.labs.parsing.limits import (
    MOST_ACROSS, MOST_BYTES, MOST_CELLS, MOST_COLUMNS, MOST_PACKED_RATIO, MOST_PARTS, MOST_TEXT,
    MOST_TEXT_BYTES, MOST_UNPACKED_BYTES,
)

__all__ = [
    "MOST_ACROSS", "MOST_BYTES", "MOST_CELLS", "MOST_COLUMNS", "MOST_PACKED_RATIO", "MOST_PARTS",
    "MOST_TEXT", "MOST_TEXT_BYTES", "MOST_UNPACKED_BYTES", "parsed_apart",
]
