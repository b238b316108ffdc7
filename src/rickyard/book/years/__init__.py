"""The seasons of a farm side by side, and what its hay tested over all of them.

Worked out from the ledgers at each visit; words are made of it here, for a page and a terminal.
"""

# fmt: off
from rickyard.book.years.words import YearsTold, told_of_years
from rickyard.book.years.years import Years, years_of

__all__ = ["Years", "YearsTold", "told_of_years", "years_of"]
