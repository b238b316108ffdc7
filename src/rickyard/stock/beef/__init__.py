"""Beef groups day by day: stages, gain, cold, intake and all needs over the season.

Puts the equations together for a herd, in arrays of animals and days.
"""

# fmt: off
from rickyard.stock.beef import beef_words, herd_parts
from rickyard.stock.beef.beef import beef_needs
from rickyard.stock.beef.defaults import COWS, settings_of
from rickyard.stock.beef.herd_parts import USUAL_HAY_NEM

__all__ = ["COWS", "USUAL_HAY_NEM", "beef_needs", "beef_words", "herd_parts", "settings_of"]
