"""Goats: does, bucks and kids by table and equation, day by day.

Borrows from sheep what is published for both.
"""

# fmt: off
from rickyard.stock.goats import goat, goat_2004
from rickyard.stock.goats.goat_series import goat_needs

__all__ = ["goat", "goat_2004", "goat_needs"]
