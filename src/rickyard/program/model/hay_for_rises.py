"""Hay that makes up for feed held back while it is raised, as variables and rows.

Amounts of a ration are constant on paper. A feed that is raised slowly is held back on the first
days, and hay fills stock meanwhile, so a rise takes hay in proportion. A rise of less than is free
takes none; above it all of the rise counts. Rows that count what is above alone ask for no more
hay than those days do, and rows that count rises in full for as much at least, about.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from typing import Final

import numpy as np

from rickyard.program.model.row_builder import RowBuilder
from rickyard.program.model.rows import Model
from rickyard.program.model.variables import KG_PER_ROW_UNIT
from rickyard.program.problem import HELD_SPARE, THIRDS_HELD_DAYS, Problem, only_mixed
from rickyard.program.solver import NOWHERE, SparseRows, is_placed, placed
from rickyard.types import BoolArray, FloatArray, IntArray

#: A hay that is fed is fed no more than so many times as much in the next ration, as it has a
#: least of a quarter percent of live weight; so that more than that has only now begun.
MOST_TIMES: Final = 16.0

#: Fewer hays with nitrate than this have none that goes on where another begins.
MOST_ALONE: Final = 2

#: What hay costs that nobody has beside what is raised, so that it is done without. [USD/t]
NONE_USD: Final = 1e6

#: No feed is raised by more than this at once, kg DM per head and day, and no more tonnes of hay
#: are set aside: no limit in practice.
MOST: Final = 1e4


@dataclass(slots=True)
class RisingModel(Model):
    """A model with the hay that rises take.

    The variables after those of the model are rises and hay set aside for them: ``more_group`` and
    ``more_period`` say whose and when, ``more_source`` which hay, -1 for a rise itself and, beyond
    all sources, for hay that nobody has. ``more_row`` is the row in which they make up for rises,
    -1 where there is none.
    """

    more_group: IntArray
    more_period: IntArray
    more_source: IntArray
    more_row: IntArray

    def is_set_aside(self) -> BoolArray:
        """Return which of the variables after those of the model are hay set aside."""
        return placed(self.more_source) & (self.more_source < self.problem.shape[1])

    def sound_prices(self, row_dual: FloatArray) -> FloatArray:
        """Return prices of rows at which no hay set aside and no rise brings more than it costs.

        Prices of rations leave out hay that is not there in all of their weeks.
        """
        dual, rows = row_dual.copy(), self.rows
        entry = np.flatnonzero(rows.column >= self.columns.count - len(self.more_source))
        at = rows.column[entry] - self.columns.count + len(self.more_source)
        row, value = rows.row[entry], rows.value[entry]
        makes_up = row == self.more_row[at]
        count, rise = len(self.more_source), self.more_source == NOWHERE
        charged = np.bincount(at[~makes_up], -dual[row[~makes_up]] * value[~makes_up], count)
        costs = np.where(self.more_source == self.problem.shape[1], NONE_USD, charged)
        most = np.full(len(dual), np.inf)
        np.minimum.at(most, self.more_row[~rise], np.maximum(0.0, costs[~rise]))
        dual = np.minimum(dual, most)
        takes = np.bincount(at[makes_up], value[makes_up] * dual[row[makes_up]], count)
        of_rise = ~makes_up & rise[at]
        dual[row[of_rise]] = np.maximum(dual[row[of_rise]], takes[at[of_rise]])
        return np.asarray(dual)

    def set_aside_kg(self, x: FloatArray) -> FloatArray:
        """Return the hay set aside of each source, (sources,), of the first day. [kg DM]."""
        more = x[len(x) - len(self.more_source) :]
        hay = self.is_set_aside()
        source = self.more_source[hay]
        kept = np.ones(self.problem.shape[1:])
        kept[: self.problem.sources.lot_count] = self.problem.keep
        opening = more[hay] / kept[source, self.more_period[hay]]
        found = np.bincount(source, opening, minlength=len(kept))
        return np.asarray(found * KG_PER_ROW_UNIT, dtype=np.float64)


def with_hay_for_rises(model: Model, raised: Problem, *, in_full: bool = False) -> Model:
    """Return a model that takes hay for what is raised from one period to the next.

    Parameters
    ----------
    model : Model
        The weekly program.
    raised : Problem
        The same season with its rules of what is raised by degrees.
    in_full : bool
        Whether what is free counts too, so that there is hay enough, and not only what is above.

    Returns
    -------
    Model
        The same where nothing is.
    """
    work = _Writing(model, raised, 0.0 if in_full else 1.0)
    for g in range(model.problem.shape[0]):
        work.group(g)
    return work.finish() if work.more else model


@dataclass(frozen=True, slots=True)
class _Rise:
    """A feed that is held back for so many days' worth of what exceeds what is free.

    By period, ``free`` is what needs no days, shape (t,), beside ``times`` what there was before.
    """

    sources: IntArray
    days: float
    free: FloatArray
    times: float


def _rises_of(raised: Problem, g: int, part: float) -> Iterator[_Rise]:
    for step in raised.steps:
        if step.group == g and step.days > 1:
            free = part * step.free
            free[0] += step.before_kg
            yield _Rise(np.array(step.sources), (step.days - 1) / 2.0, free, 1.0)
    for begin in raised.begins:
        if begin.group == g:
            free = np.zeros(raised.shape[2])
            yield _Rise(np.array(begin.sources), THIRDS_HELD_DAYS, free, MOST_TIMES)


class _Writing:
    def __init__(self, model: Model, raised: Problem, free: float) -> None:
        self.model, self.raised, self.free = model, raised, free
        self.rows = RowBuilder(model.cells())
        self.place = model.columns.place(model.problem.shape)
        self.more: list[tuple[int, int, int]] = []
        self.row_of_more: list[int] = []
        self.stock: list[tuple[int, int, float]] = []
        self.row_of = np.concatenate([model.stock_row, model.buy_row])
        self.hay = np.broadcast_to(model.problem.sources.is_hay, model.problem.shape[:2]).copy()
        self.known = np.zeros_like(self.hay)
        for begin in raised.begins:
            self.hay[begin.group, list(begin.sources)] = False
            self.known[begin.group, list(begin.sources)] = True
        self.hay &= ~only_mixed(model.problem)
        # One that begins has no other that they know to go on beside it.
        self.known[self.known.sum(axis=1) < MOST_ALONE] = False

    def group(self, g: int) -> None:
        """Write the rises of a group and the hay for them, period by period."""
        needs, rises = self.model.problem.needs, list(_rises_of(self.raised, g, self.free))
        head = needs.groups[g].head
        for t in np.flatnonzero(needs.here[g]).tolist() if rises else []:
            takes: list[tuple[int, float]] = []
            for one in rises:
                rise = self._rise(g, t, one)
                if rise is not None:
                    takes.append((rise, -HELD_SPARE * head * one.days / KG_PER_ROW_UNIT))
            hays = np.flatnonzero(self._may_stand(g, t) & placed(self.place[g, :, t]))
            if takes and len(hays):
                self._hay(g, t, hays, takes)

    def _may_stand(self, g: int, t: int) -> BoolArray:
        """Return the hays that may make up for what is held back in a period.

        Hay with nitrate that they know goes on where other begins: it takes no hay without. Where
        rises count in full they are counted on for nothing, as which of them ends is not known.
        """
        if not t or not self.free:
            return np.asarray(self.hay[g])
        return np.asarray(self.hay[g] | (self.known[g] & placed(self.place[g, :, t - 1])))

    def _rise(self, g: int, t: int, one: _Rise) -> int | None:
        """Write how much more of a feed there is than in the period before."""
        now = self.place[g, one.sources, t]
        if not placed(now).any():
            return None
        offered = 1.0 / (1.0 - self.model.problem.sources.feeding_loss_frac[g, one.sources])
        column = self._open(g, t, NOWHERE)
        row = self.rows.new_rows(-np.inf, float(one.free[t]))
        self.rows.entries(row, now[placed(now)], offered[placed(now)])
        self.rows.entries(row, np.array([column]), -1.0)
        if t:
            was = self.place[g, one.sources, t - 1]
            self.rows.entries(row, was[placed(was)], -one.times * offered[placed(was)])
        return column

    def _hay(self, g: int, t: int, hays: IntArray, takes: list[tuple[int, float]]) -> None:
        """Write that so much hay is set aside, of hays that the group may have then."""
        problem = self.model.problem
        row = self.rows.new_rows(0.0, np.inf)
        number = int(row[0]) + len(self.model.rows.lower)
        nobody_has = self._open(g, t, problem.shape[1], number)
        self.rows.entries(row, np.array([nobody_has]), 1.0)
        for rise, tonnes in takes:
            self.rows.entries(row, np.array([rise]), tonnes)
            self.row_of_more[rise - self.model.columns.count] = number
        for i in hays.tolist():
            column = self._open(g, t, i, number)
            self.rows.entries(row, np.array([column]), 1.0)
            if is_placed(int(self.row_of[i])):
                kept = problem.keep[i, t] if i < problem.sources.lot_count else 1.0
                self.stock.append((int(self.row_of[i]), column, 1.0 / float(kept)))

    def _open(self, g: int, t: int, source: int, row: int = NOWHERE) -> int:
        self.more.append((g, t, source))
        self.row_of_more.append(row)
        return self.model.columns.count + len(self.more) - 1

    def finish(self) -> RisingModel:
        """Return the model with these variables and rows after its own."""
        model, more = self.model, np.array(self.more, dtype=np.int64).T
        count, own, new = len(self.more), model.rows, self.rows.finish()
        stock = np.array(self.stock, dtype=np.float64).reshape(-1, 3)
        row, column = stock[:, 0].astype(np.int64), stock[:, 1].astype(np.int64)
        dear = np.where(more[2] < model.problem.shape[1], 0.0, NONE_USD)
        parts = {one.name: getattr(model, one.name) for one in fields(Model)}
        parts |= {
            "columns": replace(model.columns, count=model.columns.count + count),
            "cost": np.append(model.cost, dear),
            "lower": np.append(model.lower, np.zeros(count)),
            "upper": np.append(model.upper, np.full(count, MOST)),
            "rows": SparseRows(
                np.concatenate([own.row, row, new.row + len(own.lower)]),
                np.concatenate([own.column, column, new.column]),
                np.concatenate([own.value, stock[:, 2], new.value]),
                np.append(own.lower, new.lower),
                np.append(own.upper, new.upper),
            ),
        }
        return RisingModel(
            **parts,
            more_group=more[0],
            more_period=more[1],
            more_source=more[2],
            more_row=np.array(self.row_of_more, dtype=np.int64),
        )
