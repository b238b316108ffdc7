"""Two tests of hay: which difference is worth acting upon, and what the two say together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rickyard.hay.common import require_not_negative, require_positive
from rickyard.hay.precision.quantiles import two_sided_z
from rickyard.quantities import Numeric, as_given


def critical_difference(
    first_variance: Numeric, second_variance: Numeric, z: float | None = None
) -> Numeric:
    """Least difference between two results that is worth acting upon.

    Parameters
    ----------
    first_variance, second_variance : float or array
        Variances of the two results, from `rickyard.hay.precision.precision.composite_variance`.
    z : float, optional
        Standard deviations; left out, those of 95 % confidence. [-]

    Returns
    -------
    float or array
        The difference, in the unit of the results.

    Raises
    ------
    OutOfRange
        If a variance is negative.

    Notes
    -----
    Two tests of one laboratory share its bias: leave the bias out of both variances.

    Examples
    --------
    >>> round(critical_difference(0.0914, 0.0914), 2)
    0.84
    """
    require_not_negative("variance", first_variance, "")
    require_not_negative("variance", second_variance, "")
    reach = two_sided_z(0.95) if z is None else z
    total = np.sqrt(np.add(first_variance, second_variance))
    return as_given(np.multiply(reach, total), first_variance, second_variance)


@dataclass(frozen=True, slots=True)
class Combined:
    """Two tests of one lot as one: value, variance, and whether the old one still counts."""

    value: float
    variance: float
    uses_both: bool


def combine_tests(old: tuple[float, float], new: tuple[float, float]) -> Combined:
    """Combine an old and a new test of one lot.

    Parameters
    ----------
    old, new : tuple of float
        Value and variance of each, the variance above zero.

    Returns
    -------
    Combined
        The mean weighted by inverse variance; the new test alone when the two differ by more
        than the critical difference, for then the hay has changed or a bag was mixed up.

    Raises
    ------
    OutOfRange
        If a variance is not above zero.

    Examples
    --------
    >>> both = combine_tests((10.2, 0.0914), (10.8, 0.0914))
    >>> round(both.value, 1), round(both.variance, 4), both.uses_both
    (10.5, 0.0457, True)
    """
    (first, first_variance), (second, second_variance) = old, new
    require_positive("variance", first_variance, "")
    require_positive("variance", second_variance, "")
    if abs(first - second) > critical_difference(first_variance, second_variance):
        return Combined(second, second_variance, uses_both=False)
    weight = 1.0 / first_variance + 1.0 / second_variance
    value = (first / first_variance + second / second_variance) / weight
    return Combined(value, 1.0 / weight, uses_both=True)
