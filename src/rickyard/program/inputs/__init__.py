"""What a season begins from: needs by period, hay in the yard, feeds, their values and limits.

Everything that is read off a farm before a single row of the problem is written.
"""

# fmt: off
from rickyard.program.inputs import (
    class_limits, fill, needs, needs_by_period, opening_stock, source_limits,
)
from rickyard.program.inputs.class_limits import FLOOR_RULES, SMALL_MINERAL_KG, bound_in
from rickyard.program.inputs.drinking_water import water_no3n_mg, water_sulfur_g
from rickyard.program.inputs.fed_before import LOOK_BACK_DAYS, daily_before_kg, open_before
from rickyard.program.inputs.fill import FillTable, fill_of, held_steady
from rickyard.program.inputs.grazing import TRAMPLED_PCT, grazing_cautions
from rickyard.program.inputs.needs import (
    LEAST_CA_TO_P, LEAST_FORAGE_PCT_BW, NeedTable, needs_of, season_periods,
)
from rickyard.program.inputs.needs_by_period import (
    forget_needs, season_conditions, season_days, season_series, season_storms, season_weather,
)
from rickyard.program.inputs.opening_stock import UNKNOWN_RAINFALL_MM, yard_lot
from rickyard.program.inputs.said import assumed, cautioned
from rickyard.program.inputs.source_limits import (
    LEAST_SHARE_OFFERED, MINERAL_DEMANDS, MOST_GRAIN_PCT_BW, MOST_MINERAL_KG, feeding_losses,
    most_mineral_kg,
)
from rickyard.program.inputs.source_values import feed_values
from rickyard.program.inputs.sources import SourceTable, sources_of

__all__ = [
    "FLOOR_RULES", "FillTable", "LEAST_CA_TO_P", "LEAST_FORAGE_PCT_BW", "LEAST_SHARE_OFFERED",
    "LOOK_BACK_DAYS", "MINERAL_DEMANDS", "MOST_GRAIN_PCT_BW", "MOST_MINERAL_KG", "NeedTable",
    "SMALL_MINERAL_KG", "SourceTable", "TRAMPLED_PCT", "UNKNOWN_RAINFALL_MM", "assumed", "bound_in",
    "cautioned", "class_limits", "daily_before_kg", "feed_values", "feeding_losses", "fill",
    "fill_of", "forget_needs", "grazing_cautions", "held_steady", "most_mineral_kg", "needs",
    "needs_by_period", "needs_of", "open_before", "opening_stock", "season_conditions",
    "season_days", "season_periods", "season_series", "season_storms", "season_weather",
    "source_limits", "sources_of", "water_no3n_mg", "water_sulfur_g", "yard_lot",
]
