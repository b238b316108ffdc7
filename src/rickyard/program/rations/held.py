"""Rations with their cuts and their things: the program that gives them the cheapest amounts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.program.model import LotUse, Model, Tangents, largest_intake, settle
from rickyard.program.rations.spans import Spans
from rickyard.program.rations.steady_needs import steady_needs, with_needs_of
from rickyard.program.rations.tied import TiedSession, ties_of
from rickyard.program.search import loads_of
from rickyard.program.solver import Meter, Optimum
from rickyard.types import BoolArray, FloatArray, IntArray

#: Rounds in which the curved rows must come to hold again.
MOST_ROUNDS: Final = 60

#: A curved row that is missed by less than this, relatively, holds: a solver of whole numbers
#: comes no nearer.
NEAR: Final = 2e-6


@dataclass(frozen=True, slots=True)
class Limits:
    """What a ration may hold.

    ``leeway`` is how far a single week may fall short of energy and protein, ``things`` how many
    sources beside mineral a ration has at most, ``hays`` how many of them may be hay, by group,
    ``least_kg`` what a source in use gets at least by group and source, kg DM per head and day,
    and ``change_usd`` what beginning a hay costs. ``counts`` marks the sources that count as
    things, ``is_hay`` those that count as hay.
    """

    leeway: float
    things: IntArray
    hays: IntArray
    least_kg: FloatArray
    change_usd: float
    counts: BoolArray
    is_hay: BoolArray


@dataclass(frozen=True, slots=True)
class Program:
    """A program of rations: its cuts, what is in use in each ration, amounts and cost.

    ``used`` is by group, source and week. ``cost`` holds the changes of hay too.
    """

    spans: Spans
    used: BoolArray
    x: FloatArray
    cost: float


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
        self.uses, self.limits, self.spans = uses, limits, spans
        self.model = with_needs_of(weekly, steady_needs(weekly.problem, spans, limits.leeway))
        self.ties = ties_of(self.model, spans)
        self.session = TiedSession(self.model, self.ties, meter)
        self.tangents = Tangents(self.model, self.session)
        if near is not None:
            self.tangents.start_at(near)
        self.at = self.ties.amounts()
        group, source = self.ties.group[self.at], self.ties.source[self.at]
        self.group, self.source, self.span = group, source, self.ties.span[self.at]
        self.counts = limits.counts[source]
        self.least = np.where(self.counts, limits.least_kg[group, source], 0.0)
        starts = [spans.of_group(g) for g in range(len(spans.starts))]
        week = [starts[g][s].start for g, s in zip(group.tolist(), self.span.tolist(), strict=True)]
        self.week = np.array(week, dtype=np.int64)
        self.most = self._most()

    def _most(self) -> FloatArray:
        """Return for each tied amount the most that any diet could hold of it."""
        cells = self.group * self.model.problem.shape[2] + self.week
        diet = np.nan_to_num(largest_intake(self.model)[cells], nan=np.inf)
        # Later weeks of a ration may allow a little more than its first.
        return np.asarray(np.minimum(self.session.upper[self.at], 1.5 * diet))

    def used_of(self, used: BoolArray) -> BoolArray:
        """Return for each tied amount whether it is in use, from use by week."""
        return np.asarray(used[self.group, self.source, self.week] | ~self.counts)

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
        if free is None:
            self.session.hold(held, self.least)
        else:
            self.session.hold(held | free, np.where(free, 0.0, self.least))

    def settled(self, moving: int = 3) -> Optimum:
        """Return the least cost as things are held, with tangents wherever a curve is broken.

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
            unsettled="The curved rows did not settle in the rations.",
        )
        return optimum

    def tied_answer(self, moving: int = 3) -> Optimum:
        """Return the same in the numbering of the tied program."""
        self.settled(moving)
        assert self.session.last is not None
        return self.session.last

    def program(self, tied: BoolArray, moving: int = 3) -> Program:
        """Return the cheapest program with these things in use."""
        self.hold(tied)
        optimum = self.settled(moving)
        used = self.weekly_use(tied & self.counts)
        return Program(self.spans, used, optimum.x, self.cost_of(optimum.x, used))

    def at_prices(self, program: Program) -> Optimum:
        """Return the least cost with the things and whole loads of a program, for its prices."""
        self.hold(self.used_of(program.used) & self.counts)
        loads = loads_of(self.model)
        tied, whole = self.ties.to[loads], np.round(program.x[loads])
        self.session.inner.set_column_bounds(tied, whole, whole)
        return self.settled()

    def near_enough(self, x: FloatArray) -> bool:
        """Say whether curved rows hold to what the second look at a program allows."""
        return self.tangents.breach(x) <= NEAR

    def cost_of(self, x: FloatArray, used: BoolArray) -> float:
        """Return what amounts and changes of hay cost."""
        columns, uses = self.model.columns, self.uses
        at = uses.column
        hays = used[columns.group[at], columns.source[at], columns.period[at]]
        return float(self.model.cost @ x) + uses.changes_usd(hays)
