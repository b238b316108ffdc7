"""Grain, urea and new hay come by degrees, and of new dangers one begins in a week."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.farm import Group
from rickyard.program.problem import (
    APART_DAYS,
    FREE_KG,
    FREE_PCT_BW,
    KINDS,
    begin_parts,
    new_hay_by_day,
)
from rickyard.program.result import FeedingRow
from rickyard.quantities import is_some
from rickyard.safety import Binding
from rickyard.types import BoolArray, FloatArray, IntArray

#: No rise of this goes without days on the list, however little the program asks for: half a pound
#: of urea alone can kill.
NEVER_FREE: Final = "begin_npn"

#: What a solver leaves above a rise that needs no days is at it. [-]
NEARLY: Final = 1.0 + 1e-6

#: A part of a step that is left out by rounding.
DUST: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast a feed may be raised: over how many days from nothing, and how much a day. [kg].

    ``part`` is what is this feed's of the rise that needs no days, where several may take it. [-]
    """

    days: int
    most_kg: float
    part: float = 1.0

    def free_kg(self, weight_kg: FloatArray) -> FloatArray:
        """Return by how much the feed may be raised on each day without more ado. [kg]."""
        return self.part * np.minimum(FREE_KG, FREE_PCT_BW / 100.0 * weight_kg)


def paces_of(rules: list[Binding], asked: Mapping[str, FloatArray]) -> dict[str, Pace]:
    """Return how fast each feed is raised; all grains together by no more than one may.

    Parameters
    ----------
    rules : list of Binding
        The rules of safety that bind on one group.
    asked : mapping
        Kilograms of each source on each day.

    Returns
    -------
    dict
        By source.
    """
    days = {one.source_id: int(one.rule.amount or 1) for one in rules if one.rule.demand == "step"}
    most = {one.source_id: one.rule.amount or 0.0 for one in rules if one.rule.demand == "rise"}
    peak = {one: float(asked[one].max(initial=0.0)) for one in most if one in asked}
    whole = sum(peak.values())
    rise = {one: kg / whole for one, kg in peak.items() if is_some(whole)}
    part = rise | {one.source_id: 0.0 for one in rules if one.rule.finding == NEVER_FREE}
    return {
        one: Pace(over, most.get(one, np.inf) * rise.get(one, 1.0), part.get(one, 1.0))
        for one, over in days.items()
    }


def free_step_kg(weight_kg: float) -> float:
    """Return by how much a feed may be raised from one day to the next without more ado.

    Parameters
    ----------
    weight_kg : float
        Live weight of a head. [kg]

    Returns
    -------
    float
        Half a pound, or less for the small. [kg a head]
    """
    return min(FREE_KG, FREE_PCT_BW / 100.0 * weight_kg)


def raised_slowly(
    wanted_kg: FloatArray,
    weight_kg: FloatArray,
    period: IntArray,
    pace: Pace,
    known_kg: float = 0.0,
) -> FloatArray:
    """Return a daily amount a head that climbs by small steps to what is asked, and never above it.

    Parameters
    ----------
    wanted_kg : array, shape (days,)
        What the program asks for a head, even over each period. [kg/d]
    weight_kg : array, shape (days,)
        Live weight of a head. [kg]
    period : array of int, shape (days,)
        The period of each day.
    pace : Pace
        How fast it may be raised.
    known_kg : float
        What a head has been fed of it daily until the first day. [kg/d]

    Returns
    -------
    array, shape (days,)
        With the mean of each period kept where such steps bring it about, else less. [kg/d]

    Notes
    -----
    Where nothing is told of the days before, the animals are taken not to know the feed. Less may
    be given at once.

    Examples
    --------
    >>> week = np.repeat([0, 1, 2], 7)
    >>> given = raised_slowly(
    ...     np.array([4.0, 11.0, 14.0])[week], np.full(21, 500.0), week, Pace(14, 9.0))
    >>> given[:8].round(2).tolist(), float(given[13]), float(given[14])
    ([1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0], 14.0, 14.0)
    """
    given = np.zeros(len(wanted_kg))
    level = start = known_kg
    free = pace.free_kg(weight_kg)
    for number in np.unique(period).tolist():
        days = np.flatnonzero(period == number)
        mean, count = float(wanted_kg[days[0]]), len(days)
        if mean - level <= float(free[days[0]]) * NEARLY:
            given[days] = mean
            level = start = mean
            continue
        goal = float(wanted_kg[days[0] : days[0] + pace.days + 1].max())
        step = min((goal - start) / pace.days, pace.most_kg)
        given[days] = np.minimum(climb(level, mean, count, step), goal)
        level = float(given[days[-1]])
        if len(days) > 1 and level - float(given[days[-2]]) < DUST:
            start = level  # the rise is over: what comes later begins here
    return given


def climb(level: float, mean: float, count: int, step: float) -> FloatArray:
    """Return amounts that rise from a level by a step a day, then stay, with a mean.

    Where the step is too small for the mean they are less.

    Examples
    --------
    >>> climb(0.0, 3.0, 5, 1.5).tolist(), climb(0.0, 3.0, 5, 0.5).tolist()
    ([1.5, 3.0, 3.5, 3.5, 3.5], [0.5, 1.0, 1.5, 2.0, 2.5])
    """
    each = np.arange(1.0, count + 1.0)
    for rising in range(count):
        line = level + step * each[:rising]
        top = (mean * count - float(line.sum())) / (count - rising)
        if top <= level + step * (rising + 1.0) + DUST:
            return np.concatenate([line, np.full(count - rising, top)])
    return np.asarray(level + step * each)


def held_back(
    wanted_kg: FloatArray, weight_kg: FloatArray, pace: Pace, known_kg: float = 0.0
) -> FloatArray:
    """Return a daily amount a head that climbs by small steps to what is asked, never above it.

    Parameters
    ----------
    wanted_kg : array, shape (days,)
        What the program asks for a head. [kg/d]
    weight_kg : array, shape (days,)
        Live weight of a head. [kg]
    pace : Pace
        How fast it may be raised.
    known_kg : float
        What a head has been fed of it daily until the first day. [kg/d]

    Returns
    -------
    array, shape (days,)
        At most what is asked. [kg/d]

    Examples
    --------
    >>> held_back(np.full(5, 2.0), np.full(5, 500.0), Pace(4, 9.0)).tolist()
    [0.5, 1.0, 1.5, 2.0, 2.0]
    """
    given = np.zeros(len(wanted_kg))
    level, start, goal = known_kg, known_kg, known_kg
    free = pace.free_kg(weight_kg).tolist()
    for day, wanted in enumerate(wanted_kg.tolist()):
        if wanted - level <= free[day] * NEARLY:
            level = start = goal = wanted
        else:
            start = level if wanted > goal + DUST else start
            goal = max(goal, wanted)
            step = min((goal - start) / pace.days, pace.most_kg)
            level = min(wanted, level + step)
        given[day] = level
    return given


def begun_parts(asked_kg: FloatArray, *, known: bool) -> FloatArray:
    """Return which part of its share a hay with nitrate may be on each day, 1 where stock know it.

    Parameters
    ----------
    asked_kg : array, shape (days,)
        What is asked for on each day. [kg]
    known : bool
        Whether the group was fed it just before the first day.

    Returns
    -------
    array, shape (days,)
        From a third on the first days after every day without it. [-]

    Examples
    --------
    >>> begun_parts(np.array([0.0, 9.0, 9.0, 9.0, 9.0]), known=True).round(2).tolist()
    [1.0, 0.33, 0.33, 0.33, 0.67]
    """
    fed = asked_kg > NOTHING_KG
    part = np.ones(len(fed))
    for day in np.flatnonzero(fed & ~np.concatenate([[known], fed[:-1]])).tolist():
        part[day:] = begin_parts(len(fed) - day)
    return part


#: Less is not fed, kg as fed for the group.
NOTHING_KG: Final = 1e-9


def waiting(
    asked: Mapping[str, FloatArray], rules: list[Binding], known: frozenset[str]
) -> dict[str, BoolArray]:
    """Return the days on which a source that is asked for waits for its turn.

    Parameters
    ----------
    asked : mapping
        Kilograms of each source on each day.
    rules : list of Binding
        The rules of safety that bind on one group.
    known : frozenset of str
        Sources that the group was fed just before the first day.

    Returns
    -------
    dict
        By source, of those that may have to wait. What begins with another on a day, or within the
        week after another, waits until a week after it: nitrate hay first, then grain, then urea.
    """
    begun = sorted(_begun_days(asked, rules, known))
    count = len(next(iter(asked.values()), np.zeros(0)))
    may_wait = (one.source_id for one in rules if one.rule.demand in ("begin", "step"))
    closed = {one: np.zeros(count, dtype=bool) for one in may_wait if one in asked}
    last, last_kind = -APART_DAYS, 0
    for day, kind, mine in begun:
        opens = max(day, last + APART_DAYS if kind != last_kind else last)
        for one in mine:
            closed[one][day:opens] = True
        last, last_kind = opens, kind
    return closed


def _begun_days(
    asked: Mapping[str, FloatArray], rules: list[Binding], known: frozenset[str]
) -> Iterator[tuple[int, int, list[str]]]:
    """Yield each day on which stock begin on a danger, its number of `KINDS` and what it is in."""
    for number, kind in enumerate(KINDS):
        for mine, used_to in _dangers(kind, rules, asked.keys()):
            fed, like = (
                np.sum([asked[one] for one in sorted(these)], axis=0) > NOTHING_KG
                for these in (mine, used_to)
            )
            before = np.concatenate([[bool(used_to & known)], like[:-1]])
            for day in np.flatnonzero(fed & ~before).tolist():
                yield int(day), number, sorted(mine)


def _dangers(
    kind: str, rules: list[Binding], fed: Set[str]
) -> Iterator[tuple[frozenset[str], frozenset[str]]]:
    """Yield what brings a danger, each with what makes stock used to it.

    A feed with urea goes by its urea. Hay whose nitrate nobody measured may hold none: who had it
    begins anew with hay that is known to hold some.
    """
    npn = {one.source_id for one in rules if one.found.finding == NEVER_FREE}
    steps = {one.source_id for one in rules if one.rule.demand == "step"}
    begins = {one.source_id: one.found for one in rules if one.rule.demand == "begin"}
    measured = frozenset(one for one, found in begins.items() if not found.assumed) & fed
    untested = frozenset(begins) & fed - measured
    found = {
        "nitrate": [(measured, measured), (untested, measured | untested)],
        "grain": [(frozenset(steps - npn) & fed,) * 2],
        "npn": [(frozenset(steps & npn) & fed,) * 2],
    }
    yield from ((mine, used_to) for mine, used_to in found[kind] if mine)


def asked_by_day(
    group: Group,
    period: IntArray,
    rows: list[FeedingRow],
    hays: frozenset[str],
    dry: dict[str, float],
) -> dict[str, FloatArray]:
    """Return what is asked for by day; of ``hays`` a new one is mixed in by degrees.

    Hay with a limit to its share is none of them: on the days on which it stood in for the
    hay that is still to come it would be more of the ration than it may.

    Parameters
    ----------
    group : Group
        The group.
    period : array of int, shape (days,)
        The period of each of its days.
    rows : list of FeedingRow
        What the program feeds it.
    hays : frozenset of str
        The hays that are mixed in by degrees where the group asks for it.
    dry : dict
        The dry matter of each source. [-]

    Returns
    -------
    dict
        Kilograms as fed by source and day, shape (days,). [kg]
    """
    asked: dict[str, FloatArray] = {}
    for row in rows:
        days = period == row.period
        each = row.offered_kg / max(int(days.sum()), 1)
        asked.setdefault(row.source_id, np.zeros(len(period)))[days] += each
    if group.change_over_days is not None and group.change_over_days > 1:
        only_hay = {source_id: amounts for source_id, amounts in asked.items() if source_id in hays}
        asked |= new_hay_by_day(period, only_hay, dry, group.change_over_days)
    return asked
