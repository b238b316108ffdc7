"""Rations with their cuts and their things: the program that gives them the cheapest amounts."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.program.model import (
    KG_PER_ROW_UNIT,
    LotUse,
    Model,
    RisingModel,
    Tangents,
    largest_intake,
)
from rickyard.program.rations.tied import TiedSession, ties_of
from rickyard.program.runs import Spans, steady_needs, with_needs_of
from rickyard.program.search import lack_usd, loads_of
from rickyard.program.solver import (
    NOWHERE,
    Meter,
    Optimum,
    SearchLimits,
    Session,
    is_placed,
    numbered,
    placed,
    settle,
)
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: Rounds in which the curved rows must come to hold again.
MOST_ROUNDS: Final = 60

#: How hard whole loads are looked for where nothing else is whole.
LOADS: Final = SearchLimits(gap=1e-4, nodes=200, steps=60)

#: Curved rows that are missed by less than this, relatively, hold: a solver of whole numbers comes
#: no nearer.
NEAR_GROWTH: Final = 2e-6
NEAR_APPETITE: Final = 5e-7


@dataclass(frozen=True, slots=True)
class Limits:
    """What a ration may hold.

    ``leeway`` is how far a single week may fall short of energy and protein, ``things`` how many
    sources beside mineral a ration has at most, ``hays`` how many of them may be hay, each by
    group, ``least_kg`` what a source in use gets at least by group and source, kg DM per head and
    day, and ``change_usd`` what beginning a hay costs. ``counts`` marks the sources that count as
    things, ``is_hay`` those that count as hay. ``margin`` is the share of the money and of the
    reserve that is kept free, for amounts that are rounded in the end.
    """

    leeway: FloatArray
    things: IntArray
    hays: IntArray
    least_kg: FloatArray
    change_usd: float
    counts: BoolArray
    is_hay: BoolArray
    margin: float = 0.0


@dataclass(frozen=True, slots=True)
class Program:
    """A program of rations: its cuts, what is in use in each ration, amounts and cost.

    ``used`` is by group, source and week, ``loads`` holds the whole loads of what comes in loads.
    ``cost`` holds the changes of hay too.
    """

    spans: Spans
    used: BoolArray
    x: FloatArray
    cost: float
    loads: FloatArray


class HeldRations:
    """The weekly program tied to one way of cutting it.

    Parameters
    ----------
    weekly : Model
        The weekly program.
    uses : LotUse
        Its hays, for what changes of hay cost.
    limits : Limits
        What a ration may hold.
    spans : Spans
        The cuts.
    meter : Meter
        Counts the work.
    near : array, optional
        A program that is not far from those to come, for the diets at which appetite is told.
    """

    def __init__(
        self,
        weekly: Model,
        uses: LotUse,
        limits: Limits,
        spans: Spans,
        meter: Meter,
        near: FloatArray | None = None,
    ) -> None:
        self.weekly, self.uses, self.limits, self.spans = weekly, uses, limits, spans
        needs = steady_needs(weekly.problem, spans, limits.leeway)
        self.model = _with_margin(with_needs_of(weekly, needs), limits.margin)
        self.ties = ties_of(self.model, spans)
        self.session = TiedSession(self.model, self.ties, meter)
        self.tangents = Tangents(self.model, self.session)
        if near is not None:
            self.tangents.start_at(near)
        self.at = self.ties.amounts()
        group, source = self.ties.group[self.at], self.ties.source[self.at]
        self.group, self.source, self.span = group, source, self.ties.span[self.at]
        self.counts = limits.counts[source]
        least = np.where(self.counts, limits.least_kg[group, source], 0.0)
        starts = [spans.of_group(g) for g in range(len(spans.starts))]
        week = [starts[g][s].start for g, s in zip(group.tolist(), self.span.tolist(), strict=True)]
        self.week = np.array(week, dtype=np.int64)
        self.most = self._most()
        self.loads = self.ties.to[loads_of(self.model)]
        numbers = spans.numbers(self.model.problem.shape[2])
        self.must, self.wished = (
            self._somewhere(marks, numbers)
            for marks in (self.model.problem.must, is_some(self.model.problem.wished_kg_dm))
        )
        self.aside, self.aside_of = self._aside()
        # What has a least of its own is fed in any case.
        self.must |= is_some(self.session.lower[self.at])
        # A wish asks for its own least, as far as that can be given.
        self.least = np.where(self.must, 0.0, least)

    def _aside(self) -> tuple[IntArray, IntArray]:
        """Return hay set aside for rises among what is tied, and the amount it stands beside."""
        model, none = self.model, np.zeros(0, dtype=np.int64)
        if not isinstance(model, RisingModel):
            return none, none
        more = self.ties.to[model.columns.count - len(model.more_source) :]
        there = np.flatnonzero(model.is_set_aside() & placed(more))
        number = self.spans.numbers(model.problem.shape[2])
        span = number[model.more_group[there], model.more_period[there]]
        amount = {
            one: k for k, one in enumerate(zip(self.group, self.source, self.span, strict=True))
        }
        beside = [
            amount.get(one, NOWHERE)
            for one in zip(model.more_group[there], model.more_source[there], span, strict=True)
        ]
        return more[there], np.array(beside, dtype=np.int64)

    def _most(self) -> FloatArray:
        """Return for each tied amount the most that any diet could hold of it."""
        cells = self.group * self.model.problem.shape[2] + self.week
        diet = np.nan_to_num(largest_intake(self.model)[cells], nan=np.inf)
        # Later weeks of a ration may allow a little more than its first.
        return np.asarray(np.minimum(self.session.upper[self.at], 1.5 * diet))

    def _somewhere(self, marks: BoolArray, numbers: IntArray) -> BoolArray:
        """Return which tied amounts are marked in some week of their ration."""
        found = np.zeros_like(marks)
        g, i, t = np.nonzero(marks)
        here = placed(numbers[g, t])
        found[g[here], i[here], numbers[g, t][here]] = True
        return np.asarray(found[self.group, self.source, self.span])

    def used_of(self, used: BoolArray) -> BoolArray:
        """Return for each tied amount whether it is in use, from use by week."""
        return np.asarray(used[self.group, self.source, self.week] | self.must | ~self.counts)

    def weekly_use(self, tied: BoolArray) -> BoolArray:
        """Return use by group, source and week from use by tied amount."""
        found = np.zeros(self.model.problem.shape, dtype=bool)
        numbers = self.spans.numbers(found.shape[2])
        for k in np.flatnonzero(tied).tolist():
            g = self.group[k]
            found[g, self.source[k], numbers[g] == self.span[k]] = True
        return found

    def hold(self, tied: BoolArray, free: BoolArray | None = None) -> None:
        """Hold amounts to what is in use; what is free may be anything."""
        possible = self.most >= self.least
        held = (tied & possible) | ~self.counts
        self._hold_loads(self.session.lower[self.loads], self.session.upper[self.loads])
        if free is None:
            self.session.hold(held, self.least)
        else:
            held = held | free
            self.session.hold(held, np.where(free, 0.0, self.least))
        if len(self.aside):
            # What makes up for a feed held back is of the hays of the same ration.
            beside = placed(self.aside_of) & held[self.aside_of]
            most = np.where(beside, self.session.upper[self.aside], 0.0)
            self.session.inner.set_column_bounds(self.aside, np.zeros(len(most)), most)

    def hold_with(self, tied: BoolArray, loads: FloatArray, free: BoolArray | None = None) -> None:
        """Hold amounts to what is in use, and loads to what they are; what is free may be any."""
        self.hold(tied, free)
        self._hold_loads(loads, loads)

    def _hold_loads(self, lower: FloatArray, upper: FloatArray) -> None:
        self.session.inner.set_column_bounds(self.loads, lower, upper)

    def opened(self, used: BoolArray, free: BoolArray | None = None) -> tuple[Session, IntArray]:
        """Open a session on the variables that may be anything but nothing.

        Parameters
        ----------
        used, free : array of bool
            What is in use, and what may be anything, by tied amount.

        Returns
        -------
        tuple of (Session, array of int)
            The session, and where each tied variable stands in it, -1 where it is nothing.
        """
        self.hold(used, free)
        inner = self.session.inner
        lower, upper = inner.bounds()
        kept = np.flatnonzero(is_some(upper))
        rows, place = inner.all_rows(), numbered(kept, self.ties.count)
        own = placed(place[rows.column])
        here = replace(
            rows, row=rows.row[own], column=place[rows.column[own]], value=rows.value[own]
        )
        session = Session(inner.costs()[kept], lower[kept], upper[kept], here, inner.meter)
        return session, place

    def whole_loads(self, used: BoolArray) -> FloatArray:
        """Return the whole loads with which things in use are cheapest, about."""
        if not len(self.loads):
            return np.zeros(0)
        session, place = self.opened(used)
        at = place[self.loads]
        session.require_whole(at[placed(at)])
        point = session.minimise_whole(LOADS)
        if point.x is None:
            return np.ceil(self.settled().x[loads_of(self.model)] - 1e-6)
        return np.array([np.round(point.x[one]) if is_placed(one) else 0.0 for one in at])

    def settled(self, moving: int = 3, rough: bool = False) -> Optimum:
        """Return the least cost as things are held, with tangents wherever a curve is broken.

        What is rough takes a second tangent and no more.

        Raises
        ------
        SolveError
            If there is none, as when a lot cannot give every user the least.
        """
        self.tangents.again()
        optimum, _ = settle(
            self.session.minimise,
            self.tangents.improve,
            moving=range(1, moving),
            rounds=MOST_ROUNDS,
            tolerance=1e-6,
            enough=lambda number, _: rough and number > 1,
            unsettled="The curved rows did not settle in the rations.",
        )
        return optimum

    def tied_answer(self, moving: int = 3, rough: bool = False) -> Optimum:
        """Return the same in the numbering of the tied program."""
        self.settled(moving, rough)
        assert self.session.last is not None
        return self.session.last

    def program(self, tied: BoolArray, loads: FloatArray | None = None, moving: int = 3) -> Program:
        """Return the cheapest program with these things in use, and these loads where given."""
        whole = self.whole_loads(tied) if loads is None else loads
        self.hold_with(tied, whole)
        optimum = self.settled(moving)
        used = self.weekly_use(tied & self.counts)
        return Program(self.spans, used, optimum.x, self.cost_of(optimum.x, used), whole)

    def at_prices(self, program: Program) -> Optimum:
        """Return the least cost with the things and whole loads of a program, for its prices."""
        self.hold(self.used_of(program.used) & self.counts)
        whole = np.round(program.x[loads_of(self.model)])
        self._hold_loads(whole, whole)
        return self.settled()

    def near_enough(self, x: FloatArray) -> bool:
        """Say whether curved rows hold to what the second look at a program allows."""
        growth, appetite = self.tangents.breach(x)
        return growth <= NEAR_GROWTH and appetite <= NEAR_APPETITE

    def short_usd(self, x: FloatArray) -> float:
        """Return what is short in a program, at its price."""
        first = self.model.columns.first_shortage
        return float(self.model.cost[first:] @ x[first:])

    def short_by_ration(self, x: FloatArray) -> dict[tuple[int, int], float]:
        """Return what is short in each ration, at its price, by group and number."""
        lack = lack_usd(self.model, x)
        return {
            (g, number): float(lack[g, span.start : span.stop].sum())
            for g in range(len(self.spans.starts))
            for number, span in enumerate(self.spans.of_group(g))
        }

    def cost_of(self, x: FloatArray, used: BoolArray) -> float:
        """Return what amounts and changes of hay cost."""
        columns, uses = self.model.columns, self.uses
        at = uses.column
        hays = used[columns.group[at], columns.source[at], columns.period[at]]
        return float(self.model.cost @ x) + uses.changes_usd(hays)


def _with_margin(model: Model, margin: float) -> Model:
    """Keep a share of the money for feed and of the hay for the reserve free."""
    upper = model.rows.upper.copy()
    if "cash" in model.farm_row:
        upper[model.farm_row["cash"]] *= 1.0 - margin
    if "reserve" in model.farm_row:
        upper[model.farm_row["reserve"]] -= margin * model.problem.reserve_kg_dm / KG_PER_ROW_UNIT
    return replace(model, rows=replace(model.rows, upper=upper))
