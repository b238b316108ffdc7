"""Rations by hand: the square, the two equations, a deficit and what fills it.

For checking a program with a pencil and for a quick answer at a fence. Masses are in any one
mass unit and every percentage in a call is on one basis, dry matter or as fed. None of these
knows a limit: test intake, starch, fat, sulfur and nitrogen afterwards.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rickyard.hay.common import require_between, require_not_negative, require_positive
from rickyard.quantities import Numeric, OutOfRange, as_given


@dataclass(frozen=True, slots=True)
class Mix:
    """Two feeds in a mix: parts, and percent of the whole."""

    parts_a: float
    parts_b: float

    @property
    def pct_a(self) -> float:
        """Return the first feed in percent of the mix."""
        return 100.0 * self.parts_a / (self.parts_a + self.parts_b)

    @property
    def pct_b(self) -> float:
        """Return the second feed in percent of the mix."""
        return 100.0 - self.pct_a


def pearson_square(target_pct: float, a_pct: float, b_pct: float) -> Mix:
    """Mix two feeds to hit one nutrient exactly.

    Parameters
    ----------
    target_pct : float
        Wanted in the mix, strictly between the two feeds. [%]
    a_pct, b_pct : float
        The nutrient in each feed, on the basis of the target. [%]

    Returns
    -------
    Mix
        Parts of each feed.

    Raises
    ------
    OutOfRange
        If the target does not lie between the two feeds: no mix can reach it.

    Notes
    -----
    For three feeds fix the ratio of two of them and take those two as one.

    References
    ----------
    .. [1] Van Emon (Montana State Univ. Extension), Feed & Additive Magazine 26:39, 2023.

    Examples
    --------
    >>> mix = pearson_square(16.0, 10.0, 32.0)
    >>> mix.parts_a, mix.parts_b, round(mix.pct_a, 1)
    (16.0, 6.0, 72.7)
    """
    for name, value in (("target", target_pct), ("feed a", a_pct), ("feed b", b_pct)):
        require_not_negative(name, value, "%")
    if not min(a_pct, b_pct) < target_pct < max(a_pct, b_pct):
        raise OutOfRange(
            f"{target_pct:g}% does not lie between {a_pct:g} and {b_pct:g}%: "
            "no mix of the two feeds reaches it."
        )
    return Mix(parts_a=abs(target_pct - b_pct), parts_b=abs(target_pct - a_pct))


def two_feeds_two_nutrients(
    a: tuple[float, float], b: tuple[float, float], need: tuple[float, float]
) -> tuple[float, float]:
    """Find amounts of two feeds that supply two nutrients exactly.

    Parameters
    ----------
    a, b : tuple of float
        Fraction of each nutrient in each feed. [-]
    need : tuple of float
        Nutrients needed, in any one mass unit. [mass]

    Returns
    -------
    tuple of float
        Amount of each feed. [mass]

    Raises
    ------
    OutOfRange
        If the feeds have the two nutrients in one proportion, or the answer is negative.

    References
    ----------
    .. [1] Two linear equations; university lecture slides on diet balancing.

    Examples
    --------
    >>> a, b = two_feeds_two_nutrients((0.10, 0.80), (0.35, 0.50), (0.8, 4.0))
    >>> round(a, 3), round(b, 3)
    (4.348, 1.043)
    """
    for value in (*a, *b):
        require_between("nutrient fraction", value, 0.0, 1.0, "")
    for value in need:
        require_not_negative("need", value, "")
    matrix = np.array([a, b], dtype=np.float64).T
    if abs(float(np.linalg.det(matrix))) < 1e-12 * float(np.square(matrix).sum()):
        raise OutOfRange("the two feeds have the two nutrients in one proportion.")
    first, second = np.linalg.solve(matrix, np.array(need, dtype=np.float64))
    if first < 0.0 or second < 0.0:
        raise OutOfRange("no amounts of these two feeds meet both needs exactly.")
    return float(first), float(second)


def amount_of_first_feed(
    total: Numeric, required: Numeric, a_pct: Numeric, b_pct: Numeric
) -> Numeric:
    """Find how much of the first of two feeds makes a fixed total supply one nutrient.

    Parameters
    ----------
    total : float or array
        Feed eaten in all, in any one mass unit. [mass]
    required : float or array
        Nutrient needed. [mass]
    a_pct, b_pct : float or array
        The nutrient in each feed. [%]

    Returns
    -------
    float or array
        Amount of the first feed; the rest of the total is the second. [mass]

    Raises
    ------
    OutOfRange
        If the two feeds are alike, or no share between none and all of it is enough.

    References
    ----------
    .. [1] Mississippi State Univ., rations course notes.

    Examples
    --------
    >>> round(amount_of_first_feed(19.4, 13.74, 78.0, 51.0), 2)
    14.24
    """
    require_positive("feed", total, "")
    require_not_negative("nutrient needed", required, "")
    if np.any(np.equal(a_pct, b_pct)):
        raise OutOfRange("the two feeds are alike in this nutrient.")
    missing = required - np.multiply(total, b_pct) / 100.0
    amount = 100.0 * missing / np.subtract(a_pct, b_pct)
    require_between("share of the first feed", np.divide(amount, total), 0.0, 1.0, "(fraction)")
    return as_given(amount, total, required, a_pct, b_pct)


def swap_pct(deficit_pct: Numeric, old_pct: Numeric, new_pct: Numeric) -> Numeric:
    """Find how much of the diet to swap for a richer feed to close a deficit.

    Parameters
    ----------
    deficit_pct : float or array
        Nutrient missing. [% of diet]
    old_pct, new_pct : float or array
        The nutrient in the feed taken out and in the one put in. [%]

    Returns
    -------
    float or array
        Share of the diet to swap. [%]

    Raises
    ------
    OutOfRange
        If the new feed is not richer or more than the whole diet would be swapped.

    References
    ----------
    .. [1] NRC horse bulletin, p. 37, diet calculation.

    Examples
    --------
    >>> round(swap_pct(4.4, 13.0, 51.5), 1)
    11.4
    """
    require_not_negative("deficit", deficit_pct, "%")
    richer = np.subtract(new_pct, old_pct)
    if np.any(np.less_equal(richer, 0.0)):
        raise OutOfRange("the new feed is not richer in this nutrient than the old one.")
    share = 100.0 * np.divide(deficit_pct, richer)
    require_between("share to swap", share, 0.0, 100.0, "%")
    return as_given(share, deficit_pct, old_pct, new_pct)


def supplied(feed: Numeric, nutrient_pct: Numeric) -> Numeric:
    """Find the nutrient that an amount of feed supplies.

    Parameters
    ----------
    feed : float or array
        Feed, in any one mass unit. [mass]
    nutrient_pct : float or array
        The nutrient, on the basis of the feed. [%]

    Returns
    -------
    float or array
        Nutrient. [mass]

    Raises
    ------
    OutOfRange
        If the feed is negative or the percentage outside 0 to 100.

    Examples
    --------
    >>> round(supplied(4.2, 12.0), 3)
    0.504
    """
    require_not_negative("feed", feed, "")
    require_between("nutrient", nutrient_pct, 0.0, 100.0, "%")
    return as_given(np.multiply(feed, nutrient_pct) / 100.0, feed, nutrient_pct)


def deficit(required: Numeric, supply: Numeric) -> Numeric:
    """Find what is missing of a nutrient.

    Parameters
    ----------
    required, supply : float or array
        Nutrient needed and supplied, in any one mass unit. [mass]

    Returns
    -------
    float or array
        What is missing; zero when enough is supplied. [mass]

    Raises
    ------
    OutOfRange
        If an input is negative.

    Examples
    --------
    >>> round(deficit(12.0, supplied(10.0, 48.0)), 1)
    7.2
    """
    require_not_negative("need", required, "")
    require_not_negative("supply", supply, "")
    return as_given(np.maximum(0.0, np.subtract(required, supply)), required, supply)


def feed_for(amount: Numeric, nutrient_pct: Numeric) -> Numeric:
    """Find the feed that holds an amount of a nutrient, a need or a deficit.

    Parameters
    ----------
    amount : float or array
        Nutrient, in any one mass unit. [mass]
    nutrient_pct : float or array
        The nutrient in the feed. [%]

    Returns
    -------
    float or array
        Feed. [mass]

    Raises
    ------
    OutOfRange
        If the amount is negative or the feed has none of the nutrient.

    Notes
    -----
    Test the answer against intake and starch limits: 28 lb of corn "fills" 2.1 lb of missing
    protein and no cow may eat it.

    References
    ----------
    .. [1] Alabama Farmers Cooperative, Feeding Facts (2008); Penn State sheep lesson.

    Examples
    --------
    >>> round(feed_for(2.1, 7.5), 6)
    28.0
    """
    require_not_negative("nutrient", amount, "")
    require_positive("nutrient in the feed", nutrient_pct, "%")
    return as_given(100.0 * np.divide(amount, nutrient_pct), amount, nutrient_pct)


def season_supplement(
    required: Numeric,
    hay_per_day: Numeric,
    days: Numeric,
    hay_pct: Numeric,
    supplement_pct: Numeric,
) -> Numeric:
    """Find the supplement one head needs over a season on top of its hay.

    Parameters
    ----------
    required : float or array
        Nutrient needed in the season, in any one mass unit. [mass]
    hay_per_day : float or array
        Hay eaten in a day. [mass/d]
    days : float or array
        Days. [d]
    hay_pct, supplement_pct : float or array
        The nutrient in hay and supplement. [%]

    Returns
    -------
    float or array
        Supplement; zero when the hay is enough. [mass]

    Raises
    ------
    OutOfRange
        If a number is negative or the supplement has none of the nutrient.

    Notes
    -----
    Holds hay intake where it is; a starchy supplement lowers it.

    References
    ----------
    .. [1] Univ. Illinois Extension (2016), Budgeting feed needs for winter; its season need
       and supplement values are inferred from its own tables.

    Examples
    --------
    >>> round(season_supplement(2884.9, 28.0, 150, 54.0, 88.0))
    701
    """
    require_not_negative("days", days, "d")
    hay = np.multiply(supplied(hay_per_day, hay_pct), days)
    amount = feed_for(deficit(required, hay), supplement_pct)
    return as_given(amount, required, hay_per_day, days, hay_pct, supplement_pct)
