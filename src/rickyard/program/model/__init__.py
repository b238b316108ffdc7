"""The season problem as rows and columns of a linear or mixed program.

Each file writes one kind of row; curved rows are met by cutting planes, prices read back.
"""

# fmt: off
from rickyard.program.model import cutting_planes, use_binaries
from rickyard.program.model.chance_rows import assured_supplies, leeways
from rickyard.program.model.cutting_planes import Tangents
from rickyard.program.model.depth_rows import DEEPER, spread_where_short
from rickyard.program.model.duals import BUYING, Prices, RULES, STOCK, on_loads, prices_of
from rickyard.program.model.hay_for_rises import RisingModel, with_hay_for_rises
from rickyard.program.model.nonlinear_rows import AppetiteRows, LEAST_RATIO
from rickyard.program.model.rows import Model, SHORT_ENERGY_NEG_PER_NEM, build_model, take_or_zero
from rickyard.program.model.transition_rows import (
    FILLED, change_amounts, change_words, descent_amounts, mix_amounts, with_fill_of,
)
from rickyard.program.model.use_binaries import (
    LotUse, amount_rows, largest_intake, use_rows, uses_of,
)
from rickyard.program.model.variables import Columns, KG_PER_ROW_UNIT, USD_PER_ROW_UNIT

__all__ = [
    "AppetiteRows", "BUYING", "Columns", "DEEPER", "FILLED", "KG_PER_ROW_UNIT", "LEAST_RATIO",
    "LotUse", "Model", "Prices", "RULES", "RisingModel", "SHORT_ENERGY_NEG_PER_NEM", "STOCK",
    "Tangents", "USD_PER_ROW_UNIT", "amount_rows", "assured_supplies", "build_model",
    "change_amounts", "change_words", "cutting_planes", "descent_amounts", "largest_intake",
    "leeways", "mix_amounts", "on_loads", "prices_of", "spread_where_short", "take_or_zero",
    "use_binaries", "use_rows", "uses_of", "with_fill_of", "with_hay_for_rises",
]
