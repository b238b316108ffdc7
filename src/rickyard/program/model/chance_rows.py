"""Rows that hold what a mix supplies with a stated chance above the need.

With independent errors a mix of amounts ``x`` supplies at least ``sum m_i x_i - z S`` with the
chance that belongs to ``z``, where ``S = sqrt(sum s_i^2 x_i^2)``. That is concave in ``x`` and
grows in proportion with it, so its tangent

    sum (m_i - z s_i^2 x_i / S) x_i >= R

cuts off no mix that would do. Tangents are laid where the last mix falls short, until none does.

Growing stock must have ``R/a + E/b <= 1`` with ``a`` and ``b`` the assured NEm and NEg. Both are
wrong together where the energy of a lot is, so counting both low at once is no excess of caution.
The left side falls in both, so the tangent of the curve in ``(a, b)`` with the tangents of ``a``
and ``b`` in it is again a row that every mix that would do keeps.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.program.model.nonlinear_rows import LEAST_RATIO, edge_slopes
from rickyard.program.model.rows import SHORT_ENERGY_NEG_PER_NEM, Model, take_or_zero
from rickyard.program.problem import MISSED_POINTS, Assurance, Problem, points_below
from rickyard.program.solver import SparseRows, numbered, placed
from rickyard.quantities import is_some
from rickyard.types import FloatArray, IntArray

#: The assured supply may miss the need by this share of it before a tangent is added: a tenth of
#: what the program counts as met.
ASSURED_TOLERANCE: Final = 1e-7

#: So many rounds are held to that. Mixes of many sources would go on for a hundred more, each
#: closing a gap that nobody could measure; from then on a chance may miss the promise by a tenth
#: of a point, and later, or where something is short anyway, by a little less than what counts as
#: kept. A program that has settled once is not held to the first measure again.
EXACT_ROUNDS: Final = 10
NEAR_ROUNDS: Final = 16
NEAR_POINTS: Final = 0.1
FAR_POINTS: Final = 0.4

#: Tangents are laid half way between the last mix and a running mean of the mixes before it, which
#: wander less, where that cuts off at least this share of what the tangent at the mix would.
NEW_IN_MEAN: Final = 0.4
LEAST_DEPTH: Final = 0.1

#: Needs whose supply is a plain sum, with the nutrient that is not known exactly.
LINEAR: Final = {"cp": "cp", "cp_floor": "cp", "nem": "nem", "tdn": "tdn"}

#: All needs that can be assured.
ASSURED: Final = (*LINEAR, "gain_energy")

#: A shortage smaller than this, in its unit per head and day, is solver dust.
SHORT_DUST: Final = 1e-6

#: A share of less dry matter than this is measured as a share of this, kg per head and day: where a
#: group can be fed nothing, the dust that is left breaks any share of itself.
LEAST_DIET_KG: Final = 1.0

#: Below this a spread or a supply is nothing, in units of the nutrient per head and day.
NOTHING: Final = 1e-12


@dataclass(frozen=True, slots=True)
class AssuredSupply:
    """A sum over the amounts of a cell that is known with an error only.

    ``mean`` and ``sd`` are per kilogram of each column; ``z`` is by cell.
    """

    cells: IntArray
    mean: FloatArray
    sd: FloatArray
    z: FloatArray

    def of(self, x: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return by cell what amounts supply with the stated chance, and their spread."""
        amounts = x[: len(self.mean)]
        size = len(self.z)
        mean = np.bincount(self.cells, self.mean * amounts, minlength=size)
        spread = np.sqrt(np.bincount(self.cells, (self.sd * amounts) ** 2, minlength=size))
        return np.asarray(mean - self.z * spread), np.asarray(spread)

    def slopes(self, x: FloatArray, spread: FloatArray) -> FloatArray:
        """Return by column how the assured supply changes with its amount, at a point."""
        amounts = x[: len(self.mean)]
        own = spread[self.cells]
        pull = np.zeros(len(self.mean))
        np.divide(self.sd**2 * amounts, own, out=pull, where=own > NOTHING)
        return np.asarray(self.mean - self.z[self.cells] * pull)


@dataclass(frozen=True, slots=True)
class Cut:
    """Tangents to lay: one row for each of ``cells``."""

    need: str
    cells: IntArray
    rows: SparseRows


@dataclass(frozen=True, slots=True)
class _Tangent:
    """Tangents at a point, by cell: what another point misses of them, and how they are made.

    ``scale`` is the size of the need, ``spread`` one standard deviation of what is supplied,
    ``slopes`` are by column, and ``helps`` says how far a shortage counts.
    """

    missing: FloatArray
    right: FloatArray
    scale: FloatArray
    spread: FloatArray
    slopes: FloatArray
    helps: FloatArray


class AssuredRows:
    """The assured needs of a model, and tangents to them."""

    def __init__(self, model: Model, assurance: Assurance) -> None:
        problem = model.problem
        periods = problem.shape[2]
        z = np.repeat(assurance.z, periods)
        cells, source = model.cells(), model.columns.source
        self._model, self._cells = model, cells
        self._sums = {
            need: AssuredSupply(
                cells, _mean(problem, need, cells, source), assurance.sd[what][source], z
            )
            for need, what in LINEAR.items()
        }
        self._neg = AssuredSupply(
            cells, problem.per_kg["neg"][source], assurance.sd["neg"][source], z
        )
        self._right = {need: np.nan_to_num(right) for need, right in _needs(problem).items()}
        self._active = {need: placed(model.columns.shortage[need]) & is_some(z) for need in ASSURED}
        self._z = z
        close, far = (points_below(assurance, points) for points in (NEAR_POINTS, FAR_POINTS))
        self._close, self._far = np.repeat(close, periods), np.repeat(far, periods)
        self._mean: FloatArray | None = None
        self._rounds = 0

    def again(self) -> None:
        """Count rounds anew, as when other hays are in use than before."""
        self._rounds, self._mean = 0, None

    def broken(self, x: FloatArray) -> tuple[Cut, ...]:
        """Return tangents where what is supplied with the stated chance falls short at ``x``."""
        at = x[: self._model.columns.count]
        if self._mean is None:
            self._mean = at.copy()
        near = at + self._mean  # half way: a tangent asks for the mix, not for how much of it
        self._mean += NEW_IN_MEAN * (at - self._mean)
        self._rounds += 1
        cuts = [self._broken(need, at, near) for need in ASSURED if self._active[need].any()]
        found = tuple(cut for cut in cuts if cut is not None)
        if not found:
            self._rounds = EXACT_ROUNDS
        return found

    def nem(self, x: FloatArray) -> FloatArray:
        """Return by cell the NEm that is eaten with the stated chance."""
        return self._sums["nem"].of(x)[0]

    def _broken(self, need: str, x: FloatArray, near: FloatArray) -> Cut | None:
        tangent = self._growth if need == "gain_energy" else self._sum
        at = tangent(need, x, x)
        tolerance = np.maximum(ASSURED_TOLERANCE * at.scale, self._points(need, x) * at.spread)
        cells = np.flatnonzero(self._active[need] & (at.missing > tolerance))
        if not len(cells):
            return None
        beside = tangent(need, near, x)
        deep = beside.missing > LEAST_DEPTH * at.missing
        slopes = np.where(deep[self._cells], beside.slopes, at.slopes)
        helps = np.where(deep, beside.helps, at.helps)[cells]
        return Cut(need, cells, self._rows(need, cells, slopes, helps, at.right[cells]))

    def _points(self, need: str, x: FloatArray) -> FloatArray:
        """Return by cell by how many standard deviations a promise may be missed by now."""
        if self._rounds <= EXACT_ROUNDS:
            return np.zeros(len(self._z))
        if self._rounds > NEAR_ROUNDS:
            return self._far
        short = take_or_zero(x, self._model.columns.shortage[need]) > SHORT_DUST
        return np.where(short, self._far, self._close)

    def _sum(self, need: str, at: FloatArray, x: FloatArray) -> _Tangent:
        supply = self._sums[need]
        _, spread = supply.of(at)
        slopes, right = supply.slopes(at, spread), self._right[need]
        slack = take_or_zero(x, self._model.columns.shortage[need])
        missing = right - self._total(slopes, x) - slack
        scale = np.maximum(right, self._floor(x) if need == "cp_floor" else NOTHING)
        return _Tangent(missing, right, scale, spread, slopes, np.ones(len(right)))

    def _growth(self, need: str, at: FloatArray, x: FloatArray) -> _Tangent:
        shortage = self._model.columns.shortage[need]
        (nem, on_nem), (neg, on_neg) = self._sums["nem"].of(at), self._neg.of(at)
        slack = take_or_zero(at, shortage)
        a, b = nem + slack, neg + SHORT_ENERGY_NEG_PER_NEM * slack
        ratio = np.full(len(a), LEAST_RATIO)
        np.divide(b, a, out=ratio, where=a > NOTHING)
        growing = np.flatnonzero(placed(shortage))
        at_a, at_b = np.zeros(len(a)), np.zeros(len(a))
        at_a[growing], at_b[growing] = edge_slopes(self._model, ratio[growing], growing)
        cells = self._cells
        slopes = at_a[cells] * self._sums["nem"].slopes(at, on_nem)
        slopes += at_b[cells] * self._neg.slopes(at, on_neg)
        helps = at_a + SHORT_ENERGY_NEG_PER_NEM * at_b
        ones = np.ones(len(a))
        missing = ones - self._total(slopes, x) - helps * take_or_zero(x, shortage)
        return _Tangent(missing, ones, ones, at_a * on_nem + at_b * on_neg, slopes, helps)

    def _total(self, slopes: FloatArray, x: FloatArray) -> FloatArray:
        amounts = slopes * x[: len(slopes)]
        cells = len(self._right["cp"])
        return np.asarray(np.bincount(self._cells, amounts, minlength=cells), dtype=np.float64)

    def _floor(self, x: FloatArray) -> FloatArray:
        """Return by cell the least protein of the dry matter eaten, by which it is measured."""
        share = np.nan_to_num(self._model.problem.needs.cp_floor_frac.ravel())
        return np.asarray(share * np.maximum(self._model.totals(x, "dm"), LEAST_DIET_KG))

    def _rows(
        self,
        need: str,
        cells: IntArray,
        slopes: FloatArray,
        shortage: FloatArray,
        lower: FloatArray,
    ) -> SparseRows:
        rows = numbered(cells, len(self._right["cp"]))[self._cells]
        wanted = np.flatnonzero(placed(rows))
        short = self._model.columns.shortage[need][cells]
        blocks = (rows[wanted], wanted, slopes[wanted]), (np.arange(len(cells)), short, shortage)
        return SparseRows.of(lower, np.inf, *blocks)


def assured_supplies(
    problem: Problem, eaten: FloatArray, need: dict[str, FloatArray]
) -> dict[str, FloatArray]:
    """Return by need what is supplied with the promised chance, in the unit of the need.

    Parameters
    ----------
    problem : Problem
        The season as plain arrays.
    eaten : array, shape (groups, sources, periods)
        Amounts eaten per head and day. [kg DM]
    need : dict of str to array, shape (groups, periods)
        The needs as they are shown.

    Returns
    -------
    dict of str to array, shape (groups, periods)
        NaN where a group counts on means; empty where all do. The energy of growing stock is the
        share of its need that is met, times the need.
    """
    if problem.assurance is None:
        return {}
    z = problem.assurance.z[:, None]
    low = {
        name: np.einsum("git,i->gt", eaten, problem.per_kg[name])
        - z * np.sqrt(np.einsum("git,i->gt", eaten**2, sd**2))
        for name, sd in problem.assurance.sd.items()
    }
    found = {name: low[what] for name, what in LINEAR.items()}
    needs = problem.needs
    a, b = (np.maximum(low[name], NOTHING) for name in ("nem", "neg"))
    found["gain_energy"] = need["gain_energy"] / (needs.least["nem"] / a + needs.retained_mcal / b)
    return {name: np.where(is_some(z), one, np.nan) for name, one in found.items()}


def leeways(problem: Problem) -> FloatArray:
    """Return by group which share of the way from the mean to the assured supply may be missed.

    That is what a promise may be missed by and still count as kept.

    Parameters
    ----------
    problem : Problem
        The season.

    Returns
    -------
    array, shape (groups,)
        By how much a promise may be missed and still count as kept. [share of the way]
    """
    assurance = problem.assurance
    if assurance is None:
        return np.zeros(problem.shape[0])
    z = assurance.z
    missed = points_below(assurance, MISSED_POINTS)
    return np.divide(missed, z, out=np.zeros(len(z)), where=is_some(z))


def _mean(problem: Problem, need: str, cells: IntArray, source: IntArray) -> FloatArray:
    mean = problem.per_kg[LINEAR[need]][source]
    if need == "cp_floor":
        return np.asarray(mean - np.nan_to_num(problem.needs.cp_floor_frac.ravel())[cells])
    return mean


def _needs(problem: Problem) -> dict[str, FloatArray]:
    needs = problem.needs
    return {
        "cp": needs.least["cp"].ravel(),
        "cp_floor": np.zeros(needs.head.size),
        "nem": needs.least["nem"].ravel(),
        "tdn": needs.least["tdn"].ravel(),
    }
