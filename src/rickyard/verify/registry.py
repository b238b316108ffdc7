"""What the check files call a quantity, and the public function that computes it.

Nothing but names and units is translated in the modules that this one joins: a row's inputs are
turned into the units of the function, and its answer into the unit of the row.
"""

from __future__ import annotations

from typing import Final

from rickyard.verify import (
    names_forage,
    names_hay,
    names_intake,
    names_sampling,
    names_small_stock,
    names_stock,
)
from rickyard.verify.quantity import Quantity

#: Every quantity that a check file may name.
REGISTRY: Final[dict[str, Quantity]] = {
    **names_forage.FORAGE,
    **names_stock.STOCK,
    **names_small_stock.SMALL_STOCK,
    **names_hay.HAY,
    **names_hay.NEED,
    **names_hay.MONEY,
    **names_hay.BY_HAND,
    **names_hay.PROBLEMS,
    **names_intake.INTAKE,
    **names_sampling.SAMPLING,
    **names_sampling.PRACTICE,
}
