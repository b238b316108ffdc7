"""Storage as an investment: what a shed or tarp costs a year, and when it pays."""

from __future__ import annotations

import numpy as np

from rickyard.hay.common import (
    require_between,
    require_loss,
    require_not_negative,
    require_positive,
)
from rickyard.quantities import Numeric, OutOfRange, as_given


def capital_recovery(
    capital: Numeric, rate_pct: Numeric, years: Numeric, upkeep: Numeric = 0.0
) -> Numeric:
    """Yearly cost of a building: even payments over its life, and upkeep.

    Parameters
    ----------
    capital : float or array
        What it costs to build. [$]
    rate_pct : float or array
        Interest a year; 0 for plain depreciation. [%]
    years : float or array
        Life. [year]
    upkeep : float or array
        Upkeep, insurance and tax in a year. [$]

    Returns
    -------
    float or array
        Cost in a year. [$]

    Raises
    ------
    OutOfRange
        If money or interest is negative, the interest over 100 % or the life not above zero.

    References
    ----------
    .. [1] Annuity formula; Southwest Farm Press prints about $6,000 for $25,000 in 5 years.

    Examples
    --------
    >>> round(capital_recovery(25000.0, 6.0, 5.0))
    5935
    """
    require_not_negative("capital", capital, "$")
    require_between("interest", rate_pct, 0.0, 100.0, "%")
    require_positive("years", years, "")
    require_not_negative("upkeep", upkeep, "$")
    rate = np.asarray(rate_pct, dtype=np.float64) / 100.0
    lent = np.where(rate == 0.0, 1.0, rate)  # a stand-in where there is no interest to divide by
    factor = np.where(rate == 0.0, np.divide(1.0, years), lent / -np.expm1(-years * np.log1p(lent)))
    return as_given(capital * factor + upkeep, capital, rate_pct, years, upkeep)


def capital_per_mass(capital: Numeric, stored: Numeric, years: Numeric = 1.0) -> Numeric:
    """Cost of storage for each mass unit it holds, without interest.

    Parameters
    ----------
    capital : float or array
        What the storage costs. [$]
    stored : float or array
        Hay it holds in a year, in any one mass unit. [mass]
    years : float or array
        Years it is spread over. [year]

    Returns
    -------
    float or array
        Cost, in a year. [$/mass]

    Raises
    ------
    OutOfRange
        If money is negative, or hay or years not above zero.

    References
    ----------
    .. [1] Manitoba Co-operator, Run the numbers before deciding on how to store hay.

    Examples
    --------
    >>> round(capital_per_mass(175.0, 42.0), 2)
    4.17
    """
    require_not_negative("capital", capital, "$")
    require_positive("hay stored", stored, "")
    require_positive("years", years, "")
    return as_given(np.divide(capital, stored) / years, capital, stored, years)


def breakeven_price(cost: Numeric, loss_without_pct: Numeric, loss_with_pct: Numeric) -> Numeric:
    """Hay price above which better storage pays.

    Parameters
    ----------
    cost : float or array
        Yearly cost of the better storage. [$/mass stored]
    loss_without_pct, loss_with_pct : float or array
        Loss without it and with it. [%]

    Returns
    -------
    float or array
        Hay price. [$/mass]

    Raises
    ------
    OutOfRange
        If the storage saves no hay, the cost is negative or a loss outside 0 to under 100 %.

    Examples
    --------
    >>> round(breakeven_price(19.14, 20.0, 3.0), 2)
    112.59
    """
    require_not_negative("cost", cost, "$")
    saved = _saved_pct(loss_without_pct, loss_with_pct)
    return as_given(100.0 * np.divide(cost, saved), cost, loss_without_pct, loss_with_pct)


def breakeven_cost(price: Numeric, loss_without_pct: Numeric, loss_with_pct: Numeric) -> Numeric:
    """Most that better storage may cost in a year.

    Parameters
    ----------
    price : float or array
        Price of the hay. [$/mass]
    loss_without_pct, loss_with_pct : float or array
        Loss without it and with it. [%]

    Returns
    -------
    float or array
        Cost in a year. [$/mass stored]

    Raises
    ------
    OutOfRange
        If the storage saves no hay, the price is negative or a loss outside 0 to under 100 %.

    Examples
    --------
    >>> breakeven_cost(120.0, 20.0, 5.0)
    18.0
    """
    require_not_negative("price", price, "$")
    saved = _saved_pct(loss_without_pct, loss_with_pct)
    return as_given(np.multiply(price, saved) / 100.0, price, loss_without_pct, loss_with_pct)


def wintering_cost(
    hay: Numeric, price: Numeric, freight: Numeric, days: Numeric, yardage_per_day: Numeric
) -> Numeric:
    """Cost of wintering one head on bought hay.

    Parameters
    ----------
    hay : float or array
        Hay bought for one head, in any one mass unit. [mass]
    price, freight : float or array
        Price and freight, in that unit. [$/mass]
    days : float or array
        Days wintered. [d]
    yardage_per_day : float or array
        Labour, machines, bedding and yard. [$/d]

    Returns
    -------
    float or array
        Cost of one head. [$]

    Raises
    ------
    OutOfRange
        If a number is negative.

    References
    ----------
    .. [1] Dyck, Alberta Agriculture (prints 1026 for what comes to 1024.25).

    Examples
    --------
    >>> wintering_cost(3.75, 200.0, 33.0, 215, 0.7)
    1024.25
    """
    inputs = (hay, price, freight, days, yardage_per_day)
    for name, value in zip(("hay", "price", "freight", "days", "yardage"), inputs, strict=True):
        require_not_negative(name, value, "")
    cost = np.multiply(hay, np.add(price, freight)) + np.multiply(days, yardage_per_day)
    return as_given(cost, *inputs)


def _saved_pct(loss_without_pct: Numeric, loss_with_pct: Numeric) -> Numeric:
    require_loss("loss without the storage", loss_without_pct)
    require_loss("loss with the storage", loss_with_pct)
    saved = np.subtract(loss_without_pct, loss_with_pct)
    if np.any(np.less_equal(saved, 0.0)):
        raise OutOfRange("the storage saves no hay: it can never pay.")
    return saved
