"""All farms that a person may see, side by side: who runs short, what is due, what is dangerous.

Nothing is planned here. What was read of a program or a farm is held until that changes.
"""

# fmt: off
from rickyard.book.district.district import AT_ONCE, FarmStands, district
from rickyard.book.district.keeper import Keeper, newest_lines
from rickyard.book.district.told import DueThere, order_of_due

__all__ = [
    "AT_ONCE", "DueThere", "FarmStands", "Keeper", "district", "newest_lines", "order_of_due",
]
