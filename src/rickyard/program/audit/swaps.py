"""A second look at the days on which one supplement takes the place of another at a new stage."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Final

from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.result import SeasonProgram
from rickyard.safety import bindings, births

#: Days before and after the first of a new stage, and how near to a birth or weaning that lies.
DAYS_BEFORE: Final = 3
WEEK: Final = 7

#: A change of so much a head, or of this part of live weight, goes in one night. [kg]
ONE_NIGHT_KG: Final = 0.226796185
ONE_NIGHT_OF_WEIGHT: Final = 0.0005

#: Demands by which a feed is not to be had some days sooner or later.
TIED: Final = ("none", "step", "rise", "begin")


def turning_days(group: Group, starts: list[date]) -> list[date]:
    """Return the first days of periods within a week of a birth or of weaning."""
    events = [*births(group)] + ([group.weaning_on] if group.weaning_on else [])
    return [one for one in starts if any(-WEEK < (one - day).days <= WEEK for day in events)]


def loose_supplements(farm: Farm, group: Group, turns: list[date]) -> list[str]:
    """Return the supplements that may be had on all days around those."""
    tied = {
        one.source_id
        for one in bindings(farm)
        if one.group_id == group.group_id and one.rule.demand in TIED
    }
    tied |= {one.same_as for one in farm.feeds} | {one.feed_id for one in farm.feeds if one.same_as}
    days = timedelta(days=DAYS_BEFORE)
    found = []
    for feed in farm.feeds:
        late = feed.from_on is not None and any(day - days < feed.from_on for day in turns)
        gone = feed.to_on is not None and any(day + days > feed.to_on for day in turns)
        if feed.kind is FeedKind.SUPPLEMENT and feed.feed_id not in tied and not (late or gone):
            found.append(feed.feed_id)
    return found


def swapped(
    program: SeasonProgram,
    farm: Farm,
    group: Group,
    asked: dict[str, dict[date, float]],
    by_period: dict[int, list[date]],
) -> None:
    """Let supplements take each other's place by degrees around births and weaning."""
    first = {one.start: one.index for one in program.periods}
    turns = turning_days(group, list(first))
    feeds = loose_supplements(farm, group, turns) if turns else []
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    weights = [one.full_weight_kg for one in program.groups if one.group_id == group.group_id]
    night = min(ONE_NIGHT_KG, ONE_NIGHT_OF_WEIGHT * min(weights, default=group.weight_kg))
    means = {one: dict(days) for one, days in asked.items()}
    for turn in turns:
        before, after = (by_period.get(first[turn] - back, []) for back in (1, 0))
        if before and after:
            swap(asked, means, feeds, (before, after), dry, group.head * night)


def swap(
    asked: dict[str, dict[date, float]],
    means: dict[str, dict[date, float]],
    feeds: list[str],
    around: tuple[list[date], list[date]],
    dry: dict[str, float],
    least_kg: float,
) -> None:
    """Move supplements between the days ``around`` a turn, before it and from it on, in place.

    ``means`` is what is asked for on the mean of each period. By sevenths from three days before
    to the third day: each feed keeps its sum.
    """
    before, after = around
    turned = {}
    for one in feeds:
        if one in means:
            was, comes = (means[one].get(days[0], 0.0) for days in (before, after))
            turned[one] = (comes - was) * dry[one]
    more = sum(kg for kg in turned.values() if kg > 0.0)
    less = -sum(kg for kg in turned.values() if kg < 0.0)
    both = min(more, less)
    if both <= least_kg:
        return
    count = min(DAYS_BEFORE, len(before) // 2, len(after) // 2)
    for one, kg in turned.items():
        whole = both * kg / dry[one] / (more if kg > 0.0 else less)
        for number in range(count):
            part = whole * (count - number) / (2 * count + 1)
            early, late = before[-1 - number], after[number]
            asked[one][early] = asked[one].get(early, 0.0) + part
            asked[one][late] = asked[one].get(late, 0.0) - part
