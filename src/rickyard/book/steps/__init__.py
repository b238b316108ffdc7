"""What the migrations of the record book are written with: tables in few words, and their guards.

Knows no table by name.
"""

# fmt: off
from rickyard.book.steps.steps import SENTENCE, added, columns, guarded, once, table, to, undoing

__all__ = ["SENTENCE", "added", "columns", "guarded", "once", "table", "to", "undoing"]
