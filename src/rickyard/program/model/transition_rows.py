"""Rows about how stock is fed: new hay mixed in, feeds raised slowly, stock fed to its fill.

The rule that a new hay is mixed in by degrees, where a group asks for it.

In a period, hay beyond what there was of it in the period before may make up at most the mean of
the straight line from the old hay to the new: over seven days, four sevenths of a week's hay. So
the old hay for the mix is kept back, and what the group needs is counted from the mix. The rule
can be broken at a price, where the old hay is gone or nothing else meets a need.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import Final

import numpy as np

from rickyard.program.model.row_builder import RowBuilder
from rickyard.program.model.variables import Columns
from rickyard.program.problem import KEPT, Problem
from rickyard.program.solver import NOWHERE, SparseRows, nowhere, placed
from rickyard.quantities import is_some
from rickyard.types import FloatArray, IntArray


def change_over_rows(problem: Problem, columns: Columns, rows: RowBuilder) -> dict[str, IntArray]:
    """Write ``rise >= x - x before`` for every hay, and what all rises may come to."""
    periods = problem.shape[2]
    share = problem.change_share.ravel()
    row_of = nowhere(share.size)
    active = np.isfinite(share)
    count = int(active.sum())
    row_of[active] = rows.new_rows(-np.inf, 0.0, count)
    at = columns.place(problem.shape)
    hay = np.flatnonzero(placed(columns.rise))
    cell = columns.group[hay] * periods + columns.period[hay]
    before = at[columns.group[hay], columns.source[hay], columns.period[hay] - 1]
    climbs = rows.new_rows(0.0, np.inf, len(hay))
    rows.entries(climbs, columns.rise[hay], 1.0)
    rows.entries(climbs, hay, -1.0)
    was = placed(before)
    rows.entries(climbs[was], before[was], 1.0)
    rows.entries(row_of[cell], columns.rise[hay], 1.0)
    rows.entries(row_of[cell], hay, -share[cell])
    short = columns.shortage["change_over"]
    rows.entries(row_of[active], short[active], -1.0)
    return {"change_over": row_of}


def change_amounts(problem: Problem, eaten: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return how much new hay there may be and how much there is, (groups, periods), kg DM.

    The first is NaN where no rule holds.

    Parameters
    ----------
    problem : Problem
        The season.
    eaten : array of float, shape (groups, sources, periods)
        What is eaten. [kg DM]

    Returns
    -------
    allowed : array of float, shape (groups, periods)
        New hay that there may be; NaN where no rule holds. [kg DM]
    risen : array of float, shape (groups, periods)
        New hay that there is. [kg DM]
    """
    hay = eaten[:, problem.sources.is_hay, :]
    rise = np.maximum(0.0, np.diff(hay, axis=2, prepend=0.0)).sum(axis=1)
    return problem.change_share * hay.sum(axis=1), rise


def change_words(name: str, when: str, amount: str) -> str:
    """Say that a group's hay changes faster than it asks for.

    Parameters
    ----------
    name : str
        The name of the group.
    when : str
        The days, in words.
    amount : str
        How much hay is too new, per head and day, with its unit.

    Returns
    -------
    str
        A sentence, and what to do.
    """
    return (
        f"{name} change to another hay in fewer days than they are to have for it {when}: up to "
        f"{amount} per head and day of it is too new, because the old hay is gone or another need "
        "comes first. Keep some of the old hay back by hand, or give the change fewer days."
    )


#: Shares of fill add up to no less and no more than this: the equations come no nearer to what is
#: eaten, and amounts that are measured need some room. Common practice.
FILLED: Final = (0.98, 1.02)


def fill_rows(problem: Problem, columns: Columns, rows: RowBuilder) -> dict[str, IntArray]:
    """Write that shares of fill add up to about one, and what is missing of it."""
    if problem.fill is None:
        return {}
    cells = problem.shape[2]
    ordinary = np.repeat(problem.fill.appetite_kg, cells)
    low, high = (ordinary * share for share in FILLED)
    row_of = rows.by_cell(problem.fill.free.ravel(), fill_values(problem, columns), low, high)
    short = columns.shortage["fill"]
    there = placed(row_of)
    rows.entries(row_of[there], short[there], 1.0)
    return {"fill": row_of}


def fill_values(problem: Problem, columns: Columns) -> FloatArray:
    """Return what a kilogram of each amount takes of an ordinary appetite. [kg DM]."""
    if problem.fill is None:
        return np.zeros(len(columns.group))
    each = problem.fill.per_kg[columns.group, columns.source, columns.period]
    return np.asarray(each * problem.fill.appetite_kg[columns.group])


def with_fill_of(
    rows: SparseRows, problem: Problem, columns: Columns, row_of: dict[str, IntArray]
) -> SparseRows:
    """Return the same rows with what fills by another problem of the same shape.

    Parameters
    ----------
    rows : SparseRows
        The rows of a model.
    problem : Problem
        What fills.
    columns : Columns
        Its variables.
    row_of : dict
        Where the rows of a model stand.

    Returns
    -------
    SparseRows
        The same where nobody has free access.
    """
    if "fill" not in row_of:
        return rows
    mine = np.zeros(len(rows.lower), dtype=bool)
    at = row_of["fill"]
    mine[at[placed(at)]] = True
    wanted = mine[rows.row] & (rows.column < columns.amounts)
    value = rows.value.copy()
    value[wanted] = fill_values(problem, columns)[rows.column[wanted]]
    return replace(rows, value=value)


#: On the mean of a period in which a feed rises evenly it is so far from where it began to where it
#: ends, a little over half of it. [-]
EVEN_RISE: Final = 0.5

#: Of more feeds that may be raised together than this, the rest is counted as even.
MOST_RAISED: Final = 4


def step_rows(problem: Problem, columns: Columns, rows: RowBuilder) -> None:
    """Write ``x <= keep x_before + ahead x_after + free`` for every feed that is raised slowly."""
    _beside_rows(problem, columns, rows)
    _hold_rows(problem, columns, rows)
    at = columns.place(problem.shape)
    for one in problem.steps:
        same = at[one.group, list(one.sources)]
        here = np.flatnonzero(placed(same).any(axis=0))
        free = one.free.copy()
        free[0] += one.keep[0] * one.before_kg
        number = rows.new_rows(-np.inf, free[here], len(here))
        for mine in same:
            _beside(rows, number, mine, here, np.ones(len(here)))
            _beside(rows, number, mine, here - 1, -one.keep[here])
            _beside(rows, number, mine, here + 1, -one.ahead[here])
    for begin in problem.begins:
        same = at[begin.group, list(begin.sources)]
        here = np.flatnonzero(placed(same).any(axis=0) & np.isfinite(begin.part))
        number = rows.new_rows(-np.inf, 0.0, len(here))
        for mine in same:
            _beside(rows, number, mine, here, np.ones(len(here)))
            _beside(rows, number, mine, here - 1, np.where(is_some(begin.part[here]), -1.0, -KEPT))
        share = problem.sources.share_limit[begin.group, begin.source, here]
        total = columns.total[begin.group * problem.shape[2] + here]
        room = begin.part[here] * share
        opened = np.flatnonzero(room)
        rows.entries(number[opened], total[opened], -room[opened])


def _beside(
    rows: RowBuilder, number: IntArray, mine: IntArray, period: IntArray, value: FloatArray
) -> None:
    """Write what a row holds of the period before or after, where there is one."""
    inside = (period >= 0) & (period < len(mine))
    place = np.where(inside, mine[np.clip(period, 0, len(mine) - 1)], NOWHERE)
    there = placed(place) & (value != 0)
    rows.entries(number[there], place[there], value[there])


def _beside_rows(problem: Problem, columns: Columns, rows: RowBuilder) -> None:
    """Write ``sum of <= most sum beside + free`` for what is fed only with something beside it."""
    periods = problem.shape[2]
    for one in problem.besides:
        on = np.arange(periods) if one.on is None else np.flatnonzero(one.on)
        free = np.zeros(periods) if one.free_kg is None else one.free_kg
        number = nowhere(periods)
        number[on] = rows.new_rows(-np.inf, free[on], len(on))
        mine = np.flatnonzero((columns.group == one.group) & placed(number[columns.period]))
        value = one.of[columns.source[mine]] - one.most * one.beside[columns.source[mine]]
        there = np.flatnonzero(value)
        rows.entries(number[columns.period[mine[there]]], mine[there], value[there])
        if one.free_kg is None and not one.soft:
            # A limit holds of what is put out too: what is mixed may be cleaned up.
            again = nowhere(periods)
            again[on] = rows.new_rows(-np.inf, 0.0, len(on))
            wasted = problem.sources.feeding_loss_frac[one.group, columns.source[mine[there]]]
            rows.entries(again[columns.period[mine[there]]], mine[there],
                         value[there] / (1.0 - wasted))  # fmt: skip
        if one.soft:
            short = columns.shortage["other_hay"][one.group * periods + on]
            rows.entries(number[on], short, np.full(len(on), -(1.0 + one.most)))


def mix_amounts(problem: Problem, eaten: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the least other forage beside what is only to be mixed, and what there is of it.

    Parameters
    ----------
    problem : Problem
        The season.
    eaten : array of float, shape (groups, sources, periods)
        What is eaten. [kg DM]

    Returns
    -------
    least : array of float, shape (groups, periods)
        The least other forage by the rule that asks most; NaN where none holds. [kg DM]
    beside : array of float, shape (groups, periods)
        The other forage that there is. [kg DM]
    """
    least, beside = (np.full(problem.needs.head_days.shape, np.nan) for _ in range(2))
    for one in problem.besides:
        if not one.soft or one.on is None:
            continue
        of, other = (eaten[one.group][mark].sum(axis=0) for mark in (one.of, one.beside))
        asked = (of + other) / (1.0 + one.most)
        lacks = asked - other
        now = least[one.group] - beside[one.group]
        worse = one.on & ~(lacks <= now)
        least[one.group, worse], beside[one.group, worse] = asked[worse], other[worse]
    return least, beside


def _hold_rows(problem: Problem, columns: Columns, rows: RowBuilder) -> None:
    """Write ``sum v x >= part sum v x_before`` where feed does not fall.

    Of what is raised in that period only what an even rise brings is counted: there is a row for
    every set of feeds that may be raised together.
    """
    for one in problem.holds:
        mine = np.flatnonzero(columns.group == one.group)
        source = columns.source[mine]
        value = problem.per_kg[one.supply][source]
        now, before = (columns.period[mine] == one.period - back for back in (0, 1))
        here = set(source[now].tolist())
        slow = [feed for feed in one.slow if here.intersection(feed)][:MOST_RAISED]
        for rising in product(*((False, True) for _ in slow)):
            up = [i for feed, rises in zip(slow, rising, strict=True) if rises for i in feed]
            rises = np.isin(source, up)
            part = np.where(rises, EVEN_RISE, 1.0)
            share = now * part + before * (1.0 - part - one.part)
            each = value * share
            number = rows.new_rows(0.0, np.inf, 1)[0]
            at = np.flatnonzero(each)
            rows.entries(number, mine[at], each[at])
            at = np.flatnonzero(share)
            row = np.full(len(at), number)
            rows.by_supply(one.supply, row, mine[at], each[at], share[at])


def descent_rows(problem: Problem, columns: Columns, rows: RowBuilder) -> dict[str, IntArray]:
    """Write ``sum x + short >= sum x_before - part (all x_before)`` of the forage of each group."""
    at, periods = columns.place(problem.shape), problem.shape[2]
    row_of = nowhere(problem.shape[0] * periods)
    cells = np.array([one.group * periods + one.period for one in problem.descents], dtype=np.int64)
    row_of[cells] = number = rows.new_rows(0.0, np.inf, len(cells))
    rows.entries(number, columns.shortage["forage_fall"][cells], 1.0)
    for one, row in zip(problem.descents, number.tolist(), strict=True):
        now, before = (each.astype(np.float64) for each in (one.now, one.before))
        for back, value in ((0, now), (1, one.part - before)):
            mine = at[one.group, :, one.period - back]
            there = np.flatnonzero(placed(mine) & (value != 0.0))
            rows.entries(np.full(len(there), row), mine[there], value[there])
    return {"forage_fall": row_of}


def descent_amounts(problem: Problem, eaten: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the least forage where it falls by degrees and what there is, (groups, periods).

    Parameters
    ----------
    problem : Problem
        The season.
    eaten : array of float, shape (groups, sources, periods)
        What is eaten. [kg DM]

    Returns
    -------
    least : array of float, shape (groups, periods)
        The least forage there may be; NaN where no rule holds. [kg DM]
    forage : array of float, shape (groups, periods)
        The forage that there is. [kg DM]
    """
    least, forage = (np.full(problem.needs.head_days.shape, np.nan) for _ in range(2))
    for one in problem.descents:
        was, now = (eaten[one.group, :, one.period - back] for back in (1, 0))
        least[one.group, one.period] = was @ one.before - one.part * was.sum()
        forage[one.group, one.period] = now @ one.now
    return least, forage
