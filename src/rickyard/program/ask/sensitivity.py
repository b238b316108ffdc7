"""A season solved once and asked again: the same program with one thing changed.

Every answer is that of the linear program with the hays of the program in use, where the season
has rules about hays in use or is to be simpler than the cheapest, and else of the whole linear
program. The least that a hay in use gets is left aside, so that a question always has an answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from copy import copy
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.farm import Farm
from rickyard.program.model import DEEPER, KG_PER_ROW_UNIT, Model, Tangents, build_model
from rickyard.program.problem import Problem
from rickyard.program.result import SeasonProgram
from rickyard.program.search import narrowed
from rickyard.program.solver import (
    MOVING_ROUNDS,
    NOWHERE,
    Meter,
    Optimum,
    Session,
    SolveError,
    SparseRows,
    is_placed,
    nowhere,
    numbered,
    placed,
)
from rickyard.program.solver import settle as settle_rows
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: Two answers with less than this between what they leave short, US dollars of the price set for
#: shortages, leave as much short.
SHORT_DUST_USD: Final = 0.01


class QuestionTimeout(SolveError):  # noqa: N818 - named for what happened, as a person says it
    """A question was left without an answer, because enough time went by or a person said so."""


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """What a question found.

    ``usd`` is money, ``short_usd`` what shortages are priced at, which is not; ``optimum`` the
    solution with its prices.
    """

    usd: float
    short_usd: float
    optimum: Optimum

    @property
    def whole_usd(self) -> float:
        """Return what is minimised: money and the price of shortages."""
        return self.usd + self.short_usd

    def is_shorter_than(self, other: Sensitivity) -> bool:
        """Return whether more is short here than there."""
        return self.short_usd > other.short_usd + SHORT_DUST_USD


class Inquiry:
    """A solved season that can be asked what would be if.

    ``problem``: the season as plain arrays. ``eaten``: the program, where only the hays in it may
    be fed, in kg DM per head and day, shape (groups, sources, periods). ``is_hay``: which sources
    that rule is about, shape (sources,). ``enough``: asked between two rounds whether to leave a
    question without an answer. ``meter``: counts the work of this inquiry and of those made from
    it. Raises ``QuestionTimeout`` if ``enough`` says so before the season itself is solved.
    """

    def __init__(
        self,
        problem: Problem,
        eaten: FloatArray | None = None,
        is_hay: BoolArray | None = None,
        enough: Callable[[], bool] | None = None,
        meter: Meter | None = None,
    ) -> None:
        self.problem = problem
        self.meter = meter or Meter()
        self.enough = enough
        self._may_feed = eaten, is_hay
        self.model: Model = build_model(problem)
        self._whole, self._kept = self.model, np.ones(self.model.columns.amounts, dtype=bool)
        self.upper = self.model.upper.copy()
        if eaten is not None and is_hay is not None:
            self.upper[: len(self.model.columns.group)][self._closed(eaten, is_hay)] = 0.0
        lower = np.minimum(self.model.lower, self.upper)
        self.session = Session(self.model.cost, lower, self.upper, self.model.rows, self.meter)
        self.tangents = Tangents(self.model, self.session)
        self.extra = self._extra_columns()
        self._charged = self.cost
        self.penalties = np.arange(self.model.columns.first_shortage, self.model.columns.count)
        self.base = self.ask()
        self._mark = self.session.mark(), self.tangents.mark()
        # Every question ends where the season stands: they are the same whenever one is begun.
        self._rows: SparseRows | None = None

    @classmethod
    def of(cls, farm: Farm, problem: Problem, program: SeasonProgram) -> Inquiry:
        """Return the inquiry into a program that was made for a farm.

        ``farm``: its season says whether there are rules about hays in use.
        """
        season = farm.season
        ruled = (
            season.hays_at_once is not None
            or season.least_run_days is not None
            or is_some(season.change_usd)
            or is_some(season.simpler_for_pct)
            or any(group.hays_at_once is not None for group in farm.groups)
        )
        if any(one.nutrient in DEEPER for one in program.shortages):
            problem = replace(problem, spread=True)
        if not ruled:
            return cls(problem)
        return cls(problem, eaten_in(program, problem), problem.sources.is_hay)

    def beside(self, opening: BoolArray | None = None, meter: Meter | None = None) -> Inquiry:
        """Return the same inquiry with a solver of its own, as small as may be.

        ``opening``: the groups and periods in which a question may let in hays that are shut,
        shape (groups, periods); elsewhere, and everywhere without it, they are left out. ``meter``:
        counts its work, else that of this inquiry does.
        """
        columns = self.model.columns
        keep = is_some(self.upper[: columns.amounts])
        if opening is not None:
            keep |= opening[columns.group, columns.period]
        other = copy(self)
        other.meter = meter or self.meter
        other._kept = self._kept.copy()
        other._kept[self._kept] = keep
        other.model, left = narrowed(self.model, keep)
        all_left = np.append(left, self.extra[placed(self.extra)])
        place = np.append(numbered(all_left, len(self.cost)), NOWHERE)
        if self._rows is None:
            self._rows = self.session.all_rows()
        rows, other._rows = self._rows.at(place), None
        other.session = self.session.beside(all_left, other.cost, rows, other.meter)
        other.tangents = self.tangents.moved_to(other.model, other.session)
        other.extra, other.upper, other._charged = place[self.extra], self.upper[left], other.cost
        other.penalties = np.arange(other.model.columns.first_shortage, len(left))
        other.base = replace(self.base, optimum=self.base.optimum.of(all_left))
        other._mark = other.session.mark(), other.tangents.mark()
        return other

    def like(self, problem: Problem) -> Inquiry:
        """Return an inquiry into another season in which the same hays may be fed."""
        return Inquiry(problem, *self._may_feed, meter=self.meter)

    def with_source(self, problem: Problem) -> Inquiry:
        """Return an inquiry into a season with one source more, which may be fed to all."""
        eaten, is_hay = self._may_feed
        if eaten is None or is_hay is None:
            return Inquiry(problem, meter=self.meter)
        more = np.zeros((*eaten.shape[:1], 1, *eaten.shape[2:]))
        return Inquiry(
            problem, np.append(eaten, more, axis=1), np.append(is_hay, False), meter=self.meter
        )

    def short_of_group(self, answer: Sensitivity, group: int, before: int | None = None) -> float:
        """Return what a group is short of in an answer, per head and day, the largest of all.

        Only periods ``before`` one are counted where that is given.
        """
        periods = self.problem.shape[2]
        cells = np.arange(self.problem.needs.head_days.size)
        mine = (cells // periods == group) & (cells % periods < (before or periods))
        index = [at[mine & (placed(at))] for at in self.model.columns.shortage.values()]
        found = answer.optimum.x[np.concatenate(index)]
        return float(found.max(initial=0.0))

    def _closed(self, eaten: FloatArray, is_hay: BoolArray) -> BoolArray:
        columns = self.model.columns
        fed = is_some(eaten[columns.group, columns.source, columns.period])
        return np.asarray(is_hay[columns.source] & ~fed)

    def _extra_columns(self) -> IntArray:
        """Open a variable for each source: tonnes of dry matter beyond its stock or limit.

        They are shut until a question opens one. Sources without a limit have none: -1.
        """
        row = np.concatenate([self.model.stock_row, self.model.buy_row])
        limited = np.flatnonzero(placed(row))
        zeros = np.zeros(len(limited))
        at = self.session.add_columns(zeros, zeros, zeros)
        self.session.change(row[limited], at, np.full(len(limited), -1.0))
        extra = nowhere(len(row))
        extra[limited] = at
        return extra

    @property
    def cost(self) -> FloatArray:
        """Return the cost of every variable, those of ``extra`` included: nothing."""
        more = int(placed(self.extra).sum())
        return np.concatenate([self.model.cost, np.zeros(more)])

    def columns_of(self, source: int) -> IntArray:
        """Return where the amounts of a source stand."""
        return np.flatnonzero(self.model.columns.source == source)

    def ask(self, *, settle: bool = True) -> Sensitivity:
        """Solve as things stand.

        ``settle``: whether curved rows are brought up to date; without, the answer is that of the
        linear program as it is, whose prices hold exactly. Raises ``QuestionTimeout`` if it was
        enough before the rows had settled, and ``SolveError`` if the solver fails, or the curved
        rows do not settle.
        """
        if not settle:
            return self._answer(self._solved())
        moving = range(2, MOVING_ROUNDS)
        optimum, _ = settle_rows(self._solved, self.tangents.improve, moving=moving)
        return self._answer(optimum)

    def _solved(self) -> Optimum:
        if self.enough is not None and self.enough():
            raise QuestionTimeout("The question was left without an answer.")
        return self.session.minimise()

    def _answer(self, optimum: Optimum) -> Sensitivity:
        cost, x = self._charged, optimum.x
        short = float(cost[self.penalties] @ x[self.penalties])
        money = float(cost @ x) - short + self.problem.fixed_usd
        return Sensitivity(money, short, optimum)

    def back(self) -> None:
        """Come back to where the program stands: its tangents and its basis."""
        session, tangents = self._mark
        self.session.back_to(session)
        self.tangents.back_to(tangents)

    @contextmanager
    def costing(self, cost: FloatArray) -> Iterator[Callable[[FloatArray], None]]:
        """Let variables cost something else for a while, and something else again."""
        self._charge(cost)
        self.session.walk_inside(inside=True)
        try:
            yield self._charge
        finally:
            self._charge(self.cost)
            self.session.walk_inside(inside=False)
            self.back()

    def _charge(self, cost: FloatArray) -> None:
        self.session.set_cost(cost)
        self._charged = cost

    @contextmanager
    def at_most(self, column: IntArray, upper: FloatArray) -> Iterator[None]:
        """Let variables have another upper bound for a while."""
        before = self.session.column_upper(column)
        self.session.set_column_upper(column, upper)
        try:
            yield
        finally:
            self.session.set_column_upper(column, before)
            self.back()

    @contextmanager
    def stocked(self, source: int, more_kg_dm: float) -> Iterator[None]:
        """Let there be more of a source, or less, for a while.

        Sources without a limit stay without.
        """
        row = int(np.concatenate([self.model.stock_row, self.model.buy_row])[source])
        if not is_placed(row):
            yield
            return
        before = float(self.model.rows.upper[row])
        self.session.set_row_upper(row, before + more_kg_dm / KG_PER_ROW_UNIT)
        try:
            yield
        finally:
            self.session.set_row_upper(row, before)
            self.back()

    @contextmanager
    def unlimited(self, row: int) -> Iterator[None]:
        """Let a row have no upper bound for a while."""
        rows = self.model.rows
        self.session.set_row_bounds(row, float(rows.lower[row]), np.inf)
        try:
            yield
        finally:
            self.session.set_row_bounds(row, float(rows.lower[row]), float(rows.upper[row]))
            self.back()

    @contextmanager
    def other_seasons(self) -> Iterator[Callable[[Problem], Sensitivity]]:
        """Ask about seasons of the same amounts and needs, one after the other.

        Each goes on from the one before; one whose rows hold other amounts is solved anew.
        """
        model, problem = self.model, self.problem

        def ask(other: Problem) -> Sensitivity:
            after = self._model_of(other)
            if after is None or not self._fits(after):
                return self.like(other).base
            self._rewrite(self.model, after)
            self.model, self.problem = after, other
            return self.ask()

        try:
            yield ask
        finally:
            self._rewrite(self.model, model)
            self.model, self.problem = model, problem
            self.back()

    @contextmanager
    def other_hay(self, source: int) -> Iterator[Callable[[Problem], Sensitivity]]:
        """Ask about the same season with another analysis of one source, one after the other.

        Nothing but what the source gives of protein and energy may differ. Only its coefficients
        are written anew.
        """
        model, problem = self.model, self.problem
        mine = model.columns.source == source
        every = np.append(mine, np.zeros(model.columns.count - len(mine), dtype=bool))
        given = [one.of(every) for one in model.given]

        def give(other: Problem) -> None:
            for one in given:
                before, now = (of.per_kg[one.supply][source] for of in (problem, other))
                if now != self.problem.per_kg[one.supply][source]:
                    value = one.value + one.part * (now - before)
                    self.session.change(one.row, one.column, value)
            self.model, self.problem = replace(model, problem=other), other
            self.tangents.over(self.model)

        def ask(other: Problem) -> Sensitivity:
            if problem.assurance is not None:
                # Tangents of promises hold for the values of hay that they were laid with.
                return self.like(other).base
            give(other)
            return self.ask()

        try:
            yield ask
        finally:
            give(problem)
            self.model = model
            self.back()

    def _model_of(self, other: Problem) -> Model | None:
        """Return the program of another season with the same left out; none of other amounts."""
        whole, mine = build_model(other), self._whole.columns
        if self._kept.all():
            return whole
        at = whole.columns
        pairs = (at.group, mine.group), (at.source, mine.source), (at.period, mine.period)
        alike = at.count == mine.count and all(np.array_equal(*pair) for pair in pairs)
        return narrowed(whole, self._kept)[0] if alike else None

    def _fits(self, after: Model) -> bool:
        """Return whether a model can be written over the one that stands.

        Tangents of promises hold for the values of hay that they were laid with.
        """
        old, new = self.model.rows, after.rows
        if self.problem.assurance is not None and after.problem.per_kg is not self.problem.per_kg:
            return False
        return np.array_equal(old.row, new.row) and np.array_equal(old.column, new.column)

    def _rewrite(self, before: Model, after: Model) -> None:
        """Change coefficients, bounds of rows, tangents and costs where two models differ."""
        self.tangents.over(after)
        old, new = before.rows, after.rows
        changed = old.value != new.value
        self.session.change(new.row[changed], new.column[changed], new.value[changed])
        moved = (old.lower != new.lower) | (old.upper != new.upper)
        for row in np.flatnonzero(moved).tolist():
            self.session.set_row_bounds(row, float(new.lower[row]), float(new.upper[row]))
        more = np.zeros(int(placed(self.extra).sum()))
        self._charge(np.concatenate([after.cost, more]))


def eaten_in(program: SeasonProgram, problem: Problem) -> FloatArray:
    """Return what a program feeds.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    problem : Problem
        The season as plain arrays, with every group and source of the program.

    Returns
    -------
    array
        Shape (groups, sources, periods). [kg DM/head/d]
    """
    group_at = {group.group_id: g for g, group in enumerate(problem.needs.groups)}
    source_at = {value.source_id: i for i, value in enumerate(problem.sources.values)}
    eaten = np.zeros(problem.shape)
    for row in program.feeding:
        at = group_at[row.group_id], source_at[row.source_id], row.period
        eaten[at] += row.eaten_kg_dm_per_head_day
    return eaten
