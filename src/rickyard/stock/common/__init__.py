"""What every species shares: needs as arrays, series of days, weather, weights, births.

Imports no species.
What lies outside the range that is said of it raises ``OutOfRange``.
"""

# fmt: off
from rickyard.stock.common.births import Breeding, Cycle, GESTATION_DAYS, YEAR_DAYS, calving_offsets
from rickyard.stock.common.energy_units import (
    GOAT_1981_DE_PER_TDN, GOAT_1981_ME_PER_DE, goat_de_from_me_mcal, goat_tdn_from_me_kg,
    me_from_tdn_mcal, ruminant_tdn_for_horse_kg, tdn_from_me_kg,
)
from rickyard.stock.common.need_arrays import Asked, Births, NO_DATES, NeedArrays, practice
from rickyard.stock.common.series import (
    Conditions, HorseNeed, NeedSeries, RuminantNeed, period_means, storm_cautions,
)
from rickyard.stock.common.tables import (
    Row, all_along, column, find_row, find_rows, read_rows, weakest,
)
from rickyard.stock.common.weather import DailyWeather, previous_month_mean_c, weather_of
from rickyard.stock.common.weights import (
    EMPTY_GAIN_PER_SHRUNK_GAIN, EMPTY_PER_SHRUNK, LEAST_SHRUNK_WEIGHT_KG, SHRUNK_PER_FULL,
    empty_weight_cow_kg, full_from_shrunk_kg, metabolic_weight, shrunk_from_full_kg,
    size_scaled_weight_kg,
)

__all__ = [
    "Asked", "Births", "Breeding", "Conditions", "Cycle", "DailyWeather",
    "EMPTY_GAIN_PER_SHRUNK_GAIN", "EMPTY_PER_SHRUNK", "GESTATION_DAYS", "GOAT_1981_DE_PER_TDN",
    "GOAT_1981_ME_PER_DE", "HorseNeed", "LEAST_SHRUNK_WEIGHT_KG", "NO_DATES", "NeedArrays",
    "NeedSeries", "Row", "RuminantNeed", "SHRUNK_PER_FULL", "YEAR_DAYS", "all_along",
    "calving_offsets", "column", "empty_weight_cow_kg", "find_row", "find_rows",
    "full_from_shrunk_kg", "goat_de_from_me_mcal", "goat_tdn_from_me_kg", "me_from_tdn_mcal",
    "metabolic_weight", "period_means", "practice", "previous_month_mean_c", "read_rows",
    "ruminant_tdn_for_horse_kg", "shrunk_from_full_kg", "size_scaled_weight_kg", "storm_cautions",
    "tdn_from_me_kg", "weakest", "weather_of",
]
