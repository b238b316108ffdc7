"""Rations that meet a need with a stated chance, though feeds are not known exactly."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from rickyard.program.solver.highs import FEASIBILITY
from rickyard.program.solver.points import SolveError
from rickyard.program.solver.small_solve import LinearOptimum, solve_linear_program
from rickyard.quantities import OutOfRange
from rickyard.types import FloatArray

#: The need may be missed by this share of it when the cuts end. The solver lets a row miss by
#: less, so that no further cut would change the mix.
TOLERANCE: Final = 10.0 * FEASIBILITY
#: Three to ten cuts are usual; far more means that the numbers are out of scale.
MOST_CUTS: Final = 100


@dataclass(frozen=True, slots=True)
class ChanceNeed:
    """A need that a mix must meet with a chance.

    ``mean`` and ``sd`` are what one unit of each feed brings; the feeds' errors are independent.
    ``z`` is how many standard deviations the mean of the mix must lie above the need: 0 for half
    the chance, 1.282 for 90 %, 1.645 for 95 %.
    """

    mean: ArrayLike
    sd: ArrayLike
    need: float
    z: float

    def assured(self, x: FloatArray) -> float:
        """Return what a mix brings with the stated chance."""
        return float(np.dot(self.mean, x) - self.z * np.linalg.norm(np.multiply(self.sd, x)))


def cheapest_assured_mix(
    cost: ArrayLike,
    need: ChanceNeed,
    a_ub: ArrayLike | None = None,
    b_ub: ArrayLike | None = None,
    a_eq: ArrayLike | None = None,
    b_eq: ArrayLike | None = None,
) -> LinearOptimum:
    """Find the cheapest mix that meets a need with a chance, exactly, by cutting planes.

    The mix is first found with means. While it falls short, the tangent of what it brings with
    the stated chance is added as a row: that is concave, so a tangent cuts off no mix that would
    do. Errors shared by feeds, such as one laboratory's bias, are not covered.

    Raises ``OutOfRange`` if ``z`` is negative: a chance under one half is not an assurance. Raises
    ``SolveError`` if no mix can meet the need, or the cuts do not end.

    Parameters
    ----------
    cost : array, shape (n,)
        Cost of one unit of each feed. [$]
    need : ChanceNeed
        The need.
    a_ub, a_eq : array, shape (m, n), optional
        Other rows, ``a_ub @ x <= b_ub`` and ``a_eq @ x == b_eq``.
    b_ub, b_eq : array, shape (m,), optional
        Right-hand sides.

    Returns
    -------
    LinearOptimum
        Cost, mix and the prices of the ``a_ub`` rows alone.

    References
    ----------
    .. [1] van de Panne & Popp (1963); Bracken & McCormick (1968).

    Examples
    --------
    >>> best = cheapest_assured_mix(
    ...     [24.55, 26.75, 39.0, 40.5],
    ...     ChanceNeed([12, 11.9, 41.8, 52.1], np.sqrt([0.28, 0.19, 20.5, 0.62]), 21.0, 1.645),
    ...     [[-2.3, -5.6, -11.1, -1.3]], [-5.0], [[1, 1, 1, 1]], [1.0],
    ... )
    >>> round(best.objective, 4)
    29.8944
    """
    if need.z < 0.0:
        raise OutOfRange(f"{need.z:g} standard deviations give less than an even chance.")
    mean, variance = np.asarray(need.mean, dtype=np.float64), np.square(need.sd)
    others = np.zeros((0, len(mean))) if a_ub is None else np.asarray(a_ub, dtype=np.float64)
    limits = np.zeros(0) if b_ub is None else np.asarray(b_ub, dtype=np.float64)
    cuts = [mean]
    for _ in range(MOST_CUTS):
        rows = np.vstack([others, -np.array(cuts)])
        right = np.concatenate([limits, np.full(len(cuts), -need.need)])
        best = solve_linear_program(cost, rows, right, a_eq, b_eq)
        if need.assured(best.x) >= need.need - TOLERANCE * max(1.0, abs(need.need)):
            return LinearOptimum(best.objective, best.x, best.dual_ub[: len(limits)])
        spread = float(np.sqrt(variance @ np.square(best.x)))
        cuts.append(mean - need.z * variance * best.x / spread)
    raise SolveError(
        f"The mix did not settle after {MOST_CUTS} cuts. State the amounts in units in which "
        "they lie between a hundredth and a hundred."
    )


def cheapest_mix_with_margin(
    cost: ArrayLike,
    need: ChanceNeed,
    a_ub: ArrayLike | None = None,
    b_ub: ArrayLike | None = None,
    a_eq: ArrayLike | None = None,
    b_eq: ArrayLike | None = None,
) -> LinearOptimum:
    """Find the cheapest mix when each feed counts ``z`` standard deviations under its mean.

    Linear and on the safe side: errors of several feeds partly cancel, and this takes them as if
    they never did. Half a standard deviation is the classic rule.

    Raises ``OutOfRange`` if ``z`` is negative. Raises ``SolveError`` if no mix can meet the need.

    Parameters
    ----------
    cost, need, a_ub, b_ub, a_eq, b_eq
        As `cheapest_assured_mix`.

    Returns
    -------
    LinearOptimum
        Cost, mix and the prices of the ``a_ub`` rows alone.

    References
    ----------
    .. [1] Nott & Combs (1967), as described by Roush et al. (2007).

    Examples
    --------
    >>> need = ChanceNeed([10.0, 40.0], [1.0, 2.0], 20.0, 0.5)
    >>> round(cheapest_mix_with_margin([1.0, 4.0], need, a_eq=[[1, 1]], b_eq=[1.0]).objective, 3)
    2.068
    """
    if need.z < 0.0:
        raise OutOfRange(f"{need.z:g} standard deviations would count feeds above their mean.")
    safe = np.asarray(need.mean, dtype=np.float64) - np.multiply(need.z, need.sd)
    others = np.zeros((0, len(safe))) if a_ub is None else np.asarray(a_ub, dtype=np.float64)
    limits = np.zeros(0) if b_ub is None else np.asarray(b_ub, dtype=np.float64)
    best = solve_linear_program(
        cost, np.vstack([others, -safe]), np.append(limits, -need.need), a_eq, b_eq
    )
    return LinearOptimum(best.objective, best.x, best.dual_ub[: len(limits)])
