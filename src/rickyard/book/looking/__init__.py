"""Looking back, computed from the ledgers: what was fed against the program, what became of hay.

Nothing of it is kept: whoever asks again has it worked out again. Words are made of it here, so
that a page and a terminal say the same.
"""

# fmt: off
from rickyard.book.looking.looking import LookBack, look_back
from rickyard.book.looking.weights import learned_weights
from rickyard.book.looking.words import Told, told_of_look

__all__ = ["LookBack", "Told", "learned_weights", "look_back", "told_of_look"]
