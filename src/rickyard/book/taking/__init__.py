"""Remedies of a shortage, taken: what a program found is written into the farm, and taken back.

Each is one fact that a person decides on; the next program counts on it.
"""

# fmt: off
from rickyard.book.taking.taking import Takable, takable, take

__all__ = ["Takable", "takable", "take"]
