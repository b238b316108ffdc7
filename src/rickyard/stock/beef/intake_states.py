"""By which equation each animal of a herd eats on each day, and by how much more or less."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.stock.beef.defaults import GESTATION_DAYS
from rickyard.stock.beef.herd_arrays import Days, Herd
from rickyard.stock.common import Conditions, Cycle
from rickyard.stock.equations import (
    CALIBRATION_DRY_PREGNANT,
    CALIBRATION_LACTATING,
    DAYS_PER_MONTH,
    INTAKE_PER_MILK,
    RULES,
    appetite_per_kg075,
    growing_state,
    temperature_factor,
)
from rickyard.types import FloatArray

#: Where each rule of intake stands in ``intake.RULES``.
COW_EARLY: Final = RULES.index("cow_early")
COW_LATE: Final = RULES.index("cow_late")

#: An ordinary hay of about 55 % TDN, for needs that are a share of what is eaten. [Mcal/kg DM]
USUAL_HAY_NEM: Final = 1.14


def add_intake(
    out: dict[str, FloatArray],
    herd: Herd,
    days: Days,
    chosen: Conditions,
    cycle: Cycle,
    metabolic: FloatArray,
) -> NDArray[np.int8]:
    """Add what a herd eats of a usual hay to its needs, and return by which rule.

    ``out``: needs so far; ``intake_factor`` and ``usual_hay_dm_kg`` are added. ``chosen``: whether
    intake is calibrated, and follows the weather. ``cycle``: where each group stands in its
    breeding year.

    Only cows were measured, so a heifer is calibrated from her first calving.
    """
    cow = herd.is_cow[:, np.newaxis]
    late = cycle.day_pregnant > GESTATION_DAYS / 3.0
    age = herd.age_months[:, np.newaxis] + (days.on - herd.weighed_on[:, np.newaxis]) / (
        DAYS_PER_MONTH
    )
    growing = growing_state(age)
    state = np.where(cow, np.where(late, COW_LATE, COW_EARLY), growing).astype(np.int8)
    factor = np.ones(metabolic.shape)
    if chosen.calibrated:
        applies = cow & (~herd.is_heifer[:, np.newaxis] | (cycle.births > 0.0))
        dry = np.where(cycle.pregnant & late, CALIBRATION_DRY_PREGNANT, 1.0)
        factor = np.where(applies, np.where(cycle.nursing, CALIBRATION_LACTATING, dry), 1.0)
    factor = factor * herd.appetite_factor[:, np.newaxis]
    if chosen.intake_by_weather:
        # A day whose weather nobody knows changes nothing.
        by_day = temperature_factor(days.temperature_c)
        factor = factor * np.where(np.isnan(by_day), 1.0, by_day)
    out["intake_factor"] = factor
    share = np.array([appetite_per_kg075(rule, USUAL_HAY_NEM) for rule in RULES])
    extra = np.where(cow, INTAKE_PER_MILK, 0.0) * out["milk_kg"]
    out["usual_hay_dm_kg"] = (metabolic * share[state] + extra) * factor
    return state
