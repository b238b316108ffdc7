"""Needs by day told by week, month or season: means over the days of a period, and sums."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, replace
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from rickyard.quantities import OutOfRange
from rickyard.stock.common.series import FloatArray, NeedSeries

_BY_MIDDLE = ("stage", "intake_rule")
_BY_ANY = ("present", "pregnant", "lactating")


def period_means(series: NeedSeries, lengths: Sequence[int]) -> NeedSeries:
    """Return needs per head and day, each the mean over the days of a period.

    Parameters
    ----------
    series : NeedSeries
        Needs on days in a row.
    lengths : sequence of int
        Days of each period; they add up to the days of the series. [d]

    Returns
    -------
    NeedSeries
        One entry for each period. The stage and the rule of intake are those of its middle day;
        it counts as pregnant, nursing or present if any of its days does.

    Raises
    ------
    OutOfRange
        If the periods do not cover the days exactly, or one has none.

    Examples
    --------
    >>> from datetime import date, timedelta
    >>> from rickyard.farm import AnimalClass, Group
    >>> from rickyard.stock.herd.herd import group_needs
    >>> cows = Group("g1", "Cows", AnimalClass.COW, 40, 555.0, calving_on=date(2027, 3, 1))
    >>> daily = group_needs(cows, [date(2027, 3, 1) + timedelta(days=one) for one in range(14)])
    >>> weekly = period_means(daily, [7, 7])
    >>> bool(np.isclose(7.0 * weekly.nem_mcal.sum(), daily.nem_mcal.sum()))
    True
    """
    counts = np.asarray(lengths, dtype=np.int64)
    if np.any(counts < 1) or counts.sum() != len(series.stage):
        raise OutOfRange("Periods must cover the days of a series exactly.")
    starts = np.concatenate(([0], np.cumsum(counts)[:-1]))
    changed: dict[str, Any] = {}
    for entry in fields(NeedSeries):
        value = getattr(series, entry.name)
        if entry.name in _BY_MIDDLE:
            changed[entry.name] = tuple(value[at] for at in (starts + counts // 2).tolist())
        elif entry.name in _BY_ANY:
            changed[entry.name] = np.logical_or.reduceat(value, starts)
        elif isinstance(value, np.ndarray):
            changed[entry.name] = _means(value, starts, counts)
        elif isinstance(value, Mapping) and entry.name != "evidence":
            changed[entry.name] = MappingProxyType(
                {name: _means(values, starts, counts) for name, values in value.items()}
            )
    return replace(series, **changed)


def _means(values: FloatArray, starts: NDArray[np.int64], counts: NDArray[np.int64]) -> FloatArray:
    return np.asarray(np.add.reduceat(values, starts) / counts, dtype=np.float64)
