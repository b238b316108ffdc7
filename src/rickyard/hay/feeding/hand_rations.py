"""Rations by hand: the square, the two equations, a deficit and what fills it.

For checking a program with a pencil and for a quick answer at a fence. Masses are in any one
mass unit and every percentage in a call is on one basis, dry matter or as fed. None of these
knows a limit: test intake, starch, fat, sulfur and nitrogen afterwards.

An amount that is negative raises `OutOfRange`, and so does what no mix of the feeds can reach.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rickyard.hay.common import (
    equation,
    require_between,
    require_dm,
    require_not_negative,
    require_positive,
)
from rickyard.quantities import Numeric, OutOfRange


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
    """Mix two feeds to hit one nutrient [%] exactly, strictly between them and on their basis.

    For three feeds fix the ratio of two of them and take those two as one. From Van Emon (Montana
    State Univ. Extension), Feed & Additive Magazine 26:39, 2023.

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
    """Find amounts of two feeds [mass] that supply two nutrients exactly.

    ``a`` and ``b`` are the fraction [-] of each nutrient in each feed, the need is in the unit of
    mass of the answer. Two linear equations; university lecture slides on diet balancing.

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
    if np.linalg.matrix_rank(matrix, rtol=1e-9) < len(need):
        raise OutOfRange("the two feeds have the two nutrients in one proportion.")
    first, second = np.linalg.solve(matrix, np.array(need, dtype=np.float64))
    if first < 0.0 or second < 0.0:
        raise OutOfRange("no amounts of these two feeds meet both needs exactly.")
    return float(first), float(second)


@equation(
    amount=(require_not_negative, "feed"),
    nutrient_pct=(require_between, "nutrient", 0.0, 100.0, "%"),
    dm_pct=(require_dm,),
)
def supplied(amount: Numeric, nutrient_pct: Numeric, dm_pct: Numeric | None = None) -> Numeric:
    """Find the nutrient that an amount of feed supplies.

    Parameters
    ----------
    amount : float or array
        Feed, in any one mass unit. [mass]
    nutrient_pct : float or array
        The nutrient, on the basis of the feed; of dry matter where that is given. [%]
    dm_pct : float or array, optional
        Dry matter of the feed as fed. [%]

    Returns
    -------
    float or array
        Nutrient, in the same unit. [mass]

    Examples
    --------
    >>> round(supplied(4.2, 12.0), 3), supplied(2000.0, 75.0, 90.0)
    (0.504, 1350.0)
    """
    nutrient = np.multiply(amount, nutrient_pct) / 100.0
    return nutrient if dm_pct is None else nutrient * np.divide(dm_pct, 100.0)


@equation(required=(require_not_negative, "need"), supply=(require_not_negative, "supply"))
def deficit(required: Numeric, supply: Numeric) -> Numeric:
    """Find what is missing of a nutrient, in any one mass unit; zero when enough is supplied.

    Examples
    --------
    >>> round(deficit(12.0, supplied(10.0, 48.0)), 1)
    7.2
    """
    return np.maximum(0.0, np.subtract(required, supply))


@equation(
    amount=(require_not_negative, "nutrient"),
    nutrient_pct=(require_positive, "nutrient in the feed", "%"),
)
def feed_for(amount: Numeric, nutrient_pct: Numeric) -> Numeric:
    """Find the feed [mass] that holds an amount of a nutrient, a need or a deficit.

    Test the answer against intake and starch limits: 28 lb of corn "fills" 2.1 lb of missing
    protein and no cow may eat it. From Alabama Farmers Cooperative, Feeding Facts (2008); Penn
    State sheep lesson.

    Examples
    --------
    >>> round(feed_for(2.1, 7.5), 6)
    28.0
    """
    return 100.0 * np.divide(amount, nutrient_pct)
