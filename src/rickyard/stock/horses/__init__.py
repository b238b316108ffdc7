"""Horses and donkeys: energy, protein, minerals, growth and how much forage.

Mares, foals, work and idle stock, day by day.
What lies outside the range that is said of it raises ``OutOfRange``.
"""

# fmt: off
from rickyard.stock.horses import donkey, horse_1989
from rickyard.stock.horses.horse import (
    Level, Work, horse_work, mare_in_milk, mare_pregnant, stallion,
)
from rickyard.stock.horses.horse_diet import (
    LEAST_FORAGE_PCT_BW, LOWER_CRITICAL_ADAPTED_C, NSC_GREEN_PCT, NSC_RED_PCT, Verdict,
    WANTED_FORAGE_PCT_BW, horse_cold_mcal, horse_nsc_pct, judge_nsc,
)
from rickyard.stock.horses.horse_growth import horse_weight_at_kg, young_horse
from rickyard.stock.horses.horse_series import horse_needs

__all__ = [
    "LEAST_FORAGE_PCT_BW", "LOWER_CRITICAL_ADAPTED_C", "Level", "NSC_GREEN_PCT", "NSC_RED_PCT",
    "Verdict", "WANTED_FORAGE_PCT_BW", "Work", "donkey", "horse_1989", "horse_cold_mcal",
    "horse_needs", "horse_nsc_pct", "horse_weight_at_kg", "horse_work", "judge_nsc", "mare_in_milk",
    "mare_pregnant", "stallion", "young_horse",
]
