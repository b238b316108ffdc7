"""Goats: does, bucks and kids by table and equation, day by day.

Borrows from sheep what is published for both.
"""

# fmt: off
from rickyard.stock.goats import goat, goat_2004
from rickyard.stock.goats.goat_series import KIDDING, goat_needs

__all__ = ["KIDDING", "goat", "goat_2004", "goat_needs"]
