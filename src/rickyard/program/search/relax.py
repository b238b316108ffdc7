"""The relaxation: the season without whole numbers, solved until its curved rows hold."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.program.model import Model, Tangents, build_model, largest_intake
from rickyard.program.problem import Problem
from rickyard.program.search.column_pricing import WIDE, narrowed, promising
from rickyard.program.solver import MOVING_ROUNDS, Optimum, Session, numbered, settle
from rickyard.quantities import is_some
from rickyard.types import BoolArray, IntArray

#: The same in a large season, where the last dollars are not worth the minutes.
WIDE_TOLERANCE: Final = 2e-6

#: Rounds after which a large season lets in amounts that would save more than this, US dollars
#: a kilogram of dry matter.
LETTING_IN: Final = (1, 3)
WORTH_USD: Final = 1e-4

#: A relaxation that is a bound only may leave promises unsettled after so many rounds, when the
#: cost moves by no more than this share in a round, and after so many in any case: the search
#: settles them where it counts.
ROUGH_ROUNDS: Final = 12
ROUGH_TOLERANCE: Final = 3e-4
MOST_ROUGH_ROUNDS: Final = 16


@dataclass(frozen=True, slots=True)
class Relaxation:
    """The least cost without whole numbers.

    ``model`` is the linear program, ``session`` its solver standing at ``optimum`` and
    ``tangents`` what was laid to its curved rows; ``rounds`` is how often it was solved, and
    ``narrow`` says whether amounts were left out that might still matter under whole numbers.
    """

    model: Model
    session: Session
    tangents: Tangents
    optimum: Optimum
    rounds: int
    narrow: bool = False


def relax(problem: Problem, say: Callable[[str], None], *, rough: bool = False) -> Relaxation:
    """Solve a season problem as a linear program.

    Raises ``SolveError`` if the solver fails, or the curved rows do not settle.

    Parameters
    ----------
    problem : Problem
        The season as plain arrays.
    say : callable
        Told of each round.
    rough : bool
        Whether a bound will do: promises of a chance are then not settled to the last.

    Returns
    -------
    Relaxation
        The optimum, its bound and the model. [US dollars]
    """
    model = build_model(problem)
    if model.columns.amounts > WIDE:
        return _relax_wide(problem, model, say, rough=rough)
    session = Session(model.cost, model.lower, model.upper, model.rows)
    tangents = Tangents(model, session)

    def enough(number: int, step: float) -> bool:
        near = number >= ROUGH_ROUNDS and step < ROUGH_TOLERANCE
        return rough and (near or number >= MOST_ROUGH_ROUNDS) and is_some(tangents.doubtful)

    optimum, rounds = settle(
        session.minimise, tangents.improve, moving=range(1, MOVING_ROUNDS), enough=enough, say=say
    )
    return Relaxation(model, session, tangents, optimum, rounds)


def _relax_wide(
    problem: Problem, model: Model, say: Callable[[str], None], *, rough: bool
) -> Relaxation:
    """Solve a large season over its promising amounts, and let in others that are worth it.

    The others are held at nothing. What letting them in could still save, at the prices of the
    last round and for as much as a group can eat, is taken off the bound.
    """
    say("Looking for the hays that may matter")
    closed = ~promising(problem, model)
    upper = model.upper.copy()
    upper[: len(closed)][closed] = 0.0
    session = Session(model.cost, model.lower, upper, model.rows)
    tangents = Tangents(model, session)
    solved: list[Optimum] = []

    def solve() -> Optimum:
        optimum = session.minimise()
        solved.append(optimum)
        worth = _worth_letting_in(model, optimum, closed)
        if len(solved) in LETTING_IN and len(worth):
            closed[worth] = False
            session.set_column_bounds(worth, model.lower[worth], model.upper[worth])
        return optimum

    def enough(number: int, step: float) -> bool:
        near = rough and (step < ROUGH_TOLERANCE or number >= MOST_ROUGH_ROUNDS)
        moved = step > WIDE_TOLERANCE and not (near and is_some(tangents.doubtful))
        return not moved and number > 1 and number not in LETTING_IN

    optimum, rounds = settle(
        solve,
        tangents.improve,
        moving=range(2, MOVING_ROUNDS),
        tolerance=WIDE_TOLERANCE,
        enough=enough,
        say=say,
    )
    return _narrow(model, session, tangents, optimum, closed, rounds, rough=rough)


def _worth_letting_in(model: Model, optimum: Optimum, closed: BoolArray) -> IntArray:
    """Return the amounts held at nothing of which a little would lower the cost."""
    count = len(closed)
    head_days = model.problem.needs.head_days[model.columns.group, model.columns.period]
    saves = optimum.reduced_cost[:count] < -WORTH_USD * head_days
    return np.flatnonzero(closed & saves)


def _narrow(
    model: Model,
    session: Session,
    tangents: Tangents,
    optimum: Optimum,
    closed: BoolArray,
    rounds: int,
    *,
    rough: bool,
) -> Relaxation:
    """Go on without the amounts that are held at nothing."""
    small, left = narrowed(model, ~closed)
    place = numbered(left, model.columns.count)
    rows = session.all_rows().at(place)
    inner = Session(small.cost, small.lower, small.upper, rows)
    stands = session.basis()
    if stands is not None:
        inner.start_from(stands.of(left))
    moved = tangents.moved_to(small, inner)
    missed = _missed_usd(model, optimum, closed)
    best, _ = settle(
        inner.minimise, moved.improve, enough=lambda *_: rough and is_some(moved.doubtful)
    )
    best = replace(best, bound=optimum.bound - missed)
    return Relaxation(small, inner, moved, best, rounds, narrow=True)


def _missed_usd(model: Model, optimum: Optimum, closed: BoolArray) -> float:
    """Return what the amounts held at nothing could save at most, at the prices of an optimum."""
    count = len(closed)
    drop = np.where(closed, optimum.reduced_cost[:count], 0.0)
    most = np.zeros(model.problem.needs.head_days.size)
    np.minimum.at(most, model.cells(), drop)
    return float(-(most * np.nan_to_num(largest_intake(model))).sum())
