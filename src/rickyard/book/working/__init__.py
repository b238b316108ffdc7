"""Long work of the book, away from pages: programs asked for are made one after another.

Work whose worker is gone is taken up again; a program is kept whole, once, or not at all.
"""

# fmt: off
from rickyard.book.working import working
from rickyard.book.working.what_ifs import Answered, ask_what_if
from rickyard.book.working.working import work_until_stopped

__all__ = ["Answered", "ask_what_if", "work_until_stopped", "working"]
