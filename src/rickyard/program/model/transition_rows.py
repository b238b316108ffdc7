"""The rule that a new hay is mixed in by degrees, where a group asks for it.

In a period, hay beyond what there was of it in the period before may make up at most the mean of
the straight line from the old hay to the new: over seven days, four sevenths of a week's hay. So
the old hay for the mix is kept back, and what the group needs is counted from the mix. The rule
can be broken at a price, where the old hay is gone or nothing else meets a need.
"""

from __future__ import annotations

import numpy as np

from rickyard.program.model.row_builder import RowBuilder
from rickyard.program.model.variables import Columns
from rickyard.program.problem import Problem
from rickyard.types import FloatArray, IntArray


def change_over_rows(problem: Problem, columns: Columns, rows: RowBuilder) -> dict[str, IntArray]:
    """Write ``rise >= x - x before`` for every hay, and what all rises may come to."""
    periods = problem.shape[2]
    share = problem.change_share.ravel()
    row_of = np.full(share.size, -1, dtype=np.int64)
    active = np.isfinite(share)
    count = int(active.sum())
    row_of[active] = rows.new_rows(-np.inf, 0.0, count)
    at = columns.place(problem.shape)
    hay = np.flatnonzero(columns.rise >= 0)
    cell = columns.group[hay] * periods + columns.period[hay]
    before = at[columns.group[hay], columns.source[hay], columns.period[hay] - 1]
    climbs = rows.new_rows(0.0, np.inf, len(hay))
    rows.entries(climbs, columns.rise[hay], 1.0)
    rows.entries(climbs, hay, -1.0)
    was = before >= 0
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
        f"{name} change to another hay faster than change_over_days asks for {when}: up to "
        f"{amount} per head and day of it is too new, because the old hay is gone or another need "
        "comes first. Keep some of the old hay back by hand, or give the change fewer days."
    )
