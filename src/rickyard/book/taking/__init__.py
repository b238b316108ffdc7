"""Remedies of a shortage and what-ifs, taken: written into the farm as a fact, and taken back.

Each is one fact that a person decides on; the next program counts on it.
"""

# fmt: off
from rickyard.book.taking.questions import Taken, fact_of, give_back, seen_of, take_what_if
from rickyard.book.taking.taking import Takable, takable, take

__all__ = ["Takable", "Taken", "fact_of", "give_back", "seen_of", "takable", "take", "take_what_if"]
