"""What the needs and limits of a program are called in a sentence, and what its pages end with."""

from __future__ import annotations

from typing import Final

STANDING_NOTE: Final = (
    "This program is worked out from the numbers in the farm folder and published equations. "
    "It does not replace a look at the animals: score condition, watch intake, and ask the local "
    "extension office or a veterinarian before acting on anything marked danger or warning."
)

#: How a constrained nutrient is named in a sentence.
NUTRIENT_WORDS: Final[dict[str, str]] = {
    "nem": "energy",
    "gain_energy": "energy for the wanted gain",
    "tdn": "energy (TDN)",
    "cp": "protein",
    "cp_floor": "protein in the diet",
    "ca": "calcium",
    "p": "phosphorus",
    "ca_to_p": "calcium against phosphorus",
    "forage": "long forage",
    "least_dm": "dry matter",
    "most_dm": "the most they may eat",
    "appetite": "what they can eat",
    "ndf": "the fiber they can hold",
    "nitrate": "nitrate in the diet",
    "grain": "starch grain",
    "starch": "starch",
    "fat": "fat in the diet",
    "sulfur": "sulfur",
    "npn": "urea against protein",
    "urea": "urea in the diet",
    "copper": "copper in the diet",
    "change_over": "old hay to mix in",
    "cash": "money for feed",
    "reserve": "hay to be left",
}


#: What there is too much of where a program misses it; of all else there is too little.
TOO_MUCH: Final = frozenset(
    {"nitrate", "grain", "starch", "fat", "sulfur", "npn", "urea", "copper"}
)
