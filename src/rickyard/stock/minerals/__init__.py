"""Minerals, vitamins and water by published tables and equations.

What the diet must hold, and what the trough adds.
"""

# fmt: off
from rickyard.stock.minerals import calcium_phosphorus, vitamins, water
from rickyard.stock.minerals.calcium_phosphorus import FETAL_DAYS, calcium_g, phosphorus_g
from rickyard.stock.minerals.diet_minerals import MINERALS_2016, SALT_PCT, STAGES
from rickyard.stock.minerals.drinking import drinking_water_litres
from rickyard.stock.minerals.vitamins import (
    VITAMIN_A_IU_PER_LB_BW, VITAMIN_D_IU_PER_LB_BW, VITAMIN_E_IU_PER_LB_DM, vitamin_a_iu_per_kg,
)
from rickyard.stock.minerals.water import (
    BASE_GAL, GAL_PER_F, GAL_PER_LB, GAL_PER_LB_MILK, MOST_MILK_LB, MOST_TEMPERATURE_F, NURSING_GAL,
    NURSING_GAL_PER_LB, REFERENCE_F, REFERENCE_LB, WEIGHT_RANGE_LB, water_litres,
)

__all__ = [
    "BASE_GAL", "FETAL_DAYS", "GAL_PER_F", "GAL_PER_LB", "GAL_PER_LB_MILK", "MINERALS_2016",
    "MOST_MILK_LB", "MOST_TEMPERATURE_F", "NURSING_GAL", "NURSING_GAL_PER_LB", "REFERENCE_F",
    "REFERENCE_LB", "SALT_PCT", "STAGES", "VITAMIN_A_IU_PER_LB_BW", "VITAMIN_D_IU_PER_LB_BW",
    "VITAMIN_E_IU_PER_LB_DM", "WEIGHT_RANGE_LB", "calcium_g", "calcium_phosphorus",
    "drinking_water_litres", "phosphorus_g", "vitamin_a_iu_per_kg", "vitamins", "water",
    "water_litres",
]
