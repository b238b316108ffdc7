"""How a new hay is mixed in: a little more of it every day until it is all of the hay."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rickyard.hay.delivery import new_hay_share_frac

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


def day_shares(days: int, over_days: int) -> FloatArray:
    """Return the share of the new hay on each of some days from the first day of a change.

    Parameters
    ----------
    days : int
        How many days are asked for. [d]
    over_days : int
        Days the change takes, at least 1. [d]

    Examples
    --------
    >>> day_shares(4, 4).tolist()
    [0.25, 0.5, 0.75, 1.0]
    """
    return np.asarray(new_hay_share_frac(np.arange(1.0, days + 1.0), float(over_days)))


def mean_share(days: int, over_days: int) -> float:
    """Return the mean share of the new hay over the first days of a change.

    Examples
    --------
    >>> mean_share(7, 7), round(mean_share(7, 10), 3), mean_share(7, 1)
    (0.5714285714285714, 0.4, 1.0)
    """
    return float(day_shares(days, over_days).mean()) if days > 0 else 1.0


def new_hay_by_day(
    period: IntArray, asked: dict[str, FloatArray], over_days: int
) -> dict[str, FloatArray]:
    """Spread a group's hay over the days of each period so that a new hay comes in by degrees.

    Parameters
    ----------
    period : array of int, shape (days,)
        The period of each day, in order.
    asked : dict
        Kilograms of each hay a day, even over each period. [kg]
    over_days : int
        Days a change takes. [d]

    Returns
    -------
    dict
        The same hays; the sum of each over a period, and of all on a day, stays as it was.
    """
    given = {source_id: amounts.copy() for source_id, amounts in asked.items()}
    for number in np.unique(period)[1:].tolist():
        days, before = np.flatnonzero(period == number), np.flatnonzero(period == number - 1)
        if len(before) == 0:
            continue
        kilograms = {one: float(amounts[days].sum()) for one, amounts in asked.items()}
        new = {one for one in asked if kilograms[one] > 0 and not asked[one][before].any()}
        whole, fresh = sum(kilograms.values()), sum(kilograms[one] for one in new)
        shares = day_shares(len(days), over_days)
        if not 0.0 < fresh < whole or fresh / whole > shares.mean():
            continue  # nothing new, or nothing old to mix it with
        of_new = shares / shares.mean() / len(days)
        of_old = (whole / len(days) - fresh * of_new) / (whole - fresh)
        for source_id in asked:
            part = of_new if source_id in new else of_old
            given[source_id][days] = kilograms[source_id] * part
    return given
