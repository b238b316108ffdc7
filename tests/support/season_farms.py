"""Small farms for tests of the season program."""

from __future__ import annotations

from datetime import date, timedelta

from rickyard.farm import (
    AnimalClass,
    Basis,
    Farm,
    Feed,
    FeedKind,
    Forage,
    Group,
    Lot,
    Package,
    Report,
    Season,
    Storage,
)
from rickyard.program.result.result import SeasonProgram
from support.farms import START, analyte


def hay(lot_id: str, tdn: float, cp: float, tonnes: float, usd_per_t: float, **more: object) -> Lot:
    return Lot(
        lot_id,
        lot_id.title(),
        Forage.COOL_GRASS,
        Package.ROUND,
        Storage.ENCLOSED_BARN,
        bales=tonnes * 2.0,
        baled_on=START - timedelta(days=90),
        counted_on=START,
        bale_weight_kg=500.0,
        value_usd_per_kg=usd_per_t / 1000.0,
        **more,  # type: ignore[arg-type]
    )


def report_on(lot: Lot, tdn: float, cp: float, no3n_ppm: float | None = 100.0) -> Report:
    values = [
        analyte("dm", 88.0, basis=Basis.AS_RECEIVED),
        analyte("tdn", tdn),
        analyte("cp", cp),
        analyte("ndf", 55.0),
        analyte("ca", 0.6),
        analyte("p", 0.3),
    ]
    if no3n_ppm is not None:
        values.append(analyte("nitrate_no3n", no3n_ppm, "ppm"))
    return Report(f"R-{lot.lot_id}", lot.lot_id, tuple(values), START)


def farm_of(
    lots: list[tuple[Lot, Report]], groups: list[Group], feeds: list[Feed], weeks: int = 4
) -> Farm:
    return Farm(
        "Test farm",
        Season(START, START + timedelta(days=7 * weeks), rainfall_mm_per_year=500.0),
        lots=tuple(lot for lot, _ in lots),
        reports=tuple(report for _, report in lots),
        groups=tuple(groups),
        feeds=tuple(feeds),
    )


def steers(gain: float = 0.6, head: int = 20) -> Group:
    return Group(
        "steers",
        "Steers",
        AnimalClass.STOCKER,
        head,
        weight_kg=280.0,
        finish_weight_kg=560.0,
        age_months=9.0,
        gain_kg_per_day=gain,
        feeding_loss_pct=0.0,
    )


def cows(calving: date | None = None) -> Group:
    return Group(
        "cows",
        "Cows",
        AnimalClass.COW,
        30,
        weight_kg=560.0,
        calving_on=calving,
        feeding_loss_pct=0.0,
    )


CORN = Feed("corn", "Corn", FeedKind.SUPPLEMENT, 0.30, dm_pct=88.0, tdn_pct=88.0, cp_pct=9.0)


CAKE = Feed("cake", "Cake", FeedKind.SUPPLEMENT, 0.45, dm_pct=90.0, tdn_pct=78.0, cp_pct=40.0)


LIME = Feed("lime", "Lime", FeedKind.MINERAL, 0.5, dm_pct=100.0, ca_pct=34.0, p_pct=10.0)


def eaten(program: SeasonProgram, source: str, group: str) -> float:
    return sum(
        row.eaten_kg_dm_per_head_day * row.days
        for row in program.feeding
        if row.source_id == source and row.group_id == group
    )
