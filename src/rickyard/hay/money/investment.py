"""Storage as an investment: what a shed or tarp costs a year, and when it pays.

Money that is negative, a life that is not above zero and storage that saves nothing raise
`OutOfRange`.
"""

from __future__ import annotations

import numpy as np

from rickyard.hay.common import (
    equation,
    require_between,
    require_loss,
    require_not_negative,
    require_positive,
)
from rickyard.quantities import Numeric, OutOfRange


@equation(
    capital=(require_not_negative, "capital", "$"),
    rate_pct=(require_between, "interest", 0.0, 100.0, "%"),
    years=(require_positive, "years"),
    upkeep=(require_not_negative, "upkeep", "$"),
)
def capital_recovery(
    capital: Numeric, rate_pct: Numeric, years: Numeric, upkeep: Numeric = 0.0
) -> Numeric:
    """Yearly cost of a building: even payments over its life, and upkeep.

    Source: Annuity formula; Southwest Farm Press prints about $6,000 for $25,000 in 5 years.

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

    Examples
    --------
    >>> round(capital_recovery(25000.0, 6.0, 5.0))
    5935
    """
    # The least of rates stands for none, by which nothing can be divided.
    rate = np.maximum(np.divide(rate_pct, 100.0), 1e-12)
    return capital * rate / -np.expm1(-years * np.log1p(rate)) + upkeep


@equation(cost=(require_not_negative, "cost", "$"))
def breakeven_price(cost: Numeric, loss_without_pct: Numeric, loss_with_pct: Numeric) -> Numeric:
    """Hay price [$/mass] above which better storage pays, from its yearly cost [$/mass stored].

    Examples
    --------
    >>> round(breakeven_price(19.14, 20.0, 3.0), 2)
    112.59
    """
    saved = _saved_pct(loss_without_pct, loss_with_pct)
    return 100.0 * np.divide(cost, saved)


@equation(price=(require_not_negative, "price", "$"))
def breakeven_cost(price: Numeric, loss_without_pct: Numeric, loss_with_pct: Numeric) -> Numeric:
    """Most that better storage may cost in a year [$/mass stored], from the price of the hay.

    Examples
    --------
    >>> breakeven_cost(120.0, 20.0, 5.0)
    18.0
    """
    saved = _saved_pct(loss_without_pct, loss_with_pct)
    return np.multiply(price, saved) / 100.0


def _saved_pct(loss_without_pct: Numeric, loss_with_pct: Numeric) -> Numeric:
    require_loss("loss without the storage", loss_without_pct)
    require_loss("loss with the storage", loss_with_pct)
    saved = np.subtract(loss_without_pct, loss_with_pct)
    if np.any(np.less_equal(saved, 0.0)):
        raise OutOfRange("the storage saves no hay: it can never pay.")
    return saved
