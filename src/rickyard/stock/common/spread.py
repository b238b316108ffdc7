"""Calving that is spread over weeks: a group as many animals, each with her own day.

A group counts as equal numbers calving on each day from the first to the last (common practice,
no published source). Needs are means over them, never the needs of the mean day.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import OutOfRange
from rickyard.types import FloatArray, IntArray

#: Most days of calving that are followed one by one; a longer spread is cut into so many.
MOST_DAYS: Final = 61


def calving_offsets(spread_days: int) -> FloatArray:
    """Return the days from the mean calving day on which equal numbers calve.

    Parameters
    ----------
    spread_days : int
        Days from the first calving to the last. [d]

    Returns
    -------
    array
        Offsets in whole days, their mean 0 to half a day. [d]

    Raises
    ------
    OutOfRange
        If the spread is negative.

    Examples
    --------
    >>> calving_offsets(4).tolist(), calving_offsets(0).tolist()
    ([-2.0, -1.0, 0.0, 1.0, 2.0], [0.0])
    """
    if spread_days < 0:
        raise OutOfRange("The last calving cannot come before the first.")
    count = min(spread_days + 1, MOST_DAYS)
    offsets = np.linspace(-spread_days / 2.0, spread_days / 2.0, count)
    return np.asarray(np.floor(offsets + 0.5), dtype=np.float64)


def mean_by_group(values: FloatArray, counts: IntArray) -> FloatArray:
    """Return the mean of the rows of each group.

    Parameters
    ----------
    values : array, shape (rows, T)
        A value for each animal, those of one group together.
    counts : array of int, shape (N,)
        Rows of each group.

    Returns
    -------
    array, shape (N, T)
        Means, in the unit of the values.

    Examples
    --------
    >>> mean_by_group(np.array([[1.0], [3.0], [5.0]]), np.array([2, 1])).tolist()
    [[2.0], [5.0]]
    """
    if np.all(counts == 1):
        return values
    starts = np.concatenate(([0], np.cumsum(counts)[:-1]))
    sums = np.add.reduceat(values, starts, axis=0)
    return np.asarray(sums / counts[:, np.newaxis], dtype=np.float64)
