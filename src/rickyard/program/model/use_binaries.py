"""Which hay is in use for whom and when, as whole numbers beside the linear program.

For every amount of hay ``x`` there is a ``y`` that is one while the hay is in use, and a ``z``
that is one where it begins to be. A run begun lasts ``least_run`` periods or until the hay, the
group or the season ends.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.program.model.nonlinear_rows import AppetiteRows
from rickyard.program.model.rows import Model
from rickyard.program.problem import Problem, UseRules
from rickyard.program.solver import NOWHERE, Entries, SparseRows, nowhere, numbered, placed
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: What an animal might eat at most, where its needs are stated without a ceiling, percent of live
#: weight a day: far more than any does. It only keeps the coefficients of the search small.
MOST_PCT_BW: Final = 10.0

#: Appetite is looked at over these diets, Mcal NEm per kg DM, and a little room is left above it.
DIETS_NEM: Final = (0.8, 1.1, 1.4, 1.7, 2.0)
ROOM: Final = 1.05


@dataclass(frozen=True, slots=True)
class LotUse:
    """The hay amounts of a model and what links them, all of length n.

    ``column`` is where the amount stands in the model, ``before`` the position in this table of
    the same hay and group a period earlier (-1 where it was not to be had), ``after`` that a
    period later, and ``cell`` the group-period; ``may_end`` is whether a run may end there however
    short it is. ``most_kg`` and ``least_kg`` hold while it is in use. ``start_usd`` is what a
    start costs there, ``is_start`` whether being in use there without the period before is one,
    and ``must`` whether it has to be in use. ``not_alone`` is whether it may be in use only with
    another hay that is not so, as hay with nitrate.
    ``drawn_t`` is what a kilogram eaten draws of its source, and ``stock_t`` what there is of each
    source, shape (sources,), infinite where it is bought without limit or by the load. [t DM]
    """

    rules: UseRules
    column: IntArray
    group: IntArray
    source: IntArray
    period: IntArray
    cell: IntArray
    before: IntArray
    after: IntArray
    may_end: BoolArray
    most_kg: FloatArray
    least_kg: FloatArray
    start_usd: FloatArray
    is_start: BoolArray
    must: BoolArray
    turn: BoolArray
    not_alone: BoolArray
    drawn_t: FloatArray
    stock_t: FloatArray

    @property
    def possible(self) -> BoolArray:
        """Return where the least that a hay in use gets can be fed at all."""
        return np.asarray((self.most_kg >= self.least_kg) & is_some(self.most_kg))

    def may_begin(self, chosen: BoolArray) -> BoolArray:
        """Return where a run could begin and last, when only the chosen hays may be in use.

        What a person wishes may begin anywhere.
        """
        lasts = np.ones(len(chosen), dtype=bool)
        step = np.arange(len(chosen))
        for _ in range(self.rules.least_run - 1):
            going = placed(step) & ~self.may_end[step]
            step = np.where(going, self.after[step], NOWHERE)
            lasts &= ~going | (placed(step) & chosen[step])
        return np.asarray((lasts & self.turn) | self.must)

    def starts(self, used: BoolArray) -> BoolArray:
        """Return where a run begins."""
        earlier = np.where(placed(self.before), used[self.before], False)
        return np.asarray(used & ~earlier & self.is_start)

    def alone(self, used: BoolArray) -> BoolArray:
        """Return where a hay is in use without one that it has to go with."""
        beside = np.bincount(self.cell, used & ~self.not_alone)
        return np.asarray(used & self.not_alone & ~is_some(beside[self.cell]))

    def too_little_of(self, used: BoolArray) -> IntArray:
        """Return the sources that cannot give all who use them the least."""
        sources = len(self.stock_t)
        asked = np.bincount(self.source, self.drawn_t * self.least_kg * used, minlength=sources)
        return np.flatnonzero(asked > self.stock_t)

    def changes_usd(self, used: BoolArray) -> float:
        """Return what the changes cost."""
        return float(self.start_usd[self.starts(used)].sum())


def uses_of(model: Model, rules: UseRules) -> LotUse:
    """Return the hay amounts of a model.

    Parameters
    ----------
    model : Model
        The linear program.
    rules : UseRules
        The rules about hays in use.

    Returns
    -------
    LotUse
        One entry for each group, hay and period. [kg DM]
    """
    columns = model.columns
    column = np.flatnonzero(rules.is_hay[columns.source])
    group, source, period = columns.group[column], columns.source[column], columns.period[column]
    groups, sources, periods = model.problem.shape
    at = nowhere((groups, sources, periods))
    at[group, source, period] = np.arange(len(column))
    before = np.where(is_some(period), at[group, source, period - 1], NOWHERE)
    here = model.problem.needs.here
    later = np.minimum(period + 1, periods - 1)
    after = np.where(period + 1 < periods, at[group, source, later], NOWHERE)
    goes_on = here[group, later] & model.problem.sources.allowed[group, source, later]
    first = period == 0
    opening = first | ~here[group, np.maximum(period - 1, 0)]
    already = first & rules.open_before[group, source]
    must = rules.must[group, source, period]
    drawn, stock = _stocks(model)
    most = _most_kg(model)[column]
    least = rules.least_kg[group, period] if rules.any else np.zeros(len(column))
    return LotUse(
        rules=rules,
        column=column,
        group=group,
        source=source,
        period=period,
        cell=group * periods + period,
        before=before,
        after=after,
        may_end=(period + 1 == periods) | ~goes_on,
        most_kg=most,
        # A wish asks for its own least, as far as that can be given.
        least_kg=np.where(must, 0.0, least),
        start_usd=np.where(opening, 0.0, rules.change_usd),
        is_start=~already,
        must=must,
        turn=_turns(model.problem)[group, source, period],
        not_alone=_not_alone(model, rules)[column] & is_some(least) & ~must,
        drawn_t=drawn[column],
        stock_t=stock,
    )


def _stocks(model: Model) -> tuple[FloatArray, FloatArray]:
    """Return what a kilogram of each amount draws of its source, and what there is of each."""
    drawn, stock = np.zeros(model.columns.amounts), np.full(model.problem.shape[1], np.inf)
    row_of = np.concatenate([model.stock_row, model.buy_row])
    limited = np.flatnonzero(placed(row_of) & ~placed(model.columns.loads))
    stock[limited] = model.rows.upper[row_of[limited]]
    of_stock = np.zeros(len(model.rows.lower), dtype=bool)
    of_stock[row_of[limited]] = True
    at = of_stock[model.rows.row] & (model.rows.column < model.columns.amounts)
    drawn[model.rows.column[at]] = model.rows.value[at]
    return drawn, stock


def _not_alone(model: Model, rules: UseRules) -> BoolArray:
    """Return the amounts that ask for hay beside them, where nothing but hay in use is that.

    Shape (amounts,).
    """
    problem, columns = model.problem, model.columns
    found = np.zeros(len(columns.group), dtype=bool)
    for one in problem.besides:
        if one.soft or not one.most:
            continue
        mine = columns.group == one.group
        if one.on is not None:
            mine &= one.on[columns.period]
        free = mine & one.beside[columns.source] & ~rules.is_hay[columns.source]
        elsewhere = np.bincount(columns.period, free, minlength=problem.shape[2])
        found |= mine & one.of[columns.source] & ~is_some(elsewhere[columns.period])
    return found


def _turns(problem: Problem) -> BoolArray:
    """Return where a hay may begin by the rules of safety, shape (groups, sources, periods)."""
    turn = np.ones(problem.shape, dtype=bool)
    for one in problem.begins:
        turn[one.group, one.source] = one.part != 0.0
    return turn


def _most_kg(model: Model) -> FloatArray:
    """Return for every amount the most that any diet could hold of it."""
    needs, columns = model.problem.needs, model.columns
    cell = model.cells()
    diet = largest_intake(model)[cell]
    share = model.problem.sources.share_limit[columns.group, columns.source, columns.period]
    most = np.minimum(model.upper[: len(cell)], share * diet)
    fiber = model.problem.per_kg["room"][columns.source]
    ceiling = needs.most_ndf_kg.ravel()[cell]
    by_fiber = np.full(len(cell), np.inf)
    np.divide(ceiling, fiber, out=by_fiber, where=is_some(fiber) & np.isfinite(ceiling))
    return np.asarray(np.minimum(most, by_fiber))


def largest_intake(model: Model) -> FloatArray:
    """Return the most that a head might eat of any diet, by group-period cell.

    Parameters
    ----------
    model : Model
        The linear program.

    Returns
    -------
    array, shape (groups * periods,)
        Above any appetite and any ceiling of dry matter. [kg DM per head and day]
    """
    needs, rows = model.problem.needs, AppetiteRows.of(model)
    by_weight = MOST_PCT_BW / 100.0 * needs.full_weight_kg.ravel()
    each = [rows.appetite(np.full(by_weight.size, diet)) for diet in DIETS_NEM]
    return np.asarray(
        np.fmin(np.fmin(needs.most_dm_kg.ravel(), ROOM * np.max(each, axis=0)), by_weight)
    )


def use_rows(uses: LotUse, y_at: IntArray, z_at: IntArray, chosen: IntArray) -> list[SparseRows]:
    """Write the rules between hays in use and their beginnings, for some of the hay amounts.

    Parameters
    ----------
    uses : LotUse
        All hay amounts.
    y_at, z_at : array of int, shape (k,)
        Where the two variables of each chosen amount stand.
    chosen : array of int, shape (k,)
        Which amounts, as positions in ``uses``; what is not chosen is not in use.

    Returns
    -------
    list of SparseRows
        How many at once, what goes only with another, when one is begun, and how long it is kept.
    """
    place = numbered(chosen, len(uses.column))
    before = np.where(placed(uses.before[chosen]), place[uses.before[chosen]], NOWHERE)
    return [
        _at_once(uses, y_at, chosen),
        _with_another(uses, y_at, chosen),
        _begun(y_at, z_at, before, uses.is_start[chosen]),
        _kept_up(y_at, z_at, before, uses.rules.least_run),
    ]


def amount_rows(uses: LotUse, x_at: IntArray, y_at: IntArray, chosen: IntArray) -> list[SparseRows]:
    """Write ``x <= most * y`` and ``x >= least * y``: how much of a hay there is while in use.

    Parameters
    ----------
    uses : LotUse
        All hay amounts.
    x_at, y_at : array of int, shape (k,)
        Where the amount and its being in use stand for each chosen one.
    chosen : array of int, shape (k,)
        Which amounts, as positions in ``uses``.

    Returns
    -------
    list of SparseRows
        The rows of the most and of the least. [kg DM]
    """
    rows, zero = np.arange(len(x_at)), np.zeros(len(x_at))
    return [
        SparseRows.of(lower, upper, (rows, x_at, 1.0), (rows, y_at, -kg[chosen]))
        for lower, upper, kg in ((-np.inf, zero, uses.most_kg), (zero, np.inf, uses.least_kg))
    ]


def _at_once(uses: LotUse, y_at: IntArray, chosen: IntArray) -> SparseRows:
    limit = uses.rules.hays_at_once[uses.group[chosen]]
    cells, row = np.unique(uses.cell[chosen], return_inverse=True)
    most = np.zeros(len(cells))
    most[row] = limit
    most = np.maximum(most, np.bincount(row, uses.must[chosen], minlength=len(cells)))
    wanted = np.bincount(row, minlength=len(cells)) > most
    kept = wanted[row]
    number = numbered(np.flatnonzero(wanted), len(cells))
    return SparseRows.of(-np.inf, most[wanted], (number[row[kept]], y_at[kept], 1.0))


def _with_another(uses: LotUse, y_at: IntArray, chosen: IntArray) -> SparseRows:
    """Write ``y <= sum y beside`` where a hay is in use only with another."""
    mine = np.flatnonzero(uses.not_alone[chosen])
    other = np.flatnonzero(~uses.not_alone[chosen])
    pairs = uses.cell[chosen[mine]][:, None] == uses.cell[chosen[other]][None, :]
    row, at = np.nonzero(pairs)
    zero = np.zeros(len(mine))
    return SparseRows.of(
        -np.inf, zero, (np.arange(len(mine)), y_at[mine], 1.0), (row, y_at[other[at]], -1.0)
    )


def _begun(y_at: IntArray, z_at: IntArray, before: IntArray, is_start: BoolArray) -> SparseRows:
    """Write ``y - y_before <= z`` where being in use without the period before is a start."""
    at = np.flatnonzero(is_start)
    rows, earlier = np.arange(len(at)), before[at]
    there = placed(earlier)
    return SparseRows.of(
        -np.inf,
        np.zeros(len(at)),
        (rows, y_at[at], 1.0),
        (rows[there], y_at[earlier[there]], -1.0),
        (rows, z_at[at], -1.0),
    )


def _kept_up(y_at: IntArray, z_at: IntArray, before: IntArray, run: int) -> SparseRows:
    """Write that what began in the last ``run`` periods is still in use."""
    step = np.arange(len(y_at))
    blocks: list[Entries] = [(step, y_at, -1.0)]
    for _ in range(run):
        at = np.flatnonzero(placed(step))
        blocks.append((at, z_at[step[at]], 1.0))
        step = np.where(placed(step), before[np.maximum(step, 0)], NOWHERE)
    return SparseRows.of(-np.inf, np.zeros(len(y_at)), *blocks)
