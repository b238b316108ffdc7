"""Farm folders into the record book and out of it again, without loss.

The rows of the book are what counts; the texts of a folder are kept to know how it was written.
"""

# fmt: off
from rickyard.book.folders.incoming import (
    Ids, LEDGERS, SOURCES, keep_file, line_values, store_season,
)
from rickyard.book.folders.outgoing import (
    current_lines, current_states, farm_of, farms_of, layout_of, write_out,
)
from rickyard.book.folders.samples import sent_of
from rickyard.book.folders.trip import seasons_of, take_in

__all__ = [
    "Ids", "LEDGERS", "SOURCES", "current_lines", "current_states", "farm_of", "farms_of",
    "keep_file", "layout_of", "line_values", "seasons_of", "sent_of", "store_season", "take_in",
    "write_out",
]
