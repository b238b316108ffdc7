"""Cold and mud: lower critical temperature, coat, and the energy they cost.

Equations and the rules by which a day counts as cold.
What lies outside the range that is said of it raises ``OutOfRange``.
"""

# fmt: off
from rickyard.stock.cold.cold import (
    HAIR_CM, HIDE_FACTOR, LEAST_TEMPERATURE_C, MOST_WIND_KM_PER_H, MUD_FACTOR, WET_FACTOR,
    coat_insulation, heat_made_mcal, lower_critical_temperature_c, nem_cold_mcal, tissue_insulation,
)
from rickyard.stock.cold.cold_rules import (
    MUD_ADDS, PCT_PER_F_DRY, PCT_PER_F_WET, STORM_CAP, WET_CRITICAL_F, acclimatised_tdn_kg,
    cold_pct, critical_temperature_c, feed_in_cold_kg, heat_factor, storm_schedule,
)
from rickyard.stock.cold.wind_chill import CHARTS, effective_temperature_c

__all__ = [
    "CHARTS", "HAIR_CM", "HIDE_FACTOR", "LEAST_TEMPERATURE_C", "MOST_WIND_KM_PER_H", "MUD_ADDS",
    "MUD_FACTOR", "PCT_PER_F_DRY", "PCT_PER_F_WET", "STORM_CAP", "WET_CRITICAL_F", "WET_FACTOR",
    "acclimatised_tdn_kg", "coat_insulation", "cold_pct", "critical_temperature_c",
    "effective_temperature_c", "feed_in_cold_kg", "heat_factor", "heat_made_mcal",
    "lower_critical_temperature_c", "nem_cold_mcal", "storm_schedule", "tissue_insulation",
]
