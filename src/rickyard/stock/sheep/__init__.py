"""Sheep: energy, protein, minerals and copper, by table and equation, day by day.

Ewes, rams, lambs and replacements.
What lies outside the range that is said of it raises ``OutOfRange``.
"""

# fmt: off
from rickyard.stock.sheep import copper, hay_rates, printed_cells
from rickyard.stock.sheep.copper import diet_copper_ppm, judge_copper, safe_copper_ppm
from rickyard.stock.sheep.printed_cells import raise_calcium_of_twins
from rickyard.stock.sheep.sheep import LATE_SPLIT_PCT, sheep_1985
from rickyard.stock.sheep.sheep_energy import (
    K_PREGNANCY, MOST_AGE_YEARS, me_maintenance_mj, me_pregnancy_mj, me_total_mj,
)
from rickyard.stock.sheep.sheep_protein import ewe_cp_factorial_g
from rickyard.stock.sheep.sheep_series import LAMBING, YOUNG_PER_EWE, sheep_needs

__all__ = [
    "K_PREGNANCY", "LAMBING", "LATE_SPLIT_PCT", "MOST_AGE_YEARS", "YOUNG_PER_EWE", "copper",
    "diet_copper_ppm", "ewe_cp_factorial_g", "hay_rates", "judge_copper", "me_maintenance_mj",
    "me_pregnancy_mj", "me_total_mj", "printed_cells", "raise_calcium_of_twins", "safe_copper_ppm",
    "sheep_1985", "sheep_needs",
]
