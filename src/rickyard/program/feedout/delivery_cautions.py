"""Cautions about how bales are put out: bales that last too long, and too few animals at one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.animals import HORSES
from rickyard.display import display_for, listed, listed_or_all, money_text
from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Caution, Farm, FeedKind, Package
from rickyard.program.days import (
    DIET_RULES,
    BaleStock,
    GroupDays,
    day_kg_dm,
    hay_ids,
    only_mixed,
    poisons_mixed,
    stand_ins,
)
from rickyard.program.feedout.feeding_days import COLD_DAYS, bale_lasts_days, warm_days
from rickyard.program.inputs import cautioned
from rickyard.program.result import Period, SeasonProgram
from rickyard.quantities import KG_PER_TONNE, is_some
from rickyard.safety import rule_of
from rickyard.types import BoolArray

#: Where more than this part of a day's ration is missing, it is no mere note. Judgement. [-]
MUCH_SHORT: Final = 0.15

#: Fewer head than this waste and spoil a large bale. Common practice.
FEW_HEAD: Final = 8


def delivery_cautions(
    program: SeasonProgram, farm: Farm, everybody: list[GroupDays], stocks: dict[str, BaleStock]
) -> Iterator[Caution]:
    """Yield what to watch for when bales are put out."""
    names = {one.source_id: one.name for one in program.sources}
    package = {lot.lot_id: lot.package for lot in farm.lots}
    hays = hay_ids(farm)
    yield from _to_weigh(program, everybody, hays)
    yield from _stands_in(program, farm, everybody)
    yield from _bought_beside(program, farm, everybody)
    for days in everybody:
        yield from _bare_of_safe_hay(program, farm, days)
        yield from _lean_for_nitrate(program, farm, days)
        yield from _short_while_raised(program, farm, days)
        large = []
        for source_id in days.asked:
            if source_id not in hays or source_id not in stocks or source_id in days.weighed:
                continue
            kind = package.get(source_id)
            if kind is Package.SMALL_SQUARE:
                continue
            if source_id not in days.forked:
                large.append(names[source_id])
            if days.group.animal_class in HORSES or kind is Package.BALEAGE:
                lasts = bale_lasts_days(days, source_id, stocks[source_id])
                yield from _too_long(days, source_id, names[source_id], kind, lasts)
        if large and days.group.head < FEW_HEAD:
            yield cautioned(
                "few_head", days.group.group_id, group=days.group.name, head=days.group.head
            )


def _to_weigh(
    program: SeasonProgram, everybody: list[GroupDays], hays: frozenset[str]
) -> Iterator[Caution]:
    """Yield what is weighed out and mixed where no box of its nitrate says so already."""
    names = {one.source_id: one.name for one in program.sources}
    boxed = {
        (group_id, source_id)
        for one in program.cautions
        if one.level == "danger" and "begin" in {rule_of(rule).demand for rule in one.rules}
        for group_id in one.groups
        for source_id in one.sources
    }
    groups = {days.group.group_id: days.group.name for days in everybody}
    together: dict[tuple[tuple[str, ...], str], list[str]] = {}
    for source_id in (value.source_id for value in program.sources if value.source_id in hays):
        fed = tuple(
            days.group.group_id
            for days in everybody
            if source_id in days.asked
            and source_id in only_mixed(program, days.group.group_id)
            and (days.group.group_id, source_id) not in boxed
        )
        if fed:
            poisons = poisons_mixed(program, source_id, fed)
            together.setdefault((fed, listed(poisons)), []).append(source_id)
    for (fed, poison), lots in together.items():
        yield cautioned(
            "weigh_and_mix",
            lots[0] if len(lots) == 1 else "",
            hay=listed([names[one] for one in lots]),
            fed=listed_or_all([groups[one] for one in fed], len(groups)),
            poison=poison,
            of_groups=fed,
            of_sources=lots,
        )


def _bare_of_safe_hay(program: SeasonProgram, farm: Farm, days: GroupDays) -> Iterator[Caution]:
    """Yield the weeks in which nothing makes up for hay with nitrate that begins low."""
    group, names = days.group, {one.source_id: one.name for one in program.sources}
    for number in days.bare:
        period = program.periods[number]
        here = days.period == number
        mine = [
            one
            for one in program.rules
            if (one.group_id, one.demand) == (group.group_id, "begin")
            and one.source_id in days.asked
            and days.asked[one.source_id][here].any()
        ]
        sources = list(dict.fromkeys(one.source_id for one in mine))
        told = cautioned(
            "bare_of_safe_hay",
            group.group_id,
            hay=listed([names[one] for one in sources]),
            group=group.name,
            day=display_for(farm.units).day_text(period.start),
            of_groups=[group.group_id],
            of_sources=sources,
            start=period.start,
            end=_after(period),
        )
        yield replace(told, rules=tuple(dict.fromkeys(one.rule_id for one in mine)))


def _lean_for_nitrate(program: SeasonProgram, farm: Farm, days: GroupDays) -> Iterator[Caution]:
    """Yield the weeks in which the limit of nitrate leaves a group less than its fill."""
    group, names = days.group, {one.source_id: one.name for one in program.sources}
    mixed = only_mixed(program, group.group_id)
    if not days.lean:
        return
    lean = [program.periods[number] for number in days.lean]
    here = np.isin(days.period, days.lean)
    nitrate = {one.source_id for one in program.sources if is_some(one.nitrate_no3n_ppm or 0.0)}
    fed = [one for one in days.asked if days.asked[one][here].any()]
    sources = [one for one in fed if one in mixed] or [one for one in fed if one in nitrate]
    rules = tuple(
        one.rule_id
        for one in program.rules
        if one.group_id == group.group_id
        and (one.rule_id in DIET_RULES["nitrate"] or (one.mixed and one.source_id in sources))
    )
    acid = ["prussic acid" in poisons_mixed(program, one, [group.group_id]) for one in sources]
    weeks, begin = _weeks(lean, farm)
    told = cautioned(
        "lean_for_acid" if any(acid) and all(acid) else "lean_for_nitrate",
        group.group_id,
        hay=listed([names[one] for one in sources]),
        group=group.name,
        of_groups=[group.group_id],
        of_sources=sources,
        weeks=weeks,
        days=begin,
        start=lean[0].start,
        end=_after(lean[-1]),
    )
    yield replace(told, rules=tuple(dict.fromkeys(rules)))


def _weeks(periods: list[Period], farm: Farm) -> tuple[str, str]:
    """Return what some periods are called, and the days on which they begin."""
    days = listed([display_for(farm.units).day_text(one.start) for one in periods])
    return ("the week" if len(periods) == 1 else "the weeks"), days


def _after(period: Period) -> date:
    """Return the day after a period."""
    return period.start + timedelta(days=period.days)


def _short_while_raised(program: SeasonProgram, farm: Farm, days: GroupDays) -> Iterator[Caution]:
    """Yield the weeks in which no hay makes up for what is still to be raised."""
    if not days.short or days.hunger_kg_dm is None:
        return
    group, names = days.group, {one.source_id: one.name for one in program.sources}
    here = np.isin(days.period, days.short)
    mine = [
        one
        for one in program.rules
        if one.group_id == group.group_id
        and one.demand in ("step", "begin")
        and one.source_id in days.asked
        and days.asked[one.source_id][here].any()
    ]
    sources = list(dict.fromkeys(one.source_id for one in mine))
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    there = day_kg_dm(days.asked, dry)
    much = bool((days.hunger_kg_dm > MUCH_SHORT * (there + days.hunger_kg_dm))[here].any())
    short = [program.periods[number] for number in days.short]
    weeks, begin = _weeks(short, farm)
    beside = _could_lie_beside(program, farm, days, here)
    who, feed = group.group_id, listed([names[one] for one in sources])
    told = (
        cautioned(
            "short_at_a_ring", who, group=group.name, feed=feed, weeks=weeks, days=begin,
            other=listed([names[one] for one in beside]),
        )
        if beside
        else cautioned(
            "short_while_raised", who, group=group.name, feed=feed, weeks=weeks, days=begin
        )
    )  # fmt: skip
    yield replace(
        told,
        groups=(who,),
        sources=tuple(sources),
        start=short[0].start,
        end=_after(short[-1]),
        rules=tuple(dict.fromkeys(one.rule_id for one in mine)),
        level="warning" if much else told.level,
    )


def _could_lie_beside(
    program: SeasonProgram, farm: Farm, days: GroupDays, here: BoolArray
) -> list[str]:
    """Return hay in bales that is over and may lie beside that of a group that eats of bales.

    What is weighed out stands in on the list; bales are put out whole, so that it is only told.
    """
    bales = {
        one.source_id: one.bale_weight_kg * one.dm_pct / 100.0
        for one in program.sources
        if one.bale_weight_kg is not None
    }
    if not bales.keys() & days.asked.keys() - days.weighed:
        return []
    left = {
        one.lot_id
        for one in program.lots
        if one.lot_id in bales and one.left_t * KG_PER_TONNE >= bales[one.lot_id]
    }
    may = stand_ins(program, farm, days.group, days.period, days.first)
    return [one for one, on in may.items() if one in left and on[here].any()]


def _stands_in(program: SeasonProgram, farm: Farm, everybody: list[GroupDays]) -> Iterator[Caution]:
    """Yield the hay that fills groups for some days though their rations do not name it."""
    rows = {(one.group_id, one.source_id, one.period) for one in program.feeding}
    for source in (one for one in program.sources if one.is_hay):
        numbers: set[int] = set()
        groups: dict[str, str] = {}
        for days in everybody:
            given = days.asked.get(source.source_id, np.zeros(0))
            fed = np.unique(days.period[np.flatnonzero(is_some(given))]).tolist()
            who = days.group.group_id
            new = {number for number in fed if (who, source.source_id, number) not in rows}
            numbers |= new
            groups |= {who: days.group.name} if new else {}
        if numbers:
            periods = [program.periods[number] for number in sorted(numbers)]
            weeks, begin = _weeks(periods, farm)
            yield cautioned(
                "stands_in",
                source.source_id,
                hay=source.name,
                group=listed_or_all(list(groups.values()), len(everybody)),
                of_groups=list(groups),
                of_sources=[source.source_id],
                weeks=weeks,
                days=begin,
                start=periods[0].start,
                end=_after(periods[-1]),
            )


#: Less than this is not bought for its own sake, kg as fed. Judgement.
LEAST_BOUGHT_KG: Final = 5.0

#: More than this part beyond what the program buys would be missed at the end. Judgement. [-]
MUCH_MORE: Final = 0.02


def _bought_beside(
    program: SeasonProgram, farm: Farm, everybody: list[GroupDays]
) -> Iterator[Caution]:
    """Yield what the list puts out of bought hay beyond what the program buys, and its price."""
    for feed in (one for one in farm.feeds if one.kind is FeedKind.FORAGE):
        put_out = sum(float(days.asked[feed.feed_id].sum()) for days in everybody
                      if feed.feed_id in days.asked)  # fmt: skip
        if put_out < LEAST_BOUGHT_KG:
            continue
        bought = sum(one.as_fed_kg for one in program.purchases if one.feed_id == feed.feed_id)
        more = put_out - bought
        if more >= LEAST_BOUGHT_KG:
            display = display_for(farm.units)
            caution = cautioned(
                "bought_beside",
                feed.feed_id,
                mass=display.tons_text(more / KG_PER_TONNE)
                if more >= KG_PER_TONNE
                else display.mass_text(more),
                hay=feed.name,
                usd=money_text(more * feed.price_usd_per_kg),
                of_sources=[feed.feed_id],
            )
            grave = more > MUCH_MORE * bought
            yield replace(caution, level="warning" if grave else caution.level)


def _too_long(
    days: GroupDays, source_id: str, name: str, kind: Package | None, lasts: float
) -> Iterator[Caution]:
    group, wet = days.group, kind is Package.BALEAGE
    warm = warm_days(group.animal_class)
    if lasts <= warm:
        return
    figures = f"{lasts:.0f}" if lasts >= 10.0 else f"{lasts:.1f}"
    what = "opened baleage spoils" if wet else "a bale that lies long spoils"
    harm = " and can kill" if group.animal_class in HORSES or wet else ""
    when = "in any weather" if lasts > COLD_DAYS else f"once it is warm ({warm:.0f} days)"
    after = f"{COLD_DAYS:.0f} days in the cold and {warm:.0f} in the warm"
    if source_id not in days.forked:
        do = f"Give it to more animals at once, or throw away what is left after {after}."
    elif wet:
        do = (
            "Fork out what the list says for each day, feed the rest to more animals at once, and "
            f"throw away what is left of a bale {after} after it was opened: then open another, "
            "beyond the list."
        )
    else:
        do = (
            "Never put the whole bale before them: keep it dry under a roof, and fork out what the "
            "list says for each day. Feed none that got wet, musty or moldy, and throw away what "
            f"lies before them after {after}."
        )
    yield Caution(
        "warning" if lasts > COLD_DAYS else "note",
        group.group_id,
        f"A bale of {name} lasts {group.name} about {figures} days, too long {when}: {what}{harm}. "
        f"{do}",
        COMMON_PRACTICE,
        sources=(source_id,),
    )
