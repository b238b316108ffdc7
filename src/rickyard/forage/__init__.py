"""What a forage is worth and what is dangerous in it: pure functions on published equations.

Rooms from the ground up: values, energy, plausibility, hazards, uncertainty, reading, batch.
All of them, and whoever feeds or samples hay, share one vocabulary of species.
"""

# fmt: off
from rickyard.forage.shipped import shipped_rows, shipped_text, shipped_toml
from rickyard.forage.species import (
    NITRATE_FORAGES, SPECIES, Risk, Species, lot_risks, risks_named, species_named,
)

__all__ = [
    "NITRATE_FORAGES", "SPECIES", "Risk", "Species", "lot_risks", "risks_named", "shipped_rows",
    "shipped_text", "shipped_toml", "species_named",
]
