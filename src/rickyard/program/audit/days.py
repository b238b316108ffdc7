"""What a program asks for on each day, added up again for the second look at deliveries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from datetime import date, timedelta

from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.result import SeasonProgram

#: Kilograms as fed for the whole group, by source and day.
Asked = dict[str, dict[date, float]]


def days_here(program: SeasonProgram, group: Group) -> dict[date, int]:
    """Return the days of the season on which a group is here, each with its period."""
    found = {}
    for period in program.periods:
        for number in range(period.days):
            day = period.start + timedelta(days=number)
            late = group.to_on is not None and day >= group.to_on
            early = group.from_on is not None and day < group.from_on
            if not (late or early):
                found[day] = period.index
    return found


def is_hay(farm: Farm, source_id: str) -> bool:
    """Return whether a source is a lot or a bought forage."""
    kinds = {feed.feed_id: feed.kind for feed in farm.feeds}
    return kinds.get(source_id, FeedKind.FORAGE) is FeedKind.FORAGE


def asked_by_day(
    program: SeasonProgram, farm: Farm, group: Group, limited: Collection[str]
) -> Asked:
    """Return what the program asks for, spread over the days of each period.

    Where the group changes hay over some days, the new hay comes in by even steps. What is
    ``limited`` to a share of the ration stays even, so that no day has more of it.
    """
    by_period: dict[int, list[date]] = defaultdict(list)
    for day, period in days_here(program, group).items():
        by_period[period].append(day)
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    amounts: dict[int, dict[str, float]] = defaultdict(dict)
    for row in program.feeding:
        if row.group_id == group.group_id:
            amounts[row.period][row.source_id] = row.offered_kg
    asked: Asked = defaultdict(dict)
    for period, days in by_period.items():
        here = amounts[period]
        new = _new_hays(
            farm, group, here, amounts.get(period - 1) if period - 1 in by_period else None
        )
        new -= set(limited)
        hays = {one: dry[one] for one in here if is_hay(farm, one) and one not in limited}
        parts = _parts(here, new, hays, group.change_over_days or 1, len(days))
        for source_id, kilograms in here.items():
            for number, day in enumerate(days):
                asked[source_id][day] = kilograms * parts[source_id][number]
    return dict(asked)


def _new_hays(
    farm: Farm, group: Group, here: dict[str, float], before: dict[str, float] | None
) -> set[str]:
    if group.change_over_days is None or before is None:
        return set()
    return {one for one in here if is_hay(farm, one) and before.get(one, 0.0) <= 0.0}


def _parts(
    here: dict[str, float], new: set[str], dry: dict[str, float], over: int, days: int
) -> dict[str, list[float]]:
    """Return the part of a period's amount of each source that falls on each of its days.

    ``dry`` is the dry matter of each hay, by which new and old are weighed against each other.
    """
    even = {one: [1.0 / days] * days for one in here}
    hay = {one: here[one] * dry[one] for one in dry}
    whole, fresh = sum(hay.values()), sum(hay[one] for one in new)
    if not 0.0 < fresh < whole:
        return even
    line = [min(1.0, (number + 1) / over) for number in range(days)]
    share = _to_mean(line, fresh / whole)
    for one in hay:
        mine = share if one in new else [1.0 - part for part in share]
        even[one] = [part / sum(mine) for part in mine]
    return even


def _to_mean(line: list[float], mean: float) -> list[float]:
    """Stretch a line, cut off at one, until its mean is so, by halving the interval."""
    low, high = 0.0, 1.0 / line[0]
    for _ in range(200):
        middle = (low + high) / 2.0
        if sum(min(1.0, middle * one) for one in line) < mean * len(line):
            low = middle
        else:
            high = middle
    return [min(1.0, high * one) for one in line]
