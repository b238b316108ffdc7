"""The rows by which feeds are raised slowly and hay with nitrate is begun low."""

from __future__ import annotations

import numpy as np

from rickyard.program.model.row_builder import RowBuilder
from rickyard.program.model.variables import Columns
from rickyard.program.problem import KEPT, Problem
from rickyard.types import FloatArray, IntArray


def step_rows(problem: Problem, columns: Columns, rows: RowBuilder) -> None:
    """Write ``x <= keep x_before + ahead x_after + free`` for every feed that is raised slowly."""
    _beside_rows(problem, columns, rows)
    _hold_rows(problem, columns, rows)
    at = columns.place(problem.shape)
    for one in problem.steps:
        same = at[one.group, [one.source, *one.also]]
        here = np.flatnonzero((same >= 0).any(axis=0))
        free = one.free.copy()
        free[0] += one.keep[0] * one.before_kg
        number = rows.new_rows(-np.inf, free[here], len(here))
        for mine in same:
            _beside(rows, number, mine, here, np.ones(len(here)))
            _beside(rows, number, mine, here - 1, -one.keep[here])
            _beside(rows, number, mine, here + 1, -one.ahead[here])
    for begin in problem.begins:
        mine = at[begin.group, begin.source]
        here = np.flatnonzero((mine >= 0) & np.isfinite(begin.part))
        number = rows.new_rows(-np.inf, 0.0, len(here))
        rows.entries(number, mine[here], 1.0)
        _beside(rows, number, mine, here - 1, np.where(begin.part[here] > 0.0, -1.0, -KEPT))
        share = problem.sources.share_limit[begin.group, begin.source, here]
        total = columns.total[begin.group * problem.shape[2] + here]
        room = begin.part[here] * share
        opened = room != 0.0
        rows.entries(number[opened], total[opened], -room[opened])


def _beside(
    rows: RowBuilder, number: IntArray, mine: IntArray, period: IntArray, value: FloatArray
) -> None:
    """Write what a row holds of the period before or after, where there is one."""
    inside = (period >= 0) & (period < len(mine))
    place = np.where(inside, mine[np.clip(period, 0, len(mine) - 1)], -1)
    there = (place >= 0) & (value != 0.0)
    rows.entries(number[there], place[there], value[there])


def _beside_rows(problem: Problem, columns: Columns, rows: RowBuilder) -> None:
    """Write ``sum of <= most sum beside`` for what is fed only with something beside it."""
    periods = problem.shape[2]
    for one in problem.besides:
        mine = np.flatnonzero(columns.group == one.group)
        value = one.of[columns.source[mine]] - one.most * one.beside[columns.source[mine]]
        number = rows.new_rows(-np.inf, 0.0, periods)
        there = value != 0.0
        rows.entries(number[columns.period[mine[there]]], mine[there], value[there])


def _hold_rows(problem: Problem, columns: Columns, rows: RowBuilder) -> None:
    """Write ``sum v x >= part sum v x_before`` where feed does not fall."""
    for one in problem.holds:
        mine = np.flatnonzero(columns.group == one.group)
        value = problem.per_kg[one.supply][columns.source[mine]]
        number = rows.new_rows(0.0, np.inf, 1)[0]
        for period, sign in ((one.period, 1.0), (one.period - 1, -one.part)):
            there = (columns.period[mine] == period) & (value != 0.0)
            rows.entries(number, mine[there], sign * value[there])
