"""What goes into the solver and what comes out: rows, limits of a search, points, and its work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import inf
from typing import Final

import numpy as np

from rickyard.types import BoolArray, FloatArray, IntArray

#: Coefficients: in which rows and columns they stand, and their values.
Entries = tuple[IntArray | int, IntArray | int, FloatArray | float]


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

    @classmethod
    def of(
        cls, lower: FloatArray | float, upper: FloatArray | float, *blocks: Entries
    ) -> SparseRows:
        """Return rows with bounds from blocks of rows, columns and values, numbers spread out."""
        each = [np.broadcast_arrays(*block) for block in blocks]
        row, column, value = (np.concatenate([one[at] for one in each]) for at in range(3))
        low, high = np.broadcast_arrays(np.atleast_1d(lower), upper)
        return cls(
            row.astype(np.int64),
            column.astype(np.int64),
            value.astype(np.float64),
            low.astype(np.float64),
            high.astype(np.float64),
        )

    def in_order(self) -> SparseRows:
        """Return the rows with their triples in order of row and column."""
        key = self.row * (int(self.column.max(initial=0)) + 1) + self.column
        if np.all(key[1:] > key[:-1]):
            return self
        order = np.lexsort((self.column, self.row))
        return self._with(self.row[order], self.column[order], self.value[order])

    def at(self, place: IntArray) -> SparseRows:
        """Return the rows with their variables at other places; those nowhere are left out."""
        column = place[self.column]
        kept = placed(column)
        return self._with(self.row[kept], column[kept], self.value[kept])

    def only(self, rows: IntArray) -> SparseRows:
        """Return some of the rows, in the order in which they stand."""
        number = numbered(rows, len(self.lower))[self.row]
        kept = placed(number)
        return SparseRows(
            number[kept], self.column[kept], self.value[kept], self.lower[rows], self.upper[rows]
        )

    def that_can_bind(self, lower: FloatArray, upper: FloatArray) -> BoolArray:
        """Say of each row whether some variables within these bounds break it.

        A row that holds whatever they are is none that a solver has to look at.
        """
        # No amount of what does not count is nothing, however much of it there may be.
        ends = [
            np.multiply(
                self.value, end[self.column], where=self.value != 0.0, out=np.zeros_like(self.value)
            )
            for end in (lower, upper)
        ]
        least, most = (
            np.bincount(self.row, end(*ends), minlength=len(self.lower))
            for end in (np.minimum, np.maximum)
        )
        return ~((least >= self.lower) & (most <= self.upper))

    def and_then(self, more: SparseRows) -> SparseRows:
        """Return these rows and others after them."""
        return SparseRows(
            np.concatenate([self.row, more.row + len(self.lower)]),
            np.concatenate([self.column, more.column]),
            np.concatenate([self.value, more.value]),
            np.concatenate([self.lower, more.lower]),
            np.concatenate([self.upper, more.upper]),
        )

    def _with(self, row: IntArray, column: IntArray, value: FloatArray) -> SparseRows:
        return SparseRows(row, column, value, self.lower, self.upper)


#: The place of what stands nowhere.
NOWHERE: Final = -1


def placed(places: IntArray) -> BoolArray:
    """Say of each place whether it is one; -1 stands nowhere.

    Parameters
    ----------
    places : array of int
        Places.

    Returns
    -------
    array of bool
        One for each place.

    Examples
    --------
    >>> placed(np.array([NOWHERE, 0, 2])).tolist()
    [False, True, True]
    """
    return places > NOWHERE


def is_placed(place: int) -> bool:
    """Say whether one place is any; -1 stands nowhere.

    Parameters
    ----------
    place : int
        The place.

    Returns
    -------
    bool
        Whether it is one.

    Examples
    --------
    >>> is_placed(0), is_placed(NOWHERE)
    (True, False)
    """
    return place > NOWHERE


def nowhere(shape: int | tuple[int, ...]) -> IntArray:
    """Return places that all stand nowhere yet.

    Parameters
    ----------
    shape : int or tuple of int
        How many.

    Returns
    -------
    array of int
        The places.

    Examples
    --------
    >>> nowhere((1, 2)).tolist()
    [[-1, -1]]
    """
    return np.full(shape, NOWHERE, dtype=np.int64)


def numbered(places: IntArray, size: int) -> IntArray:
    """Return for each of ``size`` places its position in ``places``, -1 where it has none.

    Parameters
    ----------
    places : array of int
        Places, each once.
    size : int
        How many places there are.

    Returns
    -------
    array of int, shape (size,)
        The positions.

    Examples
    --------
    >>> numbered(np.array([2, 0]), 3).tolist()
    [1, -1, 0]
    """
    number = nowhere(size)
    number[places] = np.arange(len(places))
    return number


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

    def among(self, columns: IntArray, count: int, rows: IntArray, row_count: int) -> Optimum:
        """Return the optimum of a program with more variables, which are nothing, and rows.

        ``columns``, ``rows``: where its own stand among so many. The other rows hold in any case,
        and have no price.
        """
        x, reduced, dual = np.zeros(count), np.zeros(count), np.zeros(row_count)
        x[columns], reduced[columns], dual[rows] = self.x, self.reduced_cost, self.row_dual
        return replace(self, x=x, row_dual=dual, reduced_cost=reduced)

    def of(self, columns: IntArray) -> Optimum:
        """Return the optimum of some of the variables, where the others are nothing."""
        reduced = self.reduced_cost[columns]
        return replace(self, x=self.x[columns], reduced_cost=reduced)


#: The number of the status of what is in a basis.
IN_BASIS: Final = 1


@dataclass(frozen=True, slots=True)
class Basis:
    """Where a solver stands: the number of the status of every variable and row."""

    column: IntArray
    row: IntArray

    @property
    def columns_in(self) -> BoolArray:
        """Return which variables are in the basis."""
        return np.asarray(self.column == IN_BASIS)

    @property
    def rows_in(self) -> BoolArray:
        """Return which rows are in the basis: those that nothing is held by."""
        return np.asarray(self.row == IN_BASIS)

    def of_rows(self, rows: IntArray) -> Basis:
        """Return the basis of some of the rows."""
        return Basis(self.column, self.row[rows])

    def of(self, column: IntArray, rows: int | None = None) -> Basis:
        """Return the basis of some of the variables, and of so many rows, new ones in it."""
        new = 0 if rows is None else rows - len(self.row)
        return Basis(self.column[column], np.append(self.row, np.full(new, IN_BASIS)))

    def with_part(self, part: Basis, column: IntArray, row: IntArray, rows: int) -> Basis:
        """Return the basis with some of the variables and rows where a part of it stands.

        There are so many ``rows`` now. Those that the part is without are in the basis.
        """
        whole, every = self.column.copy(), np.full(rows, IN_BASIS)
        whole[column], every[row] = part.column, part.row
        return Basis(whole, every)


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
    no two runs agree on: it is for a person who cannot wait longer. ``as_given`` searches the
    program as it stands, and not what is left of it when it has been made smaller.
    """

    gap: float = 1e-4
    nodes: int = 100_000
    steps: int = 1_000_000
    seconds: float = inf
    stop: Callable[[], bool] | None = None
    as_given: bool = False


@dataclass(slots=True)
class Meter:
    """Counts the work of one or more sessions, in units of work."""

    work: float = 0.0
