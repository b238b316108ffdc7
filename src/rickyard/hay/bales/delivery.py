"""Delivery: whole bales to each feeding, how long they last, and changing from hay to hay."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.hay.common import require_loss, require_not_negative, require_positive
from rickyard.quantities import Numeric, OutOfRange, as_given

DAYS_PER_WEEK: Final = 7.0


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


def bale_schedule(needs: Numeric, bale_weight: float) -> Numeric:
    """Whole bales for each feeding of a season, carrying the rounding forward.

    Parameters
    ----------
    needs : array, shape (feedings,)
        Hay needed at each feeding, as fed with waste, in any one mass unit. [mass]
    bale_weight : float
        Weight of a bale. [mass]

    Returns
    -------
    array, shape (feedings,)
        Bales for each feeding. [-]

    Raises
    ------
    OutOfRange
        If a need is negative or the bale weight not above zero.

    Notes
    -----
    The same as `bales_this_feeding` at every feeding in turn.

    Examples
    --------
    >>> bale_schedule(np.array([900.0, 900.0, 900.0, 900.0]), 1200.0)
    array([1., 1., 0., 1.])
    """
    require_not_negative("hay needed", needs, "")
    require_positive("bale weight", bale_weight, "")
    through = np.floor(np.cumsum(needs) / bale_weight + 0.5)
    return as_given(np.diff(through, prepend=0.0), np.asarray(needs))


def days_per_bale(
    bale_weight: Numeric, feeding_loss_pct: Numeric, head: Numeric, eaten_per_head_day: Numeric
) -> Numeric:
    """Days that one bale lasts a group.

    Parameters
    ----------
    bale_weight : float or array
        Weight of a bale as fed, in any one mass unit. [mass]
    feeding_loss_pct : float or array
        Waste of the hay offered. [%]
    head : float or array
        Animals at the bale. [-]
    eaten_per_head_day : float or array
        Hay eaten as fed. [mass/d]

    Returns
    -------
    float or array
        Days. [d]

    Raises
    ------
    OutOfRange
        If a number is not above zero or the waste outside 0 to under 100 %.

    Notes
    -----
    Opened baleage spoils: do not leave a bale longer than 3 days in warm or 7 in cold weather
    (common practice). For fewer than 8 head use small squares or a ring that restricts them.

    Examples
    --------
    >>> round(days_per_bale(1200.0, 15.0, 20, 30.0), 2)
    1.7
    """
    require_positive("bale weight", bale_weight, "")
    require_loss("feeding loss", feeding_loss_pct)
    require_positive("head", head, "")
    require_positive("hay eaten", eaten_per_head_day, "")
    eaten = bale_weight * (1.0 - np.divide(feeding_loss_pct, 100.0))
    days = eaten / np.multiply(head, eaten_per_head_day)
    return as_given(days, bale_weight, feeding_loss_pct, head, eaten_per_head_day)


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


def per_delivery(daily: Numeric, deliveries_per_week: Numeric) -> Numeric:
    """Supplement to put out at each delivery when it is not fed daily.

    Parameters
    ----------
    daily : float or array
        Supplement needed for a day, in any one mass unit. [mass/d]
    deliveries_per_week : float or array
        Deliveries in a week, at most 7. [-]

    Returns
    -------
    float or array
        Supplement for one delivery. [mass]

    Raises
    ------
    OutOfRange
        If the supplement is negative, or there is no delivery or more than one a day.

    Notes
    -----
    For protein feeds only. Starch must be fed daily, and feeds with urea or other non-protein
    nitrogen in large infrequent meals can kill: feed them daily or by a self-limiting mix, and
    ask the local extension office.

    References
    ----------
    .. [1] South Dakota State Extension (2012); Schauer et al. (2005).

    Examples
    --------
    >>> round(per_delivery(2.0, 3), 2)
    4.67
    """
    require_not_negative("supplement", daily, "")
    require_positive("deliveries", deliveries_per_week, "a week")
    if np.any(np.greater(deliveries_per_week, DAYS_PER_WEEK)):
        raise OutOfRange("more than one delivery a day: give the daily amount.")
    amount = np.multiply(daily, DAYS_PER_WEEK) / deliveries_per_week
    return as_given(amount, daily, deliveries_per_week)


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
