"""Small farms, each with other rules, of which the whole answer is recorded."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace
from datetime import timedelta

from rickyard.farm import (
    AnimalClass,
    Care,
    ColdRule,
    Farm,
    FedRow,
    Feed,
    FeedKind,
    Forage,
    MoveKind,
    MoveRow,
    Package,
    Wanted,
    WishRow,
)
from support.farms import START, random_farm
from support.odd_farms import odd_farm, odd_group
from support.ruled_farms import ruled
from support.season_farms import cows, farm_of, hay, report_on, steers
from support.winter_farms import PAST


def _season(farm: Farm, **changed: object) -> Farm:
    return replace(farm, season=replace(farm.season, **changed))  # type: ignore[arg-type]


def _groups(farm: Farm, **changed: object) -> Farm:
    groups = tuple(replace(one, **changed) for one in farm.groups)  # type: ignore[arg-type]
    return replace(farm, groups=groups)


def _ruled(seed: int, weeks: int = 4) -> Farm:
    farm = ruled(seed)
    return _season(farm, end=farm.season.start + timedelta(days=7 * weeks))


def _turns() -> Farm:
    farm = _groups(_ruled(2), feed_every_days=2, change_over_days=6)
    return _season(farm, hays_at_once=1, least_run_days=14, change_usd=12.0)


def _mixed() -> Farm:
    farm = _season(_ruled(4), hays_at_once=2, simpler_for_pct=2.0, least_ca_to_p=1.4)
    return replace(farm, lots=(replace(farm.lots[0], drought=True), *farm.lots[1:]))


def _assured() -> Farm:
    farm = _season(random_farm(31, lots=3, groups=3, weeks=4), assurance_pct=80.0, hays_at_once=2)
    first = replace(farm.groups[0], assurance_pct=95.0)
    return replace(farm, groups=(first, *farm.groups[1:]))


def _cold() -> Farm:
    farm = random_farm(11, lots=3, groups=2, weeks=6)
    return replace(
        _season(
            farm,
            cold_rule=ColdRule.PERCENT,
            winter_known_on=farm.season.start + timedelta(days=21),
            late_price_pct=20.0,
            mild_chance_pct=35.0,
            severe_chance_pct=15.0,
            hays_at_once=2,
        ),
        weather=PAST,
    )


def _coats() -> Farm:
    farm = random_farm(14, lots=3, groups=4, weeks=4)
    return replace(
        _season(
            farm,
            cold_rule=ColdRule.FACTORIAL,
            intake_by_weather=True,
            maintenance_by_condition=True,
            acclimatise=True,
            hays_at_once=1,
            change_usd=25.0,
        ),
        weather=PAST,
    )


def _stable() -> Farm:
    lots = [
        (hay("meadow", 52.0, 8.5, 9.0, 120.0), 52.0, 8.5),
        (hay("second", 58.0, 12.5, 6.0, 170.0, sale_usd_per_kg=0.15), 58.0, 12.5),
        (hay("rank", 47.0, 6.0, 12.0, 70.0), 47.0, 6.0),
    ]
    chance = random.Random(6)
    herd = [
        replace(odd_group(chance, i, kind, 0.0), head=4, care=care)
        for i, (kind, care) in enumerate(
            ((AnimalClass.HORSE, Care.EASY_KEEPER), (AnimalClass.MARE, None),
             (AnimalClass.YOUNG_HORSE, None))
        )
    ]  # fmt: skip
    feeds = [
        Feed("oats", "Oats", FeedKind.GRAIN, 0.3, table_id="oats_grain"),
        Feed("meal", "Meal", FeedKind.SUPPLEMENT, 0.6, table_id="soybean_meal_48", load_kg=25.0),
    ]
    farm = farm_of([(lot, report_on(lot, tdn, cp)) for lot, tdn, cp in lots], herd, feeds, weeks=5)
    return _season(farm, change_usd=5.0, hays_at_once=2)


def _flock() -> Farm:
    lots = [
        (hay("grass", 54.0, 9.0, 14.0, 90.0), 54.0, 9.0, 100.0),
        (replace(hay("legume", 60.0, 17.0, 8.0, 160.0), forage=Forage.ALFALFA), 60.0, 17.0, 500.0),
    ]
    chance = random.Random(9)
    herd = [
        replace(odd_group(chance, i, kind, 0.0), head=30, change_over_days=days)
        for i, (kind, days) in enumerate(
            ((AnimalClass.EWE, 5), (AnimalClass.DOE, None), (AnimalClass.DRY_DAIRY_COW, 7))
        )
    ]
    feeds = [
        Feed("corn", "Corn", FeedKind.GRAIN, 0.25, table_id="corn_grain_dry_rolled"),
        Feed("hulls", "Hulls", FeedKind.SUPPLEMENT, 0.3, table_id="soybean_hulls", most_kg=900.0),
    ]
    reports = [(lot, report_on(lot, tdn, cp, ppm)) for lot, tdn, cp, ppm in lots]
    return _season(farm_of(reports, herd, feeds, weeks=5), least_run_days=14, hays_at_once=1)


def _short() -> Farm:
    farm = random_farm(7, lots=2, groups=3, weeks=6)
    lots = tuple(replace(one, bales=0.35 * one.bales) for one in farm.lots)
    day = farm.season.start
    fed = tuple(
        FedRow(day + timedelta(days=i), farm.lots[i % 2].lot_id, farm.groups[i % 3].group_id, 1.0)
        for i in range(-6, 15)
    )
    lost = MoveRow(day + timedelta(days=3), farm.lots[0].lot_id, MoveKind.LOST, 1.0)
    farm = replace(farm, lots=lots, fed=fed, moves=(lost,))
    return _season(farm, cash_limit_usd=4000.0, reserve_days=6.0, hays_at_once=2)


def _wished() -> Farm:
    farm = random_farm(23, lots=3, groups=2, weeks=5)
    first, second = (one.group_id for one in farm.groups)
    lots = [one.lot_id for one in farm.lots]
    start = farm.season.start
    second_week, fourth_week = (start + timedelta(days=days) for days in (7, 21))
    wishes = (
        WishRow(Wanted.FEED, lots[0], first, start, start + timedelta(days=14)),
        WishRow(Wanted.KEEP_OFF, lots[1], second),
        WishRow(Wanted.AMOUNT, lots[2], second, second_week, fourth_week, 3.0),
        WishRow(Wanted.AMOUNT, "hulls", first, None, None, 0.8),
    )  # fmt: skip
    return _season(replace(farm, wishes=wishes), hays_at_once=2, carry_over_value_pct=80.0)


def _beef() -> Farm:
    lots = [
        (hay("poor", 48.0, 6.5, 30.0, 60.0), 48.0, 6.5),
        (hay("good", 60.0, 13.0, 25.0, 130.0, sale_usd_per_kg=0.12), 60.0, 13.0),
        (replace(hay("wet", 55.0, 11.0, 20.0, 90.0), package=Package.BALEAGE), 55.0, 11.0),
    ]
    herd = [cows(START + timedelta(days=20)), replace(steers(0.9, 12), hays_at_once=1)]
    feeds = [
        Feed("gluten", "Gluten feed", FeedKind.SUPPLEMENT, 0.22, table_id="corn_gluten_feed_dry"),
        Feed("corn", "Corn", FeedKind.GRAIN, 0.2, table_id="corn_grain_dry_rolled"),
        Feed("liquid", "Liquid feed", FeedKind.SUPPLEMENT, 0.2, table_id="liquid_feed_32"),
        Feed("hay", "Bought hay", FeedKind.FORAGE, 0.14, dm_pct=88.0, tdn_pct=57.0, cp_pct=11.0,
             ndf_pct=60.0, bale_weight_kg=500.0, most_kg=6000.0),
    ]  # fmt: skip
    farm = farm_of([(lot, report_on(lot, tdn, cp)) for lot, tdn, cp in lots], herd, feeds, weeks=5)
    return _season(farm, assurance_pct=75.0, water_sulfate_ppm=1200.0)


SOLVED: Mapping[str, Farm] = {
    "turns": _turns(),
    "mixed": _mixed(),
    "assured": _assured(),
    "cold": _cold(),
    "coats": _coats(),
    "stable": _stable(),
    "flock": _flock(),
    "short": _short(),
    "wished": _wished(),
    "beef": _beef(),
    "odd": odd_farm(103, (AnimalClass.DOE, AnimalClass.COW)),
}


def searched_farm(seed: int) -> Farm:
    """Return a farm on which the search is not soon at its end."""
    farm = random_farm(seed, lots=7, groups=4, weeks=8)
    return _season(farm, hays_at_once=2, least_run_days=14, change_usd=15.0)
