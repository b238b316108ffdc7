"""What the needs and limits of a program are called in a sentence, and what its pages end with."""

from __future__ import annotations

from typing import Final

from rickyard.nutrients import NUTRIENTS

STANDING_NOTE: Final = (
    "This program is worked out from the numbers in the farm folder and published equations. "
    "It does not replace a look at the animals: score condition, watch intake, and ask the local "
    "extension office or a veterinarian before acting on anything marked danger or warning."
)

#: How a constrained nutrient is named in a sentence.
NUTRIENT_WORDS: Final = {one.key: one.word for one in NUTRIENTS.values()}

#: What there is too much of where a program misses it; of all else there is too little.
TOO_MUCH: Final = frozenset(one.key for one in NUTRIENTS.values() if one.too_much)
