"""The relaxation: the season without whole numbers, solved until its curved rows hold."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.program.model import Model, build_model
from rickyard.program.problem import Problem
from rickyard.program.solve import Optimum, Session, SolveError
from rickyard.program.tangents import Tangents

#: Rounds in which tangents still move; later ones only add what is missing.
MOVING_ROUNDS: Final = 10
MOST_ROUNDS: Final = 120

#: The cost may still move by this share between rounds when the program is taken as final.
COST_TOLERANCE: Final = 1e-8


@dataclass(frozen=True, slots=True)
class Relaxation:
    """The least cost without whole numbers.

    ``model`` is the linear program, ``session`` its solver standing at ``optimum`` and
    ``tangents`` what was laid to its curved rows; ``rounds`` is how often it was solved.
    """

    model: Model
    session: Session
    tangents: Tangents
    optimum: Optimum
    rounds: int


def relax(problem: Problem, say: Callable[[str], None]) -> Relaxation:
    """Solve a season problem as a linear program.

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
    model = build_model(problem)
    session = Session(model.cost, model.lower, model.upper, model.rows)
    tangents = Tangents(model, session)
    previous = np.inf
    for number in range(1, MOST_ROUNDS + 1):
        optimum = session.minimise()
        say(f"Round {number}: cost {optimum.objective + problem.fixed_usd:,.2f} dollars")
        moved = abs(previous - optimum.objective) > COST_TOLERANCE * max(1.0, previous)
        if tangents.improve(optimum.x, move=moved and number < MOVING_ROUNDS) == 0:
            return Relaxation(model, session, tangents, optimum, number)
        previous = optimum.objective
    raise SolveError(
        f"The amounts did not settle in {MOST_ROUNDS} rounds. Look for a feed with an energy "
        "value far out of range."
    )
