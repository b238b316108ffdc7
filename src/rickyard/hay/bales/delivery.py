"""Delivery: whole bales to each feeding, how long they last, and changing from hay to hay.

Numbers that are negative, and a weight or change of nothing, raise `OutOfRange`.
"""

from __future__ import annotations

import numpy as np

from rickyard.hay.common import equation, require_not_negative, require_positive
from rickyard.quantities import Numeric


@equation(
    cumulative_need=(require_not_negative, "hay needed"),
    bale_weight=(require_positive, "bale weight"),
    bales_given=(require_not_negative, "bales given"),
)
def bales_this_feeding(
    cumulative_need: Numeric, bale_weight: Numeric, bales_given: Numeric
) -> Numeric:
    """Whole bales [-] to give now, carrying the rounding forward; zero when enough were given.

    The need is that from the first feeding through this one, as fed with waste, in the mass unit of
    the bale. Half bales round up: the running total stays within half a bale of the need.

    Examples
    --------
    >>> bales_this_feeding(10500.0, 1200.0, 8)
    1.0
    """
    due = np.floor(np.divide(cumulative_need, bale_weight) + 0.5) - bales_given
    return np.maximum(0.0, due)


@equation(
    day=(require_not_negative, "day"), over_days=(require_positive, "days of the change", "d")
)
def new_hay_share_frac(day: Numeric, over_days: float) -> Numeric:
    """Share of the new hay while a group is moved from one hay to another.

    Held at 1 once the change is over.

    Parameters
    ----------
    day : float or array
        Day of the change, the first day is 1. [d]
    over_days : float
        Days the change takes; 5 to 7 for cattle and sheep when energy or protein differ by
        more than 3 points, 7 to 10 for horses (common practice). [d]

    Returns
    -------
    float or array
        Share of the new hay, rising in a straight line to 1. [-]

    Examples
    --------
    >>> new_hay_share_frac(2.0, 5.0)
    0.4
    """
    return np.minimum(1.0, np.divide(day, over_days))
