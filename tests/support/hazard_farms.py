"""Seeded farms of every class of stock, with every kind of hazard, storage and feeder."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np

from rickyard.animals import CLASSES
from rickyard.farm import (
    AnimalClass,
    Care,
    Farm,
    Feed,
    Feeder,
    FeedKind,
    Forage,
    Group,
    Lot,
    Package,
    Sex,
    Storage,
)
from support.farms import START, analyte, random_farm

KINDS = tuple(AnimalClass)
PLANTS = (
    (Forage.COOL_GRASS, "timothy"),
    (Forage.COOL_GRASS, "tall fescue"),
    (Forage.LEGUME_GRASS, "alfalfa and orchardgrass"),
    (Forage.ALFALFA, "alfalfa"),
    (Forage.CLOVER, "sweet clover"),
    (Forage.PRAIRIE, "bluestem"),
    (Forage.WARM_GRASS, "bermudagrass"),
    (Forage.SUMMER_ANNUAL, "sorghum-sudangrass"),
    (Forage.SUMMER_ANNUAL, "pearl millet"),
    (Forage.SMALL_GRAIN, "oats"),
)


def hazard_farm(seed: int, *, weeks: int = 10) -> Farm:
    """Return a farm that a seed decides."""
    chance = np.random.default_rng(seed + 10_000)
    groups = tuple(_group(chance, number) for number in range(4))
    plain = random_farm(seed, lots=5, groups=2, weeks=weeks)
    need = sum(0.03 * one.weight_kg * one.head for one in groups) * 7 * weeks
    lots, reports = [], []
    for number, lot in enumerate(plain.lots):
        lots.append(_lot(chance, lot, need / len(plain.lots)))
        mine = [one for one in plain.reports if one.lot_id == lot.lot_id]
        told = chance.random()
        for one in mine:
            kept = tuple(a for a in one.analytes if not a.name.startswith("nitrate"))
            if told < 0.6:
                ppm = float(chance.choice([100.0, 800.0, 1200.0, 1700.0, 2600.0, 4500.0]))
                kept = (*kept, analyte("nitrate_no3n", ppm, "ppm"))
            if lots[number].package is Package.BALEAGE:
                kept = (*kept, analyte("ph", float(chance.uniform(4.1, 5.6)), ""))
            reports.append(replace(one, analytes=kept))
    season = replace(plain.season, hays_at_once=int(chance.integers(2, 4)))
    if chance.random() < 0.5:
        season = replace(season, hays_at_once=None, least_run_days=None)
    if seed % 4 == 1:
        season = replace(season, water_nitrate_no3n_ppm=30.0)
    return replace(
        plain,
        name=f"Hazard farm {seed}",
        season=season,
        lots=tuple(lots),
        groups=groups,
        reports=tuple(reports),
        feeds=(*plain.feeds, *_feeds()),
        needs=(),
        wishes=(),
        fed=(),
    )


def _lot(chance: np.random.Generator, lot: Lot, kg_dm: float) -> Lot:
    forage, species = PLANTS[int(chance.integers(len(PLANTS)))]
    package = Package.BALEAGE if chance.random() < 0.15 else Package.ROUND
    if chance.random() < 0.3:
        package = Package.SMALL_SQUARE
    weight = {Package.BALEAGE: 600.0, Package.ROUND: 500.0, Package.SMALL_SQUARE: 25.0}[package]
    dry = 0.45 if package is Package.BALEAGE else 0.87
    return replace(
        lot,
        forage=forage,
        species=species,
        package=package,
        storage=Storage.WRAPPED
        if package is Package.BALEAGE
        else (Storage.ENCLOSED_BARN, Storage.EXPOSED_GROUND)[int(chance.integers(2))],
        bales=float(max(4, round(kg_dm / dry / weight))),
        bale_weight_kg=weight,
        dm_pct=100.0 * dry,
        drought=bool(chance.random() < 0.25),
        heavy_nitrogen=bool(chance.random() < 0.25),
        frosted=bool(chance.random() < 0.1),
        rained_on=bool(chance.random() < 0.2),
    )


def _group(chance: np.random.Generator, number: int) -> Group:
    kind = KINDS[int(chance.integers(len(KINDS)))]
    facts = CLASSES[kind]
    low, high = facts.usual_kg
    weight = round(float(low + (high - low) * chance.uniform(0.4, 0.7)), 1)
    growing = kind in (
        AnimalClass.STOCKER,
        AnimalClass.REPLACEMENT_HEIFER,
        AnimalClass.DAIRY_HEIFER,
    )
    heifer = kind in (AnimalClass.FIRST_CALF_HEIFER, AnimalClass.BRED_HEIFER)
    birth = START + timedelta(days=int(chance.integers(10, 150)))
    carries = facts.in_calf and not growing and (heifer or chance.random() < 0.7)
    every = (None, 1, 3, 7)[int(chance.integers(4))]
    return Group(
        f"G{number}",
        f"Group {number}",
        kind,
        int(chance.integers(2, 40)),
        weight,
        mature_weight_kg=round(1.15 * weight, 1),
        finish_weight_kg=round(1.6 * weight, 1) if kind is AnimalClass.STOCKER else None,
        age_months=10.0 if growing or kind is AnimalClass.YOUNG_HORSE else 40.0,
        gain_kg_per_day=0.5 if growing else None,
        sex=Sex.STEER if kind is AnimalClass.STOCKER else None,
        calving_on=birth if carries else None,
        feeder=(None, Feeder.OPEN_RING, Feeder.BUNK, Feeder.CONE_RING)[int(chance.integers(4))],
        feed_every_days=every,
        care=Care.METABOLIC if kind is AnimalClass.HORSE and chance.random() < 0.3 else None,
    )


def _feeds() -> tuple[Feed, ...]:
    return (
        Feed("urea", "Urea cubes", FeedKind.SUPPLEMENT, 0.42, dm_pct=90.0, tdn_pct=70.0,
             cp_pct=38.0, ndf_pct=20.0, ca_pct=1.0, p_pct=0.9, npn_cp_pct=12.0, ionophore=True),
        Feed("oats", "Whole oats", FeedKind.GRAIN, 0.28, table_id="oats_grain"),
        Feed("hay", "Bought grass hay", FeedKind.FORAGE, 0.22, dm_pct=88.0, tdn_pct=54.0,
             cp_pct=8.5, ndf_pct=64.0, ca_pct=0.4, p_pct=0.2),
    )  # fmt: skip
