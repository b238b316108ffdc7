"""The variables of the season program: what each is, what it costs, and its bounds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.program.model.depth_rows import DEEPER, DEPTHS, depth_key
from rickyard.program.problem import BY_ORDER, Problem
from rickyard.program.solver import nowhere, placed
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: Tonnes and thousands of dollars keep the coefficients of rows for the whole season near one.
KG_PER_ROW_UNIT: Final = 1000.0
USD_PER_ROW_UNIT: Final = 1000.0


@dataclass(slots=True)
class Columns:
    """Where each variable stands.

    First ``x`` by group, source and period, kilograms of dry matter per head and day. Then
    ``loads`` bought of each source, ``sold`` of each lot in tonnes of dry matter, and ``total``
    eaten of a group-period cell where a share of the ration is limited, and for each ``x`` the
    ``rise`` of a hay above the period before where that is; -1 where there is none.
    From ``first_shortage`` on stand what is missing in each cell, in a season that is short what of
    it lies beyond a depth, and, in ``farm_short``, what the whole farm misses: ``cash`` in
    thousands of dollars, ``reserve`` in tonnes. ``unkept`` is what is missing of a wished amount,
    one for each ``x``, -1 where none is wished.
    """

    group: IntArray
    source: IntArray
    period: IntArray
    loads: IntArray
    sold: IntArray
    total: IntArray
    rise: IntArray
    first_shortage: int
    shortage: dict[str, IntArray]  # shape (groups * periods,), -1 where there is none
    farm_short: dict[str, int]
    unkept: IntArray
    count: int

    @property
    def amounts(self) -> int:
        """Return how many ``x`` there are."""
        return len(self.group)

    def place(self, shape: tuple[int, int, int]) -> IntArray:
        """Return where ``x`` stands by group, source and period, -1 where there is none."""
        at = nowhere(shape)
        at[self.group, self.source, self.period] = np.arange(self.amounts)
        return at

    def offered_kg(self, problem: Problem) -> FloatArray:
        """Return what a kilogram eaten a head and day draws in its period, waste included."""
        loss = problem.sources.feeding_loss_frac[self.group, self.source]
        head_days = problem.needs.head_days[self.group, self.period]
        return np.asarray(head_days / (1.0 - loss))


@dataclass(slots=True)
class Bounds:
    """Cost and bounds of every variable."""

    cost: FloatArray
    lower: FloatArray
    upper: FloatArray


class _Opening:
    """Opens variables one block after another."""

    def __init__(self) -> None:
        self.cost: list[FloatArray] = []
        self.lower: list[FloatArray] = []
        self.upper: list[FloatArray] = []
        self.count = 0

    def block(self, cost: FloatArray, upper: FloatArray, lower: FloatArray | None = None) -> int:
        """Open a block and return where it begins."""
        first = self.count
        self.count += len(cost)
        self.cost.append(cost)
        self.upper.append(upper)
        self.lower.append(np.zeros(len(cost)) if lower is None else lower)
        return first

    def where(self, wanted: BoolArray, cost: FloatArray, upper: FloatArray) -> IntArray:
        """Open a variable for each place that is wanted, and return their map."""
        index = nowhere(wanted.size)
        chosen = np.flatnonzero(wanted)
        first = self.block(cost[chosen], upper[chosen])
        index[chosen] = np.arange(first, first + len(chosen))
        return index

    def bounds(self) -> Bounds:
        return Bounds(
            np.concatenate(self.cost), np.concatenate(self.lower), np.concatenate(self.upper)
        )


def columns_of(problem: Problem) -> tuple[Columns, Bounds]:
    """Return the variables of a problem with their costs and bounds."""
    needs, sources = problem.needs, problem.sources
    groups, _, periods = problem.shape
    here = needs.here
    group, source, period = np.nonzero(sources.allowed & here[:, None, :])
    loss = sources.feeding_loss_frac[group, source]
    opening = _Opening()
    opening.block(
        problem.use_usd[source, period] * needs.head_days[group, period] / (1.0 - loss),
        sources.most_kg_dm[group, source, period],
        sources.least_kg_dm[group, source, period],
    )
    bought = np.full(len(sources.values), np.inf)
    bought[sources.lot_count :] = sources.most_buy_kg_dm
    in_loads = np.isfinite(sources.load_kg_dm)
    most_loads = np.round(bought / np.where(in_loads, sources.load_kg_dm, 1.0), 6)
    loads = opening.where(in_loads, problem.load_usd, most_loads)
    for_sale = np.isfinite(sources.sale_usd_per_kg_dm)
    sold = opening.where(
        for_sale, problem.sold_usd * KG_PER_ROW_UNIT, sources.start_kg_dm / KG_PER_ROW_UNIT
    )
    cells = groups * periods
    limited = sources.share_limit[group, source, period] < 1.0
    shared = is_some(np.bincount(group[limited] * periods + period[limited], minlength=cells))
    total = opening.where(shared, np.zeros(cells), np.full(cells, np.inf))
    rising = np.isfinite(problem.change_share[group, period]) & sources.is_hay[source]
    rise = opening.where(rising, np.zeros(len(group)), np.full(len(group), np.inf))
    first_shortage = opening.count
    shortage = {
        name: opening.where(
            active.ravel(),
            problem.shortage_usd[name] * (needs.head_days * _harm_of(problem, name)).ravel(),
            np.full(cells, np.inf),
        )
        for name, active in _can_be_short(problem).items()
    }
    if problem.spread:
        for name, more in DEEPER.items():
            price = more * problem.shortage_usd[name] * needs.head_days.ravel()
            for depth in DEPTHS:
                there = placed(shortage[name])
                endless = np.full(cells, np.inf)
                shortage[depth_key(name, depth)] = opening.where(there, price, endless)
    farm_short: dict[str, int] = {}
    for name, unit in _farm_can_be_short(problem).items():
        price = np.array([problem.shortage_usd[name] * unit])
        farm_short[name] = opening.block(price, np.array([np.inf]))
    unkept = opening.where(
        is_some(problem.wished_kg_dm[group, source, period]),
        problem.shortage_usd["unkept"] * needs.head_days[group, period],
        np.full(len(group), np.inf),
    )
    columns = Columns(
        group,
        source,
        period,
        loads,
        sold,
        total,
        rise,
        first_shortage,
        shortage,
        farm_short,
        unkept,
        opening.count,
    )
    return columns, opening.bounds()


def _harm_of(problem: Problem, name: str) -> FloatArray | float:
    """Return what a shortage weighs by group and period; 1 where it harms all alike."""
    return problem.harm if name in BY_ORDER else 1.0


def _can_be_short(problem: Problem) -> dict[str, BoolArray]:
    needs = problem.needs
    here = needs.here
    shares = {"cp_floor": needs.cp_floor_frac, "ca_to_p": needs.ca_to_p}
    wanted = {**needs.least, **needs.floors, **shares}
    active = {name: here & np.isfinite(value) for name, value in wanted.items()}
    active["gain_energy"] = active["nem"] & needs.growing
    active["nem"] = active["nem"] & ~needs.growing
    active |= {one.name: one.active for one in problem.ceilings if one.missable}
    if problem.fill is not None:
        active["fill"] = problem.fill.free
    active["change_over"] = np.isfinite(problem.change_share)
    active["forage_fall"] = np.zeros(here.shape, dtype=bool)
    for fall in problem.descents:
        active["forage_fall"][fall.group, fall.period] = True
    active["other_hay"] = np.zeros(here.shape, dtype=bool)
    for mix in problem.besides:
        if mix.soft and mix.on is not None:
            active["other_hay"][mix.group] |= mix.on
    return active


def _farm_can_be_short(problem: Problem) -> dict[str, float]:
    """Return what the whole farm may miss, and how much of it a unit of its row is."""
    found = {}
    if problem.cash_limit_usd is not None:
        found["cash"] = USD_PER_ROW_UNIT
    if is_some(problem.reserve_kg_dm):
        found["reserve"] = KG_PER_ROW_UNIT
    return found
