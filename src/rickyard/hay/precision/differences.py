"""Two tests of hay: which difference is worth acting upon, and what the two say together."""

from __future__ import annotations

import numpy as np

from rickyard.hay.common import require_not_negative
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
