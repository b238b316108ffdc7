"""A part of the season with whole numbers: some groups free, the others held."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from rickyard.program import solver
from rickyard.program.model import LotUse, Model, amount_rows, use_rows
from rickyard.program.search.held_model import loads_of
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray


@dataclass(frozen=True, slots=True)
class HayChoice:
    """A program that keeps the rules: which hays are in use and every amount."""

    used: BoolArray  # by position in Uses
    x: FloatArray
    cost: float  # of the amounts and the changes


def held(model: Model, uses: LotUse, choice: HayChoice) -> Model:
    """Return the model with its hays bounded as they are in use and its loads as they are.

    Parameters
    ----------
    model : Model
        The season's rows and variables.
    uses : LotUse
        All hay amounts.
    choice : HayChoice
        Which are in use, and the loads. [whole loads]

    Returns
    -------
    Model
        The same rows with other bounds. [kg DM]
    """
    lower, upper = model.lower.copy(), model.upper.copy()
    lower[uses.column] = np.where(choice.used, uses.least_kg, 0.0)
    upper[uses.column] = np.where(choice.used, model.upper[uses.column], 0.0)
    loads = loads_of(model)
    lower[loads] = upper[loads] = np.round(choice.x[loads])
    return replace(model, lower=lower, upper=upper)


@dataclass(frozen=True, slots=True)
class FreeSet:
    """What a part may decide.

    ``groups`` whose hays may change, shape (g,); ``hays`` which may be in use there, by position
    in ``LotUse``; ``others_move`` whether the other groups' amounts may change within the hays they
    have. Loads are whole, whoever uses them.
    """

    groups: BoolArray
    hays: BoolArray
    others_move: bool


class Subproblem:
    """One part of a season, ready to be searched."""

    def __init__(
        self, model: Model, rows: solver.SparseRows, uses: LotUse, now: HayChoice, freedom: FreeSet
    ) -> None:
        self._uses, self._now, self._freedom = uses, now, freedom
        allowed = freedom.groups[uses.group] & (freedom.hays | uses.must) & uses.possible
        self._chosen = np.flatnonzero(allowed)
        self._kept = self._kept_columns(model)
        place = solver.numbered(self._kept, len(model.cost))
        self._offset = self._held_usd(model)
        self._session = self._open(model, rows, place, now.x)
        count = len(self._chosen)
        first = len(self._kept)
        self._y = np.arange(first, first + count)
        self._z = np.arange(first + count, first + 2 * count)
        y_lower = uses.must[self._chosen].astype(np.float64)
        self._session.add_columns(np.zeros(count), y_lower, np.ones(count))
        begins = uses.may_begin(allowed)[self._chosen].astype(np.float64)
        self._session.add_columns(uses.start_usd[self._chosen], np.zeros(count), begins)
        x_at = place[uses.column[self._chosen]]
        linked = amount_rows(uses, x_at, self._y, self._chosen)
        for block in (*linked, *use_rows(uses, self._y, self._z, self._chosen)):
            self._session.add_rows(block)
        self._session.require_whole(np.concatenate([self._y, place[loads_of(model)]]))

    def _kept_columns(self, model: Model) -> IntArray:
        """Return the columns that stand in the part; the others are held at what they are."""
        owner = model.owners()
        free = np.concatenate([self._freedom.groups, [True]])[owner]
        keep = free | self._freedom.others_move
        uses = self._uses
        allowed = self._now.used.copy()
        mine = self._freedom.groups[uses.group]
        allowed[mine] = False
        allowed[self._chosen] = True
        keep[uses.column[~allowed]] = False
        return np.flatnonzero(keep)

    def _held_usd(self, model: Model) -> float:
        held = np.ones(len(model.cost), dtype=bool)
        held[self._kept] = False
        held[self._uses.column[self._freedom.groups[self._uses.group]]] = False
        mine = self._freedom.groups[self._uses.group]
        used = self._now.used & ~mine
        return float(model.cost[held] @ self._now.x[held]) + self._uses.changes_usd(used)

    def _open(
        self, model: Model, rows: solver.SparseRows, place: IntArray, x: FloatArray
    ) -> solver.Session:
        """Open a session on the kept columns, with what is held moved to the right-hand side."""
        at = place[rows.column]
        held = ~solver.placed(at)
        value = x.copy()
        # A free group's hays that may not be used are held at nothing, whatever they were.
        value[self._uses.column[self._freedom.groups[self._uses.group]]] = 0.0
        moved = np.bincount(
            rows.row[held],
            rows.value[held] * value[rows.column[held]],
            minlength=len(rows.lower),
        )
        mine = ~held
        count = np.bincount(rows.row[mine], minlength=len(rows.lower))
        real = is_some(count)
        number = np.cumsum(real) - 1
        lower, upper = model.lower.copy(), model.upper.copy()
        uses = self._uses
        others = self._now.used & ~self._freedom.groups[uses.group]
        lower[uses.column[others]] = np.maximum(
            lower[uses.column[others]], np.minimum(uses.least_kg, uses.most_kg)[others]
        )
        return solver.Session(
            model.cost[self._kept],
            lower[self._kept],
            upper[self._kept],
            solver.SparseRows(
                row=number[rows.row[mine]],
                column=at[mine],
                value=rows.value[mine],
                lower=(rows.lower - moved)[real],
                upper=(rows.upper - moved)[real],
            ),
        )

    def steps_for(self, work: float) -> int:
        """Return how many steps of a search some work is enough for, about."""
        return self._session.steps_for(work)

    def work_to_begin(self) -> float:
        """Return about what a search costs before its first step, in units of work."""
        return self._session.work_to_begin()

    def minimise(self, limits: solver.SearchLimits) -> solver.WholePoint:
        """Search the part from where it stands."""
        return self._session.minimise_whole(limits, self._start())

    def search(self, limits: solver.SearchLimits) -> tuple[solver.WholePoint, HayChoice | None]:
        """Search the part from where it stands; ``None`` where nothing was found."""
        point = self.minimise(limits)
        if point.x is None:
            return point, None
        x = self._now.x.copy()
        x[self._uses.column[self._freedom.groups[self._uses.group]]] = 0.0
        x[self._kept] = point.x[: len(self._kept)]
        used = self._now.used.copy()
        used[self._freedom.groups[self._uses.group]] = False
        used[self._chosen] = point.x[self._y] > 0.5
        return point, HayChoice(used, x, point.objective + self._offset)

    def bound(self, point: solver.WholePoint) -> float:
        """Return the proven least cost of the whole with only this part free."""
        return point.bound + self._offset

    def _start(self) -> FloatArray:
        used = self._now.used
        y = used[self._chosen]
        z = self._uses.starts(used)[self._chosen]
        return np.concatenate([self._now.x[self._kept], y, z]).astype(np.float64)
