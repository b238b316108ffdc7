"""What the best ration of every run of weeks costs a group, at given prices of what is shared.

All runs of one group stand side by side in one linear program. What a group shares with others,
hay in the yard above all, is paid for at prices; the rows of the group alone hold as they do in
the weekly program, with needs held steady over the run. Few things at once and whole amounts are
not asked for, so that no ration of that run can cost less: the cheapest sequence of runs is a
bound of what the group's rations cost.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from rickyard.nutrients import NUTRIENTS
from rickyard.program.model import FILLED, LEAST_RATIO, SHORT_ENERGY_NEG_PER_NEM, Model, RisingModel
from rickyard.program.runs.spans import SpanRules
from rickyard.program.runs.steady_needs import ON_THE_MEAN
from rickyard.program.solver import (
    NOWHERE,
    Blocks,
    Meter,
    Optimum,
    Session,
    SolveError,
    SparseRows,
    nowhere,
    numbered,
    placed,
)
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: Tangents to the curve of growth are laid at these ratios of NEg to NEm.
RATIOS: Final = np.array([0.32, 0.4, 0.46, 0.5, 0.54, 0.58, 0.62, 0.66])


@dataclass(frozen=True, slots=True)
class SpanCosts:
    """Costs of a group's runs: ``usd[a, b]`` from period a until before b, infinite where none.

    Periods are counted in the season; ``usd`` is of shape (periods + 1, periods + 1).
    """

    usd: FloatArray


@dataclass(frozen=True, slots=True)
class WeeklyPrices:
    """The weekly rows with their prices, and what they leave of the cost of each variable.

    ``cost`` is what a variable costs when shared rows are paid for, ``local`` marks the rows that
    belong to one group alone; ``constant`` is what shared rows are worth at their bounds and what
    variables of the whole farm add: with the cheapest runs of all groups it is a bound of the
    season.
    """

    rows: SparseRows
    cost: FloatArray
    local: BoolArray
    constant: float


def priced(model: Model, rows: SparseRows, optimum: Optimum) -> WeeklyPrices:
    """Pay for what groups share at the prices of an answer.

    Parameters
    ----------
    model : Model
        The weekly program.
    rows : SparseRows
        All its rows, tangents too.
    optimum : Optimum
        An answer in the numbering of those rows, with its prices.

    Returns
    -------
    WeeklyPrices
        What every amount costs once what is shared is paid for, and what the shared is worth.
    """
    owner = model.owners()
    count = len(rows.lower)
    whose = _all_alike(rows.row, owner[rows.column], count)
    shared = ~placed(whose) | _over_weeks(model, rows, owner)
    dual = np.where(shared, optimum.row_dual[:count], 0.0)
    if isinstance(model, RisingModel):
        dual = model.sound_prices(dual)
    # A price on a bound that is not there is rounding.
    dual = np.where(np.isfinite(np.where(is_some(dual), rows.lower, rows.upper)), dual, 0.0)
    paid = np.bincount(rows.column, dual[rows.row] * rows.value, minlength=len(owner))
    cost = model.cost - paid
    bound = np.where(is_some(dual), rows.lower, rows.upper)
    at = np.flatnonzero(dual)
    worth = float((dual[at] * bound[at]).sum())
    farm = ~placed(owner)
    ends = np.where(is_some(cost[farm]), model.lower[farm], model.upper[farm])
    # What is endless is worth nothing: its price is nothing, or a rounding away from it.
    ends = np.where(np.isfinite(ends), ends, 0.0)
    return WeeklyPrices(rows, cost, ~shared, worth + float((cost[farm] * ends).sum()))


def _over_weeks(model: Model, rows: SparseRows, owner: IntArray) -> BoolArray:
    """Return rows of amounts in several weeks, as of what rises from one to the next."""
    amount, count = rows.column < model.columns.amounts, len(rows.lower)
    mine = np.bincount(rows.row[placed(owner[rows.column])], minlength=count)
    amounts = np.bincount(rows.row[amount], minlength=count)
    one = _all_alike(rows.row[amount], model.columns.period[rows.column[amount]], count)
    return np.asarray(is_some(amounts) & (amounts == mine) & ~placed(one))


class Runs:
    """The runs of one group as blocks of one linear program, priced time after time.

    Parameters
    ----------
    model : Model
        The weekly program.
    prices : WeeklyPrices
        Its rows, and which of them belong to one group alone.
    rules : SpanRules
        How weeks may be cut.
    group : int
        The group.
    leeway : float
        How far a single week may fall short of energy and protein. [-]
    meter : Meter
        Counts the work.
    """

    def __init__(
        self,
        model: Model,
        prices: WeeklyPrices,
        rules: SpanRules,
        group: int,
        leeway: float,
        meter: Meter,
    ) -> None:
        self.model, self.prices, self.group, self.leeway = model, prices, group, leeway
        self.periods = model.problem.shape[2]
        self.first, self.end = rules.first[group], rules.last[group] + 1
        whole = self.end - self.first
        self.least = min(rules.least[group], whole)
        self.longest = rules.longest(group)
        self.kind, self.week = self._kinds()
        here = np.isin(self.week, np.arange(self.first, self.end))
        self.kept = np.unique(self.kind[placed(self.kind) & here])
        self.place = numbered(self.kept, self.kinds)
        self.blocks = Blocks(len(self.kept))
        self.lower, self.upper, self.there = self._bounds()
        self.weeks = self._weeks()
        self.asked = self._asked()
        self.spans = (
            []
            if self.first < 0
            else [span for start in range(self.first, self.end) for span in self._from(start)]
        )
        self.meter = meter
        #: What the cheapest ration of each run holds, at the prices that were asked about last.
        self.x = np.zeros((len(self.spans), len(self.kept)))
        self._session: Session | None = None

    def _kinds(self) -> tuple[IntArray, IntArray]:
        """Return for each weekly variable what kind it is within its group and week, and the week.

        Amounts are numbered by source, after them totals, what is missing, and what is missing of
        wished amounts; -1 elsewhere.
        """
        columns, sources = self.model.columns, self.model.problem.shape[1]
        kind = nowhere(columns.count)
        week = nowhere(columns.count)
        mine = np.flatnonzero(columns.group == self.group)
        kind[mine], week[mine] = columns.source[mine], columns.period[mine]
        for number, index in enumerate((columns.total, *columns.shortage.values())):
            cells = np.arange(self.group * self.periods, (self.group + 1) * self.periods)
            there = placed(index[cells])
            kind[index[cells[there]]] = sources + number
            week[index[cells[there]]] = cells[there] - self.group * self.periods
        self.first_unkept = sources + 1 + len(columns.shortage)
        wished = mine[placed(columns.unkept[mine])]
        unkept = columns.unkept[wished]
        kind[unkept] = self.first_unkept + columns.source[wished]
        week[unkept] = columns.period[wished]
        self.kinds = self.first_unkept + sources
        return kind, week

    def _weeks(self) -> list[dict[bytes, tuple[int, float, float]]]:
        """Return the rows of each week that do not ask for a need, by their coefficients."""
        rows = self.prices.rows
        entry_week = self.week[rows.column]
        mine = self.prices.local[rows.row] & placed(entry_week)
        gain = self.model.columns.shortage["gain_energy"]
        of_needs = np.zeros(len(rows.lower), dtype=bool)
        for name in (*self.model.problem.needs.least, "fill"):
            at = self.model.row_of.get(name, np.zeros(0, dtype=np.int64))
            of_needs[at[placed(at)]] = True
        is_gain = np.zeros(self.model.columns.count, dtype=bool)
        is_gain[gain[placed(gain)]] = True
        # How far beyond a part of its need a gain falls short holds for a run as for a week.
        fed = np.zeros(len(rows.lower), dtype=bool)
        fed[rows.row[rows.column < self.model.columns.amounts]] = True
        of_needs[rows.row[is_gain[rows.column]]] = True
        of_needs &= fed
        one_week = _all_alike(rows.row[mine], entry_week[mine], len(rows.lower))
        wanted = mine & placed(one_week[rows.row]) & ~of_needs[rows.row]
        row, kind = rows.row[wanted], self.kind[rows.column[wanted]]
        value = rows.value[wanted]
        order = np.lexsort((kind, row))
        row, kind, value = row[order], kind[order], value[order]
        found: list[dict[bytes, tuple[int, float, float]]] = [{} for _ in range(self.periods)]
        number_of: dict[bytes, int] = {}
        self.of_wishes: set[int] = set()
        edges = np.flatnonzero(np.diff(row, prepend=-1))
        for start, stop in pairwise([*edges.tolist(), len(row)]):
            number = int(row[start])
            key = kind[start:stop].tobytes() + value[start:stop].tobytes()
            low, high = float(rows.lower[number]), float(rows.upper[number])
            here = found[int(one_week[number])]
            if key in here:
                low, high = max(low, here[key][1]), min(high, here[key][2])
            if key not in number_of:
                number_of[key] = self._template(kind[start:stop], value[start:stop])
                if kind[stop - 1] >= self.first_unkept:
                    self.of_wishes.add(number_of[key])
            here[key] = (number_of[key], low, high)
        return found

    def costs(self, cost: FloatArray) -> SpanCosts:
        """Return what the best ration of every run costs.

        Parameters
        ----------
        cost : array
            What every weekly variable costs with what is shared paid for.
        """
        usd = np.full((self.periods + 1, self.periods + 1), np.inf)
        if not self.spans:
            return SpanCosts(usd)
        so_far = self.so_far(cost)
        first, last = np.array(self.spans).T
        each = so_far[last] - so_far[first]
        if self._session is None:
            self._session = self.blocks.session(each.ravel(), self.meter)
            self._session.leave_as_given()
        else:
            self._session.set_cost(each.ravel())
        try:
            self.x = x = self._session.minimise().x.reshape(each.shape)
        except SolveError:
            if not self._some_left_out():
                raise
            return self.costs(cost)
        usd[first, last] = (each * x).sum(axis=1)
        return SpanCosts(usd)

    def so_far(self, cost: FloatArray) -> FloatArray:
        """Return what one of each kind that is kept costs in all periods before each."""
        mine = placed(self.kind)
        by_week = np.zeros((self.periods + 1, self.kinds))
        np.add.at(by_week, (self.week[mine] + 1, self.kind[mine]), cost[mine])
        return np.asarray(np.cumsum(by_week[:, self.kept], axis=0))

    def held_in(self, weekly: FloatArray, start: int, stop: int) -> FloatArray:
        """Return what a weekly program holds of each kind that is kept, in a run of weeks."""
        mine = placed(self.kind) & (self.week >= start) & (self.week < stop)
        found = np.zeros(len(self.kept))
        np.maximum.at(found, self.place[self.kind[mine]], weekly[mine])
        return found

    def _some_left_out(self) -> bool:
        """Forget runs over which nothing can be fed, and say whether that leaves fewer.

        Such are weeks in which what has to be fed goes only with hays that are not there in all.
        """
        possible = self.blocks.possible(self.meter)
        if all(possible) or not any(possible):
            return False
        self.spans = [span for span, there in zip(self.spans, possible, strict=True) if there]
        self.blocks = self.blocks.only(possible)
        self._session = None
        return True

    def _from(self, start: int) -> list[tuple[int, int]]:
        """Write every run from a week on as a block, and return the runs."""
        found = []
        seen: dict[bytes, tuple[int, float, float]] = {}
        longest = min(self.end, start + self.longest)
        there = np.logical_or.accumulate(self.there[start:longest])
        upper = np.where(there, np.minimum.accumulate(self.upper[start:longest]), 0.0)
        lower = np.where(there, np.maximum.accumulate(self.lower[start:longest]), 0.0)
        for stop in range(start + 1, longest + 1):
            for key, (template, low, high) in self.weeks[stop - 1].items():
                old = seen.get(key)
                if old is not None:
                    # What is missing of a wish is one for all weeks, and no more than in any.
                    low = min(low, old[1]) if template in self.of_wishes else max(low, old[1])
                    high = min(high, old[2])
                seen[key] = (template, low, high)
            rest = self.end - stop
            if stop - start < self.least or 0 < rest < self.least:
                continue
            if 0 < start - self.first < self.least:
                continue
            at = stop - start - 1
            self.blocks.begin(np.minimum(lower[at], upper[at]), upper[at])
            for template, low, high in seen.values():
                self.blocks.row(template, low, high)
            self._needs(start, stop)
            found.append((start, stop))
        return found

    def _bounds(self) -> tuple[FloatArray, FloatArray, BoolArray]:
        """Return the bounds of what is kept in each week, and whether it is there.

        An amount that is not there in some week of a run is held at nothing in all of it.
        """
        mine = np.flatnonzero(placed(self.kind))
        at, shape = (self.week[mine], self.kind[mine]), (self.periods, self.kinds)
        lower, upper, there = np.full(shape, -np.inf), np.full(shape, np.inf), np.zeros(shape, bool)
        lower[at], upper[at], there[at] = self.model.lower[mine], self.model.upper[mine], True
        amounts = np.arange(self.kinds) < self.model.problem.shape[1]
        lower[~there & amounts] = upper[~there & amounts] = 0.0
        return lower[:, self.kept], upper[:, self.kept], there[:, self.kept]

    def _template(self, kind: IntArray, value: FloatArray) -> int:
        return self.blocks.template(self.place[kind], value)

    def _asked(self) -> list[_Asked]:
        """Return the needs that hold in some week, each with its row."""
        needs, per_kg = self.model.problem.needs, self.model.problem.per_kg
        sources, g = self.model.problem.shape[1], self.group
        everything, found = np.arange(sources), []
        for number, (name, index) in enumerate(self.model.columns.shortage.items()):
            there = placed(index[g * self.periods : (g + 1) * self.periods])
            if name == "gain_energy" or name not in needs.least or not there.any():
                continue
            kinds = np.append(everything, sources + 1 + number)
            value = np.append(per_kg[NUTRIENTS[name].supply][everything], 1.0)
            weekly = np.where(there, needs.least[name][g], -np.inf)
            mean = name in ON_THE_MEAN
            found.append(_Asked(self._template(kinds, value), weekly, needs.head_days[g], mean))
        return found

    def _needs(self, start: int, stop: int) -> None:
        """Ask for the needs of a run, held steady."""
        for one in self.asked:
            ask = one.of(start, stop, self.leeway)
            if np.isfinite(ask):
                self.blocks.row(one.template, ask, np.inf)
        names = list(self.model.columns.shortage)
        sources = self.model.problem.shape[1]
        if self.model.problem.needs.growing[self.group, start:stop].any():
            self._growth(start, stop, sources + 1 + names.index("gain_energy"))
        if "fill" in names:
            self._fill(start, stop, sources + 1 + names.index("fill"))

    def _fill(self, start: int, stop: int, slack: int) -> None:
        """Ask that they are filled in the mean of a run, where they have free access."""
        fill, g = self.model.problem.fill, self.group
        if fill is None or not fill.free[g, start:stop].any():
            return
        free = fill.free[g, start:stop]
        weight = self.model.problem.needs.head_days[g, start:stop][free]
        mean = fill.per_kg[g, :, start:stop][:, free] @ weight / weight.sum()
        ordinary = float(fill.appetite_kg[g])
        everything = np.arange(self.model.problem.shape[1])
        row = self._template(np.append(everything, slack), np.append(mean * ordinary, 1.0))
        self.blocks.row(row, FILLED[0] * ordinary, FILLED[1] * ordinary)

    def _growth(self, start: int, stop: int, slack: int) -> None:
        """Lay tangents to the curve of growth of a run, at the mean of its needs."""
        needs, per_kg = self.model.problem.needs, self.model.problem.per_kg
        g, span = self.group, slice(start, stop)
        grows = needs.growing[g, span]
        weight = needs.head_days[g, span][grows]
        both = [
            max(float(value @ weight / weight.sum()), (1.0 - self.leeway) * float(value.max()))
            for value in (needs.least["nem"][g, span][grows], needs.retained_mcal[g, span][grows])
        ]
        maintenance, retained = both
        kinds = self.place[np.append(np.arange(self.model.problem.shape[1]), slack)]
        at_m = maintenance + retained / np.maximum(RATIOS, LEAST_RATIO)
        at_g = RATIOS * at_m
        on_m, on_g = (maintenance / at_m**2)[:, None], (retained / at_g**2)[:, None]
        value = on_m * per_kg["nem"] + on_g * per_kg["neg"]
        helps = on_m + SHORT_ENERGY_NEG_PER_NEM * on_g
        for one in np.append(value, helps, axis=1):
            self.blocks.row(self.blocks.template(kinds, one), 1.0, np.inf)


@dataclass(frozen=True, slots=True)
class _Asked:
    """A need of a group with its row: ``weekly`` is minus infinity where it is not asked for."""

    template: int
    weekly: FloatArray
    weight: FloatArray
    on_the_mean: bool

    def of(self, start: int, stop: int, leeway: float) -> float:
        """Return what is asked of constant amounts."""
        value = self.weekly[start:stop]
        most = float(value.max())
        if not self.on_the_mean or not np.isfinite(most):
            return most
        there = np.isfinite(value)
        weight = self.weight[start:stop][there]
        return max(float(value[there] @ weight / weight.sum()), (1.0 - leeway) * most)


def _all_alike(row: IntArray, what: IntArray, count: int) -> IntArray:
    """Return what all entries of each row are, as a week or an owner, -1 where they differ."""
    first = np.full(count, np.iinfo(np.int64).max)
    last = nowhere(count)
    np.minimum.at(first, row, what)
    np.maximum.at(last, row, what)
    return np.where(first == last, last, NOWHERE)
