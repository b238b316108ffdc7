"""Looking back, computed from the ledgers: what was fed against the program, what became of hay.

Nothing of it is kept: whoever asks again has it worked out again. Words are made of it here, so
that a page and a terminal say the same.
"""

# fmt: off
from rickyard.book.looking.looking import LookBack, look_back
from rickyard.book.looking.moisture import learned_dry_matter
from rickyard.book.looking.weights import LearnedWeight, learned_weights
from rickyard.book.looking.words import Told, told_of_look

__all__ = [
    "LearnedWeight", "LookBack", "Told", "learned_dry_matter", "learned_weights", "look_back",
    "told_of_look",
]
