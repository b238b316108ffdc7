"""Looking back, computed from the ledgers: what was fed against the program, what became of hay.

Nothing of it is kept: whoever asks again has it worked out again. Words are made of it here, so
that a page and a terminal say the same.
"""

# fmt: off
from rickyard.book.looking.appetite import learned_appetite
from rickyard.book.looking.cost_words import CostsTold
from rickyard.book.looking.costs import Costs, costs_of
from rickyard.book.looking.dated import dated
from rickyard.book.looking.eaten import Eaten, eaten_of
from rickyard.book.looking.hay import HayOfLot, hay_of
from rickyard.book.looking.looking import LookBack, look_back
from rickyard.book.looking.moisture import learned_dry_matter
from rickyard.book.looking.put_out import put_out
from rickyard.book.looking.taking import give_back_intake, take_intake, taken_intake
from rickyard.book.looking.weights import LearnedWeight, learned_weights
from rickyard.book.looking.words import FedTold, Told, told_of_look

__all__ = [
    "Costs", "CostsTold", "Eaten", "FedTold", "HayOfLot", "LearnedWeight", "LookBack", "Told",
    "costs_of", "dated", "eaten_of", "give_back_intake", "hay_of", "learned_appetite",
    "learned_dry_matter", "learned_weights", "look_back", "put_out", "take_intake", "taken_intake",
    "told_of_look",
]
