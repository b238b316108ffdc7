"""Supply: what stands in the yard, in bales, how long it lasts and what to hold over.

Masses are in any one mass unit, the same throughout a call.

A mass that is negative, a weight or time that is not above zero, and a loss outside 0 to under
100 % raise `OutOfRange`.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.hay.common import equation, require_loss, require_not_negative, require_positive
from rickyard.quantities import Numeric

# Common practice, no published source.
RESERVE_PCT: Final = 15.0
DROUGHT_RESERVE_PCT: Final = 25.0
RESERVE_DAYS: Final = 30.0


@equation(total=(require_not_negative, "hay"), bale_weight=(require_positive, "bale weight"))
def bales_needed(total: Numeric, bale_weight: Numeric) -> Numeric:
    """Bales [-] in an amount of hay, in the mass unit of a bale, before rounding.

    Examples
    --------
    >>> round(bales_needed(5148.0, 880.0), 2)
    5.85
    """
    return np.divide(total, bale_weight)


@equation()
def bales_rounded_up(total: Numeric, bale_weight: Numeric) -> Numeric:
    """Whole bales [-] that cover an amount of hay, in the mass unit of a bale.

    Examples
    --------
    >>> bales_rounded_up(5148.0, 880.0)
    6.0
    """
    exact = np.asarray(bales_needed(total, bale_weight))
    # A quotient such as 1200 / 0.1 may sit just above a whole number: rounding first keeps
    # floating point from adding a bale.
    return np.ceil(np.round(exact, 9))


@equation(
    bales=(require_not_negative, "bales"),
    bale_weight=(require_positive, "bale weight"),
    loss_pct=(require_loss, "loss"),
)
def inventory(bales: Numeric, bale_weight: Numeric, loss_pct: Numeric = 0.0) -> Numeric:
    """Hay in the yard, less what it will lose until it is fed [%]; in the mass unit of a bale.

    Examples
    --------
    >>> inventory(200, 1000.0, 10.0)
    180000.0
    """
    return np.multiply(bales, bale_weight) * (100.0 - np.asarray(loss_pct)) / 100.0


@equation(total=(require_not_negative, "hay"), days=(require_positive, "days", "d"))
def reserve(total: Numeric, days: Numeric, *, drought_often: bool = False) -> Numeric:
    """Hay to hold over at the end of the season.

    Source: common practice; no published figure found.

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

    Examples
    --------
    >>> reserve(150.0, 150.0)
    30.0
    >>> reserve(150.0, 300.0, drought_often=True)
    37.5
    """
    share = (DROUGHT_RESERVE_PCT if drought_often else RESERVE_PCT) / 100.0
    return np.maximum(np.multiply(total, share), RESERVE_DAYS * np.divide(total, days))


@equation(
    stock=(require_not_negative, "stock"),
    reserved=(require_not_negative, "reserve"),
    daily=(require_positive, "daily hay"),
)
def days_until_out(stock: Numeric, reserved: Numeric, daily: Numeric) -> Numeric:
    """Days until the hay is down to its reserve.

    Held at 0 where nothing stands above the reserve.

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

    Examples
    --------
    >>> days_until_out(200.0, 20.0, 1.5)
    120.0
    """
    return np.maximum(0.0, np.subtract(stock, reserved)) / daily
