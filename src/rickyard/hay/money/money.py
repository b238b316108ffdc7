"""Money: what hay and the nutrients in it cost.

A price is per any one mass unit, the same throughout a call: dollars per ton in, dollars per
ton out. A price compares only with a price on the same basis, at the same place.

A price or mass that is negative, a load that is empty, a loss outside 0 to under 100 % and dry
matter outside 5 to 98 % raise `OutOfRange`.
"""

from __future__ import annotations

import numpy as np

from rickyard.hay.common import (
    equation,
    require_dm,
    require_not_negative,
    require_positive,
)
from rickyard.hay.feeding import before_loss, supplied
from rickyard.quantities import Numeric


@equation(price=(require_not_negative, "price", "$"), mass=(require_positive, "weight"))
def price_per_mass(price: Numeric, mass: Numeric) -> Numeric:
    """Price of one unit of mass from the price of a bale or a load [$/mass].

    Compare hay by weight: a bale price says nothing across bale sizes.

    Examples
    --------
    >>> round(price_per_mass(50.0, 1100.0 / 2000.0), 2)
    90.91
    """
    return np.divide(price, mass)


@equation(price=(require_not_negative, "price", "$"))
def nutrient_cost(
    price: Numeric, mass: Numeric, nutrient_pct: Numeric, dm_pct: Numeric | None = None
) -> Numeric:
    """Cost of one unit of mass of a nutrient [$/mass], from the price of ``mass`` of feed.

    The nutrient is a share of dry matter; or as fed, as a tag prints it, and then the dry matter is
    left out. From Montana State Univ. Richland County Extension (2022); Oklahoma State (M.
    Johnson).

    Examples
    --------
    >>> round(nutrient_cost(475.0, 2000.0, 38.0), 3)
    0.625
    """
    amount = supplied(mass, nutrient_pct, dm_pct)
    require_positive("nutrient in the feed", amount, "")
    return np.divide(price, amount)


@equation(price=(require_not_negative, "price", "$"), dm_pct=(require_dm,))
def dm_price(price: Numeric, dm_pct: Numeric) -> Numeric:
    """Price of dry matter from the price as fed [$/mass].

    Examples
    --------
    >>> round(dm_price(110.0, 85.0), 2)
    129.41
    """
    return price / np.divide(dm_pct, 100.0)


@equation(
    price=(require_not_negative, "price", "$"),
    rate_per_distance=(require_not_negative, "freight", "$"),
    distance=(require_not_negative, "distance"),
    load=(require_positive, "load"),
)
def delivered_price(
    price: Numeric, rate_per_distance: Numeric, distance: Numeric, load: Numeric
) -> Numeric:
    """Price of hay brought home [$/mass]; freight is for the loaded way [$/distance].

    Examples
    --------
    >>> round(delivered_price(0.0, 3.5, 300.0, 21.25), 2)
    49.41
    """
    return price + np.multiply(rate_per_distance, distance) / load


def price_eaten(
    delivered: Numeric, storage_loss_pct: Numeric = 0.0, feeding_loss_pct: Numeric = 0.0
) -> Numeric:
    """Price of the hay that reaches a mouth [$/mass], from that delivered, storage cost included.

    Examples
    --------
    >>> price_eaten(120.0, 20.0)
    150.0
    """
    return before_loss(before_loss(delivered, storage_loss_pct), feeding_loss_pct)


def basket_cost(amounts: Numeric, prices: Numeric) -> float:
    """Cost of a list of goods.

    Parameters
    ----------
    amounts, prices : array, shape (n,)
        How much of each, and its price for one unit of that amount. [-], [$]

    Returns
    -------
    float
        Cost. [$]

    Examples
    --------
    >>> basket_cost([2.0, 3.0], [10.0, 1.5])
    24.5
    """
    require_not_negative("amount", amounts, "")
    require_not_negative("price", prices, "$")
    return float(np.dot(np.asarray(amounts, dtype=np.float64), np.asarray(prices)))
