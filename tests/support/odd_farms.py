"""Seeded farms of every class, forage and way of storing, with any field known or unknown."""

from __future__ import annotations

import dataclasses
import random
import types
import typing
from collections.abc import Sequence
from datetime import date, timedelta
from enum import Enum
from typing import Any

from rickyard.animals import CLASSES
from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    Farm,
    Feed,
    FeedKind,
    Forage,
    Group,
    Lot,
    MoveKind,
    MoveRow,
    Package,
    Report,
    Season,
    Storage,
    WeatherRow,
    Winter,
)
from rickyard.kinds import Feeder

START = date(2026, 11, 2)

#: The least and the most that is drawn of a field; others stay unknown.
SPANS: dict[str, tuple[float, float]] = {
    "activity_factor": (1.0, 1.4),
    "age_months": (5.0, 30.0),
    "assurance_pct": (50.0, 95.0),
    "bale_weight_sd_kg": (1.0, 40.0),
    "baled_moisture_pct": (10.0, 30.0),
    "bales_reachable": (5.0, 60.0),
    "breed_factor": (0.9, 1.2),
    "calf_birth_weight_kg": (25.0, 50.0),
    "carry_over_value_pct": (50.0, 110.0),
    "cash_limit_usd": (0.0, 20_000.0),
    "change_usd": (0.0, 50.0),
    "condition_score": (2.0, 8.0),
    "copper_ppm": (5.0, 40.0),
    "cp_pct": (5.0, 45.0),
    "dm_pct": (60.0, 92.0),
    "fat_pct": (1.0, 12.0),
    "feeding_loss_pct": (3.0, 40.0),
    "gain_kg_per_day": (0.1, 0.9),
    "highest_temperature_c": (20.0, 95.0),
    "intake_pct": (90.0, 110.0),
    "least_ca_to_p": (1.0, 2.0),
    "least_forage_pct_bw": (0.5, 1.5),
    "least_kg_per_head_day": (0.01, 0.1),
    "load_kg": (25.0, 3000.0),
    "most_kg": (100.0, 30_000.0),
    "most_kg_per_head_day": (0.5, 4.0),
    "mud_depth_cm": (0.0, 35.0),
    "ndf_pct": (10.0, 70.0),
    "npn_cp_pct": (0.0, 30.0),
    "peak_milk_kg_per_day": (4.0, 14.0),
    "rainfall_mm_per_year": (250.0, 1500.0),
    "reserve_days": (5.0, 30.0),
    "sale_usd_per_kg": (0.03, 0.2),
    "starch_pct": (1.0, 75.0),
    "sulfur_pct": (0.1, 0.7),
    "tdn_pct": (45.0, 88.0),
    "value_usd_per_kg": (0.04, 0.2),
    "water_sulfate_ppm": (0.0, 3000.0),
    "water_nitrate_no3n_ppm": (0.0, 100.0),
    "water_nitrate_no3_ppm": (0.0, 400.0),
    "young": (1.0, 2.5),
}
#: Whole numbers, drawn likewise.
WHOLE: dict[str, tuple[int, int]] = {
    "bales_weighed": (1, 12),
    "calving_spread_days": (0, 80),
    "change_over_days": (0, 14),
    "cutting": (1, 4),
    "feed_every_days": (1, 7),
    "hays_at_once": (1, 3),
    "least_run_days": (7, 28),
}
#: A bale of each package: its weight, and its sizes. [kg, m]
BALES: dict[Package, tuple[float, dict[str, float]]] = {
    Package.ROUND: (480.0, {"bale_diameter_m": 1.5, "bale_width_m": 1.4}),
    Package.BALEAGE: (620.0, {"bale_diameter_m": 1.3, "bale_width_m": 1.2}),
    Package.LARGE_SQUARE: (
        400.0,
        {"bale_width_m": 0.9, "bale_height_m": 0.9, "bale_length_m": 2.3},
    ),
    Package.SMALL_SQUARE: (
        24.0,
        {"bale_width_m": 0.46, "bale_height_m": 0.36, "bale_length_m": 1.0},
    ),
    Package.LOOSE: (500.0, {}),
}
#: Feeds of the shipped table, and one of nobody's table.
TABLE_FEEDS = (
    "corn_grain_dry_rolled",
    "oats_grain",
    "ddgs_dry",
    "soybean_meal_48",
    "whole_cottonseed",
    "corn_gluten_feed_dry",
    "wheat_straw",
    "dicalcium_phosphate",
    "",
)
#: Days after the start of the season, drawn likewise.
DAYS: dict[str, tuple[int, int]] = {
    "breeding_on": (-100, 120),
    "calving_on": (-150, 200),
    "feed_by": (10, 90),
    "feed_from": (-20, 40),
    "from_on": (0, 30),
    "to_on": (31, 90),
    "weaning_on": (-20, 150),
}
#: What laboratories print, and the span that is drawn: beyond what is possible on either side.
ANALYTES: dict[str, tuple[float, float, str]] = {
    "cp": (3.0, 26.0, "pct"),
    "adf": (24.0, 52.0, "pct"),
    "ndf": (34.0, 80.0, "pct"),
    "lignin": (2.0, 12.0, "pct"),
    "ash": (4.0, 16.0, "pct"),
    "ee": (0.8, 4.5, "pct"),
    "nfc": (4.0, 40.0, "pct"),
    "tdn": (42.0, 68.0, "pct"),
    "nem": (0.7, 1.7, "mcal_per_kg"),
    "ca": (0.15, 1.9, "pct"),
    "p": (0.08, 0.45, "pct"),
    "k": (0.5, 4.2, "pct"),
    "mg": (0.08, 0.5, "pct"),
    "s": (0.08, 0.6, "pct"),
    "na": (0.01, 0.3, "pct"),
    "cl": (0.05, 1.5, "pct"),
    "cu": (2.0, 40.0, "ppm"),
    "zn": (8.0, 60.0, "ppm"),
    "mn": (20.0, 200.0, "ppm"),
    "fe": (40.0, 1500.0, "ppm"),
    "mo": (0.2, 9.0, "ppm"),
    "se": (0.02, 6.0, "ppm"),
    "adicp": (0.3, 4.0, "pct"),
    "ndicp": (1.0, 6.0, "pct"),
    "starch": (0.5, 30.0, "pct"),
    "wsc": (2.0, 22.0, "pct"),
    "esc": (2.0, 15.0, "pct"),
    "rfv": (60.0, 200.0, ""),
    "ndfd48": (25.0, 75.0, "pct"),
    "nitrate_no3n": (20.0, 6000.0, "ppm"),
    "prussic_acid": (5.0, 1200.0, "ppm"),
}


def drawn(made: Any, chance: random.Random, known: float, /, **given: Any) -> Any:
    """Return a dataclass of which each field that is not given is known by chance."""
    hints = typing.get_type_hints(made)
    for one in dataclasses.fields(made):
        if one.name in given or chance.random() > known:
            continue
        options = typing.get_args(hints[one.name]) or (hints[one.name],)
        wanted = next(option for option in options if option is not types.NoneType)
        if one.name in SPANS:
            given[one.name] = chance.uniform(*SPANS[one.name])
        elif one.name in WHOLE:
            given[one.name] = chance.randint(*WHOLE[one.name])
        elif one.name in DAYS:
            given[one.name] = START + timedelta(days=chance.randint(*DAYS[one.name]))
        elif wanted is bool:
            given[one.name] = chance.random() < 0.5
        elif isinstance(wanted, type) and issubclass(wanted, Enum):
            # A mixed ration has a test of its own: what is recorded was drawn without it.
            given[one.name] = chance.choice([it for it in wanted if it is not Feeder.MIXED_RATION])
    return made(**given)


def odd_group(chance: random.Random, number: int, kind: AnimalClass, known: float = 0.4) -> Group:
    """Return a group of a class with everything that its class must be given."""
    low, high = CLASSES[kind].usual_kg
    weight = chance.uniform(low + 0.3 * (high - low), high - 0.2 * (high - low))
    must = {
        "weight_kg": weight,
        "mature_weight_kg": max(weight * 1.05, chance.uniform(*CLASSES[kind].usual_kg)),
        "finish_weight_kg": weight * chance.uniform(1.1, 1.8),
        "age_months": chance.uniform(4.0, 22.0),
        "gain_kg_per_day": weight * chance.uniform(0.0005, 0.002),
        "calving_on": START + timedelta(days=chance.randint(-80, 150)),
    }
    return drawn(
        Group,
        chance,
        known,
        group_id=f"g{number}",
        name=f"Group {number}",
        animal_class=kind,
        head=chance.randint(1, 60),
        target_on=None,
        target_weight_kg=None,
        target_condition_score=None,
        crossed_with=None,
        **must,
    )


def odd_lot(chance: random.Random, number: int, known: float = 0.5) -> tuple[Lot, Report | None]:
    """Return a lot, and mostly a report on it."""
    package = chance.choice(list(Package))
    weight, sizes = BALES[package]
    size = {name: value * chance.uniform(0.9, 1.1) for name, value in sizes.items()}
    if not size or chance.random() < 0.6:
        size["bale_weight_kg"] = weight * chance.uniform(0.8, 1.2)
    lot = drawn(
        Lot,
        chance,
        known,
        lot_id=f"l{number}",
        name=f"Lot {number}",
        forage=chance.choice(list(Forage)),
        package=package,
        bales=float(chance.randint(5, 300)),
        baled_on=START - timedelta(days=chance.randint(3, 500)),
        counted_on=START - timedelta(days=chance.randint(0, 2)),
        storage=chance.choice(list(Storage)),
        latest_temperature_c=None,
        note=chance.choice(["", "tall fescue", "endophyte", "beside the road"]),
        **size,
        species=chance.choice(["", "tall fescue", "orchardgrass", "sorghum-sudan", "alfalfa"]),
    )
    if chance.random() < 0.1:
        return lot, None
    values = [Analyte("dm", chance.uniform(78.0, 94.0), "pct", Basis.AS_RECEIVED)]
    for name, (low, high, unit) in ANALYTES.items():
        if chance.random() < 0.7:
            basis = Basis.NONE if name in ("rfv", "ndfd48") else Basis.DRY_MATTER
            values.append(Analyte(name, chance.uniform(low, high), unit, basis))
    sampled = START - timedelta(days=chance.randint(1, 200))
    return lot, Report(f"r{number}", lot.lot_id, tuple(values), sampled)


def odd_feed(chance: random.Random, number: int) -> Feed:
    """Return a feed that can be bought."""
    row = chance.choice(TABLE_FEEDS)
    rest = {} if row else {"dm_pct": 89.0, "tdn_pct": chance.uniform(50, 85), "cp_pct": 14.0}
    feed: Feed = drawn(
        Feed,
        chance,
        0.3,
        feed_id=f"f{number}",
        name=f"Feed {number}",
        kind=chance.choice(list(FeedKind)),
        price_usd_per_kg=chance.uniform(0.05, 0.6),
        table_id=row,
        **rest,
    )
    # Only a mineral is always on offer, and none that is a meal.
    if feed.kind is FeedKind.MINERAL:
        return dataclasses.replace(feed, fat_pct=0.0, starch_pct=0.0, npn_cp_pct=0.0)
    return dataclasses.replace(feed, least_kg_per_head_day=None)


def odd_farm(seed: int, kinds: Sequence[AnimalClass]) -> Farm:
    """Return a farm with one group of each of some classes, a few lots and a few feeds."""
    chance = random.Random(seed)
    lots = [odd_lot(chance, number) for number in range(4)]
    days = [START + timedelta(days=i) for i in range(-62, 90)]
    weather = tuple(
        WeatherRow(
            one, False, chance.uniform(-25, 20), chance.uniform(0, 40), chance.choice([0.0, 0.0, 9])
        )
        for one in days
    )
    moves = tuple(
        MoveRow(
            START - timedelta(days=chance.randint(-20, 1)), lot.lot_id, kind, chance.randint(1, 4)
        )
        for lot, _ in lots
        for kind in (MoveKind.SOLD, MoveKind.LOST, MoveKind.CORED)
        if chance.random() < 0.3
    )
    season = drawn(
        Season,
        chance,
        0.4,
        start=START,
        end=START + timedelta(days=84),
        period_days=21,
        winter=Winter.AS_GIVEN,
        winter_known_on=None,
        acclimatise=False,
        cash_limit_usd=None if seed % 3 else 4000.0,
    )
    return Farm(
        name=f"Farm {seed}",
        season=season,
        lots=tuple(lot for lot, _ in lots),
        reports=tuple(report for _, report in lots if report is not None),
        groups=tuple(odd_group(chance, i, kind) for i, kind in enumerate(kinds)),
        feeds=tuple(odd_feed(chance, number) for number in range(4)),
        weather=weather,
        moves=moves,
    )
