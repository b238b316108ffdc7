"""Feed does not fall in the week of a birth or of weaning, in the program and on the list."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import pytest

from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    Farm,
    Forage,
    Group,
    Lot,
    Package,
    Report,
    Season,
    Storage,
)
from rickyard.program.audit import recheck
from rickyard.program.planning import plan_season
from rickyard.program.result.result import SeasonProgram
from rickyard.sheets.data_files.plan_json import plan_json
from support.daily_audit import DailyAudit
from support.weekly import WEEKLY

START = date(2027, 1, 4)
#: In the middle of the fifth week.
EVENT = START + timedelta(days=31)

BIRTHS = [
    (AnimalClass.COW, 550.0),
    (AnimalClass.FIRST_CALF_HEIFER, 480.0),
    (AnimalClass.EWE, 72.0),
    (AnimalClass.DOE, 60.0),
    (AnimalClass.MARE, 510.0),
]


def hay(lot_id: str, bales: float, cp: float, tdn: float) -> tuple[Lot, Report]:
    lot = Lot(lot_id, lot_id, Forage.COOL_GRASS, Package.SMALL_SQUARE, Storage.ENCLOSED_BARN,
              bales, date(2026, 8, 20), START, species="orchardgrass", bale_weight_kg=20.0,
              value_usd_per_kg=0.1)  # fmt: skip
    values = {"cp": cp, "adf": 36.0, "ndf": 60.0, "tdn": tdn, "ca": 0.5, "p": 0.25, "dm": 88.0}
    told = [Analyte(name, value, "pct", Basis.DRY_MATTER) for name, value in values.items()]
    return lot, Report(f"R{lot_id}", lot_id, tuple(told), reported_on=date(2026, 10, 1))


@cache
def planned(kind: AnimalClass, kg: float, event: str) -> tuple[Farm, SeasonProgram]:
    """Plan eight weeks in which hay is short, and half of it must be fed before the birth."""
    mothers = Group(
        "m", "Mothers", kind, 20, kg, mature_weight_kg=1.05 * kg,
        calving_on=EVENT if event == "birth" else START - timedelta(days=80),
        weaning_on=None if event == "birth" else EVENT,
    )  # fmt: skip
    need = 0.022 * kg * 20 * 56 / 0.88 / 20.0
    good = hay("GOOD", round(0.35 * need), 13.0, 60.0)
    poor = hay("POOR", round(0.5 * need), 8.0, 52.0)
    early = replace(good[0], feed_by=EVENT - timedelta(days=4))
    season = Season(START, START + timedelta(weeks=8))
    farm = Farm("Short", season, (early, poor[0]), (good[1], poor[1]), (mothers,))
    return farm, plan_season(farm, options=WEEKLY)


def energy_by_week(program: SeasonProgram) -> list[float]:
    tdn = {one.source_id: one.tdn_pct / 100.0 for one in program.sources}
    return [
        sum(
            row.eaten_kg_dm_per_head_day * tdn[row.source_id]
            for row in program.feeding
            if row.period == week
        )
        for week in range(8)
    ]


@pytest.mark.parametrize(("kind", "kg"), BIRTHS)
def test_a_group_is_fed_no_less_in_the_weeks_of_birth(kind: AnimalClass, kg: float) -> None:
    farm, program = planned(kind, kg, "birth")
    fed = energy_by_week(program)
    assert fed[3] > 0.0
    assert fed[4] >= fed[3] * (1.0 - 1e-3)
    assert fed[5] >= fed[4] * (1.0 - 1e-3)
    assert DailyAudit(json.loads(plan_json(program)), farm).breaches() == []


@pytest.mark.parametrize(("kind", "kg"), [BIRTHS[0], BIRTHS[2], BIRTHS[3]])
def test_mothers_are_fed_no_less_in_the_week_of_weaning(kind: AnimalClass, kg: float) -> None:
    farm, program = planned(kind, kg, "weaning")
    fed = energy_by_week(program)
    assert fed[4] >= fed[3] * (1.0 - 1e-3)
    assert fed[3] > 0.0
    assert DailyAudit(json.loads(plan_json(program)), farm).breaches() == []


def cut(program: SeasonProgram, week: int) -> SeasonProgram:
    """Return a program and a list that give half of everything in a week."""
    rows = tuple(
        replace(row, eaten_kg_dm_per_head_day=row.eaten_kg_dm_per_head_day / 2.0,
                offered_kg=row.offered_kg / 2.0)
        if row.period == week else row
        for row in program.feeding
    )  # fmt: skip
    first = START + timedelta(weeks=week)
    loads = tuple(
        replace(one, mass_kg=one.mass_kg / 2.0)
        if first <= one.day < first + timedelta(weeks=1) else one
        for one in program.deliveries
    )  # fmt: skip
    return replace(program, feeding=rows, deliveries=loads)


def test_a_list_that_cuts_feed_at_birth_is_refused() -> None:
    farm, program = planned(*BIRTHS[0], "birth")
    short = cut(program, 4)
    assert any("at birth or weaning, period 4" in one.what for one in recheck(short, farm))
    told = DailyAudit(json.loads(plan_json(short)), farm).breaches()
    assert any("less at birth or weaning" in one for one in told)
