"""Small farms for tests of deliveries."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from rickyard.farm import (
    AnimalClass,
    Farm,
    Feed,
    Feeder,
    Forage,
    Group,
    Lot,
    Package,
    Season,
    StatedNeed,
    Storage,
    Wrap,
)

START = date(2026, 11, 2)


def lot(lot_id: str = "A", bales: float = 400.0, **changes: object) -> Lot:
    usual = Lot(
        lot_id,
        f"Hay {lot_id}",
        Forage.COOL_GRASS,
        Package.ROUND,
        Storage.ENCLOSED_BARN,
        bales,
        START - timedelta(days=120),
        START,
        wrap=Wrap.NET,
        bale_weight_kg=500.0,
        dm_pct=88.0,
        value_usd_per_kg=0.1,
    )
    return replace(usual, **changes)  # type: ignore[arg-type]


def farm_of(
    lots: tuple[Lot, ...],
    groups: tuple[Group, ...],
    feeds: tuple[Feed, ...] = (),
    weeks: int = 8,
    kg_dm: float = 10.0,
) -> Farm:
    """Return a farm whose groups want just so much dry matter."""
    end = START + timedelta(weeks=weeks)
    needs = tuple(
        StatedNeed(one.group_id, START, end, least_dm_kg=kg_dm, most_dm_kg=kg_dm) for one in groups
    )
    return Farm("F", Season(START, end), lots, groups=groups, feeds=feeds, needs=needs)


def cows(head: int = 20, **changes: object) -> Group:
    usual = Group("C", "Cows", AnimalClass.COW, head, 600.0, feeder=Feeder.CONE_RING)
    return replace(usual, **changes)  # type: ignore[arg-type]
