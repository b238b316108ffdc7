"""Seeded farms for tests: plausible hay, plausible stock, every class, now and then too little."""

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
KG_PER_TON = 907.18474

FORAGES = (
    Forage.COOL_GRASS,
    Forage.LEGUME_GRASS,
    Forage.WARM_GRASS,
    Forage.ALFALFA,
    Forage.SUMMER_ANNUAL,
    Forage.SMALL_GRAIN,
)
STORAGES = (
    Storage.ENCLOSED_BARN,
    Storage.ROOF_OPEN_SIDES,
    Storage.COVERED_ELEVATED,
    Storage.EXPOSED_GROUND,
)
CLASSES = (
    AnimalClass.COW,
    AnimalClass.STOCKER,
    AnimalClass.FIRST_CALF_HEIFER,
    AnimalClass.REPLACEMENT_HEIFER,
    AnimalClass.BULL,
    AnimalClass.BRED_HEIFER,
)


def random_farm(seed: int, *, lots: int = 6, groups: int = 4, weeks: int = 12) -> Farm:
    """Return a farm that a seed decides; about one in five has too little hay."""
    chance = np.random.default_rng(seed)
    plenty = 1.1 if chance.random() > 0.2 else 0.5
    herd = tuple(_group(chance, number) for number in range(groups))
    # Two and a half percent of weight a day, spread over the lots.
    wanted = sum(one.head * one.weight_kg * 0.025 for one in herd) * 7 * weeks * plenty
    made = [_lot(chance, number, wanted / lots) for number in range(lots)]
    return Farm(
        name=f"Farm {seed}",
        season=Season(
            START,
            START + timedelta(days=7 * weeks),
            rainfall_mm_per_year=float(chance.uniform(400, 1200)),
            carry_over_value_pct=float(chance.choice([80.0, 100.0])),
        ),
        lots=tuple(lot for lot, _ in made),
        reports=tuple(report for _, report in made if report is not None),
        groups=herd,
        feeds=_feeds(chance),
    )


def analyte(name: str, value: float, unit: str = "pct", basis: Basis = Basis.DRY_MATTER) -> Analyte:
    return Analyte(name, value, unit, basis, "NIR", f"{value}")


def _lot(chance: np.random.Generator, number: int, kg_dm: float) -> tuple[Lot, Report | None]:
    lot_id = f"lot-{number}"
    weight = float(chance.uniform(400, 650))
    storage = STORAGES[int(chance.integers(len(STORAGES)))]
    forage = FORAGES[int(chance.integers(len(FORAGES)))]
    lot = Lot(
        lot_id,
        f"Lot {number}",
        forage,
        Package.ROUND,
        storage,
        bales=float(max(1, round(kg_dm * chance.uniform(0.5, 1.5) / weight / 0.87))),
        baled_on=START - timedelta(days=int(chance.integers(60, 180))),
        counted_on=START - timedelta(days=7),
        wrap=Wrap.NET,
        bale_weight_kg=weight,
        value_usd_per_kg=float(chance.uniform(40, 130)) / KG_PER_TON,
    )
    if chance.random() < 0.15:
        return lot, None
    ndf = float(chance.uniform(45, 70))
    values = [
        analyte("dm", float(chance.uniform(84, 90)), basis=Basis.AS_RECEIVED),
        analyte("cp", float(chance.uniform(6, 17))),
        analyte("adf", ndf * float(chance.uniform(0.56, 0.68))),
        analyte("ndf", ndf),
        analyte("tdn", float(chance.uniform(48, 62))),
        analyte("ca", float(chance.uniform(0.3, 1.0))),
        analyte("p", float(chance.uniform(0.15, 0.3))),
    ]
    if chance.random() < 0.7:
        values.append(analyte("nitrate_no3n", float(chance.uniform(50, 3000)), "ppm"))
    report = Report(f"R-{number}", lot_id, tuple(values), START - timedelta(days=30))
    return lot, report


def _group(chance: np.random.Generator, number: int) -> Group:
    kind = CLASSES[number % len(CLASSES)]
    calving = START + timedelta(days=int(chance.integers(20, 160)))
    common = {
        "group_id": f"group-{number}",
        "name": f"Group {number}",
        "animal_class": kind,
        "head": int(chance.integers(3, 60)),
        "feeder": Feeder.SHEETED_RING,
    }
    if kind is AnimalClass.COW:
        return Group(**common, weight_kg=float(chance.uniform(480, 650)), calving_on=calving)
    if kind in (AnimalClass.FIRST_CALF_HEIFER, AnimalClass.BRED_HEIFER):
        return Group(
            **common,
            weight_kg=float(chance.uniform(400, 480)),
            mature_weight_kg=580.0,
            calving_on=calving,
        )
    if kind is AnimalClass.BULL:
        return Group(**common, weight_kg=float(chance.uniform(700, 950)))
    growing = {
        "weight_kg": float(chance.uniform(220, 320)),
        "age_months": float(chance.uniform(7, 13)),
        "gain_kg_per_day": float(chance.uniform(0.3, 0.9)),
    }
    if kind is AnimalClass.STOCKER:
        return Group(**common, **growing, finish_weight_kg=560.0, sex=Sex.STEER)
    return Group(**common, **growing, mature_weight_kg=580.0, sex=Sex.FEMALE)


def _feeds(chance: np.random.Generator) -> tuple[Feed, ...]:
    return (
        Feed(
            "cubes",
            "Cubes",
            FeedKind.SUPPLEMENT,
            0.5,
            dm_pct=90,
            tdn_pct=77.8,
            cp_pct=42.2,
            most_kg=float(chance.uniform(2000, 20000)),
        ),
        Feed(
            "hulls",
            "Soybean hulls",
            FeedKind.SUPPLEMENT,
            float(chance.uniform(0.2, 0.35)),
            table_id="soybean_hulls",
            most_kg_per_head_day=3.0,
            most_kg=float(chance.uniform(2000, 20000)),
        ),
        Feed(
            "corn", "Corn", FeedKind.GRAIN, 0.23, table_id="corn_grain_dry_rolled", most_kg=4000.0
        ),
        Feed("mineral", "Mineral", FeedKind.MINERAL, 1.2, table_id="free_choice_mineral_winter"),
    )
