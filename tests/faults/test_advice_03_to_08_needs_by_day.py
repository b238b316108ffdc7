"""Needs from day to day: at birth, on a birthday, before calving."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Group
from rickyard.quantities import KG_PER_LB
from rickyard.stock.common import NeedSeries
from rickyard.stock.dairy.dairy import dry_cow_by_day
from rickyard.stock.equations import RULES, appetite_kg, cow_month
from rickyard.stock.equations.intake import growing_state
from rickyard.stock.herd import group_needs
from support.rows import each_row

BIRTH = date(2027, 3, 1)
AROUND = [BIRTH + timedelta(days=one) for one in range(-30, 45)]

MOTHERS = [
    (AnimalClass.COW, 590.0, {}),
    (AnimalClass.FIRST_CALF_HEIFER, 480.0, {"mature_weight_kg": 590.0}),
    (AnimalClass.BRED_HEIFER, 560.0, {"mature_weight_kg": 590.0}),
    (AnimalClass.BRED_HEIFER, 430.0, {"mature_weight_kg": 590.0}),
    (AnimalClass.EWE, 70.0, {"young": 1.0}),
    (AnimalClass.EWE, 70.0, {"young": 2.0}),
    (AnimalClass.EWE_LAMB, 50.0, {"young": 1.0}),
    (AnimalClass.DOE, 60.0, {}),
    (AnimalClass.MARE, 500.0, {}),
    (AnimalClass.LLAMA, 150.0, {}),
    (AnimalClass.ALPACA, 65.0, {}),
]


def energy(series: NeedSeries) -> np.ndarray[Any, np.dtype[np.float64]]:
    return series.nem_mcal if series.tdn_kg is None else series.tdn_kg


@each_row(("kind", "weight", "more"), MOTHERS)
@each_row("spread", [None, 30])
def test_advice_03_needs_never_fall_in_the_weeks_of_birth(
    kind: AnimalClass, weight: float, more: dict[str, Any], spread: int | None
) -> None:
    mothers = Group(
        "g", "G", kind, 10, weight, calving_on=BIRTH, calving_spread_days=spread, **more
    )
    needs = group_needs(mothers, AROUND)
    span = 15 if spread else 0
    for what in (energy(needs), needs.cp_kg, needs.ca_kg, needs.p_kg):
        before = what[30 - span - 1]
        after = what[30 - span : 60 - span]
        assert np.all(after >= before * (1.0 - 1e-9)), (kind, before, after.min())


def test_advice_03_a_fresh_cow_is_at_the_end_of_the_first_month_of_the_printed_table() -> None:
    cows = Group("g", "G", AnimalClass.COW, 10, 533.0, weight_is_shrunk=True, calving_on=BIRTH,
                 activity_factor=1.0)  # fmt: skip
    needs = group_needs(cows, [BIRTH, BIRTH + timedelta(days=7)])
    printed = cow_month(1, 533.0, 8.0, 40.0)
    assert needs.nem_lactation_mcal == pytest.approx(printed.nem_lactation_mcal, rel=0.01)
    assert needs.milk_kg[0] < needs.milk_kg[1]  # what she gives is not what she is fed for


def test_advice_04_a_bred_heifer_gains_what_her_stage_still_lacks() -> None:
    calving = BIRTH + timedelta(days=0)
    start = calving - timedelta(days=110)
    heifers = Group(
        "h", "H", AnimalClass.BRED_HEIFER, 12, 1060 * KG_PER_LB, mature_weight_kg=1300 * KG_PER_LB,
        calving_on=calving, weight_is_shrunk=True,
    )  # fmt: skip
    needs = group_needs(heifers, [start, calving - timedelta(days=1), calving], weighed_on=start)
    assert needs.gain_kg[0] / KG_PER_LB == pytest.approx((0.85 * 1300 - 1060) / 110)
    assert needs.gain_kg[0] / KG_PER_LB == pytest.approx(0.41, abs=0.005)
    assert needs.shrunk_weight_kg[2] == pytest.approx(0.85 * 1300 * KG_PER_LB)
    grown = Group("h", "H", AnimalClass.BRED_HEIFER, 12, 1250 * KG_PER_LB,
                  mature_weight_kg=1300 * KG_PER_LB, calving_on=calving)  # fmt: skip
    assert group_needs(grown, [start, calving], weighed_on=start).gain_kg.tolist() == [0.0, 0.0]


def test_advice_04_one_far_behind_is_not_asked_for_what_she_cannot_do() -> None:
    late = Group("h", "H", AnimalClass.BRED_HEIFER, 12, 300.0, mature_weight_kg=600.0,
                 calving_on=BIRTH)  # fmt: skip
    start = BIRTH - timedelta(days=60)
    needs = group_needs(late, [start], weighed_on=start)
    assert needs.gain_kg.tolist() == [0.9]
    calved = group_needs(late, [BIRTH + timedelta(days=5)], weighed_on=start)
    assert calved.gain_kg[0] == pytest.approx(0.07 * 0.96 * 600.0 / 365.0)


def test_advice_05_intake_does_not_jump_on_a_birthday() -> None:
    ages = np.arange(6.0, 18.0, 7.0 / 30.4)
    for nem in (0.9, 1.14, 1.5):
        eaten = np.array([appetite_kg(RULES[int(growing_state(age))], 300.0, nem) for age in ages])
        steps = eaten[1:] / eaten[:-1]
        assert np.all((steps >= 1.0) & (steps < 1.02)), nem
        assert eaten[0] == appetite_kg("calf", 300.0, nem)
        assert eaten[-1] == appetite_kg("yearling", 300.0, nem)


def test_advice_08_a_dry_dairy_cow_is_fed_by_the_day() -> None:
    cows = Group("d", "Dry", AnimalClass.DRY_DAIRY_COW, 12, 680.0, calving_on=BIRTH)
    needs = group_needs(cows, [BIRTH - timedelta(days=one) for one in (40, 10, 1)])
    assert needs.dry_matter_kg is not None
    assert needs.tdn_kg is not None
    # NRC 2001, 680 kg: 14.4, 13.7 and 10.1 kg at days 240, 270 and 279.
    assert needs.dry_matter_kg == pytest.approx([14.4, 13.7, 10.1], abs=0.06)
    assert needs.most["dm_kg"] == pytest.approx(needs.dry_matter_kg)
    density = needs.tdn_kg / needs.dry_matter_kg
    assert np.all(np.diff(density) > 0.0)
    assert 100.0 * needs.cp_kg / needs.dry_matter_kg == pytest.approx([9.9, 10.8, 12.4])


def test_advice_08_energy_goes_by_weight_and_holds_outside_the_rows() -> None:
    far, near = (dry_cow_by_day(680.0, days) for days in (90.0, 40.0))
    assert far.tdn_kg == pytest.approx(near.tdn_kg, rel=0.01)
    small = dry_cow_by_day(340.0, 40.0)
    assert small.dm_kg == pytest.approx(near.dm_kg / 2.0)
    assert 0.5 < small.tdn_kg / near.tdn_kg < 0.6
