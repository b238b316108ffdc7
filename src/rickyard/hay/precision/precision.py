"""Precision of a test: what bales, cores and the laboratory each add to its error.

A composite's result is the lot's mean, plus the bales' own differences, the places of the cores,
the laboratory's bias and its repeat error. All standard deviations of a call are in one unit,
the unit of the result, and none is negative: `OutOfRange` says so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from rickyard.hay.common import equation, require_between, require_not_negative, require_positive
from rickyard.hay.precision.quantiles import require_confidence, t_quantile, two_sided_z
from rickyard.quantities import Numeric, OutOfRange

#: Most samples that the search for a sample size looks at; nobody takes more.
MOST_SAMPLES: Final = 100_000


@equation(
    observed_sd=(require_not_negative, "standard deviation"),
    repeat_sd=(require_not_negative, "repeat standard deviation"),
)
def core_sd(observed_sd: Numeric, repeat_sd: Numeric) -> Numeric:
    """Spread of cores from one lot with the laboratory's own error taken out.

    Held at 0 where repeats differ more than cores do.

    Parameters
    ----------
    observed_sd : float or array
        Standard deviation of single cores, each analysed on its own.
    repeat_sd : float or array
        Standard deviation of repeat determinations in one laboratory.

    Returns
    -------
    float or array
        Standard deviation from bale and core, in the unit of the result; zero when the
        laboratory explains it all.

    Examples
    --------
    >>> round(core_sd(0.8, 0.25), 3)
    0.76
    """
    left = np.maximum(0.0, np.square(observed_sd) - np.square(repeat_sd))
    return np.sqrt(left)


@equation(
    bale_sd=(require_not_negative, "bale standard deviation"),
    within_sd=(require_not_negative, "core standard deviation"),
    repeat_sd=(require_not_negative, "repeat standard deviation"),
    lab_bias_sd=(require_not_negative, "laboratory standard deviation"),
    bales=(require_between, "count", 1, math.inf),
    cores_a_bale=(require_between, "count", 1, math.inf),
    repeats=(require_between, "count", 1, math.inf),
)
def composite_variance(
    bale_sd: Numeric,
    within_sd: Numeric,
    repeat_sd: Numeric,
    bales: int,
    *,
    cores_a_bale: int = 1,
    repeats: int = 1,
    bales_in_lot: float | None = None,
    lab_bias_sd: Numeric = 0.0,
) -> Numeric:
    """Variance of the result of one composite sample.

    Coring every bale removes the differences between bales, not those within a bale nor the
    laboratory's. More repeats do not remove a laboratory's bias. Treating all of the core
    spread as differences between bales is slightly optimistic for lots under 40 bales.

    Source: derived from the model at the head of the file.

    Parameters
    ----------
    bale_sd, within_sd : float or array
        Standard deviation from bale to bale, and from core to core within a bale. With one core
        a bale only the two together are known: put `core_sd` in the first and 0 in the second.
    repeat_sd : float or array
        Standard deviation of repeat determinations in one laboratory.
    bales : int
        Bales cored. [-]
    cores_a_bale : int
        Cores from each. [-]
    repeats : int
        Determinations that are averaged. [-]
    bales_in_lot : float, optional
        Bales in the lot; left out when there are very many. [-]
    lab_bias_sd : float or array
        Standard deviation of laboratories' bias. Zero to compare lots within one laboratory;
        the published one to compare with the truth or with another laboratory.

    Returns
    -------
    float or array
        Variance, in the squared unit of the result.

    Examples
    --------
    >>> round(composite_variance(0.76, 0.0, 0.25, 20), 4)
    0.0914
    """
    finite = _unsampled_share(bales, bales_in_lot)
    return (
        np.square(bale_sd) / bales * finite
        + np.square(within_sd) / (bales * cores_a_bale)
        + np.square(repeat_sd) / repeats
        + np.square(lab_bias_sd)
    )


@equation()
def composite_se(
    observed_sd: Numeric,
    repeat_sd: Numeric,
    cores: int,
    *,
    repeats: int = 1,
    bales_in_lot: float | None = None,
    lab_bias_sd: Numeric = 0.0,
) -> Numeric:
    """Compute the standard error of a composite with one core a bale.

    Parameters
    ----------
    observed_sd : float or array
        Standard deviation of single cores, each analysed on its own.
    cores : int
        Bales cored, one core each. [-]
    repeat_sd, repeats, bales_in_lot, lab_bias_sd
        As in `composite_variance`.

    Returns
    -------
    float or array
        Standard error, in the unit of the result.

    Examples
    --------
    >>> round(composite_se(0.8, 0.25, 20), 3)
    0.302
    """
    variance = composite_variance(
        core_sd(observed_sd, repeat_sd),
        0.0,
        repeat_sd,
        cores,
        repeats=repeats,
        bales_in_lot=bales_in_lot,
        lab_bias_sd=lab_bias_sd,
    )
    return np.sqrt(variance)


def _unsampled_share(sampled: float, in_lot: float | None) -> float:
    if in_lot is None:
        return 1.0
    if sampled > in_lot:
        raise OutOfRange(f"{sampled:g} bales cannot be cored in a lot of {in_lot:g}.")
    return 1.0 - sampled / in_lot


def sampling_half_width(
    sd: float, samples: int, confidence: float, in_lot: float | None = None
) -> float:
    """Half the width of the interval for a mean, from sampling alone, in the unit of ``sd``.

    At least 2 samples; ``in_lot`` is what could be sampled, left out when there are very many.

    Examples
    --------
    >>> round(sampling_half_width(0.8, 13, 0.95), 2)
    0.48
    """
    require_not_negative("standard deviation", sd, "")
    require_confidence(confidence)
    require_between("samples", samples, 2, math.inf, "")
    t = t_quantile((1.0 + confidence) / 2.0, samples - 1)
    return t * sd / math.sqrt(samples) * math.sqrt(_unsampled_share(samples, in_lot))


def samples_required(
    sd: float, half_width: float, confidence: float, in_lot: int | None = None
) -> int:
    """Fewest samples whose mean is known within a given half width.

    Searches upward. Putting a number of samples into ``(t s / E)^2`` and the result in again
    jumps between two values and never settles.

    Source: derived: half-width by Student's t with the finite lot.

    Parameters
    ----------
    sd : float
        Standard deviation of single samples: cores of a lot, or weights of its bales.
    half_width : float
        Half width wanted, from sampling alone, in the unit of ``sd``. Above zero, and not so small
        that no one would take so many.
    confidence : float
        Confidence, 0.50 to 0.999. [fraction]
    in_lot : int, optional
        What could be sampled; every one of them is the most that is asked for. [-]

    Returns
    -------
    int
        Samples, at least 2 where there are two. [-]

    Examples
    --------
    >>> samples_required(0.8, 0.5, 0.95), samples_required(0.8, 0.5, 0.95, 50)
    (13, 11)
    """
    require_positive("half width", half_width, "")
    most = MOST_SAMPLES if in_lot is None else in_lot
    require_between("what could be sampled", most, 1, math.inf, "")
    # Student's t is wider than the normal distribution: fewer than this can never do.
    endless = (two_sided_z(confidence) * sd / half_width) ** 2
    least = endless if in_lot is None else endless / (1.0 + endless / in_lot)
    for samples in range(max(2, min(most, math.floor(least))), most):
        if sampling_half_width(sd, samples, confidence, in_lot) <= half_width:
            return samples
    if in_lot is None:
        raise OutOfRange(f"a half width of {half_width:g} would take more than {most:,} samples.")
    return in_lot


def samples_for_relative_error(
    values: Sequence[float], relative_error: float, confidence: float
) -> int:
    """Count the samples that a rule for enough samples asks for, after a pilot of two or more.

    Error [fraction of the mean] and one-sided confidence; with the pilot's degrees of freedom
    throughout and no correction for finite lots. Not to be mixed with `samples_required`. From
    Mississippi Admin. Code title 11 part 8 ch. 2, addendum 11-8-2-A-J.

    Examples
    --------
    >>> samples_for_relative_error([10.0, 12.0, 11.0, 9.0], 0.1, 0.9)
    5
    """
    if len(values) < 2:
        raise OutOfRange("a pilot sample needs two values or more.")
    require_confidence(confidence)
    mean = math.fsum(values) / len(values)
    require_positive("mean", mean, "")
    require_positive("error", relative_error, "")
    variance = math.fsum((value - mean) ** 2 for value in values) / (len(values) - 1)
    t = t_quantile(confidence, len(values) - 1)
    return math.ceil(t**2 * variance / (relative_error * mean) ** 2 - 1e-9)


@equation(
    first_variance=(require_not_negative, "variance"),
    second_variance=(require_not_negative, "variance"),
)
def critical_difference(
    first_variance: Numeric, second_variance: Numeric, z: float | None = None
) -> Numeric:
    """Least difference between two results that is worth acting upon.

    Two tests of one laboratory share its bias: leave the bias out of both variances.

    Parameters
    ----------
    first_variance, second_variance : float or array
        Variances of the two results, from `composite_variance`.
    z : float, optional
        Standard deviations; left out, those of 95 % confidence. [-]

    Returns
    -------
    float or array
        The difference, in the unit of the results.

    Examples
    --------
    >>> round(critical_difference(0.0914, 0.0914), 2)
    0.84
    """
    reach = two_sided_z(0.95) if z is None else z
    total = np.sqrt(np.add(first_variance, second_variance))
    return np.multiply(reach, total)
