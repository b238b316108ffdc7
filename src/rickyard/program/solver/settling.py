"""The rounds of a program with curved rows: solve, lay tangents where a curve is broken, again."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, Protocol

import numpy as np

from rickyard.program.solver.points import Optimum, SolveError
from rickyard.types import FloatArray

#: Rounds in which everything must settle, and before which tangents still move; later ones only
#: add what is missing.
MOST_ROUNDS: Final = 120
MOVING_ROUNDS: Final = 10

#: The cost may still move by this share between rounds when the program is taken as final.
COST_TOLERANCE: Final = 1e-8

UNSETTLED: Final = (
    "The amounts did not settle in {rounds} rounds. Look for a feed with an energy value far out "
    "of range."
)


class Improve(Protocol):
    """Lays tangents where a curve is broken, moves others, and returns how many changed."""

    def __call__(self, x: FloatArray, *, move: bool) -> int:
        """Improve at a point."""
        ...


def settle(
    solve: Callable[[], Optimum],
    improve: Improve,
    *,
    moving: range = range(0),
    rounds: int = MOST_ROUNDS,
    tolerance: float = COST_TOLERANCE,
    enough: Callable[[int, float], bool] = lambda _number, _step: False,
    say: Callable[[str], None] = lambda _: None,
    unsettled: str = UNSETTLED,
) -> tuple[Optimum, int]:
    """Solve until the curved rows hold.

    Raises ``SolveError`` if the solver fails, or the rows do not settle.

    Parameters
    ----------
    solve : callable
        Solves the program as it stands.
    improve : callable
        ``Tangents.improve``, or that of several.
    moving : range
        Rounds, counted from 1, in which tangents move as long as the cost does.
    rounds : int
        The most rounds.
    tolerance : float
        The share by which the cost moves no more.
    enough : callable
        Asked after each round, with its number and the share by which the cost moved in it,
        whether what is left broken will do.
    say : callable
        Told of each round.
    unsettled : str
        What is said when the rows do not settle.

    Returns
    -------
    tuple of (Optimum, int)
        The optimum, and how often the program was solved.
    """
    previous = np.inf
    for number in range(1, rounds + 1):
        optimum = solve()
        say(f"Finding the least that is possible: round {number}")
        step = abs(previous - optimum.objective) / max(1.0, abs(optimum.objective))
        left = improve(optimum.x, move=step > tolerance and number in moving)
        if not left or enough(number, step):
            return optimum, number
        previous = optimum.objective
    raise SolveError(unsettled.format(rounds=rounds))
