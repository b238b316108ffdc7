"""The farms that stand behind a plan for several winters: feeds in two, and feeds in the yard."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.farm import ColdRule, Farm, Feed, FeedKind, Season, Winter
from rickyard.program.inputs import season_periods
from rickyard.program.problem import Problem, problem_of, wishes_of, with_wishes
from rickyard.program.result import NoWinters, WinterPrograms, Wish
from rickyard.program.solver import NOWHERE, is_placed
from rickyard.program.winters.two_stage import FirstStage, StageSplit
from rickyard.quantities import OutOfRange, is_some
from rickyard.types import FloatArray

#: When nobody says, the winter is known after this share of the season. Common practice, no
#: published source.
KNOWN_AFTER_FRAC: Final = 1.0 / 3.0

#: What is added to the id and the name of a feed that is bought when the winter is known.
LATER_ID: Final = "_later"
LATER_NAME: Final = ", bought later"

#: Room for rounding in what was bought, kg as fed.
ROUNDING_KG: Final = 1e-3


@dataclass(frozen=True, slots=True)
class Given:
    """A farm with its feeds in two: bought in autumn, and copies bought later.

    ``dm_frac`` is the dry matter of each source.
    """

    farm: Farm
    split: StageSplit
    known_on: date
    wishes: tuple[Wish, ...]
    dm_frac: FloatArray


def winter_chances(season: Season) -> dict[Winter, float]:
    """Return the chance of each winter that has one, as fractions, the mildest first.

    Raises ``OutOfRange`` if mild and severe winters together are more than certain, or a chance is
    negative.

    Examples
    --------
    >>> season = Season(date(2026, 11, 1), date(2027, 4, 1), mild_chance_pct=0.0)
    >>> [(winter.value, chance) for winter, chance in winter_chances(season).items()]
    [('normal', 0.75), ('severe', 0.25)]
    """
    mild, severe = season.mild_chance_pct, season.severe_chance_pct
    if min(mild, severe) < 0.0 or mild + severe > 100.0:
        raise OutOfRange(
            f"mild_chance_pct {mild:g} and severe_chance_pct {severe:g} in farm.toml leave no "
            "chance for a normal winter: in total they may be 100 at most, and none below 0."
        )
    found = {Winter.MILD: mild, Winter.NORMAL: 100.0 - mild - severe, Winter.SEVERE: severe}
    return {winter: chance / 100.0 for winter, chance in found.items() if is_some(chance)}


def farm_for_winter(farm: Farm, programs: WinterPrograms, winter: Winter) -> Farm:
    """Return the farm whose ordinary program feeds for one winter and holds back for a severe one.

    Parameters
    ----------
    farm : Farm
        The farm as the folder gives it.
    programs : WinterPrograms
        Its winters.
    winter : Winter
        The winter to feed for.

    Returns
    -------
    Farm
        The season of that winter. Unless it is the severe one, at least the hay that a severe
        winter would take is left at the end. Prices and limits of feeds are the folder's own.
    """
    reserve = farm.season.reserve_days or 0.0
    if winter is not Winter.SEVERE:
        reserve = max(reserve, programs.reserve_days)
    season = replace(farm.season, winter=winter, reserve_days=reserve or farm.season.reserve_days)
    return replace(farm, season=season)


def need_winters(farm: Farm) -> None:
    """Refuse a farm on which no winter differs from another.

    Raises ``NoWinters`` if the folder has no weather, or counts no cold.
    """
    season = farm.season
    if not farm.weather:
        raise NoWinters(
            "This farm folder has no weather, so no winter is milder or harder than another. "
            "Write weather.csv with the days of past winters (three or more are best) or the "
            "normals of the months, and choose cold_rule in farm.toml, so that cold counts."
        )
    if season.cold_rule is ColdRule.NONE and not (season.acclimatise or season.intake_by_weather):
        raise NoWinters(
            "farm.toml chooses no way to count the cold, so every winter would ask for the same. "
            "Write cold_rule or acclimatise in it."
        )


def split_farm(farm: Farm, wishes: Sequence[Wish]) -> Given:
    """Give every feed that can be bought later a copy, and leave off rules that count hays."""
    season = farm.season
    periods = season_periods(season)
    known = season.winter_known_on or season.start + timedelta(
        days=round((season.end - season.start).days * KNOWN_AFTER_FRAC)
    )
    early = [period for period in periods if period.start < known]
    if not early:
        raise OutOfRange(
            f"winter_known_on {known} in farm.toml is not after the first day of the season, so "
            "there is no autumn to plan: write a later day."
        )
    known_on = early[-1].start + timedelta(days=early[-1].days)
    price = 1.0 + season.late_price_pct / 100.0
    kept = [feed for feed in farm.feeds if feed.kind is not FeedKind.GRAZING]
    copies = [_copy(feed, known_on, price) for feed in kept if known_on < season.end]
    lots = len(farm.lots)
    at = {feed.feed_id: lots + i for i, feed in enumerate((*farm.feeds, *copies))}
    split = StageSplit(
        early=len(early),
        autumn=np.array([at[feed.feed_id] for feed in kept], dtype=np.int64),
        late=np.array([at.get(feed.feed_id + LATER_ID, NOWHERE) for feed in kept], dtype=np.int64),
        end_worth=min(1.0, season.carry_over_value_pct / 100.0),
        cash_limit_usd=season.cash_limit_usd,
    )
    free = replace(
        season, hays_at_once=None, least_run_days=None, change_usd=0.0, cash_limit_usd=None
    )
    groups = tuple(replace(group, hays_at_once=None) for group in farm.groups)
    farm = replace(farm, season=free, groups=groups, feeds=(*farm.feeds, *copies))
    later_too = [
        replace(one, source_id=one.source_id + LATER_ID)
        for one in wishes
        if one.kind == "keep_off" and one.source_id + LATER_ID in at
    ]
    dm_frac = np.array([one.dm_pct / 100.0 for one in problem_of(farm).sources.values])
    return Given(farm, split, known_on, (*wishes, *later_too), dm_frac)


def _copy(feed: Feed, known_on: date, price: float) -> Feed:
    return replace(
        feed,
        feed_id=feed.feed_id + LATER_ID,
        name=feed.name + LATER_NAME,
        same_as=feed.known_as,
        price_usd_per_kg=feed.price_usd_per_kg * price,
        least_kg_per_head_day=None,
        from_on=max(known_on, feed.from_on or known_on),
    )


def winter_problem(given: Given, farm: Farm) -> Problem:
    """Return the problem of one of the farms, with what is wished of it."""
    free = problem_of(farm)
    return with_wishes(farm, free, (*given.wishes, *wishes_of(farm, free))).problem


def with_stock(given: Given, winter: Winter, autumn: FirstStage) -> Farm:
    """Return the farm of a winter, with what was bought in autumn as feeds in the yard.

    Such a feed is counted at what it would still be worth at the end, as hay is.
    """
    lots, split = len(given.farm.lots), given.split
    feeds = list(given.farm.feeds)
    for i, copy, kg_dm in zip(
        split.autumn.tolist(), split.late.tolist(), autumn.bought_kg_dm.tolist(), strict=True
    ):
        feed = feeds[i - lots]
        as_fed = kg_dm / given.dm_frac[i] + ROUNDING_KG
        feeds[i - lots] = replace(
            feed,
            most_kg=as_fed if feed.most_kg is None else min(as_fed, feed.most_kg),
            load_kg=None,
            price_usd_per_kg=feed.price_usd_per_kg * split.end_worth,
        )
        if is_placed(copy) and feed.most_kg is not None:
            rest = max(0.0, feed.most_kg - kg_dm / given.dm_frac[i])
            feeds[copy - lots] = replace(feeds[copy - lots], most_kg=rest)
    season = replace(given.farm.season, winter=winter)
    return replace(given.farm, season=season, feeds=tuple(feeds))


def sunk_usd(given: Given, autumn: FirstStage) -> float:
    """Return the part of the price of autumn's purchases that is lost whether fed or not."""
    lots = len(given.farm.lots)
    lost = 0.0
    bought = zip(given.split.autumn.tolist(), autumn.bought_kg_dm.tolist(), strict=True)
    for i, kg_dm in bought:
        price = given.farm.feeds[i - lots].price_usd_per_kg
        lost += (1.0 - given.split.end_worth) * price * kg_dm / float(given.dm_frac[i])
    return lost
