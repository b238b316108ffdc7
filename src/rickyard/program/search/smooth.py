"""A program a helper can follow: steady amounts in long runs, for a price.

The least-cost program of a season has many near equals that change a little every week. Within
a budget above the least cost, changes from one period to the next and amounts not worth opening
a lot for are made dear, again and again by what is left of them, until most are gone
(iteratively reweighted, as in Candes, Wakin & Boyd 2008, J. Fourier Anal. Appl. 14:877).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.program.model import Model, Tangents, take_or_zero
from rickyard.program.solver import (
    Optimum,
    Session,
    SolveError,
    SparseRows,
    is_placed,
    placed,
    settle,
)
from rickyard.quantities import is_some
from rickyard.types import FloatArray, IntArray

#: A season with more amounts than this is left as it is: making it simpler would take longer than
#: all the rest, minutes where the rest takes seconds.
MOST_AMOUNTS: Final = 15_000

#: Share of the budget spent on doing away with changes; the rest is for the last trifles.
FIRST_SHARE: Final = 0.6

#: The budget row counts in thousands of dollars, near the size of the other rows.
BUDGET_UNIT: Final = 1000.0

#: How often changes and amounts are weighed anew; after that next to nothing moves.
REWEIGHTINGS: Final = 8

#: Keeps the weight of a vanishing change or amount finite, kg DM per head and day; a mineral is
#: fed by the ounce.
SOFTENING_KG: Final = 0.05
SOFTENING_MINERAL_KG: Final = 0.005

#: Doing away with an amount counts this much against doing away with a change.
AMOUNT_AGAINST_CHANGE: Final = 1.0

#: An amount smaller than so many times the softening is a trifle.
TRIFLE_SHARE: Final = 6.0

#: An amount smaller than this is not fed at all, kg DM per head and day.
NOTHING_KG: Final = 1e-6

#: So many runs of trifles are tried, the smallest first.
MOST_TRIES: Final = 80

#: A change smaller than this share of the softening is none.
STEADY_SHARE: Final = 0.2

#: Nothing may fall shorter than in the least-cost program, but for rounding.
NO_MORE_SHORT: Final = 1e-8

#: Rounds in which the curved rows must come to hold again.
MOST_ROUNDS: Final = 30


def can_be_simplified(model: Model) -> bool:
    """Return whether a season is small enough to be made simpler.

    Parameters
    ----------
    model : Model
        The season's rows and columns.

    Returns
    -------
    bool
        False where there are more amounts than the work of making it simpler is spent on.
    """
    return len(model.columns.group) <= MOST_AMOUNTS


@dataclass(frozen=True, slots=True)
class _Work:
    """The program being solved, with its changes: ``change`` is the size of a change in an amount.

    ``now`` and ``before`` are the amounts on its two sides, -1 where one of them is not allowed
    and so zero.
    """

    model: Model
    session: Session
    tangents: Tangents
    now: IntArray
    before: IntArray
    change: IntArray
    soft_amount: FloatArray
    soft_change: FloatArray

    @property
    def amounts(self) -> int:
        return len(self.model.columns.group)


def simplify(
    model: Model, session: Session, tangents: Tangents, best: Optimum, budget: float
) -> FloatArray:
    """Return a solution that costs at most ``budget`` more than the best and is simpler.

    Parameters
    ----------
    model : Model
        The linear program.
    session : Session
        Its solver, standing at the optimum. It is left changed.
    tangents : Tangents
        The tangents laid so far; more are added as needed.
    best : Optimum
        The least-cost optimum.
    budget : float
        How much more the simpler program may cost. [US dollars]

    Returns
    -------
    array
        A point that keeps every row; the optimum itself where nothing simpler was found. [units
        of the variables]
    """
    work = _work(model, session, tangents)
    first, whole = best.objective + FIRST_SHARE * budget, best.objective + budget
    row = session.add_rows(_budget_row(model, first))
    shortages = np.arange(model.columns.first_shortage, model.columns.count)
    session.set_column_upper(shortages, best.x[shortages] + NO_MORE_SHORT)
    x = best.x
    try:
        for _ in range(REWEIGHTINGS):
            session.set_cost(_weights(work, x))
            x = _settled(work)
        session.set_row_upper(row, whole / BUDGET_UNIT)
        x = _cheapest_alike(work, x)
    except SolveError:
        # A simpler program is a kindness, never a condition: keep what was reached.
        pass
    return x[: model.columns.count]


def _work(model: Model, session: Session, tangents: Tangents) -> _Work:
    """Open a variable for every change of an amount from one period to the next."""
    columns = model.columns
    at = columns.place(model.problem.shape)
    now, before = at[:, :, 1:].ravel(), at[:, :, :-1].ravel()
    real = placed(now) | placed(before)
    now, before = now[real], before[real]
    count = len(now)
    change = session.add_columns(np.zeros(count), np.zeros(count), np.full(count, np.inf))
    for sign in (1.0, -1.0):
        session.add_rows(_change_rows(now, before, change, sign))
    soft = np.where(model.problem.sources.is_mineral, SOFTENING_MINERAL_KG, SOFTENING_KG)
    soft_amount = soft[columns.source]
    soft_change = soft_amount[np.where(placed(now), now, before)]
    return _Work(model, session, tangents, now, before, change, soft_amount, soft_change)


def _change_rows(now: IntArray, before: IntArray, change: IntArray, sign: float) -> SparseRows:
    """Write ``sign * (now - before) <= change``."""
    rows, left, right = np.arange(len(change)), placed(now), placed(before)
    return SparseRows.of(
        -np.inf,
        np.zeros(len(change)),
        (rows[left], now[left], sign),
        (rows[right], before[right], -sign),
        (rows, change, -1.0),
    )


def _budget_row(model: Model, most: float) -> SparseRows:
    used = np.flatnonzero(model.cost)
    return SparseRows.of(-np.inf, most / BUDGET_UNIT, (0, used, model.cost[used] / BUDGET_UNIT))


def _weights(work: _Work, x: FloatArray) -> FloatArray:
    """Make small changes and small amounts dear, so that they go and large ones stay."""
    cost = np.zeros(work.model.columns.count + len(work.change))
    cost[: work.amounts] = AMOUNT_AGAINST_CHANGE / (x[: work.amounts] + work.soft_amount)
    cost[work.change] = 1.0 / (_changes(work, x) + work.soft_change)
    return cost


def _changes(work: _Work, x: FloatArray) -> FloatArray:
    return np.asarray(np.abs(take_or_zero(x, work.now) - take_or_zero(x, work.before)))


def _settled(work: _Work) -> FloatArray:
    work.tangents.again()
    optimum, _ = settle(
        work.session.minimise,
        work.tangents.improve,
        rounds=MOST_ROUNDS,
        unsettled="The curved rows did not settle while the program was made simpler.",
    )
    return optimum.x


def _cheapest_alike(work: _Work, x: FloatArray) -> FloatArray:
    """Hold what is steady, drop trifles where that can be done, and solve for least cost."""
    cost = np.zeros(work.model.columns.count + len(work.change))
    cost[: work.model.columns.count] = work.model.cost
    work.session.set_cost(cost)
    steady = work.change[_changes(work, x) < STEADY_SHARE * work.soft_change]
    not_fed = np.flatnonzero(x[: work.amounts] < NOTHING_KG)
    for held in (steady, not_fed):
        work.session.set_column_upper(held, np.zeros(len(held)))
    x = _settled(work)
    for run in _trifles(work, x)[:MOST_TRIES]:
        beside = np.isin(work.now, run) | np.isin(work.before, run)
        free = np.intersect1d(work.change[beside], steady)
        work.session.set_column_upper(free, np.full(len(free), np.inf))
        work.session.set_column_upper(run, np.zeros(len(run)))
        try:
            x = _settled(work)
        except SolveError:
            # It was needed after all, or doing without would break the budget.
            work.session.set_column_upper(run, work.model.upper[run])
            work.session.set_column_upper(free, np.zeros(len(free)))
    return x


def _trifles(work: _Work, x: FloatArray) -> list[IntArray]:
    """Return the runs of amounts too small to be worth their trouble, the smallest first."""
    columns = work.model.columns
    small = is_some(x[: work.amounts]) & (x[: work.amounts] < TRIFLE_SHARE * work.soft_amount)
    order = np.lexsort((columns.period, columns.source, columns.group))
    runs: list[list[int]] = []
    for at in order[small[order]].tolist():
        last = runs[-1][-1] if runs else -1
        follows = is_placed(last) and (
            columns.group[at] == columns.group[last]
            and columns.source[at] == columns.source[last]
            and columns.period[at] == columns.period[last] + 1
        )
        if follows:
            runs[-1].append(at)
        else:
            runs.append([at])
    found = [np.array(run, dtype=np.int64) for run in runs]
    return sorted(found, key=lambda run: float(x[run].sum()))
