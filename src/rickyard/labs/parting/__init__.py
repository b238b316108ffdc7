"""What is printed as one, or in another order, put so that it can be read as tables and lines."""

# fmt: off
from rickyard.labs.parting.broken import with_names_whole
from rickyard.labs.parting.called import names_in_columns
from rickyard.labs.parting.glued import parted_by_columns
from rickyard.labs.parting.items import with_items_apart
from rickyard.labs.parting.listed import with_lists_apart
from rickyard.labs.parting.methods import with_methods_told
from rickyard.labs.parting.numbered import numbers_of_lab
from rickyard.labs.parting.pairs import with_pairs_apart
from rickyard.labs.parting.shared import with_labels_apart
from rickyard.labs.parting.stood import with_lines_together
from rickyard.labs.parting.tiles import (
    fields_in_lines, headings_apart, numbers_apart, reaching, tables_apart, tiles_in_lines,
    with_groups,
)
from rickyard.labs.parting.told import with_fields_apart
from rickyard.labs.parting.units import with_kilograms_told, with_units_parted

__all__ = [
    "fields_in_lines", "headings_apart", "names_in_columns", "numbers_apart", "numbers_of_lab",
    "parted_by_columns", "reaching", "tables_apart", "tiles_in_lines", "with_fields_apart",
    "with_groups", "with_items_apart", "with_kilograms_told", "with_labels_apart",
    "with_lines_together", "with_lists_apart", "with_methods_told", "with_names_whole",
    "with_pairs_apart", "with_units_parted",
]
