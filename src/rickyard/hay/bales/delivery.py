"""Delivery: whole bales to each feeding, how long they last, and changing from hay to hay."""

from __future__ import annotations

import numpy as np

from rickyard.hay.common import require_not_negative, require_positive
from rickyard.quantities import Numeric, as_given


def bales_this_feeding(
    cumulative_need: Numeric, bale_weight: Numeric, bales_given: Numeric
) -> Numeric:
    """Whole bales to give now, carrying the rounding forward.

    Parameters
    ----------
    cumulative_need : float or array
        Hay needed from the first feeding through this one, as fed with waste, in any one mass
        unit. [mass]
    bale_weight : float or array
        Weight of a bale. [mass]
    bales_given : float or array
        Bales given before. [-]

    Returns
    -------
    float or array
        Bales; zero when more were given already than needed. [-]

    Raises
    ------
    OutOfRange
        If a number is negative or the bale weight not above zero.

    Notes
    -----
    Half bales round up. The running total stays within half a bale of the need.

    Examples
    --------
    >>> bales_this_feeding(10500.0, 1200.0, 8)
    1.0
    """
    require_not_negative("hay needed", cumulative_need, "")
    require_positive("bale weight", bale_weight, "")
    require_not_negative("bales given", bales_given, "")
    due = np.floor(np.divide(cumulative_need, bale_weight) + 0.5) - bales_given
    return as_given(np.maximum(0.0, due), cumulative_need, bale_weight, bales_given)


def cow_days_per_load(
    bales: Numeric, bale_weight: Numeric, offered_per_head_day: Numeric
) -> Numeric:
    """Cow-days of feed in a load of bales.

    Parameters
    ----------
    bales : float or array
        Bales on the load. [-]
    bale_weight : float or array
        Weight of a bale, in any one mass unit. [mass]
    offered_per_head_day : float or array
        Hay offered to each cow, waste included. [mass/d]

    Returns
    -------
    float or array
        Cow-days. [d]

    Raises
    ------
    OutOfRange
        If a number is negative or nothing is offered.

    References
    ----------
    .. [1] Canadian Cattlemen, The cost of feeding.

    Examples
    --------
    >>> round(cow_days_per_load(19, 1300.0, 35.0))
    706
    """
    require_not_negative("bales", bales, "")
    require_positive("bale weight", bale_weight, "")
    require_positive("hay offered", offered_per_head_day, "")
    days = np.multiply(bales, bale_weight) / offered_per_head_day
    return as_given(days, bales, bale_weight, offered_per_head_day)


def new_hay_share_frac(day: Numeric, over_days: float) -> Numeric:
    """Share of the new hay while a group is moved from one hay to another.

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

    Raises
    ------
    OutOfRange
        If the day is negative or the change takes no days.

    Examples
    --------
    >>> new_hay_share_frac(2.0, 5.0)
    0.4
    """
    require_not_negative("day", day, "")
    require_positive("days of the change", over_days, "d")
    return as_given(np.minimum(1.0, np.divide(day, over_days)), day)
