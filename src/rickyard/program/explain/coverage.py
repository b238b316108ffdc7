"""Whether the minerals fed cover copper, selenium, magnesium and the vitamins A and E.

Set against the highest need of the season is what the minerals and feeds bring by their tags, as
fed, and what hay brings by its own test. Hay is counted for no vitamins: they fade as it lies.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rickyard.farm import Farm, Feed, Group, Lot
from rickyard.forage.plausibility import lot_profile
from rickyard.program.inputs import season_series
from rickyard.program.result import Coverage, CoverageVerdict, SeasonProgram
from rickyard.quantities import is_some
from rickyard.stock.herd import TraceNeed, trace_needs

#: The field of a feed and the analyte of a hay, and what a kilogram of one unit of it holds.
_FIELDS: Final = MappingProxyType(
    {
        "cu": ("copper_ppm", "cu", 1.0),
        "se": ("selenium_ppm", "se", 1.0),
        "mg": ("magnesium_pct", "mg", 10.0),
        "vitamin_a": ("vitamin_a_iu_per_kg", "", 1.0),
        "vitamin_e": ("vitamin_e_iu_per_kg", "", 1.0),
    }
)
WORDS: Final = MappingProxyType(
    {
        "cu": "copper",
        "se": "selenium",
        "mg": "magnesium",
        "vitamin_a": "vitamin A",
        "vitamin_e": "vitamin E",
    }
)


def coverage_of(farm: Farm, program: SeasonProgram) -> tuple[Coverage, ...]:
    """Return, for each group and each of ``WORDS``, whether what is fed covers its need.

    ``farm``: tags of feeds and tests of lots are read. Returns by group in the order of the farm.
    """
    held = {lot.lot_id: _of_lot(farm, lot) for lot in farm.lots}
    held |= {feed.feed_id: _of_feed(feed) for feed in farm.feeds}
    found = []
    for group in farm.groups:
        cells = [one for one in program.groups if one.group_id == group.group_id]
        days = sum(one.days for one in cells)
        if not days:
            continue
        amounts: dict[str, float] = {}
        for row in program.feeding:
            if row.group_id == group.group_id:
                share = row.eaten_kg_dm_per_head_day * row.days / days
                amounts[row.source_id] = amounts.get(row.source_id, 0.0) + share
        series = season_series(farm, group, program.periods)
        weight = sum(one.full_weight_kg * one.days for one in cells) / days
        needs = trace_needs(group.animal_class, series, sum(amounts.values()), weight)
        found += [_judged(group, farm, one, amounts, held) for one in needs]
    return tuple(found)


def _of_lot(farm: Farm, lot: Lot) -> dict[str, float | None]:
    measured = lot_profile(lot, farm.reports_of(lot.lot_id)).measured
    return {
        name: None if (one := measured.get(analyte)) is None else one * scale
        for name, (_, analyte, scale) in _FIELDS.items()
    }


def _of_feed(feed: Feed) -> dict[str, float | None]:
    return {
        name: None if (one := getattr(feed, field)) is None else one * scale
        for name, (field, _, scale) in _FIELDS.items()
    }


def _judged(
    group: Group,
    farm: Farm,
    need: TraceNeed,
    amounts: dict[str, float],
    held: dict[str, dict[str, float | None]],
) -> Coverage:
    feeds = {feed.feed_id: feed for feed in farm.feeds}
    from_feeds = from_hay = 0.0
    unknown: list[str] = []
    for source_id, kilograms in amounts.items():
        content = held[source_id][need.name]
        if source_id not in feeds:
            from_hay += kilograms * (content or 0.0)
        elif content is not None:
            from_feeds += kilograms * content
        elif feeds[source_id].kind.value == "mineral":
            unknown.append(feeds[source_id].name)
    total = from_feeds + from_hay
    over = need.most is not None and total > need.most
    over |= need.most_added is not None and from_feeds > need.most_added * (1.0 + 1e-9)
    verdict: CoverageVerdict = "covered" if total >= need.need else "short"
    if over:
        verdict = "too_much"
    elif verdict == "short" and unknown:
        verdict = "unknown"
    return Coverage(
        group_id=group.group_id,
        nutrient=need.name,
        unit=need.unit,
        need=need.need,
        from_feeds=from_feeds,
        from_hay=from_hay,
        most=need.most,
        verdict=verdict,
        sentence=_sentence(group, need, verdict, total, unknown),
        source=need.source,
    )


def _sentence(
    group: Group, need: TraceNeed, verdict: CoverageVerdict, total: float, unknown: list[str]
) -> str:
    word = WORDS[need.name]
    share = 100.0 * total / need.need if is_some(need.need) else 100.0
    if verdict == "covered":
        return f"{group.name}: {word} is covered."
    if verdict == "too_much":
        return (
            f"{group.name}: too much {word}. Take off a mineral that holds it, and ask your "
            "veterinarian."
        )
    if verdict == "unknown":
        tags = ", ".join(unknown)
        return f"{group.name}: {word} is not known: write what the tag of {tags} says in feeds.csv."
    return (
        f"{group.name}: {word} is not covered: what is known to be fed brings {share:.0f}% of the "
        "need. Ask your veterinarian or extension office for a mineral that holds it."
    )
