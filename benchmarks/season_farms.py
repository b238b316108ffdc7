"""Seeded farms of ordinary kinds, with every rule of the season program switched on."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    Farm,
    Feed,
    Feeder,
    FeedKind,
    Forage,
    Group,
    Lot,
    Package,
    Report,
    Season,
    Sex,
    Storage,
    Wrap,
)

START = date(2026, 11, 2)
USD_PER_TON = 1.0 / 907.18474

#: Hay in the yard for each ton that a quarter of a tenth of live weight a day would take.
PLENTY = 1.2

#: Forage, how often it is seen, and means of TDN, protein, NDF, calcium and value in $ a ton.
HAYS = (
    (Forage.COOL_GRASS, 0.40, 55.0, 9.5, 63.0, 0.45, 75.0),
    (Forage.LEGUME_GRASS, 0.22, 58.0, 13.0, 56.0, 0.85, 105.0),
    (Forage.WARM_GRASS, 0.16, 54.0, 9.0, 66.0, 0.40, 70.0),
    (Forage.ALFALFA, 0.10, 60.0, 17.5, 46.0, 1.30, 150.0),
    (Forage.SUMMER_ANNUAL, 0.07, 55.0, 9.0, 64.0, 0.45, 60.0),
    (Forage.SMALL_GRAIN, 0.05, 56.0, 10.0, 61.0, 0.35, 68.0),
)
STORAGES = (
    Storage.ENCLOSED_BARN,
    Storage.ROOF_OPEN_SIDES,
    Storage.COVERED_ELEVATED,
    Storage.EXPOSED_ELEVATED,
    Storage.EXPOSED_GROUND,
)
CLASSES = (
    AnimalClass.COW,
    AnimalClass.STOCKER,
    AnimalClass.FIRST_CALF_HEIFER,
    AnimalClass.REPLACEMENT_HEIFER,
    AnimalClass.COW,
    AnimalClass.BULL,
    AnimalClass.BRED_HEIFER,
    AnimalClass.COW,
)


def season_farm(seed: int, lots: int, groups: int, weeks: int) -> Farm:
    """Return a farm that a seed decides, with hay enough for an ordinary winter."""
    chance = np.random.default_rng([seed, lots, groups, weeks])
    herd = tuple(_group(chance, number, weeks) for number in range(groups))
    wanted = sum(one.head * one.weight_kg * 0.025 for one in herd) * 7 * weeks * PLENTY
    share = chance.uniform(0.4, 1.6, lots)
    made = [_lot(chance, number, wanted * share[number] / share.sum()) for number in range(lots)]
    return Farm(
        name=f"Farm {seed}",
        season=Season(
            START,
            START + timedelta(days=7 * weeks),
            rainfall_mm_per_year=float(chance.uniform(500, 1200)),
            carry_over_value_pct=85.0,
            hays_at_once=2,
            least_run_days=21,
            change_usd=10.0,
            reserve_days=14.0,
            cash_limit_usd=wanted / 1000.0 * 60.0,
            water_sulfate_ppm=200.0,
        ),
        lots=tuple(lot for lot, _ in made),
        reports=tuple(report for _, report in made),
        groups=herd,
        feeds=_feeds(wanted),
    )


def _lot(chance: np.random.Generator, number: int, kg_dm: float) -> tuple[Lot, Report]:
    odds = np.array([hay[1] for hay in HAYS])
    kind = int(chance.choice(len(HAYS), p=odds / odds.sum()))
    forage, _, tdn, cp, ndf, ca, value = HAYS[kind]
    better = float(chance.normal())
    weight = float(chance.uniform(420, 620))
    lot = Lot(
        f"lot-{number}",
        f"Lot {number}",
        forage,
        Package.ROUND,
        STORAGES[int(chance.integers(len(STORAGES)))],
        bales=float(max(2, round(kg_dm / weight / 0.87))),
        baled_on=START - timedelta(days=int(chance.integers(60, 170))),
        counted_on=START - timedelta(days=7),
        wrap=Wrap.NET,
        bale_weight_kg=weight,
        value_usd_per_kg=value * float(np.exp(0.12 * better + chance.normal(0, 0.1))) * USD_PER_TON,
        sale_usd_per_kg=value * 0.8 * USD_PER_TON if chance.random() < 0.3 else None,
        feed_by=START + timedelta(days=120) if chance.random() < 0.1 else None,
    )
    no3n = float(np.exp(chance.normal(5.4, 0.8)))
    if kind >= 4:
        no3n = float(np.exp(chance.normal(6.8, 0.7)))
    values = (
        _value("dm", float(chance.uniform(84, 90)), basis=Basis.AS_RECEIVED),
        _value("tdn", tdn + 2.5 * better),
        _value("cp", cp * float(np.exp(0.15 * better + chance.normal(0, 0.08)))),
        _value("ndf", ndf - 2.5 * better),
        _value("adf", 0.62 * (ndf - 2.5 * better)),
        _value("ca", ca * float(np.exp(chance.normal(0, 0.15)))),
        _value("p", float(chance.uniform(0.18, 0.32))),
        _value("s", float(chance.uniform(0.12, 0.25))),
        _value("nitrate_no3n", no3n, "ppm"),
    )
    return lot, Report(f"R-{number}", lot.lot_id, values, START - timedelta(days=30))


def _value(name: str, value: float, unit: str = "pct", basis: Basis = Basis.DRY_MATTER) -> Analyte:
    return Analyte(name, value, unit, basis, "NIR", f"{value:.2f}")


def _group(chance: np.random.Generator, number: int, weeks: int) -> Group:
    kind = CLASSES[number % len(CLASSES)]
    calving = START + timedelta(days=int(chance.integers(40, 7 * weeks + 30)))
    common = {
        "group_id": f"group-{number}",
        "name": f"Group {number}",
        "animal_class": kind,
        "head": int(chance.integers(15, 90)),
        "feeder": Feeder.SHEETED_RING,
        "feed_every_days": 3,
    }
    if kind is AnimalClass.COW:
        return Group(**common, weight_kg=float(chance.uniform(520, 640)), calving_on=calving)
    if kind in (AnimalClass.FIRST_CALF_HEIFER, AnimalClass.BRED_HEIFER):
        return Group(
            **common,
            weight_kg=float(chance.uniform(420, 480)),
            mature_weight_kg=590.0,
            calving_on=calving,
        )
    if kind is AnimalClass.BULL:
        return Group(**{**common, "head": 6}, weight_kg=float(chance.uniform(750, 900)))
    growing = {
        "weight_kg": float(chance.uniform(230, 300)),
        "age_months": float(chance.uniform(7, 11)),
        "gain_kg_per_day": float(chance.uniform(0.4, 0.7)),
    }
    if kind is AnimalClass.STOCKER:
        return Group(**common, **growing, finish_weight_kg=570.0, sex=Sex.STEER)
    return Group(**common, **growing, mature_weight_kg=590.0, sex=Sex.FEMALE)


def _feeds(wanted_kg: float) -> tuple[Feed, ...]:
    ton = 907.18474
    return (
        Feed(
            "cubes",
            "Range cubes",
            FeedKind.SUPPLEMENT,
            430 / ton,
            table_id="range_cubes_38",
            ca_pct=0.9,
            p_pct=0.9,
            load_kg=2 * ton,
        ),
        Feed(
            "ddgs",
            "Distillers grains",
            FeedKind.SUPPLEMENT,
            262 / ton,
            table_id="ddgs_dry",
            most_kg_per_head_day=3.0,
            load_kg=5 * ton,
        ),
        Feed(
            "hulls",
            "Soybean hulls",
            FeedKind.SUPPLEMENT,
            214 / ton,
            table_id="soybean_hulls",
            most_kg_per_head_day=4.0,
            load_kg=5 * ton,
        ),
        Feed("corn", "Cracked corn", FeedKind.GRAIN, 244 / ton, table_id="corn_grain_dry_rolled"),
        Feed(
            "mineral",
            "Winter mineral",
            FeedKind.MINERAL,
            1080 / ton,
            table_id="free_choice_mineral_winter",
            least_kg_per_head_day=0.08,
        ),
        Feed(
            "grass-hay",
            "Bought grass hay",
            FeedKind.FORAGE,
            150 / ton,
            dm_pct=87.0,
            tdn_pct=55.0,
            cp_pct=9.5,
            ndf_pct=62.0,
            ca_pct=0.45,
            p_pct=0.22,
            bale_weight_kg=500.0,
            load_kg=20 * ton,
        ),
        Feed(
            "stockpile",
            "Stockpiled fescue",
            FeedKind.GRAZING,
            45 / ton,
            dm_pct=40.0,
            tdn_pct=60.0,
            cp_pct=12.0,
            ndf_pct=58.0,
            ca_pct=0.45,
            p_pct=0.25,
            most_kg=wanted_kg * 0.04 / 0.40,
            feeding_loss_pct=35.0,
            from_on=START + timedelta(days=14),
            to_on=START + timedelta(days=70),
        ),
    )
