"""Dairy heifers and dry cows, day by day.

Tables and equations of their kind.
"""

# fmt: off
from rickyard.stock.dairy.dairy import CLOSE_UP_DAYS, MOST_K_PCT_BEFORE_CALVING
from rickyard.stock.dairy.dairy_series import dairy_needs

__all__ = ["CLOSE_UP_DAYS", "MOST_K_PCT_BEFORE_CALVING", "dairy_needs"]
