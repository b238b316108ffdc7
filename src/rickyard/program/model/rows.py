"""The season problem as a sparse linear program.

Variables are those of ``columns``: what is eaten, bought in loads and sold, and what is missing.
The two rows that are not linear, the energy of growing stock and appetite, are written by
``curved`` and appended or re-centred between solves.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.nutrients import NUTRIENTS
from rickyard.program.model.depth_rows import depth_rows
from rickyard.program.model.row_builder import GivenRows, RowBuilder
from rickyard.program.model.transition_rows import (
    change_over_rows,
    descent_rows,
    fill_rows,
    step_rows,
)
from rickyard.program.model.variables import KG_PER_ROW_UNIT, USD_PER_ROW_UNIT, Columns, columns_of
from rickyard.program.problem import Problem
from rickyard.program.solver import SparseRows, nowhere, placed
from rickyard.types import FloatArray, IntArray

__all__ = ["KG_PER_ROW_UNIT", "Columns", "Model", "build_model", "take_or_zero"]

#: A shortage of energy for gain is counted as feed of this NEg to NEm ratio (65 % TDN).
SHORT_ENERGY_NEG_PER_NEM: Final = 0.6


@dataclass(slots=True)
class Model:
    """The linear program and the map back to the problem.

    ``row_of`` gives for each family of rows the row of each group and period (-1 where there
    is none), ``stock_row`` that of each lot and ``buy_row`` that of each feed, and ``farm_row``
    that of ``cash`` and ``reserve`` where there is one. ``given`` are the coefficients that the
    analysis of a source decides.
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
    farm_row: dict[str, int]
    given: tuple[GivenRows, ...]

    def cells(self) -> IntArray:
        """Return the group-period cell of each ``x``."""
        return self.columns.group * self.problem.shape[2] + self.columns.period

    def owners(self) -> IntArray:
        """Return the group of every variable, -1 where it belongs to the whole farm."""
        columns = self.columns
        owner = nowhere(columns.count)
        owner[: columns.amounts] = columns.group
        for index in (columns.total, *columns.shortage.values()):
            cell = np.flatnonzero(placed(index))
            owner[index[cell]] = cell // self.problem.shape[2]
        for index in (columns.rise, columns.unkept):
            amount = np.flatnonzero(placed(index))
            owner[index[amount]] = columns.group[amount]
        return owner

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


def take_or_zero(values: FloatArray, index: IntArray) -> FloatArray:
    """Return the values at an index, and zero where the index is -1.

    Parameters
    ----------
    values : array, shape (N,)
        Values.
    index : array of int
        Positions in ``values``, or -1.

    Returns
    -------
    array
        The values found, of the shape of ``index``. [unit of ``values``]

    Examples
    --------
    >>> take_or_zero(np.array([5.0, 7.0]), np.array([1, -1])).tolist()
    [7.0, 0.0]
    """
    found = np.zeros(index.shape)
    there = placed(index)
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
    columns, bounds = columns_of(problem)
    cells = columns.group * problem.shape[2] + columns.period
    builder = RowBuilder(cells)
    row_of = _need_rows(problem, columns, builder)
    row_of |= _ceiling_rows(problem, columns, builder)
    row_of |= change_over_rows(problem, columns, builder)
    row_of |= fill_rows(problem, columns, builder)
    row_of |= descent_rows(problem, columns, builder)
    _share_rows(problem, columns, builder)
    step_rows(problem, columns, builder)
    depth_rows(problem, columns.shortage, builder, SHORT_ENERGY_NEG_PER_NEM)
    _wish_rows(problem, columns, builder)
    stock_row, buy_row = _supply_rows(problem, columns, builder)
    farm_row = _farm_rows(problem, columns, builder)
    return Model(
        problem=problem,
        columns=columns,
        cost=bounds.cost,
        lower=bounds.lower,
        upper=bounds.upper,
        rows=builder.finish(),
        row_of=row_of,
        stock_row=stock_row,
        buy_row=buy_row,
        farm_row=farm_row,
        given=builder.by_source(),
    )


def _need_rows(problem: Problem, columns: Columns, builder: RowBuilder) -> dict[str, IntArray]:
    needs = problem.needs
    row_of: dict[str, IntArray] = {}
    for name, least in needs.least.items():
        supply = NUTRIENTS[name].supply
        value = problem.per_kg[supply][columns.source]
        row_of[name] = builder.by_cell(placed(columns.shortage[name]), value, least.ravel())
        _remember(builder, supply, row_of[name], value)
        _add_shortage(builder, row_of[name], columns.shortage[name])
    per_kg = problem.per_kg
    floor = needs.cp_floor_frac.ravel()[builder.model_cells]
    ratio = needs.ca_to_p.ravel()[builder.model_cells]
    shares = {
        "cp_floor": per_kg["cp"][columns.source] - floor,
        "ca_to_p": per_kg["ca"][columns.source] - ratio * per_kg["p"][columns.source],
    }
    for name, least in needs.floors.items():
        one = NUTRIENTS[name]
        asked = least.ravel()[builder.model_cells] * per_kg[one.floor_among][columns.source]
        shares[name] = per_kg[one.floor_of][columns.source] - asked
    for name, value in shares.items():
        row_of[name] = builder.by_cell(placed(columns.shortage[name]), value, 0.0)
        _add_shortage(builder, row_of[name], columns.shortage[name])
    _remember(builder, "cp", row_of["cp_floor"], shares["cp_floor"])
    return row_of


def _remember(builder: RowBuilder, supply: str, row_of: IntArray, value: FloatArray) -> None:
    """Remember the coefficients of rows by cell that rise as what their source gives does."""
    rows = row_of[builder.model_cells]
    at = np.flatnonzero(placed(rows))
    builder.by_supply(supply, rows[at], at, value[at], np.ones(len(at)))


def _add_shortage(
    builder: RowBuilder, row_of: IntArray, shortage: IntArray, sign: float = 1.0
) -> None:
    chosen = placed(row_of)
    builder.entries(row_of[chosen], shortage[chosen], sign)


def _ceiling_rows(problem: Problem, columns: Columns, builder: RowBuilder) -> dict[str, IntArray]:
    needs, per_kg = problem.needs, problem.per_kg
    here = needs.here.ravel()
    row_of: dict[str, IntArray] = {}
    for name, column, most in (
        ("most_dm", "dm", needs.most_dm_kg.ravel()),
        ("ndf", "room", needs.most_ndf_kg.ravel()),
    ):
        value = per_kg[column][columns.source]
        held = here & np.isfinite(most)
        if problem.fill is not None and name == "ndf":
            held &= ~problem.fill.free.ravel()  # fiber is part of what fills them
        row_of[name] = builder.by_cell(held, value, upper=most)
    cells = builder.model_cells
    for one in problem.ceilings:
        share = one.share.ravel()[cells]
        value = one.amount[columns.source] - share * one.against[columns.source]
        scale = NUTRIENTS[one.name].row_scale
        room = (one.most - one.already).ravel() / scale
        value = np.where(np.isfinite(value), value, 0.0) / scale
        row_of[one.name] = builder.by_cell(one.active.ravel(), value, upper=room)
        if one.missable:
            _add_shortage(builder, row_of[one.name], columns.shortage[one.name], -1.0 / scale)
    return row_of


def _share_rows(problem: Problem, columns: Columns, builder: RowBuilder) -> None:
    """Keep a limited source under its share of the ration: ``x_i - share * total <= 0``."""
    wanted = placed(columns.total)
    row_of = builder.by_cell(wanted, np.ones(len(columns.source)), 0.0, 0.0)
    builder.entries(row_of[wanted], columns.total[wanted], -1.0)
    share = problem.sources.share_limit[columns.group, columns.source, columns.period]
    limited = np.flatnonzero(share < 1.0)
    rows = builder.new_rows(-np.inf, 0.0, len(limited))
    builder.entries(rows, limited, 1.0)
    builder.entries(rows, columns.total[builder.model_cells[limited]], -share[limited])
    _put_out_rows(problem, columns, builder, limited[share[limited] > 0.0])


def _put_out_rows(
    problem: Problem, columns: Columns, builder: RowBuilder, limited: IntArray
) -> None:
    """Keep a limited source under its share of what is put out too.

    What is weighed and mixed may be cleaned up: more of it is then eaten than is counted on.
    """
    share = problem.sources.share_limit[columns.group, columns.source, columns.period]
    wasted = problem.sources.feeding_loss_frac[columns.group, columns.source]
    offered = 1.0 / (1.0 - wasted)
    order = np.argsort(builder.model_cells, kind="stable")
    cells = builder.model_cells[order]
    for one in limited.tolist():
        first, end = np.searchsorted(cells, builder.model_cells[one] + np.array([0, 1]))
        mine = order[first:end]
        if (offered[mine] < offered[one]).any():
            row = builder.new_rows(-np.inf, 0.0)
            value = offered[mine] * ((mine == one) - share[one])
            builder.entries(np.repeat(row, len(mine)), mine, value)


def _wish_rows(problem: Problem, columns: Columns, builder: RowBuilder) -> None:
    """Feed what is wished as far as that can be done: ``x + unkept >= wished``."""
    at = np.flatnonzero(placed(columns.unkept))
    least = problem.wished_kg_dm[columns.group[at], columns.source[at], columns.period[at]]
    rows = builder.new_rows(least, np.inf, len(at))
    builder.entries(rows, at, 1.0)
    builder.entries(rows, columns.unkept[at], 1.0)


def _supply_rows(
    problem: Problem, columns: Columns, builder: RowBuilder
) -> tuple[IntArray, IntArray]:
    """Keep withdrawals within each lot's stock and each feed's limit, one row each.

    A withdrawal in period t draws ``1 / K_t`` on the opening stock, because what would have
    been lost by then was part of the opening stock too.
    """
    sources = problem.sources
    lots = sources.lot_count
    limit = np.concatenate([sources.start_kg_dm, sources.most_buy_kg_dm]) / KG_PER_ROW_UNIT
    in_loads = placed(columns.loads)
    limit[in_loads] = 0.0
    row_of = nowhere(len(limit))
    active = np.isfinite(limit)
    row_of[active] = builder.new_rows(-np.inf, limit[active], int(active.sum()))
    rows = row_of[columns.source]
    wanted = placed(rows)
    drawn = _of_opening_t(problem, columns)
    builder.entries(rows[wanted], np.flatnonzero(wanted), drawn[wanted])
    sold = np.flatnonzero(placed(columns.sold))
    builder.entries(row_of[sold], columns.sold[sold], 1.0)
    load_t = sources.load_kg_dm[in_loads] / KG_PER_ROW_UNIT
    builder.entries(row_of[in_loads], columns.loads[in_loads], -load_t)
    return row_of[:lots], row_of[lots:]


def _of_opening_t(problem: Problem, columns: Columns) -> FloatArray:
    """Return the tonnes of a source's opening dry matter that each ``x`` draws; feeds lose none."""
    kept = np.ones(len(columns.source))
    is_lot = columns.source < problem.sources.lot_count
    kept[is_lot] = problem.keep[columns.source[is_lot], columns.period[is_lot]]
    return columns.offered_kg(problem) / KG_PER_ROW_UNIT / kept


def _farm_rows(problem: Problem, columns: Columns, builder: RowBuilder) -> dict[str, int]:
    """Keep money for feed within what there is, and hay in the yard for the days after."""
    rows: dict[str, int] = {}
    if "cash" in columns.farm_short:
        rows["cash"] = _cash_row(problem, columns, builder)
    if "reserve" in columns.farm_short:
        rows["reserve"] = _reserve_row(problem, columns, builder)
    for name, row in rows.items():
        builder.entries(row, np.array([columns.farm_short[name]]), -1.0)
    return rows


def _one_row(builder: RowBuilder, most: float, parts: list[tuple[IntArray, FloatArray]]) -> int:
    row = int(builder.new_rows(-np.inf, most)[0])
    for column, value in parts:
        builder.entries(row, column, value)
    return row


def _cash_row(problem: Problem, columns: Columns, builder: RowBuilder) -> int:
    """Count what is paid for feed, whole loads as they come, less what hay sold brings."""
    sources = problem.sources
    per_t = np.array([value.usd_per_kg_dm for value in sources.values]) * KG_PER_ROW_UNIT
    by_weight = (columns.source >= sources.lot_count) & ~placed(columns.loads[columns.source])
    at = np.flatnonzero(by_weight)
    offered_t = columns.offered_kg(problem) / KG_PER_ROW_UNIT
    paid = (offered_t * per_t[columns.source])[at] / USD_PER_ROW_UNIT
    loads, sold = placed(columns.loads), placed(columns.sold)
    brings = sources.sale_usd_per_kg_dm[sold] * KG_PER_ROW_UNIT / USD_PER_ROW_UNIT
    return _one_row(
        builder,
        (problem.cash_limit_usd or 0.0) / USD_PER_ROW_UNIT,
        [
            (at, paid),
            (columns.loads[loads], problem.load_price_usd[loads] / USD_PER_ROW_UNIT),
            (columns.sold[sold], -brings),
        ],
    )


def _reserve_row(problem: Problem, columns: Columns, builder: RowBuilder) -> int:
    """Leave hay: what is fed or sold is counted as what would be left of it on the last day."""
    last = problem.keep[:, -1]
    at = np.flatnonzero(columns.source < problem.sources.lot_count)
    drawn = _of_opening_t(problem, columns)[at] * last[columns.source[at]]
    sold = placed(columns.sold)
    standing = float(problem.sources.start_kg_dm @ last)
    return _one_row(
        builder,
        (standing - problem.reserve_kg_dm) / KG_PER_ROW_UNIT,
        [(at, drawn), (columns.sold[sold], last[sold])],
    )
