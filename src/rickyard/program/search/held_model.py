"""The season's linear program with some of its hays held: what may not be fed is left out of it.

Where few of many hays are in use, nearly all amounts are held at nothing, and cost the solver
more than all the others together. So a part without them, and without the rows that then hold in
any case, is solved, from where the last one stood.
"""

from __future__ import annotations

from copy import copy
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.program.model import LotUse, Model, Tangents
from rickyard.program.solver import (
    Basis,
    Meter,
    Optimum,
    Session,
    SparseRows,
    numbered,
    placed,
    settle,
)
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: Rounds in which the curved rows must come to hold again.
MOST_ROUNDS: Final = 60

#: A part is worth making where it leaves out at least this share of the amounts.
WORTH_LEAVING_OUT: Final = 0.3


def loads_of(model: Model) -> IntArray:
    """Return the variables that count whole loads.

    Parameters
    ----------
    model : Model
        The rows and columns of a season.

    Returns
    -------
    array of int
        The columns that are bought in whole loads.
    """
    loads = model.columns.loads
    return loads[placed(loads)]


@dataclass(frozen=True, slots=True)
class _Part:
    """Some of the variables and rows in a solver of their own: which, and where each of all stands.

    ``rows`` are all that can bind the variables left. ``began`` is where the whole stood when the
    part was made.
    """

    session: Session
    left: IntArray
    place: IntArray
    rows: IntArray
    began: Basis | None

    def with_rows(self, first: int, rows: SparseRows) -> _Part:
        """Return the part with rows appended that stand in the whole from a place on."""
        self.session.add_rows(rows.at(self.place))
        added = np.arange(first, first + len(rows.lower))
        return replace(self, rows=np.append(self.rows, added))


class HeldModel:
    """The season's linear program, its solver and its tangents, and the hays that can be held.

    ``session`` is the whole program: every row that is added stands in it too, but it is solved
    only where most of it may be fed. It is left changed. ``rows`` are all of its rows.
    """

    def __init__(self, model: Model, session: Session, tangents: Tangents, uses: LotUse) -> None:
        self.model, self.session, self.tangents, self.uses = model, session, tangents, uses
        self._relaxed = session.basis()
        self._cost = model.cost
        self.rows = session.all_rows().in_order()
        self._part: _Part | None = None
        tangents.lay_in(self)

    def add_rows(self, rows: SparseRows) -> int:
        """Append rows and return where the first of them stands."""
        first = self.session.add_rows(rows)
        self.rows = self.rows.and_then(rows.in_order())
        if self._part is not None:
            self._part = self._part.with_rows(first, rows)
        return first

    def change(self, row: IntArray, column: IntArray, value: FloatArray) -> None:
        """Replace single coefficients."""
        self.session.change(row, column, value)
        self.rows = self.session.all_rows().in_order()
        if self._part is None:
            return
        # A row that could not bind may now.
        for absent in np.setdiff1d(row, self._part.rows).tolist():
            self._part = self._part.with_rows(absent, self.rows.only(np.array([absent])))
        at = self._part.place[column], numbered(self._part.rows, len(self.rows.lower))[row]
        there = placed(at[0])
        self._part.session.change(at[1][there], at[0][there], value[there])

    def charge(self, cost: FloatArray) -> None:
        """Replace the cost of every variable."""
        self._cost = cost
        if self._part is None:
            self.session.set_cost(cost)
        else:
            self._part.session.set_cost(cost[self._part.left])

    def bound(self, lower: FloatArray, upper: FloatArray, *, whole: bool = False) -> None:
        """Bound every hay, by position in ``uses``, and let loads be free.

        ``whole``: whether what is shut stays in the program too, for its prices.
        """
        shut = self._shut(lower, upper)
        if whole or np.count_nonzero(shut) < WORTH_LEAVING_OUT * len(shut):
            self._bound_whole(lower, upper)
        else:
            self._part = self._part_of(lower, upper, self._stood())

    def beside(self, lower: FloatArray, upper: FloatArray, meter: Meter) -> HeldModel:
        """Return another with a solver of its own, bounded so, that stands where the relaxation is.

        It is for other costs, and no rows may be added to it. ``meter`` counts its work.
        """
        other = copy(self)
        other._part = self._part_of(lower, upper, self._relaxed, meter)
        return other

    def _shut(self, lower: FloatArray, upper: FloatArray) -> BoolArray:
        shut = np.zeros(self.model.columns.count, dtype=bool)
        shut[self.uses.column] = ~is_some(upper) & ~is_some(lower)
        return shut

    def _part_of(
        self,
        lower: FloatArray,
        upper: FloatArray,
        stands: Basis | None,
        meter: Meter | None = None,
    ) -> _Part:
        """Return a part without what is shut, beginning where the whole stands."""
        columns, shut = self.uses.column, self._shut(lower, upper)
        # What is in the basis has to be driven out of it: it stays, held at nothing.
        keep = ~shut if stands is None else ~shut | stands.columns_in
        low, high = self.model.lower.copy(), self.model.upper.copy()
        low[columns], high[columns] = lower, upper
        left = np.flatnonzero(keep)
        place = numbered(left, len(shut))
        every = self.rows.at(place)
        binds, start = every.that_can_bind(low[left], high[left]), None
        if stands is not None:
            start = stands.of(left, len(every.lower))
            # A basis has as many in it as there are rows: only what is in it may be left out.
            binds |= ~start.rows_in
        kept = np.flatnonzero(binds)
        rows, left_out = every.only(kept), len(binds) - len(kept)
        counts = meter or self.session.meter
        session = Session(self._cost[left], low[left], high[left], rows, counts, left_out)
        if start is not None:
            session.start_from(start.of_rows(kept))
        return _Part(session, left, place, kept, stands)

    def bound_loads(self, lower: FloatArray, upper: FloatArray) -> None:
        """Bound every number of loads."""
        loads = loads_of(self.model)
        if self._part is None:
            self.session.set_column_bounds(loads, lower, upper)
        else:
            self._part.session.set_column_bounds(self._part.place[loads], lower, upper)

    def hold(self, used: BoolArray, x: FloatArray | None = None, *, whole: bool = False) -> None:
        """Bound every hay: at least its least where it is in use, and nothing elsewhere.

        Whole loads are held as they are in ``x``, and free without one. ``whole``: whether what is
        not in use stays in the program too, for its prices.
        """
        uses = self.uses
        lower = np.where(used, uses.least_kg, 0.0)
        self.bound(lower, np.where(used, self.model.upper[uses.column], 0.0), whole=whole)
        if x is not None:
            loads = np.round(x[loads_of(self.model)])
            self.bound_loads(loads, loads)

    def minimise(self) -> Optimum:
        """Solve as things are bounded. Raises ``SolveError`` if there is no optimum.

        What is left out is nothing, and has no price.
        """
        if self._part is None:
            return self.session.minimise()
        part, counts = self._part, (self.model.columns.count, len(self.rows.lower))
        return part.session.minimise().among(part.left, counts[0], part.rows, counts[1])

    def settled(self) -> Optimum:
        """Return the least cost as things are held, with tangents wherever a curve is broken.

        Raises ``SolveError`` if there is none, as when a lot cannot give every user the least.
        """
        self.tangents.again()
        optimum, _ = settle(
            self.minimise,
            self.tangents.improve,
            rounds=MOST_ROUNDS,
            unsettled="The curved rows did not settle with the hays in use.",
        )
        return optimum

    def _bound_whole(self, lower: FloatArray, upper: FloatArray) -> None:
        loads = loads_of(self.model)
        self.session.set_column_bounds(self.uses.column, lower, upper)
        self.session.set_column_bounds(loads, self.model.lower[loads], self.model.upper[loads])
        if self._part is None:
            return
        stands = self._stood()
        self.session.set_cost(self._cost)
        if stands is not None:
            every = np.arange(self.model.columns.count)
            self.session.start_from(stands.of(every, len(self.rows.lower)))
        self._part = None

    def _stood(self) -> Basis | None:
        """Return where the last solve ended, for what is solved next."""
        part = self._part
        if part is None:
            return self.session.basis()
        found = part.session.basis()
        if found is None or part.began is None:
            return part.began
        return part.began.with_part(found, part.left, part.rows, len(self.rows.lower))
