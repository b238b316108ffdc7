"""A second look at what takes the place of another: supplements at a new stage, hay for a day."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from types import MappingProxyType
from typing import Final

from rickyard.farm import Farm, FeedKind, Group, Package
from rickyard.kinds import Wanted
from rickyard.program.result import SeasonProgram
from rickyard.quantities import is_some
from rickyard.safety import Binding, Rule, bindings, births

#: Days before and after the first of a new stage, and how near to a birth or weaning that lies.
#: Common practice, no published source.
DAYS_BEFORE: Final = 3
WEEK: Final = 7

#: A change of so much a head, or of this part of live weight, goes in one night: half a pound.
#: Judgement, no published source. [kg]
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


#: Hay stands in where more than this part of a day's ration is missing. Judgement, no published
#: source.
MISSING: Final = 0.05

#: It is no more of a day's ration than the step in which extension schedules let horses change hay
#: (eXtension Horses, changing the diet; L. D. Lewis 1995), taken for all stock: judgement.
MOST_NEW: Final = 0.25

#: A rule that lets this part of the dry matter be fed lets the step above stand in for some days.
#: Judgement, no published source.
HALF: Final = 0.5


def hay_that_stands_in(
    program: SeasonProgram, farm: Farm, group: Group, asked: Collection[str], mixed: Collection[str]
) -> list[str]:
    """Return the hay that may stand in for a few days, lots the group is fed anyway first.

    ``mixed`` is what is weighed out for the group. None where it gets hay by the bale.
    """
    for one in program.sources:
        is_lot = any(lot.lot_id == one.source_id for lot in farm.lots)
        forage = any(
            feed.feed_id == one.source_id and feed.kind is FeedKind.FORAGE for feed in farm.feeds
        )
        in_bales = one.bale_weight_kg is not None and (is_lot or forage)
        if in_bales and one.source_id in asked and one.source_id not in mixed:
            return []
    fed = {row.source_id for row in program.feeding if row.group_id == group.group_id}
    free = []
    for lot in farm.lots:
        if lot.package is Package.BALEAGE and lot.lot_id not in fed:
            continue
        if _is_safe(farm, group, lot.lot_id) and lot.bales_reachable is None:
            free.append(lot.lot_id)
    lots = [one for one in free if one in fed] + [one for one in free if one not in fed]
    return lots + [one for one in _bought(program, farm) if _is_safe(farm, group, one)]


def _bought(program: SeasonProgram, farm: Farm) -> list[str]:
    """Return the forage that is bought for anybody."""
    some = {row.source_id for row in program.feeding}
    return [one.feed_id for one in farm.feeds
            if one.kind is FeedKind.FORAGE and one.feed_id in some]  # fmt: skip


def _is_safe(farm: Farm, group: Group, source_id: str) -> bool:
    """Say whether a group may have some of a hay for a few days, and nobody wants it kept off."""
    unwanted = any(
        wish.wish is Wanted.KEEP_OFF
        and wish.source_id == source_id
        and wish.group_id in ("", group.group_id)
        for wish in farm.wishes
    )
    return not unwanted and all(
        _is_light(one.rule)
        for one in bindings(farm)
        if (one.group_id, one.source_id) == (group.group_id, source_id)
    )


def _is_light(rule: Rule) -> bool:
    """Say whether no more is asked than to watch, or to feed no more than half of it."""
    if rule.level == "danger" or rule.mixed:
        return False
    if rule.demand == "share":
        return (rule.amount or 0.0) >= 100.0 * HALF
    grave = rule.hazard in ("nitrate", "prussic acid")
    return rule.demand == "keep" and not (grave and rule.level == "warning")


def may_be_fed(farm: Farm, source_id: str, day: date) -> bool:
    """Say whether a day lies in those on which a hay may be fed."""
    for feed in farm.feeds:
        if feed.feed_id == source_id:
            begun = feed.from_on is None or day >= feed.from_on
            return begun and not (feed.to_on is not None and day >= feed.to_on)
    lot = next(one for one in farm.lots if one.lot_id == source_id)
    early = lot.feed_from is not None and day < lot.feed_from
    return not early and (lot.feed_by is None or day <= lot.feed_by)


#: Where no grass is grazed.
NO_GRASS: Final[Mapping[str, float]] = MappingProxyType({})


def grass_eaten(program: SeasonProgram, farm: Farm, group: Group) -> dict[str, float]:
    """Return which part a group eats of the grass that it is offered."""
    grass = {feed.feed_id for feed in farm.feeds if feed.kind is FeedKind.GRAZING}
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    periods = {one.index: one for one in program.periods}
    found = {}
    for row in program.feeding:
        if row.group_id != group.group_id or row.source_id not in grass:
            continue
        when = periods[row.period]
        every = (when.start + timedelta(days=number) for number in range(when.days))
        here = sum(1 for day in every if (group.from_on or day) <= day < (group.to_on or date.max))
        offered = row.offered_kg * dry[row.source_id]
        if is_some(offered):
            eaten = row.eaten_kg_dm_per_head_day * group.head * here
            found[row.source_id] = min(1.0, eaten / offered)
    return found


@dataclass
class OtherHay:
    """Other hay that stands in for a group: ``names`` in order, and the most of each day. [kg DM].

    ``left`` is taken off as days are filled, and so is what is over of each hay; ``fills`` is the
    dry matter that fills of each source.
    """

    names: list[str]
    farm: Farm
    dry: dict[str, float]
    over: dict[str, float]
    left: dict[date, float]
    fills: dict[str, float]

    @classmethod
    def of(
        cls,
        names: list[str],
        farm: Farm,
        asked: dict[str, dict[date, float]],
        dry_and_over: tuple[dict[str, float], dict[str, float]],
        of_grass: Mapping[str, float] = NO_GRASS,
    ) -> OtherHay:
        """Return it with a quarter of each day's ration left to it; of grass a part is eaten."""
        dry, over = dry_and_over
        left = {day: MOST_NEW * kg for day, kg in _kg_dm(asked, dry, _days_of(asked)).items()}
        fills = {one: each * of_grass.get(one, 1.0) for one, each in dry.items()}
        return cls(names, farm, dry, over, left, fills)

    def first(self, day: date) -> str | None:
        """Return the first of them that may be fed on a day on which more may be new."""
        if not is_some(self.left.get(day, 0.0)):
            return None
        may = (one for one in self.names if is_some(self.over[one]))
        return next((one for one in may if may_be_fed(self.farm, one, day)), None)

    def fill_hungry(
        self, safe: dict[str, dict[date, float]], asked: dict[str, dict[date, float]]
    ) -> None:
        """Fill, in place, days that lack more than a little of their ration."""
        days = _days_of(asked)
        wanted, there = (_kg_dm(each, self.fills, days) for each in (asked, safe))
        short = [day for day in days if there[day] < (1.0 - MISSING) * wanted[day]]
        self.fill(safe, {day: wanted[day] - there[day] for day in short})

    def fill(self, safe: dict[str, dict[date, float]], lacks: dict[date, float]) -> None:
        """Fill, in place, what days lack; where too little is over, days are left to lack alike."""
        lack = {day: min(max(kg, 0.0), max(self.left[day], 0.0)) for day, kg in lacks.items()}
        for stays in (evened(lack, sum(self.over[one] for one in self.names)), 0.0):
            for day, one in ((day, one) for day in lack for one in self.names):
                may = may_be_fed(self.farm, one, day)
                more = min(lack[day] - stays, self.over[one]) if may else 0.0
                if more > 0.0:
                    mine = safe.setdefault(one, {})
                    mine[day] = mine.get(day, 0.0) + more / self.dry[one]
                    self.over[one] -= more
                    self.left[day] -= more
                    lack[day] -= more


def _days_of(amounts: dict[str, dict[date, float]]) -> list[date]:
    return sorted({day for days in amounts.values() for day in days})


def _kg_dm(
    amounts: dict[str, dict[date, float]], dry: dict[str, float], days: list[date]
) -> dict[date, float]:
    """Return the dry matter of each day of amounts as fed. [kg]."""
    return {day: sum(kg.get(day, 0.0) * dry[one] for one, kg in amounts.items()) for day in days}


def evened(lacks: dict[date, float], over: float) -> float:
    """Return what a day lacks at most where what is over fills those that lack most first. [kg].

    Examples
    --------
    >>> days = [date(2026, 11, number) for number in (2, 3, 4)]
    >>> evened(dict(zip(days, (6.0, 2.0, 1.0))), 5.0), evened(dict(zip(days, (6.0, 2.0, 1.0))), 9.0)
    (1.5, 0.0)
    """
    left, heights = over, sorted((one for one in lacks.values() if one > 0.0), reverse=True)
    for count, high in enumerate(heights, start=1):
        low = heights[count] if count < len(heights) else 0.0
        if count * (high - low) >= left:
            return high - left / count
        left -= count * (high - low)
    return 0.0


#: The six days on which hay with nitrate is begun.
DAYS_BEGUN: Final = 6


def known_goes_on(
    safe: dict[str, dict[date, float]],
    asked: dict[str, dict[date, float]],
    farm: Farm,
    mine: list[Binding],
    days: list[date],
    dry_and_over: tuple[dict[str, float], dict[str, float]],
) -> dict[date, float]:
    """Let hay with nitrate that ends go on, in place, on the first days of other that follows it.

    ``mine`` are the rules that bind on the group. Return the dry matter of it by day. [kg]
    """
    dry, over = dry_and_over
    begun = {one.source_id for one in mine if one.rule.demand == "begin"}
    nitrate = [one for one in asked if one in begun]
    since = dict.fromkeys(nitrate, DAYS_BEGUN)
    latest = {one: dict.fromkeys(nitrate, 0.0) for one in nitrate}
    found: dict[date, float] = {}
    for number, day in enumerate(days):
        fed = {one: asked[one].get(day, 0.0) for one in nitrate}
        used = dict.fromkeys(nitrate, 0.0)
        for new in nitrate:
            if not is_some(fed[new]):
                since[new], latest[new] = 0, fed
                continue
            since[new] += 1
            if since[new] > DAYS_BEGUN or not number:
                continue
            lack = (fed[new] - safe[new].get(day, 0.0)) * dry[new]
            for old, kilograms in latest[new].items():
                if is_some(fed[old]) or not _may_go_on(farm, mine, old, day):
                    continue
                more = max(0.0, min(lack, kilograms * dry[old] - used[old], over[old]))
                if is_some(more):
                    used[old] += more
                    over[old] -= more
                    lack -= more
                    safe[old][day] = safe[old].get(day, 0.0) + more / dry[old]
                    found[day] = found.get(day, 0.0) + more
    return found


def _may_go_on(farm: Farm, mine: list[Binding], source_id: str, day: date) -> bool:
    """Say whether a hay may be fed on a day by its dates and every rule that keeps it away."""
    barred = any(one.source_id == source_id and one.bars and one.holds(day, 1) for one in mine)
    return not barred and may_be_fed(farm, source_id, day)


#: What was fed within so many days before the season is known to the group. Judgement, no published
#: source.
KNOWN_DAYS: Final = 7


def known_kg(farm: Farm, group: Group, source_id: str) -> float:
    """Return what the log says the group got of a source each day of the week before."""
    start = farm.season.start
    found = 0.0
    for row in farm.fed:
        mine = row.source_id == source_id and row.group_id == group.group_id
        if mine and 1 <= (start - row.day).days <= KNOWN_DAYS:
            found += row.mass_kg or 0.0
    return found / KNOWN_DAYS
