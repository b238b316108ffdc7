"""How far a number computed from a report may lie off, because its inputs do.

Two ways: by the slopes of the equation where they are simple, and by drawing the inputs many
times where they are not. They agree where both apply. Errors of different analytes are taken as
independent, and the equation itself as true: what two equations differ by is not in here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from statistics import NormalDist
from typing import Final

import numpy as np

from rickyard.forage.energy import (
    DDM_PER_ADF,
    FULL_BLOOM_ALFALFA,
    Derived,
    dry_matter_intake_pct_bw,
    relative_feed_value,
)
from rickyard.forage.uncertainty.uncertainty import Measured
from rickyard.quantities import Numeric, OutOfRange, as_given
from rickyard.types import FloatArray

#: Draws of each input, judgement; strata make 4,096 as good as many times that number at
#: random.
DRAWS: Final = 4096
#: Of a value, the step over which a slope is taken; judgement: the equations are smooth over it.
_STEP_FRAC: Final = 1e-4
SEED: Final = 20_260_601  # any number: the same report reads the same on every day
#: Nine results of ten lie between these.
INTERVAL_ENDS_FRAC: Final = (0.05, 0.95)


def first_order_sd(slopes: Sequence[Numeric], sds: Sequence[Numeric]) -> Numeric:
    """Add the errors of independent inputs, each by the slope of the equation in it.

    First order of the Taylor series; exact for a sum of inputs.

    Parameters
    ----------
    slopes : sequence of float or array
        Change of the result for one unit of each input. [result/input]
    sds : sequence of float or array
        Standard deviation of each input. [input]

    Returns
    -------
    float or array
        Standard deviation of the result. [result]

    Examples
    --------
    >>> first_order_sd((3.0, 4.0), (1.0, 1.0))
    5.0
    """
    parts = [np.square(np.multiply(slope, sd)) for slope, sd in zip(slopes, sds, strict=True)]
    return as_given(np.sqrt(sum(parts)), *slopes, *sds)


def rfv_sd_independent(
    adf_pct: Numeric, ndf_pct: Numeric, adf_sd: Numeric, ndf_sd: Numeric
) -> Numeric:
    """Return the error of relative feed value from that of its two fibers.

    Slopes ``-0.779 DMI / 1.29`` and ``-RFV / NDF``.

    Parameters
    ----------
    adf_pct, ndf_pct : float or array
        Acid and neutral detergent fiber. [% DM]
    adf_sd, ndf_sd : float or array
        Their standard deviations, errors independent. [% DM]

    Returns
    -------
    float or array
        Standard deviation of relative feed value. [-]

    Examples
    --------
    >>> round(rfv_sd_independent(30.0, 40.0, 1.0, 1.4), 2)
    5.63
    """
    per_adf = -DDM_PER_ADF * np.asarray(dry_matter_intake_pct_bw(ndf_pct)) / FULL_BLOOM_ALFALFA
    per_ndf = -np.asarray(relative_feed_value(adf_pct, ndf_pct)) / ndf_pct
    return first_order_sd((per_adf, per_ndf), (adf_sd, ndf_sd))


def by_slopes(derived: Derived, values: Mapping[str, Measured]) -> Measured:
    """Compute a smooth number and its error by the slopes of its equation.

    The slopes are central differences over a ten-thousandth of each input; the interval is even on
    both sides. An equation that is not smooth raises ``OutOfRange``.

    >>> from rickyard.forage.energy.derived import DERIVED
    >>> fiber = {"adf": Measured.normal(30.0, 1.0, "%", ""),
    ...          "ndf": Measured.normal(40.0, 1.4, "%", "")}
    >>> round(by_slopes(DERIVED["rfv"], fiber).sd, 2)
    5.63
    """
    if not derived.smooth:
        raise OutOfRange(f"The error of {derived.words} is found by drawing, not by slopes.")
    inputs = [values[name] for name in derived.inputs]
    center = [one.value for one in inputs]
    slopes = [_slope(derived, center, place) for place in range(len(center))]
    sd = float(first_order_sd(slopes, [one.sd for one in inputs]))
    value = float(derived.equation(*center))
    return Measured.normal(value, sd, derived.unit, _reason(inputs, "slopes of the equation"))


def by_draws(derived: Derived, values: Mapping[str, Measured], draws: int = DRAWS) -> Measured:
    """Compute a number and its error by drawing its inputs, once from each equally likely stratum.

    Latin hypercube of normal errors with a fixed seed, so that one report always reads the same.
    Draws that a forage cannot have (fiber below 0) and results that are not computable are left
    out; the interval holds nine draws of ten.

    >>> from rickyard.forage.energy.derived import DERIVED
    >>> protein = {"cp": Measured.normal(18.0, 0.5, "%", ""),
    ...            "adicp": Measured.normal(2.4, 0.3, "%", "")}
    >>> damaged = by_draws(DERIVED["adjusted_cp"], protein)
    >>> round(damaged.value, 1), damaged.high - damaged.value < damaged.value - damaged.low
    (18.0, True)
    """
    inputs = [values[name] for name in derived.inputs]
    results = np.asarray(derived.equation(*drawn(inputs, draws)), dtype=np.float64)
    results = results[np.isfinite(results)]
    value = float(derived.equation(*(one.value for one in inputs)))
    if not results.size:
        raise OutOfRange(f"{derived.words} cannot be computed from these values.")
    low, high = (float(one) for one in np.quantile(results, INTERVAL_ENDS_FRAC))
    sd = float(results.std())
    return Measured(value, sd, low, high, derived.unit, _reason(inputs, f"{draws:,} draws"))


def measured_derived(derived: Derived, values: Mapping[str, Measured]) -> Measured:
    """Compute a number and its error, by slopes where it is smooth, else by drawing.

    Parameters
    ----------
    derived : Derived
        The number and how it is computed.
    values : mapping of str to Measured
        The values it is computed from, with their errors.

    Returns
    -------
    Measured
        The number with its error, in the unit of ``derived``.

    Examples
    --------
    >>> from rickyard.forage.energy.derived import DERIVED
    >>> tdn = {"tdn": Measured.normal(55.0, 1.0, "%", "")}
    >>> round(measured_derived(DERIVED["nem_mcal_per_kg"], tdn).sd, 3)
    0.034
    """
    return by_slopes(derived, values) if derived.smooth else by_draws(derived, values)


def _slope(derived: Derived, center: Sequence[float], place: int) -> float:
    step = _STEP_FRAC * (abs(center[place]) or 1.0)
    below, above = (
        float(derived.equation(*center[:place], center[place] + side, *center[place + 1 :]))
        for side in (-step, step)
    )
    return (above - below) / (2.0 * step)


def drawn(inputs: Sequence[Measured], draws: int = DRAWS) -> list[FloatArray]:
    """Draw inputs jointly, each stratum of each once; draws below 0 are set aside together.

    >>> cp, ndf = drawn([Measured.normal(12.0, 1.0, "", ""), Measured.normal(60.0, 2.0, "", "")])
    >>> round(float(cp.mean()), 6), round(float(ndf.std()), 2)
    (12.0, 2.0)
    """
    rng = np.random.default_rng(SEED)
    normal = _normal_strata(draws)
    columns = [one.value + one.sd * rng.permutation(normal) for one in inputs]
    possible = np.all([column > 0.0 for column in columns], axis=0)
    return [column[possible] for column in columns]


@cache
def _normal_strata(draws: int) -> FloatArray:
    standard = NormalDist()
    return np.array([standard.inv_cdf((i + 0.5) / draws) for i in range(draws)])


def _reason(inputs: Sequence[Measured], way: str) -> str:
    reasons = dict.fromkeys(one.reason for one in inputs if one.reason)
    return "; ".join((*reasons, way))
