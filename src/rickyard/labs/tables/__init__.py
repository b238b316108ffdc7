"""Tables and lines of a page: which label, heading and field belongs to which value.

What is found keeps every hint that stands around it; ``understanding`` settles it.
"""

# fmt: off
from rickyard.labs.tables.blocks import Block, blocks_of, has_value, lines_of, unread_lines
from rickyard.labs.tables.cells import (
    Seen, beside, is_year, leave_numbered, looked_at, mark_bases, seen,
)
from rickyard.labs.tables.down import samples_of
from rickyard.labs.tables.draft import Draft, DraftSample, Found, Hint
from rickyard.labs.tables.fields import (
    IDENTITY, NUMBER_ALONE, OF_SAMPLE, fields_of_row, in_text, is_heading,
)
from rickyard.labs.tables.long import long_rows, long_table
from rickyard.labs.tables.names import (
    forage_words, is_bare_name, is_number, listed_blocks, name_blocks, named_above, number_and_name,
    number_behind,
)
from rickyard.labs.tables.rows import VALUE_IN_NAME, rows_of, take_line_over, unread
from rickyard.labs.tables.stacked import stacked_sample
from rickyard.labs.tables.values import speaks_of_void, stands_as
from rickyard.labs.tables.wide import Table, table_at

__all__ = [
    "Block", "Draft", "DraftSample", "Found", "Hint", "IDENTITY", "NUMBER_ALONE", "OF_SAMPLE",
    "Seen", "Table", "VALUE_IN_NAME", "beside", "blocks_of", "fields_of_row", "forage_words",
    "has_value", "in_text", "is_bare_name", "is_heading", "is_number", "is_year", "leave_numbered",
    "lines_of", "listed_blocks", "long_rows", "long_table", "looked_at", "mark_bases",
    "name_blocks", "named_above", "number_and_name", "number_behind", "rows_of", "samples_of",
    "seen", "speaks_of_void", "stacked_sample", "stands_as", "table_at", "take_line_over", "unread",
    "unread_lines",
]
