"""From a farm to its season program: problem, model, solve, explain, in that order."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Farm
from rickyard.program.curved import (
    FIRST_RATIOS,
    NOTHING_KG,
    AppetiteRows,
    growth_breach,
    growth_cuts,
)
from rickyard.program.explain import explain
from rickyard.program.model import Model, build_model
from rickyard.program.problem import Problem, problem_of
from rickyard.program.result import SeasonProgram
from rickyard.program.solve import Optimum, Session, SolveError, SparseRows

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

#: A curved row may be missed by this much, relatively, before another round is solved.
CURVED_TOLERANCE: Final = 1e-8

#: Rounds in which tangents still move; later ones only add what is missing.
MOVING_ROUNDS: Final = 10
MOST_ROUNDS: Final = 60

#: The cost may still move by this share between rounds when the program is taken as final.
COST_TOLERANCE: Final = 1e-8


@dataclass(frozen=True, slots=True)
class Solved:
    """An optimum of the season with everything needed to explain it.

    ``curved_price`` holds by nutrient and cell what one more unit of need (``gain_energy``,
    Mcal) or one less of room (``appetite``, kg) costs over the period; ``rounds`` is how often
    the linear program was solved.
    """

    model: Model
    optimum: Optimum
    curved_price: dict[str, FloatArray]
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
        solved.curved_price,
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
    book = _Tangents(model, session)
    previous = np.inf
    for number in range(1, MOST_ROUNDS + 1):
        optimum = session.minimise()
        say(f"Round {number}: cost {optimum.objective + problem.fixed_usd:,.2f} dollars")
        moved = abs(previous - optimum.objective) > COST_TOLERANCE * max(1.0, previous)
        if book.improve(optimum, move=moved and number < MOVING_ROUNDS) == 0:
            seconds = time.perf_counter() - started
            return Solved(model, optimum, book.prices(optimum), number, seconds)
        previous = optimum.objective
    raise SolveError(
        f"The amounts did not settle in {MOST_ROUNDS} rounds. Look for a feed with an energy "
        "value far out of range."
    )


class _Tangents:
    """The tangents laid so far to the curved rows, and where they stand in the program."""

    def __init__(self, model: Model, session: Session) -> None:
        self._model, self._session = model, session
        self._next_row = len(model.rows.lower)
        self._laid: dict[str, list[tuple[IntArray, IntArray]]] = {"gain_energy": [], "appetite": []}
        self._appetite = AppetiteRows.of(model)
        self._first_appetite_row = self._next_row
        self._free = np.ones(model.problem.needs.head_days.size, dtype=bool)
        cells, diet = self._appetite.cells, self._appetite.first_diet()
        self._lay("appetite", cells, self._appetite.rows(cells, diet))
        growing = np.flatnonzero(model.columns.shortage["gain_energy"] >= 0)
        for ratio in FIRST_RATIOS:
            given = np.full(len(growing), ratio)
            self._lay("gain_energy", growing, growth_cuts(model, given, growing))

    def improve(self, optimum: Optimum, *, move: bool) -> int:
        """Add tangents where a curve is broken, move the others, and return how many changed."""
        broken, ratio = growth_breach(self._model, optimum.x)
        short = np.flatnonzero(broken > CURVED_TOLERANCE)
        self._lay("gain_energy", short, growth_cuts(self._model, ratio[short], short))
        over, diet = self._appetite.breach(optimum.x)
        full = self._appetite.cells[over[self._appetite.cells] > CURVED_TOLERANCE]
        self._lay("appetite", full, self._appetite.rows(full, diet))
        self._free[full] = False
        return len(short) + len(full) + (self._move(diet) if move else 0)

    def prices(self, optimum: Optimum) -> dict[str, FloatArray]:
        """Return what a unit of need or room costs by cell, from the prices of the tangents."""
        eaten = np.maximum(self._model.totals(optimum.x, "dm"), NOTHING_KG)
        nem = np.maximum(self._model.totals(optimum.x, "nem"), NOTHING_KG)
        # A tangent of the energy row reads R M/M0^2 + E G/G0^2 >= 1: one more Mcal of R asks for
        # 1/M0 more. One of appetite reads X/a <= 1: one more kilogram of a gives 1/a.
        return {
            "gain_energy": self._dual("gain_energy", optimum) / nem,
            "appetite": self._dual("appetite", optimum) / eaten,
        }

    def _dual(self, name: str, optimum: Optimum) -> FloatArray:
        total = np.zeros(self._model.problem.needs.head_days.size)
        for cells, rows in self._laid[name]:
            total[cells] += optimum.row_dual[rows]
        return total

    def _lay(self, name: str, cells: IntArray, rows: SparseRows) -> None:
        if len(cells) == 0:
            return
        self._session.add_rows(rows)
        self._laid[name].append((cells, np.arange(self._next_row, self._next_row + len(cells))))
        self._next_row += len(cells)

    def _move(self, diet: FloatArray) -> int:
        """Move the first appetite tangents of cells that needed no second one."""
        cells = self._appetite.cells
        rows = self._appetite.rows(cells, diet)
        free = self._free[cells[rows.row]]
        self._session.change(
            rows.row[free] + self._first_appetite_row, rows.column[free], rows.value[free]
        )
        return int(self._free[cells].sum())


def _silent(_: str) -> None:
    return None
