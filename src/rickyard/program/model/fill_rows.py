"""Rows of stock with free access: what they are offered fills them, neither less nor more."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from rickyard.program.model.row_builder import RowBuilder
from rickyard.program.model.variables import Columns
from rickyard.program.problem import Problem
from rickyard.program.solver import SparseRows
from rickyard.types import FloatArray, IntArray

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
    there = row_of >= 0
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
    mine[at[at >= 0]] = True
    wanted = mine[rows.row] & (rows.column < columns.amounts)
    value = rows.value.copy()
    value[wanted] = fill_values(problem, columns)[rows.column[wanted]]
    return replace(rows, value=value)
