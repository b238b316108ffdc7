"""The weekly program with the amounts of each ration tied together.

A ration is a run of weeks with the same amounts, so its amounts are one variable for all of its
weeks. Every row that the weekly program has is kept, whoever wrote it: its coefficients are added
up over the weeks that are tied, and rows that become the same are one. The tied program answers
in the weekly numbering, so that tangents, prices and explanations need not know of it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from rickyard.program.model import Model, RisingModel
from rickyard.program.runs import Spans
from rickyard.program.solver import (
    NOWHERE,
    Meter,
    Optimum,
    Session,
    SparseRows,
    nowhere,
    placed,
)
from rickyard.types import BoolArray, FloatArray, IntArray


@dataclass(frozen=True, slots=True)
class Ties:
    """Which weekly variables are one: ``to`` is the tied one, -1 where it is held at nothing.

    ``group``, ``source`` and ``span`` say of each tied amount whose it is, -1 where a tied
    variable is no amount. ``owner`` is the group of every tied variable, -1 where it belongs to
    the whole farm.
    """

    to: IntArray
    owner: IntArray
    group: IntArray
    source: IntArray
    span: IntArray

    @property
    def count(self) -> int:
        """Return how many variables are left."""
        return len(self.group)

    def amounts(self) -> IntArray:
        """Return the tied variables that are amounts."""
        return np.flatnonzero(placed(self.group))


def ties_of(model: Model, spans: Spans) -> Ties:
    """Tie the amounts of each ration together, and what it lacks of each need.

    Parameters
    ----------
    model : Model
        The weekly program.
    spans : Spans
        The rations.

    Returns
    -------
    Ties
        A source that is not to be had in every week of a ration is held at nothing in it.
    """
    columns = model.columns
    _, sources, periods = model.problem.shape
    number = spans.numbers(periods)
    key = np.arange(columns.count) + 10**12
    span = number[columns.group, columns.period]
    x_key = (columns.group * sources + columns.source) * periods + span
    key[: columns.amounts] = x_key
    cell_key = np.arange(number.size) // periods * periods + number.ravel()
    for family, index in enumerate((columns.total, *columns.shortage.values())):
        cell = np.flatnonzero(placed(index))
        key[index[cell]] = 10**9 * (family + 1) + cell_key[cell]
    if isinstance(model, RisingModel):
        # A feed is raised on the days on which rations begin, and on no others.
        starts = np.diff(number, axis=1, prepend=-1).astype(bool)
        inside = ~starts[model.more_group, model.more_period]
        key[columns.count - len(inside) :][inside] = -1
    length = np.bincount(cell_key[placed(number.ravel())], minlength=number.size)
    weeks = np.bincount(x_key)
    key[: columns.amounts][weeks[x_key] < length[columns.group * periods + span]] = NOWHERE
    kept, place = np.unique(key, return_inverse=True)
    nothing = np.count_nonzero(~placed(kept))
    to, kept = np.asarray(place - nothing, dtype=np.int64), kept[nothing:]
    owner = nowhere((3, len(kept)))
    at = np.asarray(to[: columns.amounts])
    open_here = placed(at)
    for number_of, value in enumerate((columns.group, columns.source, span)):
        owner[number_of, at[open_here]] = value[open_here]
    whose = nowhere(len(kept))
    whose[to[placed(to)]] = model.owners()[placed(to)]
    return Ties(to, whose, owner[0], owner[1], owner[2])


class TiedSession:
    """The tied program in a solver, spoken to in the numbering of the weekly program.

    Parameters
    ----------
    model : Model
        The weekly program.
    ties : Ties
        What is tied.
    meter : Meter, optional
        Counts the work.
    """

    def __init__(self, model: Model, ties: Ties, meter: Meter | None = None) -> None:
        self._model, self.ties = model, ties
        at = np.flatnonzero(placed(ties.to))
        to = ties.to[at]
        self.lower = np.full(ties.count, -np.inf)
        self.upper = np.full(ties.count, np.inf)
        np.maximum.at(self.lower, to, model.lower[at])
        np.minimum.at(self.upper, to, model.upper[at])
        # Where a week has a most below the least of another, the most counts.
        self.lower = np.minimum(self.lower, self.upper)
        self._row_to = np.zeros(0, dtype=np.int64)
        self._weekly: list[tuple[int, SparseRows]] = []
        self._cost = model.cost
        rows, row_to = self._tied(model.rows)
        self.inner = Session(self._tied_cost(model.cost), self.lower, self.upper, rows, meter)
        self._inner_rows = len(rows.lower)
        self.last: Optimum | None = None
        self._note(model.rows, row_to)

    @property
    def work(self) -> float:
        """Return what every run so far has cost, in units of work."""
        return self.inner.work

    @property
    def meter(self) -> Meter:
        """Return what counts the work."""
        return self.inner.meter

    def add_rows(self, rows: SparseRows) -> int:
        """Append weekly rows, and return where the first of them stands."""
        first = len(self._row_to)
        if not len(rows.lower):
            return first
        tied, row_to = self._tied(rows)
        self.inner.add_rows(tied)
        self._note(rows, np.where(placed(row_to), row_to + self._inner_rows, NOWHERE))
        self._inner_rows += len(tied.lower)
        return first

    def change(self, row: IntArray, column: IntArray, value: FloatArray) -> None:
        """Replace coefficients of weekly rows in which each tied variable stands once."""
        width = self._model.columns.count
        for first, rows in self._weekly:
            key = rows.row * width + rows.column
            order = np.argsort(key)
            wanted = (row - first) * width + column
            place = np.searchsorted(key[order], wanted)
            there = place < len(key)
            there[there] = key[order][place[there]] == wanted[there]
            rows.value[order[place[there]]] = value[there]
        inner, tied = self._row_to[row], self.ties.to[column]
        held = placed(inner) & placed(tied)
        key = inner[held] * self.ties.count + tied[held]
        _, once = np.unique(key, return_index=True)
        self.inner.change(inner[held][once], tied[held][once], value[held][once])

    def set_cost(self, cost: FloatArray) -> None:
        """Replace the cost of every weekly variable."""
        self._cost = cost
        self.inner.set_cost(self._tied_cost(cost))

    def hold(self, used: BoolArray, least: FloatArray) -> None:
        """Hold amounts: at least their least where they are used, at nothing elsewhere."""
        at = self.ties.amounts()
        lower = np.where(used, np.maximum(self.lower[at], np.minimum(least, self.upper[at])), 0.0)
        self.inner.set_column_bounds(at, lower, np.where(used, self.upper[at], 0.0))

    def fix(self, tied: IntArray, x: FloatArray) -> None:
        """Let tied amounts be what they are in a weekly program, in all that follows."""
        amount = np.zeros(self.ties.count)
        there = np.flatnonzero(placed(self.ties.to))
        amount[self.ties.to[there]] = x[there]
        self.lower[tied] = self.upper[tied] = amount[tied]

    def minimise(self) -> Optimum:
        """Solve, and answer in the weekly numbering; ``last`` keeps the tied answer."""
        self.last = self.inner.minimise()
        return self.weekly(self.last)

    def weekly(self, optimum: Optimum) -> Optimum:
        """Return an optimum of the tied program in the weekly numbering.

        A price is shared evenly among the weeks whose rows are one.
        """
        shared = np.bincount(self._row_to[placed(self._row_to)], minlength=self._inner_rows)
        each = optimum.row_dual / np.maximum(1, shared)
        dual = np.where(placed(self._row_to), each[self._row_to], 0.0)
        reduced = self._cost - self._charged(dual)
        return replace(optimum, x=self.expand(optimum.x), row_dual=dual, reduced_cost=reduced)

    def inner_rows(self, rows: IntArray) -> IntArray:
        """Return where weekly rows stand in the tied program."""
        at = self._row_to[rows[placed(rows)]]
        return np.asarray(at[placed(at)], dtype=np.int64)

    def expand(self, x: FloatArray) -> FloatArray:
        """Return the weekly variables of tied ones."""
        return np.where(placed(self.ties.to), x[self.ties.to], 0.0)

    def charges(self, row_dual: FloatArray, family: IntArray, families: int) -> FloatArray:
        """Return what weekly rows charge each weekly variable, shape (families, variables)."""
        width = self._model.columns.count
        found = np.zeros(families * width)
        for first, rows in self._weekly:
            charge = -row_dual[rows.row + first] * rows.value
            at = family[rows.row + first] * width + rows.column
            found += np.bincount(at, charge, minlength=len(found))
        return found.reshape(families, width)

    def _charged(self, dual: FloatArray) -> FloatArray:
        width = self._model.columns.count
        found = np.zeros(width)
        for first, rows in self._weekly:
            found += np.bincount(rows.column, dual[rows.row + first] * rows.value, minlength=width)
        return found

    def _note(self, rows: SparseRows, row_to: IntArray) -> None:
        self._weekly.append((len(self._row_to), replace(rows, value=rows.value.copy())))
        self._row_to = np.concatenate([self._row_to, row_to])

    def _tied_cost(self, cost: FloatArray) -> FloatArray:
        at = placed(self.ties.to)
        tied = np.bincount(self.ties.to[at], cost[at], minlength=self.ties.count)
        return np.asarray(tied, dtype=np.float64)

    def _tied(self, rows: SparseRows) -> tuple[SparseRows, IntArray]:
        """Add coefficients up over what is tied; rows that became the same are one."""
        column = self.ties.to[rows.column]
        real = placed(column)
        width, count = self.ties.count, len(rows.lower)
        key, place = np.unique(rows.row[real] * width + column[real], return_inverse=True)
        value = np.bincount(place, rows.value[real], minlength=len(key)).astype(np.float64)
        row = np.asarray(key // width, dtype=np.int64)
        column = np.asarray(key % width, dtype=np.int64)
        ends = np.searchsorted(row, np.arange(count + 1))
        first_of: dict[bytes, int] = {}
        row_to = nowhere(count)
        kept: list[int] = []
        for one in range(count):
            at = slice(ends[one], ends[one + 1])
            mark = column[at].tobytes() + value[at].tobytes()
            number = first_of.setdefault(mark, len(kept))
            if number == len(kept):
                kept.append(one)
            row_to[one] = number
        lower, upper = np.full(len(kept), -np.inf), np.full(len(kept), np.inf)
        np.maximum.at(lower, row_to, rows.lower)
        np.minimum.at(upper, row_to, rows.upper)
        chosen = np.isin(row, kept)
        tied = SparseRows(row_to[row[chosen]], column[chosen], value[chosen], lower, upper)
        return tied, row_to
