"""Animal units, and hay per head from body weight alone."""

from __future__ import annotations

from typing import Final, Literal

import numpy as np

from rickyard.quantities import KG_PER_LB, Numeric, OutOfRange, as_given
from rickyard.stock.common import find_row

#: A cow of 1000 lb that eats 2.6 % of her weight every day of the year, 9,490 lb (Texas chart,
#: seen).
UNIT_KG_PER_YEAR: Final = 9490.0 * KG_PER_LB
DAYS_PER_YEAR: Final = 365.0


def table_animal_units(
    weight_kg: Numeric, intake_pct_bw: Numeric, base_kg_per_year: float = UNIT_KG_PER_YEAR
) -> Numeric:
    """Return how many animal units one head is.

    For stocking and quick stock-takes only: the grazing rates lie above those for feeding hay.

    Source: Animal Unit Equivalent Chart - Texas (seen).

    >>> round(table_animal_units(1100.0 * KG_PER_LB, 3.0), 2)
    1.27
    """
    eaten = np.asarray(weight_kg) * np.asarray(intake_pct_bw) / 100.0 * DAYS_PER_YEAR
    return as_given(eaten / base_kg_per_year, weight_kg, intake_pct_bw)


def hay_per_head_kg(
    weight_kg: Numeric,
    kind: str,
    dm_pct: float,
    waste_pct: float = 0.0,
    end: Literal["low", "high"] = "high",
) -> Numeric:
    """Return hay as fed for one head from weight alone, when no energy balance is run [kg/d].

    ``kind``: A class of the table ``hay_rates``, such as ``ewe_maintenance`` or ``horse``.
    ``waste_pct``: hay lost in feeding, of what is offered. Raises ``OutOfRange`` if dry matter or
    waste is no possible percentage.

    >>> round(hay_per_head_kg(500.0, "horse", 85.0, 10.0), 2)
    13.07
    """
    if not 0.0 < dm_pct <= 100.0 or not 0.0 <= waste_pct < 100.0:
        raise OutOfRange("Dry matter is above 0 to 100%, waste 0 to below 100%.")
    rate = float(find_row("hay_rates", **{"class": kind})[f"{end}_pct_bw"])
    dry = np.asarray(weight_kg) * rate / 100.0
    return as_given(dry / (dm_pct / 100.0) / (1.0 - waste_pct / 100.0), weight_kg)
