"""Supply: what stands in the yard, in bales, how long it lasts and what to hold over.

Masses are in any one mass unit, the same throughout a call.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.hay.common import require_loss, require_not_negative, require_positive
from rickyard.hay.feeding.need import before_loss
from rickyard.quantities import Numeric, as_given

# Common practice, no published source.
RESERVE_PCT: Final = 15.0
DROUGHT_RESERVE_PCT: Final = 25.0
RESERVE_DAYS: Final = 30.0


def bales_needed(total: Numeric, bale_weight: Numeric) -> Numeric:
    """Bales in an amount of hay, before rounding.

    Parameters
    ----------
    total, bale_weight : float or array
        Hay, and the weight of a bale, in any one mass unit. [mass]

    Returns
    -------
    float or array
        Bales. [-]

    Raises
    ------
    OutOfRange
        If the hay is negative or the bale weight not above zero.

    Examples
    --------
    >>> round(bales_needed(5148.0, 880.0), 2)
    5.85
    """
    require_not_negative("hay", total, "")
    require_positive("bale weight", bale_weight, "")
    return as_given(np.divide(total, bale_weight), total, bale_weight)


def bales_rounded_up(total: Numeric, bale_weight: Numeric) -> Numeric:
    """Whole bales that cover an amount of hay.

    Parameters
    ----------
    total, bale_weight : float or array
        Hay, and the weight of a bale, in any one mass unit. [mass]

    Returns
    -------
    float or array
        Bales, rounded up. [-]

    Raises
    ------
    OutOfRange
        As `bales_needed`.

    Examples
    --------
    >>> bales_rounded_up(5148.0, 880.0)
    6.0
    """
    exact = np.asarray(bales_needed(total, bale_weight))
    # A quotient such as 1200 / 0.1 may sit just above a whole number: rounding first keeps
    # floating point from adding a bale.
    return as_given(np.ceil(np.round(exact, 9)), total, bale_weight)


def inventory(bales: Numeric, bale_weight: Numeric, loss_pct: Numeric = 0.0) -> Numeric:
    """Hay in the yard, less what it will lose.

    Parameters
    ----------
    bales : float or array
        Bales counted. [-]
    bale_weight : float or array
        Weight of one, in any one mass unit. [mass]
    loss_pct : float or array
        Loss from the count to feeding. [%]

    Returns
    -------
    float or array
        Hay, in the same unit. [mass]

    Raises
    ------
    OutOfRange
        If a count is negative, a weight not above zero or the loss outside 0 to under 100 %.

    Examples
    --------
    >>> inventory(200, 1000.0, 10.0)
    180000.0
    """
    require_not_negative("bales", bales, "")
    require_positive("bale weight", bale_weight, "")
    require_loss("loss", loss_pct)
    hay = np.multiply(bales, bale_weight) * (100.0 - np.asarray(loss_pct)) / 100.0
    return as_given(hay, bales, bale_weight, loss_pct)


def reserve(total: Numeric, days: Numeric, *, drought_often: bool = False) -> Numeric:
    """Hay to hold over at the end of the season.

    Parameters
    ----------
    total : float or array
        Hay needed for the season, in any one mass unit. [mass]
    days : float or array
        Length of the season. [d]
    drought_often : bool
        Whether drought is frequent.

    Returns
    -------
    float or array
        The larger of 15 % (25 % where drought is frequent) and 30 days of demand. [mass]

    Raises
    ------
    OutOfRange
        If the hay is negative or the season has no days.

    References
    ----------
    .. [1] Common practice; no published figure found.

    Examples
    --------
    >>> reserve(150.0, 150.0)
    30.0
    >>> reserve(150.0, 300.0, drought_often=True)
    37.5
    """
    require_not_negative("hay", total, "")
    require_positive("days", days, "d")
    share = (DROUGHT_RESERVE_PCT if drought_often else RESERVE_PCT) / 100.0
    held = np.maximum(np.multiply(total, share), RESERVE_DAYS * np.divide(total, days))
    return as_given(held, total, days)


def days_until_out(stock: Numeric, reserved: Numeric, daily: Numeric) -> Numeric:
    """Days until the hay is down to its reserve.

    Parameters
    ----------
    stock, reserved : float or array
        Hay in the yard and the part to hold over, in any one mass unit. [mass]
    daily : float or array
        Hay to store for a day's feeding, waste and loss included. [mass/d]

    Returns
    -------
    float or array
        Days; zero when the stock is at or under the reserve already. [d]

    Raises
    ------
    OutOfRange
        If a mass is negative or nothing is fed.

    Notes
    -----
    Held at 0 where nothing stands above the reserve.

    Examples
    --------
    >>> days_until_out(200.0, 20.0, 1.5)
    120.0
    """
    require_not_negative("stock", stock, "")
    require_not_negative("reserve", reserved, "")
    require_positive("daily hay", daily, "")
    left = np.maximum(0.0, np.subtract(stock, reserved)) / daily
    return as_given(left, stock, reserved, daily)


def extra_acres(need: float, yield_per_acre: float, loss_a_pct: float, loss_b_pct: float) -> float:
    """Whole acres more to cut because one way of storing loses more than another.

    Parameters
    ----------
    need : float
        Hay needed after loss, in any one mass unit. [mass]
    yield_per_acre : float
        Yield in the same unit. [mass/acre]
    loss_a_pct, loss_b_pct : float
        Losses of the two ways. [%]

    Returns
    -------
    float
        Whole acres for the second way less those for the first. [acre]

    Raises
    ------
    OutOfRange
        If the need is negative, the yield not above zero or a loss outside 0 to under 100 %.

    References
    ----------
    .. [1] Beer, Clemson (2016), How much does your hay storage cost.

    Examples
    --------
    >>> extra_acres(133.0, 5.0, 5.0, 30.0)
    10.0
    """
    first, second = (
        bales_rounded_up(before_loss(need, loss), yield_per_acre)
        for loss in (loss_a_pct, loss_b_pct)
    )
    return float(second - first)
