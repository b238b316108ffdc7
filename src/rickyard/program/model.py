"""The season problem as a sparse linear program.

Variables: ``x`` kilograms of dry matter of a source eaten per head and day by a group in a
period, for every combination that is allowed, then one shortage per need that can be missed.
The two rows that are not linear, the energy of growing stock and appetite, are written by
``curved`` and appended or re-centred between solves.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.program.problem import Problem
from rickyard.program.solve import SparseRows

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]

#: Tonnes in the stock and purchase rows keep the coefficients near one.
KG_PER_ROW_UNIT: Final = 1000.0

#: A shortage of energy for gain is counted as feed of this NEg to NEm ratio (65 % TDN).
SHORT_ENERGY_NEG_PER_NEM: Final = 0.6

#: Needs that must be met by at least so much, each with the source column that supplies it.
AT_LEAST: Final = {
    "nem": "nem",
    "tdn": "tdn",
    "cp": "cp",
    "ca": "ca",
    "p": "p",
    "forage": "forage",
    "least_dm": "dm",
}


@dataclass(slots=True)
class Columns:
    """Where each variable stands: ``x`` by group, source and period, then the shortages.

    ``unkept`` is what is missing of a wished amount, one for each ``x``, -1 where none is wished.
    """

    group: IntArray
    source: IntArray
    period: IntArray
    shortage: dict[str, IntArray]  # shape (groups * periods,), -1 where there is none
    unkept: IntArray
    count: int


@dataclass(slots=True)
class Model:
    """The linear program and the map back to the problem.

    ``row_of`` gives for each family of rows the row of each group and period (-1 where there
    is none), ``stock_row`` that of each lot and ``buy_row`` that of each feed.
    """

    problem: Problem
    columns: Columns
    cost: FloatArray
    lower: FloatArray
    upper: FloatArray
    rows: SparseRows
    row_of: dict[str, IntArray]
    stock_row: IntArray
    buy_row: IntArray

    def cells(self) -> IntArray:
        """Return the group-period cell of each ``x``."""
        return self.columns.group * self.problem.shape[2] + self.columns.period

    def eaten(self, x: FloatArray) -> FloatArray:
        """Return what is eaten, shape (groups, sources, periods), from a solution."""
        groups, sources, periods = self.problem.shape
        eaten = np.zeros((groups, sources, periods))
        count = len(self.columns.group)
        eaten[self.columns.group, self.columns.source, self.columns.period] = x[:count]
        return eaten

    def totals(self, x: FloatArray, nutrient: str) -> FloatArray:
        """Return the supply of a nutrient by cell, shape (groups * periods,)."""
        per_kg = self.problem.per_kg[nutrient][self.columns.source]
        groups, _, periods = self.problem.shape
        return np.bincount(
            self.cells(), per_kg * x[: len(per_kg)], minlength=groups * periods
        ).astype(np.float64)


@dataclass(slots=True)
class _Builder:
    """Collects rows family by family."""

    model_cells: IntArray
    row: list[IntArray] = field(default_factory=list)
    column: list[IntArray] = field(default_factory=list)
    value: list[FloatArray] = field(default_factory=list)
    lower: list[FloatArray] = field(default_factory=list)
    upper: list[FloatArray] = field(default_factory=list)
    count: int = 0

    def entries(self, row: IntArray, column: IntArray, value: FloatArray) -> None:
        self.row.append(row)
        self.column.append(column)
        self.value.append(value)

    def new_rows(self, lower: FloatArray, upper: FloatArray) -> IntArray:
        """Open rows with bounds and return their numbers."""
        rows = np.arange(self.count, self.count + len(lower), dtype=np.int64)
        self.lower.append(lower)
        self.upper.append(upper)
        self.count += len(lower)
        return rows

    def by_cell(
        self, active: BoolArray, value: FloatArray, lower: FloatArray, upper: FloatArray
    ) -> IntArray:
        """Open one row per active cell with a coefficient for every ``x`` of the cell."""
        row_of = np.full(len(active), -1, dtype=np.int64)
        row_of[active] = self.new_rows(lower[active], upper[active])
        rows = row_of[self.model_cells]
        wanted = (rows >= 0) & (value != 0.0)
        self.entries(rows[wanted], np.flatnonzero(wanted), value[wanted])
        return row_of

    def finish(self) -> SparseRows:
        return SparseRows(
            row=_whole(self.row),
            column=_whole(self.column),
            value=_real(self.value),
            lower=_real(self.lower),
            upper=_real(self.upper),
        )


def picked(values: FloatArray, index: IntArray) -> FloatArray:
    """Return the values at an index, and zero where the index is -1.

    Examples
    --------
    >>> picked(np.array([5.0, 7.0]), np.array([1, -1])).tolist()
    [7.0, 0.0]
    """
    found = np.zeros(index.shape)
    there = index >= 0
    found[there] = values[index[there]]
    return found


def build_model(problem: Problem) -> Model:
    """Write the linear rows of a season problem.

    Parameters
    ----------
    problem : Problem
        The season as plain arrays.

    Returns
    -------
    Model
        Cost, bounds and rows, with the map back to groups, sources and periods.
    """
    columns, cost, lower, upper = _columns(problem)
    cells = columns.group * problem.shape[2] + columns.period
    builder = _Builder(cells)
    row_of = _need_rows(problem, columns, builder)
    row_of |= _ceiling_rows(problem, columns, builder)
    _share_rows(problem, columns, builder)
    _wish_rows(problem, columns, builder)
    stock_row, buy_row = _supply_rows(problem, columns, builder)
    return Model(
        problem=problem,
        columns=columns,
        cost=cost,
        lower=lower,
        upper=upper,
        rows=builder.finish(),
        row_of=row_of,
        stock_row=stock_row,
        buy_row=buy_row,
    )


def _columns(problem: Problem) -> tuple[Columns, FloatArray, FloatArray, FloatArray]:
    needs, sources = problem.needs, problem.sources
    here = needs.head_days > 0
    group, source, period = np.nonzero(sources.allowed & here[:, None, :])
    loss = sources.feeding_loss_frac[group, source]
    cost = [problem.use_usd[source, period] * needs.head_days[group, period] / (1.0 - loss)]
    upper = [sources.most_kg_dm[group, source, period]]
    lower = [sources.least_kg_dm[group, source, period]]
    count = len(group)
    shortage: dict[str, IntArray] = {}
    for name, active in _can_be_short(problem).items():
        index = np.full(active.size, -1, dtype=np.int64)
        chosen = np.flatnonzero(active.ravel())
        index[chosen] = np.arange(count, count + len(chosen))
        shortage[name] = index
        count += len(chosen)
        cost.append(problem.shortage_usd[name] * needs.head_days.ravel()[chosen])
        upper.append(np.full(len(chosen), np.inf))
        lower.append(np.zeros(len(chosen)))
    unkept = np.full(len(group), -1, dtype=np.int64)
    wished = np.flatnonzero(problem.wished_kg_dm[group, source, period] > 0.0)
    unkept[wished] = np.arange(count, count + len(wished))
    count += len(wished)
    cost.append(problem.shortage_usd["unkept"] * needs.head_days[group[wished], period[wished]])
    upper.append(np.full(len(wished), np.inf))
    lower.append(np.zeros(len(wished)))
    columns = Columns(group, source, period, shortage, unkept, count)
    return columns, np.concatenate(cost), np.concatenate(lower), np.concatenate(upper)


def _can_be_short(problem: Problem) -> dict[str, BoolArray]:
    needs = problem.needs
    here = needs.head_days > 0
    wanted = {
        "nem": needs.nem_mcal,
        "tdn": needs.tdn_kg,
        "cp": needs.cp_kg,
        "ca": needs.ca_g,
        "p": needs.p_g,
        "forage": needs.least_forage_kg,
        "least_dm": needs.least_dm_kg,
        "cp_floor": needs.cp_floor_frac,
        "ca_to_p": needs.ca_to_p,
    }
    active = {name: here & np.isfinite(value) for name, value in wanted.items()}
    active["gain_energy"] = active["nem"] & needs.growing
    active["nem"] = active["nem"] & ~needs.growing
    return active


def _need_rows(problem: Problem, columns: Columns, builder: _Builder) -> dict[str, IntArray]:
    needs = problem.needs
    right = {
        "nem": needs.nem_mcal,
        "tdn": needs.tdn_kg,
        "cp": needs.cp_kg,
        "ca": needs.ca_g,
        "p": needs.p_g,
        "forage": needs.least_forage_kg,
        "least_dm": needs.least_dm_kg,
    }
    row_of: dict[str, IntArray] = {}
    for name, column in AT_LEAST.items():
        active = columns.shortage[name] >= 0
        value = problem.per_kg[column][columns.source]
        endless = np.full(active.size, np.inf)
        row_of[name] = builder.by_cell(active, value, right[name].ravel(), endless)
        _add_shortage(builder, row_of[name], columns.shortage[name])
    per_kg = problem.per_kg
    floor = needs.cp_floor_frac.ravel()[builder.model_cells]
    ratio = needs.ca_to_p.ravel()[builder.model_cells]
    shares = {
        "cp_floor": per_kg["cp"][columns.source] - floor,
        "ca_to_p": per_kg["ca"][columns.source] - ratio * per_kg["p"][columns.source],
    }
    for name, value in shares.items():
        active = columns.shortage[name] >= 0
        zero, endless = np.zeros(active.size), np.full(active.size, np.inf)
        row_of[name] = builder.by_cell(active, value, zero, endless)
        _add_shortage(builder, row_of[name], columns.shortage[name])
    return row_of


def _add_shortage(builder: _Builder, row_of: IntArray, shortage: IntArray) -> None:
    chosen = row_of >= 0
    builder.entries(row_of[chosen], shortage[chosen], np.ones(int(chosen.sum())))


def _ceiling_rows(problem: Problem, columns: Columns, builder: _Builder) -> dict[str, IntArray]:
    needs, per_kg = problem.needs, problem.per_kg
    here = (needs.head_days > 0).ravel()
    row_of: dict[str, IntArray] = {}
    for name, column, most in (
        ("most_dm", "dm", needs.most_dm_kg.ravel()),
        ("ndf", "ndf", needs.most_ndf_kg.ravel()),
    ):
        active = here & np.isfinite(most)
        value = per_kg[column][columns.source]
        row_of[name] = builder.by_cell(active, value, np.full(most.size, -np.inf), most)
    ceiling = needs.most_nitrate_ppm.ravel()
    nitrate = per_kg["nitrate"][columns.source] - ceiling[builder.model_cells]
    risky = np.bincount(builder.model_cells, nitrate > 0, minlength=here.size) > 0
    # Milligrams over a thousand keep the row in grams, near the size of the others.
    row_of["nitrate"] = builder.by_cell(
        here & risky, nitrate / 1000.0, np.full(here.size, -np.inf), np.zeros(here.size)
    )
    return row_of


def _share_rows(problem: Problem, columns: Columns, builder: _Builder) -> None:
    """Keep a limited source under its share of the ration: ``x_i - share * sum(x) <= 0``."""
    share = problem.sources.share_limit[columns.group, columns.source, columns.period]
    limited = np.flatnonzero(share < 1.0)
    if len(limited) == 0:
        return
    zeros = np.zeros(len(limited))
    rows = builder.new_rows(np.full(len(limited), -np.inf), zeros)
    cells = builder.model_cells
    for row, which in zip(rows.tolist(), limited.tolist(), strict=True):
        mates = np.flatnonzero(cells == cells[which])
        value = np.where(mates == which, 1.0 - share[which], -share[which])
        builder.entries(np.full(len(mates), row, dtype=np.int64), mates, value)


def _wish_rows(problem: Problem, columns: Columns, builder: _Builder) -> None:
    """Feed what is wished as far as that can be done: ``x + unkept >= wished``."""
    at = np.flatnonzero(columns.unkept >= 0)
    least = problem.wished_kg_dm[columns.group[at], columns.source[at], columns.period[at]]
    rows = builder.new_rows(least, np.full(len(at), np.inf))
    builder.entries(rows, at, np.ones(len(at)))
    builder.entries(rows, columns.unkept[at], np.ones(len(at)))


def _supply_rows(
    problem: Problem, columns: Columns, builder: _Builder
) -> tuple[IntArray, IntArray]:
    """Keep withdrawals within each lot's stock and each feed's limit, one row each.

    A withdrawal in period t draws ``1 / K_t`` on the opening stock, because what would have
    been lost by then was part of the opening stock too.
    """
    sources, needs = problem.sources, problem.needs
    loss = sources.feeding_loss_frac[columns.group, columns.source]
    drawn = needs.head_days[columns.group, columns.period] / (1.0 - loss) / KG_PER_ROW_UNIT
    lots = sources.lot_count
    is_lot = columns.source < lots
    kept = np.ones(len(columns.source))
    kept[is_lot] = problem.keep[columns.source[is_lot], columns.period[is_lot]]
    limit = np.concatenate([sources.start_kg_dm, sources.most_buy_kg_dm]) / KG_PER_ROW_UNIT
    row_of = np.full(len(limit), -1, dtype=np.int64)
    active = np.isfinite(limit)
    row_of[active] = builder.new_rows(np.full(int(active.sum()), -np.inf), limit[active])
    rows = row_of[columns.source]
    wanted = rows >= 0
    builder.entries(rows[wanted], np.flatnonzero(wanted), (drawn / kept)[wanted])
    return row_of[:lots], row_of[lots:]


def _whole(parts: list[IntArray]) -> IntArray:
    return np.concatenate(parts).astype(np.int64) if parts else np.zeros(0, dtype=np.int64)


def _real(parts: list[FloatArray]) -> FloatArray:
    return np.concatenate(parts).astype(np.float64) if parts else np.zeros(0)
