"""Where a record book is, and how it is opened: the settings of the database, made by code.

Knows nothing of what stands in the book.
"""

# fmt: off
from rickyard.book.base.errors import BookProblem
from rickyard.book.base.moment import as_kept, in_action, one_moment
from rickyard.book.base.opened import join_book, opened_book, told_of
from rickyard.book.base.place import BOOK_FILE, BUSY_SECONDS, BookPlace, place_of
from rickyard.book.base.ready import APP, LABEL, make_ready

__all__ = [
    "APP", "BOOK_FILE", "BUSY_SECONDS", "BookPlace", "BookProblem", "LABEL", "as_kept", "in_action",
    "join_book", "make_ready", "one_moment", "opened_book", "place_of", "told_of",
]
