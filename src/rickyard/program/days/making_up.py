"""Hay makes up for what is held back of other things, and what of it a program leaves to do so."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence, Set
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.farm import Farm, FeedKind, Group, Package
from rickyard.kinds import Wanted
from rickyard.program.problem import held_to_shares
from rickyard.program.result import SeasonProgram
from rickyard.quantities import is_some
from rickyard.safety import Binding, amount_of, may_stand_in
from rickyard.types import BoolArray, FloatArray, IntArray

#: Of the hay of a period so much is there on each of its days, whatever else is fed. Common
#: practice, no published source.
LEAST_OF_HAY: Final = 0.3


def filled_up(
    period: IntArray,
    hay: dict[str, FloatArray],
    held_kg_dm: FloatArray,
    dry: dict[str, float],
) -> dict[str, FloatArray]:
    """Return hay that makes up by day for what is held back of other things, and later gives way.

    Each period keeps its amount of hay.

    Parameters
    ----------
    period : array of int, shape (days,)
        The period of each day.
    hay : dict
        Kilograms of each hay a day as fed. [kg]
    held_kg_dm : array, shape (days,)
        Dry matter to make up for; what is negative is taken off. [kg]
    dry : dict
        The dry matter of each hay. [-]

    Returns
    -------
    dict
        The same hays by day, and on no day less than a part.

    Examples
    --------
    >>> filled_up(np.zeros(2), {"A": np.array([10.0, 10.0])}, np.array([2.0, -2.0]), {"A": 0.8})
    {'A': array([12.5,  7.5])}
    """
    whole = sum((kg * dry[one] for one, kg in hay.items()), np.zeros(len(held_kg_dm)))
    change = np.where(is_some(whole), held_kg_dm, 0.0)
    change = np.maximum(change, -(1.0 - LEAST_OF_HAY) * whole)
    for number in np.unique(period).tolist():
        days = period == number
        more, less = (np.maximum(0.0, one[days]).sum() for one in (change, -change))
        if is_some(more) and is_some(less):
            both = min(more, less)
            scale = np.where(is_some(change), both / more, both / less)
            change = np.where(days, change * scale, change)
        else:
            change = np.where(days, 0.0, change)
    factor = np.divide(whole + change, whole, out=np.ones(len(whole)), where=is_some(whole))
    return {one: kg * factor for one, kg in hay.items()}


#: Less is nothing, kg of dry matter.
DUST_KG: Final = 1e-9


def room_kg_dm(program: SeasonProgram, farm: Farm) -> dict[str, float]:
    """Return what of each hay a program leaves in the yard, or may still be bought. [kg DM]."""
    room = {lot.lot_id: 1000.0 * lot.left_t for lot in program.lots}
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    for feed in farm.feeds:
        if feed.kind is FeedKind.FORAGE:
            most = np.inf if feed.most_kg is None else feed.most_kg
            fed = sum(one.offered_kg for one in program.feeding if one.source_id == feed.feed_id)
            room[feed.feed_id] = max(0.0, most - fed) * dry[feed.feed_id]
    return room


def day_kg_dm(kg: Mapping[str, FloatArray], dry: Mapping[str, float]) -> FloatArray:
    """Return the dry matter of each day of amounts as fed, of one source or more.

    Parameters
    ----------
    kg : mapping
        Kilograms of each source a day as fed. [kg]
    dry : mapping
        The dry matter of each source. [-]

    Returns
    -------
    array, shape (days,)
        All of them together. [kg]

    Examples
    --------
    >>> day_kg_dm({"A": np.array([4.0, 2.0]), "B": np.array([1.0, 0.0])}, {"A": 0.5, "B": 1.0})
    array([3., 1.])
    """
    return np.asarray(np.sum([each * dry[one] for one, each in kg.items()], axis=0))


def stand_ins(
    program: SeasonProgram, farm: Farm, group: Group, period: IntArray, first: date
) -> dict[str, BoolArray]:
    """Return the hay that may stand in for a few days though no ration names it then.

    Parameters
    ----------
    program : SeasonProgram
        Its feeding and bales are read.
    farm : Farm
        Its lots, wishes and rules are read.
    group : Group
        The group.
    period : array of int, shape (days,)
        The period of each of its days.
    first : date
        The first of its days.

    Returns
    -------
    dict
        By hay, the days on which it may be fed: lots that the group is fed at some time first, then
        other lots, then what is bought for anybody anyway. Only hay that is safe in part, within
        reach and not wished away, and no baleage that is not fed to them anyway: for a few pounds a
        day no wrap is opened. None where bales lie before the group: those hold what a day lacks.
    """
    fed = {one.source_id for one in program.feeding if one.group_id == group.group_id}
    bought = {one.source_id for one in program.feeding}
    off = {
        one.source_id
        for one in farm.wishes
        if one.wish is Wanted.KEEP_OFF and one.group_id in ("", group.group_id)
    }
    free, days = may_stand_in(group, farm), range(len(period))
    found = {}
    for lot in sorted(farm.lots, key=lambda one: one.lot_id not in fed):
        if lot.lot_id not in free or lot.lot_id in off or lot.bales_reachable is not None:
            continue
        if lot.package is Package.BALEAGE and lot.lot_id not in fed:
            continue
        opens, closes = lot.feed_from or date.min, lot.feed_by or date.max
        on = [opens <= first + timedelta(days=number) <= closes for number in days]
        found[lot.lot_id] = np.array(on, dtype=bool)
    for feed in farm.feeds:
        if feed.feed_id in bought and feed.feed_id in free and feed.feed_id not in off:
            opens, ends = feed.from_on or date.min, feed.to_on or date.max
            on = [opens <= first + timedelta(days=number) < ends for number in days]
            found[feed.feed_id] = np.array(on, dtype=bool)
    return found


def stood_in(
    lack_kg_dm: FloatArray,
    most_kg_dm: FloatArray,
    hay: Mapping[str, BoolArray],
    dry: Mapping[str, float],
    room: dict[str, float],
) -> dict[str, FloatArray]:
    """Return other hay for the days on which nothing that is fed makes up for what is held back.

    Parameters
    ----------
    lack_kg_dm, most_kg_dm : array, shape (days,)
        Dry matter that each day lacks, and the most that may be new to the group. [kg]
    hay : mapping
        The days on which each hay may be fed.
    dry : mapping
        The dry matter of each hay. [-]
    room : dict
        Dry matter of each hay that is over; what stands in is taken off. [kg]

    Returns
    -------
    dict
        Kilograms as fed of each hay that stands in. [kg]

    Examples
    --------
    >>> always, room = np.array([True, True]), {"A": 3.0, "B": 9.0}
    >>> lack, most = np.array([2.0, 4.0]), np.array([5.0, 3.0])
    >>> stood_in(lack, most, {"A": always, "B": always}, {"A": 0.5, "B": 1.0}, room)
    {'A': array([4., 2.]), 'B': array([0., 2.])}

    Where less is over than is lacking, no day is left with more to lack than another:

    >>> stood_in(lack, most, {"A": always}, {"A": 0.5}, {"A": 2.0})
    {'A': array([1., 3.])}
    """
    given = {one: np.zeros(len(lack_kg_dm)) for one in hay}
    lacks = np.minimum(np.maximum(lack_kg_dm, 0.0), most_kg_dm)
    for level in (level_of(lacks, sum(room[one] for one in hay)), 0.0):
        for day in np.flatnonzero(lacks > level).tolist():
            for one, on in hay.items():
                more = min(float(lacks[day]) - level, room[one]) if on[day] else 0.0
                if more > 0.0:
                    given[one][day] += more / dry[one]
                    room[one] -= more
                    lacks[day] -= more
    return {one: kg for one, kg in given.items() if is_some(kg).any()}


def may_go_on(
    farm: Farm, rules: Iterable[Binding], asked: Mapping[str, FloatArray], first: date
) -> dict[str, BoolArray]:
    """Return the days on which hay with nitrate may go on being fed, by its dates and the rules.

    Parameters
    ----------
    farm : Farm
        The dates of its lots and feeds are read.
    rules : iterable of Binding
        The rules of safety that bind on the group.
    asked : mapping
        Kilograms of each source on each day, in the order in which they go on.
    first : date
        The first of those days.

    Returns
    -------
    dict
        By hay, the days.
    """
    mine = tuple(rules)
    begun = {one.source_id for one in mine if one.rule.demand == "begin"}
    opens = {one.lot_id: (one.feed_from, one.feed_by) for one in farm.lots}
    opens |= {
        one.feed_id: (one.from_on, None if one.to_on is None else one.to_on - timedelta(days=1))
        for one in farm.feeds
    }
    found = {}
    for source_id in (one for one in asked if one in begun):
        start, last = opens[source_id]
        bars = [one for one in mine if one.source_id == source_id and one.bars]
        days = (first + timedelta(days=number) for number in range(len(asked[source_id])))
        on = [
            (start or date.min) <= day <= (last or date.max)
            and not any(one.holds(day, 1) for one in bars)
            for day in days
        ]
        found[source_id] = np.array(on, dtype=bool)
    return found


def carried_on(
    asked: Mapping[str, FloatArray],
    moved: Mapping[str, FloatArray],
    may: Mapping[str, BoolArray],
    dry: Mapping[str, float],
    room: dict[str, float],
) -> dict[str, FloatArray]:
    """Return hay with nitrate that goes on for some days where other that follows begins low.

    They know it, so that no limit is passed: of both together there is no more than of either.

    Parameters
    ----------
    asked, moved : mapping
        Kilograms of each source on each day: asked for, and with what begins held back. [kg]
    may : mapping
        Hay that begins by thirds, and the days on which it may be fed.
    dry : mapping
        The dry matter of each source. [-]
    room : dict
        Dry matter of each hay that is over; what goes on is taken off. [kg]

    Returns
    -------
    dict
        Those that go on, by day. [kg as fed]

    Examples
    --------
    >>> asked = {"A": np.array([9.0, 0.0, 0.0]), "B": np.array([0.0, 6.0, 6.0])}
    >>> moved, on = asked | {"B": np.array([0.0, 2.0, 2.0])}, np.ones(3, dtype=bool)
    >>> carried_on(asked, moved, {"A": on, "B": on}, {"A": 1.0, "B": 1.0}, {"A": 7.0, "B": 0.0})
    {'A': array([9., 4., 3.])}
    """
    given = {one: moved[one].copy() for one in may}
    begun = {one: np.flatnonzero(~is_some(asked[one])) for one in may}
    count = len(next(iter(may.values()), np.zeros(0)))
    for day in range(1, count):
        for new in may:
            before = begun[new][begun[new] < day]
            lack = float(asked[new][day] - moved[new][day]) * dry[new]
            if not len(before) or day - before[-1] > BEGUN_DAYS or lack <= DUST_KG:
                continue
            last = int(before[-1])
            for old, on in may.items():
                goes_on = is_some(float(asked[old][last])) and not is_some(float(asked[old][day]))
                if not (goes_on and on[day]):
                    continue
                most = float(asked[old][last] - given[old][day] + moved[old][day]) * dry[old]
                more = max(0.0, min(lack, most, room[old]))
                given[old][day] += more / dry[old]
                room[old] -= more
                lack -= more
    return {one: kg for one, kg in given.items() if is_some(kg - moved[one]).any()}


#: Hay with nitrate begins over so many days.
BEGUN_DAYS: Final = 6


def made_up(
    hay: dict[str, FloatArray],
    held_kg_dm: FloatArray,
    dry: dict[str, float],
    room: dict[str, float],
) -> dict[str, FloatArray]:
    """Return hay that makes up by day for what is held back, no more of each than there is.

    Parameters
    ----------
    hay : dict
        Kilograms of each hay a day as fed. [kg]
    held_kg_dm : array, shape (days,)
        Dry matter to make up for. [kg]
    dry : dict
        The dry matter of each hay. [-]
    room : dict
        Dry matter of each hay that is over; what makes up is taken off. [kg]

    Returns
    -------
    dict
        The same hays by day. Those of a day make up by their parts of it, and where one runs out
        the others do. Where less is over than is lacking, days are left to lack the same.
        [kg as fed]

    Examples
    --------
    >>> hay = {"A": np.array([10.0, 10.0]), "B": np.array([10.0, 0.0])}
    >>> made_up(hay, np.array([4.0, 2.0]), {"A": 0.8, "B": 0.8}, {"A": 0.8, "B": 8.0})
    {'A': array([11., 10.]), 'B': array([14.,  0.])}
    >>> made_up({"A": np.array([10.0, 10.0])}, np.array([4.0, 2.0]), {"A": 0.8}, {"A": 3.2})
    {'A': array([13.25, 10.75])}
    """
    given = {one: kg.copy() for one, kg in hay.items()}
    there = is_some(day_kg_dm(hay, dry)) if hay else np.zeros(len(held_kg_dm), dtype=bool)
    lacks = np.where(there, np.maximum(held_kg_dm, 0.0), 0.0)
    for level in (level_of(lacks, sum(room[one] for one in hay)), 0.0):
        for day in np.flatnonzero(lacks > level + DUST_KG).tolist():
            while lacks[day] - level > DUST_KG:
                here = {one: kg[day] * dry[one] for one, kg in hay.items() if room[one] > DUST_KG}
                whole = sum(here.values())
                if not is_some(whole):
                    break
                lack = float(lacks[day]) - level
                more = {one: min(lack * kg / whole, room[one]) for one, kg in here.items()}
                for one, kg_dm in more.items():
                    given[one][day] += kg_dm / dry[one]
                    room[one] -= kg_dm
                lacks[day] -= sum(more.values())
    return given


def level_of(lacks_kg_dm: FloatArray, room_kg_dm: float) -> float:
    """Return what each day may lack at most where all that is over makes up for the rest.

    Parameters
    ----------
    lacks_kg_dm : array, shape (days,)
        Dry matter that each day lacks, none below zero. [kg]
    room_kg_dm : float
        Dry matter that is over. [kg]

    Returns
    -------
    float
        Nothing where there is enough for all of it. [kg]

    Examples
    --------
    >>> level_of(np.array([6.0, 2.0]), 9.0), level_of(np.array([6.0, 2.0]), 5.0)
    (0.0, 1.5)
    """
    if lacks_kg_dm.sum() <= room_kg_dm:
        return 0.0
    high = np.sort(lacks_kg_dm)[::-1]
    each = (np.cumsum(high) - room_kg_dm) / np.arange(1.0, len(high) + 1.0)
    return max(0.0, float(each.max()))


def kept_for_later(
    wanted: Sequence[Mapping[str, float]], room: Mapping[str, float]
) -> list[dict[str, float]]:
    """Return what of each hay that is over is kept for the groups that come after each group.

    Parameters
    ----------
    wanted : sequence of mapping
        By group, the dry matter of each hay that would make up for all that it lacks. [kg]
    room : mapping
        Dry matter of each hay that is over. [kg]

    Returns
    -------
    list of dict
        By group. Where all want more than is over, each gets its part. [kg]

    Examples
    --------
    >>> kept_for_later([{"A": 30.0}, {"A": 10.0}, {}], {"A": 20.0})
    [{'A': 5.0}, {'A': 0.0}, {'A': 0.0}]
    """
    whole = {one: sum(each.get(one, 0.0) for each in wanted) for one in room}
    part = {one: min(1.0, kg / whole[one]) if whole[one] > DUST_KG else 1.0
            for one, kg in room.items()}  # fmt: skip
    return [
        {one: part[one] * sum(each.get(one, 0.0) for each in wanted[number + 1 :]) for one in room}
        for number in range(len(wanted))
    ]


def shares_of_day(
    kg: Mapping[str, FloatArray],
    rules: Iterable[Binding],
    each: Mapping[str, float],
    forage: Set[str] = frozenset(),
) -> dict[str, FloatArray]:
    """Return the largest part that hay which is fed in a mix or beside other may be of every day.

    Parameters
    ----------
    kg : mapping
        Kilograms as fed of every source a day. [kg]
    rules : iterable of Binding
        The rules of safety that bind on the group.
    each : mapping
        Dry matter that is eaten of a kilogram of each source. [kg]
    forage : set of str
        What is forage: what needs other beside it is held to its part of that.

    Returns
    -------
    dict
        By hay, an array of shape (days,). Those that one limit holds together keep their parts of
        it. [-]
    """
    mixed = [
        one for one in rules if one.source_id in kg and (one.rule.mixed or one.rule.demand == "mix")
    ]
    every = day_kg_dm(kg, each)
    long = day_kg_dm({one: kg[one] for one in kg if one in forage}, each)
    found: dict[str, FloatArray] = {}
    for one in mixed:
        own = kg[one.source_id] * each[one.source_id]
        kin = {other.source_id for other in mixed if other.rule.together == one.rule.together}
        whole = day_kg_dm({other: kg[other] for other in sorted(kin)}, each)
        part = np.divide(own, whole, out=np.ones(len(own)), where=is_some(whole))
        most = one.rule.most_share * part
        if one.rule.demand == "mix":
            share = np.divide(long, every, out=np.ones(len(own)), where=is_some(every))
            most = amount_of(one.rule.rule_id) / 100.0 * part * share
        found[one.source_id] = np.minimum(found.get(one.source_id, most), most)
    return found


def parts_kept(
    kg: Mapping[str, FloatArray],
    most: Mapping[str, FloatArray],
    each: Mapping[str, float],
    *,
    counting: bool,
) -> dict[str, FloatArray]:
    """Return which part of each hay stays on each day, so that it is no more of it than it may be.

    Parameters
    ----------
    kg : mapping
        Kilograms as fed of every source a day. [kg]
    most : mapping
        The largest part that a hay may be of what is eaten on each day. [-]
    each : mapping
        Dry matter that is eaten of a kilogram of each source. [kg]
    counting : bool
        Whether other hay stands in for what is left out, or nothing does.

    Returns
    -------
    dict
        By hay with such a limit, an array of shape (days,). [-]

    Examples
    --------
    >>> kg, most = {"A": np.array([3.0]), "B": np.array([1.0])}, {"A": np.array([0.5])}
    >>> for counting in (True, False):
    ...     parts_kept(kg, most, {"A": 1.0, "B": 1.0}, counting=counting)["A"].round(3).tolist()
    [0.667]
    [0.333]
    """
    now, whole = {one: kg[one] * each[one] for one in most}, day_kg_dm(kg, each)
    parts = {one: np.ones(len(whole)) for one in most}
    above = [eaten > most[one] * whole + DUST_KG for one, eaten in now.items()]
    for day in np.flatnonzero(np.any(above, axis=0)).tolist():
        mine = {one: float(eaten[day]) for one, eaten in now.items() if is_some(float(eaten[day]))}
        limit = {one: float(most[one][day]) for one in mine}
        kept = {one: min(eaten, limit[one] * whole[day]) for one, eaten in mine.items()}
        if not counting:
            kept = held_to_shares(mine, limit, float(whole[day]) - sum(mine.values()))
        for one, eaten in mine.items():
            parts[one][day] = kept[one] / eaten
    return parts
