"""Pages to samples: labels, units, bases, dates, and where each sample begins and ends.

What is not certain becomes a question; nothing is guessed in silence. Others use ``understood``.
"""

# fmt: off
from rickyard.labs.understanding import whole
from rickyard.labs.understanding.asks import UNIT_WORDS, named
from rickyard.labs.understanding.whole_files import Understood, understood

__all__ = ["UNIT_WORDS", "Understood", "named", "understood", "whole"]
