"""Sheep: energy, protein, minerals and copper, by table and equation, day by day.

Ewes, rams, lambs and replacements.
"""

from rickyard.stock.sheep.copper import (
    safe_copper_ppm,
)
from rickyard.stock.sheep.hay_rates import (
    hay_per_head_kg,
)
from rickyard.stock.sheep.printed_cells import (
    Stage,
    raise_calcium,
)
from rickyard.stock.sheep.sheep import (
    LATE_SPLIT_PCT,
    sheep_1985,
)
from rickyard.stock.sheep.sheep_energy import (
    K_PREGNANCY,
    MOST_AGE_YEARS,
    litter_birth_weight_kg,
    me_maintenance_mj,
    me_milk_mj,
    me_pregnancy_mj,
    me_total_mj,
)
from rickyard.stock.sheep.sheep_protein import (
    ewe_cp_factorial_g,
    ewe_row_cp_g,
)
from rickyard.stock.sheep.sheep_series import (
    missing_sheep_inputs,
    sheep_needs,
)

__all__ = [
    "K_PREGNANCY",
    "LATE_SPLIT_PCT",
    "MOST_AGE_YEARS",
    "Stage",
    "ewe_cp_factorial_g",
    "ewe_row_cp_g",
    "hay_per_head_kg",
    "litter_birth_weight_kg",
    "me_maintenance_mj",
    "me_milk_mj",
    "me_pregnancy_mj",
    "me_total_mj",
    "missing_sheep_inputs",
    "raise_calcium",
    "safe_copper_ppm",
    "sheep_1985",
    "sheep_needs",
]
