"""Minerals, vitamins and water by published tables and equations.

What the diet must hold, and what the trough adds.
What lies outside the range that is said of it raises ``OutOfRange``.
"""

# fmt: off
from rickyard.stock.minerals import calcium_phosphorus, vitamins, water
from rickyard.stock.minerals.calcium_phosphorus import FETAL_DAYS, calcium_phosphorus_g
from rickyard.stock.minerals.diet_minerals import MINERALS_2016, SALT_PCT, STAGES
from rickyard.stock.minerals.vitamins import vitamin_a_iu_per_kg
from rickyard.stock.minerals.water import (
    dissolved_solids_class, drinking_water_litres, water_litres,
)

__all__ = [
    "FETAL_DAYS", "MINERALS_2016", "SALT_PCT", "STAGES", "calcium_phosphorus",
    "calcium_phosphorus_g", "dissolved_solids_class", "drinking_water_litres",
    "vitamin_a_iu_per_kg", "vitamins", "water", "water_litres",
]
