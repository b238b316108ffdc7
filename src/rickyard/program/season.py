"""From a farm to its season program: problem, model, solve, explain, in that order."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Farm
from rickyard.program.curved import FIRST_RATIOS, AppetiteRows, growth_breach, growth_cuts
from rickyard.program.explain import explain
from rickyard.program.model import Model, build_model
from rickyard.program.problem import Problem, problem_of
from rickyard.program.result import SeasonProgram
from rickyard.program.solve import Optimum, Session, SolveError

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

#: A curved row may be missed by this much, relatively, before another round is solved.
CURVED_TOLERANCE: Final = 1e-8

#: Rounds after which the appetite rows stop moving and are tightened where still broken.
MOST_ROUNDS: Final = 40
ROUNDS_BEFORE_DAMPING: Final = 10

#: The cost may still move by this share between rounds when the program is taken as final.
COST_TOLERANCE: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Solved:
    """An optimum of the season with everything needed to explain it.

    ``growth_price`` is by cell what one more Mcal NEm of need costs per head and day over the
    whole period; ``rounds`` how often the linear program was solved.
    """

    model: Model
    optimum: Optimum
    growth_price: FloatArray
    rounds: int
    seconds: float


def plan_season(farm: Farm, progress: Callable[[str], None] | None = None) -> SeasonProgram:
    """Return the least-cost season program of a farm.

    Parameters
    ----------
    farm : Farm
        A farm as the folder reader gives it.
    progress : callable, optional
        Called with a short sentence as the work goes on.

    Returns
    -------
    SeasonProgram
        Always a program: what cannot be supplied is named as a shortage.

    Raises
    ------
    SolveError
        If the solver fails, or the curved rows do not settle.

    Notes
    -----
    The program is the optimum of a linear program whose growth rows are exact and whose
    appetite rows are tangents at the program's own diets; ``bound`` is proven for that
    linear program.
    """
    say = progress or _silent
    started = time.perf_counter()
    say("Working out what each group needs")
    problem = problem_of(farm)
    solved = solve_season(problem, say)
    say("Putting the reasons into words")
    return explain(
        farm,
        problem,
        solved.model,
        solved.optimum,
        solved.growth_price,
        time.perf_counter() - started,
    )


def solve_season(problem: Problem, say: Callable[[str], None]) -> Solved:
    """Solve a season problem to optimality.

    Parameters
    ----------
    problem : Problem
        The season as plain arrays.
    say : callable
        Told of each round.

    Raises
    ------
    SolveError
        If the solver fails, or the curved rows do not settle.
    """
    started = time.perf_counter()
    model = build_model(problem)
    session = Session(model.cost, model.lower, model.upper, model.rows)
    growing = np.flatnonzero(model.columns.shortage["gain_energy"] >= 0)
    book = _GrowthBook(model, session, len(model.rows.lower))
    appetite = AppetiteRows.of(model)
    first_appetite_row = book.next_row
    session.add_rows(appetite.rows())
    book.next_row += len(appetite.cells)
    for first in FIRST_RATIOS:
        book.add(growing, np.full(len(growing), first))
    previous = np.inf
    for number in range(1, MOST_ROUNDS + 1):
        optimum = session.minimise()
        say(f"Round {number}: cost {optimum.objective + problem.fixed_usd:,.2f} dollars")
        broken, ratio = growth_breach(model, optimum.x)
        too_little = np.flatnonzero(broken > CURVED_TOLERANCE)
        book.add(too_little, ratio[too_little])
        too_much, diet = appetite.breach(optimum.x)
        worst = float(np.max(too_much[appetite.cells], initial=0.0))
        still = abs(previous - optimum.objective) <= COST_TOLERANCE * max(
            1.0, abs(optimum.objective)
        )
        if len(too_little) == 0 and worst <= CURVED_TOLERANCE and still:
            seconds = time.perf_counter() - started
            return Solved(model, optimum, book.price(optimum), number, seconds)
        previous = optimum.objective
        step = 1.0 if number <= ROUNDS_BEFORE_DAMPING else 0.5
        moved = appetite.diet_nem + step * (diet - appetite.diet_nem)
        row, column, value = appetite.recentred(moved)
        session.change(row + first_appetite_row, column, value)
    raise SolveError(
        f"The amounts did not settle in {MOST_ROUNDS} rounds: appetite still misses by "
        f"{worst:.1e}. Look for a feed with an energy value far out of range."
    )


class _GrowthBook:
    """Keeps count of the tangents added, so that their prices can be added up by cell."""

    def __init__(self, model: Model, session: Session, next_row: int) -> None:
        self._model, self._session = model, session
        self.next_row = next_row
        self._cells: list[IntArray] = []
        self._rows: list[IntArray] = []

    def add(self, cells: IntArray, ratio: FloatArray) -> None:
        if len(cells) == 0:
            return
        self._session.add_rows(growth_cuts(self._model, ratio, cells))
        self._cells.append(cells)
        self._rows.append(np.arange(self.next_row, self.next_row + len(cells)))
        self.next_row += len(cells)

    def price(self, optimum: Optimum) -> FloatArray:
        """Return by cell the cost of one more Mcal of maintenance need.

        At the edge ``R/M + E/G = 1`` a tangent reads ``R M/M0^2 + E G/G0^2 >= 1``; one more
        unit of R asks for ``1/M0`` more of the left side at the diet's own point.
        """
        price = np.zeros(self._model.problem.needs.nem_mcal.size)
        if not self._cells:
            return price
        cells, rows = np.concatenate(self._cells), np.concatenate(self._rows)
        dual = np.bincount(cells, optimum.row_dual[rows], minlength=price.size)
        eaten_nem = np.maximum(self._model.totals(optimum.x, "nem"), 1e-9)
        return np.asarray(dual / eaten_nem)


def _silent(_: str) -> None:
    return None
