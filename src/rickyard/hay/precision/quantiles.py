"""Quantiles of the normal and of Student's t distribution.

A probability or confidence outside its range and no degree of freedom raise `OutOfRange`.
"""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist
from typing import Final

from rickyard.hay.common import require_between
from rickyard.quantities import OutOfRange

#: Confidence that may be asked for: outside it an interval says nothing or nearly everything.
CONFIDENCE: Final = (0.50, 0.999)

_BISECTIONS: Final = 80  # halves any span of doubles below their rounding
_WIDEST: Final = 1e6  # no t asked for here lies beyond: 0.9995 with one degree of freedom is 637


def require_confidence(confidence: float) -> None:
    """Refuse a confidence that is a percentage, or that no sample could give.

    Examples
    --------
    >>> require_confidence(0.95)
    >>> require_confidence(95.0)
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: confidence 95 must be over 0.5, under 0.999; write 95% as 0.95.
    """
    if not CONFIDENCE[0] < confidence < CONFIDENCE[1]:
        raise OutOfRange(
            f"confidence {confidence:g} must be over {CONFIDENCE[0]:g}, "
            f"under {CONFIDENCE[1]:g}; write 95% as 0.95."
        )


def normal_quantile(probability: float) -> float:
    """Value that a standard normal variable stays under with a given probability.

    Parameters
    ----------
    probability : float
        Between 0 and 1, both left out. [fraction]

    Returns
    -------
    float
        The quantile. [standard deviations]

    Examples
    --------
    >>> round(normal_quantile(0.975), 3)
    1.96
    """
    if not 0.0 < probability < 1.0:
        raise OutOfRange(f"probability {probability:g} must lie between 0 and 1.")
    return NormalDist().inv_cdf(probability)


def two_sided_z(confidence: float) -> float:
    """Return how many standard deviations on either side hold a share of a normal distribution.

    Parameters
    ----------
    confidence : float
        The share, 0.50 to 0.999. [fraction]

    Returns
    -------
    float
        Half the width. [standard deviations]

    Examples
    --------
    >>> round(two_sided_z(0.90), 3)
    1.645
    """
    require_confidence(confidence)
    return normal_quantile((1.0 + confidence) / 2.0)


def t_probability(t: float, df: int) -> float:
    """Probability that Student's t stays under a value, at 1 degree of freedom or more.

    Abramowitz & Stegun (1964), Mathematical Functions, 26.7.3 and 26.7.4: exact finite sums for
    whole degrees of freedom (from memory).

    Examples
    --------
    >>> round(t_probability(1.383, 9), 3)
    0.9
    """
    require_between("degrees of freedom", df, 1, math.inf, "")
    angle = math.atan2(t, math.sqrt(df))
    cosine = math.cos(angle)
    first = 1 if df % 2 else 0
    total, term = 0.0, cosine if first else 1.0
    for power in range(first, df - 1, 2):
        total += term
        term *= cosine * cosine * (power + 1) / (power + 2)
    inside = math.sin(angle) * total
    if first:
        inside = (angle + inside) * 2.0 / math.pi
    return (1.0 + inside) / 2.0


@lru_cache(maxsize=4096)
def t_quantile(probability: float, df: int) -> float:
    """Value that Student's t stays under with a given probability between 0 and 1.

    Examples
    --------
    >>> round(t_quantile(0.975, 1), 1), round(t_quantile(0.90, 9), 3)
    (12.7, 1.383)
    """
    if not 0.0 < probability < 1.0:
        raise OutOfRange(f"probability {probability:g} must lie between 0 and 1.")
    low, high = -_WIDEST, _WIDEST
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2.0
        if t_probability(middle, df) < probability:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
