"""What goes into the solver and what comes out: rows, limits of a search, points, and its work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import inf

from rickyard.types import FloatArray, IntArray


class SolveError(RuntimeError):
    """The solver gave no optimum; the message says what it reported and what to do."""


@dataclass(frozen=True, slots=True)
class SparseRows:
    """Rows ``lower <= A x <= upper`` with ``A`` as coordinate triples."""

    row: IntArray
    column: IntArray
    value: FloatArray
    lower: FloatArray
    upper: FloatArray


@dataclass(frozen=True, slots=True)
class Optimum:
    """An optimal point with its prices.

    ``row_dual`` is the change of the cost for one more unit of the row's bound and
    ``reduced_cost`` the change of the cost for one more unit of a variable that is at a bound.
    ``bound`` is the dual objective: a proven lower limit of the cost of this linear program.
    """

    objective: float
    bound: float
    x: FloatArray
    row_dual: FloatArray
    reduced_cost: FloatArray


@dataclass(frozen=True, slots=True)
class WholePoint:
    """The best point found with whole numbers, and a proven lower limit of the least cost.

    ``x`` is ``None`` where none was found; ``proven`` says that there is no better one, and
    ``work`` what the search cost. [units of work]
    """

    objective: float
    bound: float
    x: FloatArray | None
    proven: bool
    work: float = 0.0


@dataclass(frozen=True, slots=True)
class SearchLimits:
    """When a search over whole numbers ends: relative gap, nodes, steps, and when asked to.

    A step is a round of cuts, a dive or a node. ``seconds`` stops it too, and by the clock, which
    no two runs agree on: it is for a person who cannot wait longer.
    """

    gap: float = 1e-4
    nodes: int = 100_000
    steps: int = 1_000_000
    seconds: float = inf
    stop: Callable[[], bool] | None = None


@dataclass(slots=True)
class Meter:
    """Counts the work of one or more sessions, in units of work."""

    work: float = 0.0
