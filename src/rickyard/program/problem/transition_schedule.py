"""How a new hay is mixed in: a little more of it every day until it is all of the hay."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.farm import Farm, FeedKind, Group
from rickyard.hay.bales import new_hay_share_frac
from rickyard.quantities import is_some
from rickyard.safety import Binding
from rickyard.types import FloatArray, IntArray


def day_shares(days: int, over_days: int) -> FloatArray:
    """Return the share of the new hay on each of some days from the first day of a change.

    Parameters
    ----------
    days : int
        How many days are asked for. [d]
    over_days : int
        Days the change takes, at least 1. [d]

    Returns
    -------
    array, shape (days,)
        Rising to 1 on the last day of the change. [-]

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
    return float(day_shares(days, over_days).mean()) if days else 1.0


def steeper(line: FloatArray, mean: float) -> FloatArray:
    """Return a rising line made flatter or steeper, but never above one, so that its mean is so.

    Parameters
    ----------
    line : array, shape (days,)
        Shares from above zero, rising. [-]
    mean : float
        The mean wanted, from 0 to 1. [-]

    Examples
    --------
    >>> line = np.array([0.5, 1.0])
    >>> steeper(line, 0.375).tolist(), steeper(line, 0.875).tolist()
    ([0.25, 0.5], [0.75, 1.0])
    """
    full = 0
    while full < len(line):
        rising = line[: len(line) - full]
        factor = (mean * len(line) - full) / float(rising.sum())
        if factor * float(rising[-1]) <= 1.0:
            break
        full += 1
    return np.concatenate([rising * factor, np.ones(full)]) if full < len(line) else np.ones(full)


def new_hay_by_day(
    period: IntArray, asked: dict[str, FloatArray], dry: dict[str, float], over_days: int
) -> dict[str, FloatArray]:
    """Spread a group's hay over the days of each period so that a new hay comes in by degrees.

    Parameters
    ----------
    period : array of int, shape (days,)
        The period of each day, in order.
    asked : dict
        Kilograms of each hay a day as fed, even over each period. [kg]
    dry : dict
        The dry matter of each hay. [-]
    over_days : int
        Days a change takes. [d]

    Returns
    -------
    dict
        The same hays; the sum of each over a period, and the dry matter of all on a day, stay.
    """
    given = {source_id: amounts.copy() for source_id, amounts in asked.items()}
    for number in np.unique(period)[1:].tolist():
        days, before = np.flatnonzero(period == number), np.flatnonzero(period == number - 1)
        if not len(before):
            continue
        kilograms = {one: float(amounts[days].sum()) * dry[one] for one, amounts in asked.items()}
        new = {one for one in asked if is_some(kilograms[one]) and not asked[one][before].any()}
        whole, fresh = sum(kilograms.values()), sum(kilograms[one] for one in new)
        mean = fresh / whole if is_some(whole) else 0.0
        if not 0.0 < mean < 1.0:
            continue  # nothing new, or nothing old to mix it with
        share = steeper(day_shares(len(days), over_days), mean)
        for source_id in asked:
            part = share / mean if source_id in new else (1.0 - share) / (1.0 - mean)
            given[source_id][days] = asked[source_id][days] * part
    return given


#: One supplement takes the place of another over so many days before a new stage and so many after
#: it begins. Judgement, no published source: McKinnon 2019 raises concentrate by a tenth of the
#: ration in a step around birth. [d]
SWAP_DAYS: Final = 3


def swapped_by_day(
    period: IntArray,
    asked: Mapping[str, FloatArray],
    dry: Mapping[str, float],
    feeds: Iterable[str],
    begins: Collection[int],
    least_kg: float,
) -> dict[str, FloatArray]:
    """Let some feeds take the place of others by degrees around the first day of some periods.

    Parameters
    ----------
    period : array of int, shape (days,)
        The period of each day, in order.
    asked : mapping
        Kilograms of each source a day as fed, even over each period. [kg]
    dry : mapping
        The dry matter of each source. [-]
    feeds : iterable of str
        The feeds that may be given some days sooner or later.
    begins : collection of int
        The periods that begin so.
    least_kg : float
        Less than this changes places in one night, dry matter of the whole group. [kg]

    Returns
    -------
    dict
        The same sources; the sum of each over both periods stays, and so does the dry matter of
        what changes places on each day.

    Examples
    --------
    >>> asked = {"A": np.repeat([7.0, 0.0], 7), "B": np.repeat([0.0, 7.0], 7)}
    >>> dry = {"A": 0.9, "B": 0.9}
    >>> found = swapped_by_day(np.repeat([0, 1], 7), asked, dry, asked, {1}, 0.5)
    >>> found["B"][3:11].tolist()
    [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0]
    """
    given = {source_id: amounts.copy() for source_id, amounts in asked.items()}
    mine = [one for one in feeds if one in asked]
    for number in sorted(begins):
        now, before = np.flatnonzero(period == number), np.flatnonzero(period == number - 1)
        if not (len(now) and len(before)):
            continue
        change = {one: dry[one] * float(asked[one][now[0]] - asked[one][before[0]]) for one in mine}
        up, down = (sum(max(0.0, side * kg) for kg in change.values()) for side in (1.0, -1.0))
        if min(up, down) <= least_kg:
            continue
        reach = min(SWAP_DAYS, len(now) // 2, len(before) // 2)
        for one, kg in change.items():
            moved = kg / dry[one] * min(up, down) / (up if kg > 0.0 else down)
            parts = moved * np.arange(reach, 0.0, -1.0) / (2 * reach + 1)
            given[one][before[::-1][:reach]] += parts
            given[one][now[:reach]] -= parts
    return given


def freely_given(farm: Farm, rules: Iterable[Binding], starts: Collection[date]) -> list[str]:
    """Return the supplements that a group may get some days sooner or later than the program says.

    Parameters
    ----------
    farm : Farm
        Its feeds are read.
    rules : iterable of Binding
        The rules of safety that bind on the group.
    starts : collection of date
        The first days of the periods around which they change.

    Returns
    -------
    list of str
        None that is raised by steps, kept from the group on some day, bought at several times or
        there for only a part of those days.
    """
    tied = {one.source_id for one in rules if one.rule.demand in ("none", "step", "rise", "begin")}
    several = {one.same_as for one in farm.feeds} | {
        one.feed_id for one in farm.feeds if one.same_as
    }
    reach = timedelta(days=SWAP_DAYS)
    return [
        one.feed_id
        for one in farm.feeds
        if one.kind is FeedKind.SUPPLEMENT
        and one.feed_id not in tied | several
        and (one.from_on is None or all(one.from_on <= day - reach for day in starts))
        and (one.to_on is None or all(day + reach <= one.to_on for day in starts))
    ]


def days_of_change(farm: Farm, group: Group) -> int | None:
    """Return over how many days a group's hay is changed by rule; ``None`` where there is none.

    A group that gets one hay at a time has none to mix it with.

    Parameters
    ----------
    farm : Farm
        The farm.
    group : Group
        The group.

    Returns
    -------
    int or None
        Days, at least 2. [d]
    """
    at_once = group.hays_at_once if group.hays_at_once is not None else farm.season.hays_at_once
    days = group.change_over_days
    return None if days is None or days <= 1 or at_once == 1 else days


def change_limits(farm: Farm, days: FloatArray) -> FloatArray:
    """Return what share of a period's hay may be new, (groups, periods); NaN where it is free.

    Parameters
    ----------
    days : array, shape (groups, periods)
        Days on which each group is here. [d]

    Notes
    -----
    Free are a group's first period, after which it is known what it ate, and any season with
    grazing, from which stock come to hay and go as the grass does.
    """
    share = np.full(days.shape, np.nan)
    if any(feed.kind is FeedKind.GRAZING for feed in farm.feeds):
        return share
    for g, group in enumerate(farm.groups):
        over = days_of_change(farm, group)
        if over is None:
            continue
        for t in range(1, days.shape[1]):
            if days[g, t] and days[g, t - 1]:
                share[g, t] = mean_share(int(days[g, t]), over)
    return share
