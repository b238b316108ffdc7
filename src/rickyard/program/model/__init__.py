"""The season problem as rows and columns of a linear or mixed program.

Each file writes one kind of row; curved rows are met by cutting planes, prices read back.
"""

from rickyard.program.model.chance_rows import (
    assured_supplies,
    leeways,
)
from rickyard.program.model.cutting_planes import (
    Tangents,
)
from rickyard.program.model.duals import (
    BUYING,
    RULES,
    STOCK,
    Prices,
    prices_of,
)
from rickyard.program.model.nonlinear_rows import (
    LEAST_RATIO,
    AppetiteRows,
)
from rickyard.program.model.rows import (
    SHORT_ENERGY_NEG_PER_NEM,
    Model,
    build_model,
    take_or_nan,
)
from rickyard.program.model.settle import (
    MOVING_ROUNDS,
    settle,
)
from rickyard.program.model.transition_rows import (
    change_amounts,
    change_words,
)
from rickyard.program.model.use_binaries import (
    LotUse,
    amount_rows,
    largest_intake,
    use_rows,
    uses_of,
)
from rickyard.program.model.variables import (
    KG_PER_ROW_UNIT,
    USD_PER_ROW_UNIT,
    Columns,
)

__all__ = [
    "BUYING",
    "KG_PER_ROW_UNIT",
    "LEAST_RATIO",
    "MOVING_ROUNDS",
    "RULES",
    "SHORT_ENERGY_NEG_PER_NEM",
    "STOCK",
    "USD_PER_ROW_UNIT",
    "AppetiteRows",
    "Columns",
    "LotUse",
    "Model",
    "Prices",
    "Tangents",
    "amount_rows",
    "assured_supplies",
    "build_model",
    "change_amounts",
    "change_words",
    "largest_intake",
    "leeways",
    "prices_of",
    "settle",
    "take_or_nan",
    "use_rows",
    "uses_of",
]
