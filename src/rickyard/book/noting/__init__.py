"""What a helper notes as plain text, understood before it is written, and written once.

Reading a line knows no database; noting adds what was understood to the ledger of feedings.
"""

# fmt: off
from rickyard.book.noting.lines import Understood, told_row, understand
from rickyard.book.noting.noting import look, note

__all__ = ["Understood", "look", "note", "told_row", "understand"]
