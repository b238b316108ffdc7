"""What a helper notes: plain text understood before it is written, or a day's list as fed.

Reading a line knows no database; noting adds what was understood to the ledger of feedings.
"""

# fmt: off
from rickyard.book.noting.feeding import FedLine, fed_on, note_fed, undo_fed
from rickyard.book.noting.lines import Understood, told_row, understand
from rickyard.book.noting.noting import doubts, look, note
from rickyard.book.noting.stacks import mark_of, place_stack, stack_back

__all__ = [
    "FedLine", "Understood", "doubts", "fed_on", "look", "mark_of", "note", "note_fed",
    "place_stack", "stack_back", "told_row", "understand", "undo_fed",
]
