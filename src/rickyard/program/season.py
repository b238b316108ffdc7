"""From a farm to its season program: problem, model, solve, explain, in that order."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Farm
from rickyard.program.explain import explain
from rickyard.program.model import Model, build_model
from rickyard.program.options import PlanOptions
from rickyard.program.prices import Prices, prices_of
from rickyard.program.problem import Problem, problem_of
from rickyard.program.replan import farm_from, with_notes
from rickyard.program.result import SeasonProgram
from rickyard.program.simplify import simplify
from rickyard.program.solve import Optimum, Session, SolveError
from rickyard.program.tangents import Tangents
from rickyard.program.wish_outcomes import with_outcomes
from rickyard.program.wishes import wishes_of, with_wishes

FloatArray = NDArray[np.float64]

#: Rounds in which tangents still move; later ones only add what is missing.
MOVING_ROUNDS: Final = 10
MOST_ROUNDS: Final = 60

#: The cost may still move by this share between rounds when the program is taken as final.
COST_TOLERANCE: Final = 1e-8


@dataclass(frozen=True, slots=True)
class Solved:
    """An optimum of the season with everything needed to explain it.

    ``x`` is the program itself: the optimum, or a simpler point within the budget for that.
    ``rounds`` is how often the linear program was solved.
    """

    model: Model
    optimum: Optimum
    x: FloatArray
    prices: Prices
    rounds: int
    seconds: float


def plan_season(
    farm: Farm,
    progress: Callable[[str], None] | None = None,
    *,
    options: PlanOptions = PlanOptions(),  # noqa: B008 - frozen, so one will do for all
) -> SeasonProgram:
    """Return the least-cost season program of a farm.

    Parameters
    ----------
    farm : Farm
        A farm as the folder reader gives it.
    progress : callable, optional
        Called with a short sentence as the work goes on.
    options : PlanOptions
        How to make the program, and what a person wishes of it.

    Returns
    -------
    SeasonProgram
        Always a program: what cannot be supplied is named as a shortage.

    Raises
    ------
    SolveError
        If the solver fails, or the curved rows do not settle.
    OutOfRange
        If the day to plan from is not in the season.

    Notes
    -----
    The program is the optimum of a linear program whose growth rows are exact and whose
    appetite rows are tangents at the program's own diets; ``bound`` is proven for that
    linear program.
    """
    say = progress or _silent
    started = time.perf_counter()
    say("Working out what each group needs")
    mid = farm_from(farm, options.from_on)
    farm = mid.farm
    free = problem_of(farm)
    wished = with_wishes(farm, free, (*options.wishes, *wishes_of(farm, free)))
    problem = wished.problem
    solved = solve_season(problem, say, farm.season.simpler_for_pct)
    say("Putting the reasons into words")
    program = explain(
        farm,
        problem,
        solved.model,
        solved.optimum,
        solved.x,
        solved.prices,
        time.perf_counter() - started,
    )
    program = with_outcomes(program, farm, free, wished, options.stop)
    return with_notes(program, mid)


def solve_season(
    problem: Problem, say: Callable[[str], None], simpler_for_pct: float = 0.0
) -> Solved:
    """Solve a season problem to optimality.

    Parameters
    ----------
    problem : Problem
        The season as plain arrays.
    say : callable
        Told of each round.
    simpler_for_pct : float
        How much dearer than the cheapest the program may be to be simpler. [%]

    Raises
    ------
    SolveError
        If the solver fails, or the curved rows do not settle.
    """
    started = time.perf_counter()
    model = build_model(problem)
    session = Session(model.cost, model.lower, model.upper, model.rows)
    tangents = Tangents(model, session)
    previous = np.inf
    for number in range(1, MOST_ROUNDS + 1):
        optimum = session.minimise()
        say(f"Round {number}: cost {optimum.objective + problem.fixed_usd:,.2f} dollars")
        moved = abs(previous - optimum.objective) > COST_TOLERANCE * max(1.0, previous)
        if tangents.improve(optimum.x, move=moved and number < MOVING_ROUNDS) == 0:
            prices = prices_of(model, session, tangents, optimum)
            x = optimum.x
            if simpler_for_pct > 0:
                say("Making it simpler to follow")
                money = problem.fixed_usd + _money(model, x)
                budget = simpler_for_pct / 100.0 * money
                x = simplify(model, session, tangents, optimum, budget)
            seconds = time.perf_counter() - started
            return Solved(model, optimum, x, prices, number, seconds)
        previous = optimum.objective
    raise SolveError(
        f"The amounts did not settle in {MOST_ROUNDS} rounds. Look for a feed with an energy "
        "value far out of range."
    )


def _money(model: Model, x: FloatArray) -> float:
    count = model.columns.first_shortage
    return float(model.cost[:count] @ x[:count])


def _silent(_: str) -> None:
    return None
