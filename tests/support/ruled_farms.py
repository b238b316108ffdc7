"""A farm with rules of use."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from rickyard.farm import Farm, Feed, FeedKind
from support.farms import START, random_farm
from support.season_farms import cows, farm_of, hay, report_on


def ruled(seed: int) -> Farm:
    """A seeded farm with every linear rule at once."""
    farm = random_farm(seed, lots=4, groups=3, weeks=6)
    standing = Feed(
        "standing",
        "Stockpiled fescue",
        FeedKind.GRAZING,
        0.03,
        dm_pct=45.0,
        tdn_pct=57.0,
        cp_pct=11.0,
        ndf_pct=60.0,
        ca_pct=0.4,
        p_pct=0.25,
        most_kg=8000.0,
        from_on=START + timedelta(days=7),
        to_on=START + timedelta(days=28),
    )
    oats = Feed("oats", "Oats", FeedKind.GRAIN, 0.2, table_id="oats_grain")
    stillage = Feed("ddgs", "Distillers grains", FeedKind.SUPPLEMENT, 0.2, table_id="ddgs_dry")
    liquid = Feed("liquid", "Liquid feed", FeedKind.SUPPLEMENT, 0.2, table_id="liquid_feed_32")
    feeds = tuple(
        replace(one, load_kg=1200.0) if one.feed_id in ("cubes", "hulls") else one
        for one in farm.feeds
    )
    lots = tuple(
        replace(lot, sale_usd_per_kg=0.11 if number % 2 else None)
        for number, lot in enumerate(farm.lots)
    )
    season = replace(
        farm.season,
        cash_limit_usd=2500.0,
        reserve_days=10.0,
        water_sulfate_ppm=(0.0, 400.0, 2500.0)[seed % 3],
        carry_over_value_pct=80.0,
    )
    return replace(farm, season=season, lots=lots, feeds=(*feeds, standing, oats, stillage, liquid))


def faulty_farm() -> Farm:
    lot = hay("lot", 50.0, 6.0, 30.0, 60.0, sale_usd_per_kg=0.09)
    sold = hay("sold", 56.0, 10.0, 20.0, 60.0, sale_usd_per_kg=0.30)
    cubes = Feed(
        "cubes",
        "Cubes",
        FeedKind.SUPPLEMENT,
        0.4,
        dm_pct=90.0,
        tdn_pct=78.0,
        cp_pct=42.0,
        sulfur_pct=0.5,
    )
    salt = Feed(
        "salt",
        "Salt",
        FeedKind.MINERAL,
        0.5,
        dm_pct=100.0,
        least_kg_per_head_day=0.03,
        load_kg=25.0,
    )
    lots = [(one, report_on(one, 56.0, 9.0)) for one in (lot, sold)]
    farm = farm_of(lots, [cows()], [cubes, salt], weeks=6)
    season = replace(
        farm.season,
        reserve_days=90.0,
        cash_limit_usd=-9000.0,
        water_sulfate_ppm=2500.0,
        carry_over_value_pct=90.0,
    )
    return replace(farm, season=season)
