"""Money: what hay and the nutrients in it cost.

A price is per any one mass unit, the same throughout a call: dollars per ton in, dollars per
ton out. A price compares only with a price on the same basis, at the same place.
"""

from __future__ import annotations

import numpy as np

from rickyard.hay.common import (
    require_between,
    require_dm,
    require_loss,
    require_not_negative,
    require_positive,
)
from rickyard.hay.feeding import LossMode, before_loss
from rickyard.quantities import Numeric, as_given


def price_per_mass(price: Numeric, mass: Numeric) -> Numeric:
    """Price of one unit of mass from the price of a bale or a load.

    Parameters
    ----------
    price : float or array
        Price of the bale or load. [$]
    mass : float or array
        Its weight, in any one mass unit. [mass]

    Returns
    -------
    float or array
        Price. [$/mass]

    Raises
    ------
    OutOfRange
        If the price is negative or the weight not above zero.

    Notes
    -----
    Compare hay by weight: a bale price says nothing across bale sizes.

    Examples
    --------
    >>> round(price_per_mass(50.0, 1100.0 / 2000.0), 2)
    90.91
    """
    require_not_negative("price", price, "$")
    require_positive("weight", mass, "")
    return as_given(np.divide(price, mass), price, mass)


def nutrient_mass(mass: Numeric, nutrient_pct: Numeric, dm_pct: Numeric | None = None) -> Numeric:
    """Nutrient in an amount of feed.

    Parameters
    ----------
    mass : float or array
        Feed as fed, in any one mass unit. [mass]
    nutrient_pct : float or array
        The nutrient, of dry matter; or as fed, as a tag prints it. [%]
    dm_pct : float or array, optional
        Dry matter as fed; left out when the nutrient is as fed. [%]

    Returns
    -------
    float or array
        Nutrient, in the same unit. [mass]

    Raises
    ------
    OutOfRange
        If a number is negative or a percentage outside its range.

    Examples
    --------
    >>> nutrient_mass(2000.0, 75.0, 90.0)
    1350.0
    >>> nutrient_mass(2000.0, 38.0)
    760.0
    """
    require_not_negative("feed", mass, "")
    require_between("nutrient", nutrient_pct, 0.0, 100.0, "%")
    amount = np.multiply(mass, nutrient_pct) / 100.0
    if dm_pct is None:
        return as_given(amount, mass, nutrient_pct)
    require_dm(dm_pct)
    return as_given(amount * np.divide(dm_pct, 100.0), mass, nutrient_pct, dm_pct)


def nutrient_cost(
    price: Numeric, mass: Numeric, nutrient_pct: Numeric, dm_pct: Numeric | None = None
) -> Numeric:
    """Cost of one unit of mass of a nutrient.

    Parameters
    ----------
    price : float or array
        Price of ``mass`` of feed. [$]
    mass : float or array
        Feed as fed, in any one mass unit. [mass]
    nutrient_pct : float or array
        The nutrient, of dry matter; or as fed, as a tag prints it. [%]
    dm_pct : float or array, optional
        Dry matter as fed; left out when the nutrient is as fed. [%]

    Returns
    -------
    float or array
        Cost. [$/mass of nutrient]

    Raises
    ------
    OutOfRange
        If a number is negative, a percentage outside its range, or the feed has none of it.

    References
    ----------
    .. [1] Montana State Univ. Richland County Extension (2022); Oklahoma State (M. Johnson).

    Examples
    --------
    >>> round(nutrient_cost(475.0, 2000.0, 38.0), 3)
    0.625
    """
    require_not_negative("price", price, "$")
    amount = nutrient_mass(mass, nutrient_pct, dm_pct)
    require_positive("nutrient in the feed", amount, "")
    return as_given(np.divide(price, amount), price, amount)


def dm_price(price: Numeric, dm_pct: Numeric) -> Numeric:
    """Price of dry matter from the price as fed.

    Parameters
    ----------
    price : float or array
        Price as fed. [$/mass]
    dm_pct : float or array
        Dry matter as fed. [%]

    Returns
    -------
    float or array
        Price of dry matter. [$/mass]

    Raises
    ------
    OutOfRange
        If the price is negative or the dry matter outside 5 to 98 %.

    Examples
    --------
    >>> round(dm_price(110.0, 85.0), 2)
    129.41
    """
    require_not_negative("price", price, "$")
    require_dm(dm_pct)
    return as_given(price / np.divide(dm_pct, 100.0), price, dm_pct)


def delivered_price(
    price: Numeric, rate_per_distance: Numeric, distance: Numeric, load: Numeric
) -> Numeric:
    """Price of hay brought home.

    Parameters
    ----------
    price : float or array
        Price at the stack. [$/mass]
    rate_per_distance : float or array
        Freight for the loaded way. [$/distance]
    distance : float or array
        Loaded distance, in the unit of the rate. [distance]
    load : float or array
        Hay on the truck, in the mass unit of the price. [mass]

    Returns
    -------
    float or array
        Price delivered. [$/mass]

    Raises
    ------
    OutOfRange
        If a number is negative or the truck is empty.

    Examples
    --------
    >>> round(delivered_price(0.0, 3.5, 300.0, 21.25), 2)
    49.41
    """
    require_not_negative("price", price, "$")
    require_not_negative("freight", rate_per_distance, "$")
    require_not_negative("distance", distance, "")
    require_positive("load", load, "")
    total = price + np.multiply(rate_per_distance, distance) / load
    return as_given(total, price, rate_per_distance, distance, load)


def price_eaten(
    delivered: Numeric, storage_loss_pct: Numeric = 0.0, feeding_loss_pct: Numeric = 0.0
) -> Numeric:
    """Price of the hay that reaches a mouth.

    Parameters
    ----------
    delivered : float or array
        Price delivered, storage cost included. [$/mass]
    storage_loss_pct, feeding_loss_pct : float or array
        Losses on the way. [%]

    Returns
    -------
    float or array
        Price of hay eaten. [$/mass]

    Raises
    ------
    OutOfRange
        If the price is negative or a loss outside 0 to under 100 %.

    Examples
    --------
    >>> price_eaten(120.0, 20.0)
    150.0
    """
    return before_loss(before_loss(delivered, storage_loss_pct), feeding_loss_pct)


def dm_price_eaten(
    price: Numeric,
    dm_pct: Numeric,
    handling: Numeric = 0.0,
    waste_pct: Numeric = 0.0,
    mode: LossMode = "divide",
) -> Numeric:
    """Price of the dry matter that is eaten, hauling, storage and feeding included.

    Parameters
    ----------
    price : float or array
        Price as fed. [$/mass]
    dm_pct : float or array
        Dry matter as fed. [%]
    handling : float or array
        Hauling, storage and feeding, for each mass unit of dry matter. [$/mass]
    waste_pct : float or array
        Waste. [%]
    mode : {"divide", "multiply"}
        See `rickyard.hay.feeding.need.before_loss`; only to reproduce what a publication printed.

    Returns
    -------
    float or array
        Price of dry matter eaten. [$/mass]

    Raises
    ------
    OutOfRange
        If a price is negative or a percentage outside its range.

    Examples
    --------
    >>> round(dm_price_eaten(94.0, 84.0, 15.0, 17.5))
    154
    """
    require_not_negative("handling", handling, "$")
    before = dm_price(price, dm_pct) + np.asarray(handling)
    return as_given(before_loss(before, waste_pct, mode), price, dm_pct, handling, waste_pct)


def season_feed_cost(
    dm_price_paid: Numeric, dm_per_head_day: Numeric, days: Numeric, head: Numeric
) -> Numeric:
    """Cost of feeding a group for a season.

    Parameters
    ----------
    dm_price_paid : float or array
        Price of dry matter eaten. [$/mass]
    dm_per_head_day : float or array
        Dry matter eaten, in the mass unit of the price. [mass/d]
    days : float or array
        Days fed. [d]
    head : float or array
        Animals. [-]

    Returns
    -------
    float or array
        Cost. [$]

    Raises
    ------
    OutOfRange
        If a number is negative.

    Examples
    --------
    >>> season_feed_cost(0.08, 20.0, 100, 10)
    1600.0
    """
    for name, value in (
        ("price", dm_price_paid),
        ("dry matter", dm_per_head_day),
        ("days", days),
        ("head", head),
    ):
        require_not_negative(name, value, "")
    cost = np.multiply(dm_price_paid, dm_per_head_day) * np.multiply(days, head)
    return as_given(cost, dm_price_paid, dm_per_head_day, days, head)


def value_lost(price: Numeric, loss_pct: Numeric) -> Numeric:
    """Value of the hay that a loss takes out of each mass unit stored.

    Parameters
    ----------
    price : float or array
        Price of the hay. [$/mass]
    loss_pct : float or array
        Loss. [%]

    Returns
    -------
    float or array
        Value lost. [$/mass]

    Raises
    ------
    OutOfRange
        If the price is negative or the loss outside 0 to under 100 %.

    Examples
    --------
    >>> value_lost(80.0, 20.0)
    16.0
    """
    require_not_negative("price", price, "$")
    require_loss("loss", loss_pct)
    return as_given(np.multiply(price, loss_pct) / 100.0, price, loss_pct)


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

    Raises
    ------
    OutOfRange
        If a number is negative.

    Examples
    --------
    >>> basket_cost([2.0, 3.0], [10.0, 1.5])
    24.5
    """
    require_not_negative("amount", amounts, "")
    require_not_negative("price", prices, "$")
    return float(np.dot(np.asarray(amounts, dtype=np.float64), np.asarray(prices)))
