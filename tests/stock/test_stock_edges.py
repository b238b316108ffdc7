"""What stock need on either side of a rule's edge, and what is read off at the printed weights."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from rickyard.farm import AnimalClass, ColdRule, Group, Sex, StatedNeed, WeatherRow
from rickyard.quantities import OutOfRange
from rickyard.stock.beef.herd_parts import NAMES
from rickyard.stock.common import Conditions
from rickyard.stock.common.weather import previous_month_mean_c, weather_of
from rickyard.stock.equations.protein import microbial_cp_g
from rickyard.stock.fill.substitution import forage_beside_kg
from rickyard.stock.herd.herd import group_needs
from rickyard.stock.herd.outcome import condition_on_supply
from rickyard.stock.herd.stated import _eating
from rickyard.stock.horses.horse import horse_work
from rickyard.stock.minerals.diet_minerals import MINERALS_2016
from support.rows import each_row

START = date(2026, 11, 2)
KG_PER_LB = 0.45359237
LITRES = 3.785411784


def weather(celsius: float, wind: float | None = 10.0, days: int = 40) -> list[WeatherRow]:
    return [
        WeatherRow(START + timedelta(days=one), False, celsius, wind, 0.0) for one in range(days)
    ]


def cows(**changes: object) -> Group:
    group = Group("c", "Cows", AnimalClass.COW, head=10, weight_kg=560.0)
    return replace(group, **changes)  # type: ignore[arg-type]


def steers(kg: float, **changes: object) -> Group:
    group = Group(
        *("s", "Steers", AnimalClass.STOCKER),
        head=10,
        weight_kg=kg,
        gain_kg_per_day=0.0,
        age_months=14.0,
        finish_weight_kg=560.0,
        sex=Sex.STEER,
    )
    return replace(group, **changes)  # type: ignore[arg-type]


def test_calves_are_weaned_when_the_last_cow_has_calved_and_not_before() -> None:
    """Cows calving over 21 days: the last calves ten days after the mean day."""
    calving = START + timedelta(days=30)
    group = cows(calving_on=calving, calving_spread_days=20)
    days = [START]
    weaned = replace(group, weaning_on=calving + timedelta(days=11))
    assert group_needs(weaned, days).nem_mcal[0] > 0.0
    with pytest.raises(OutOfRange, match="weaned"):
        group_needs(replace(group, weaning_on=calving + timedelta(days=10)), days)


def test_the_month_before_counts_from_its_first_day_to_its_last() -> None:
    """Ten degrees on the first and the last day of November, none between, and 30 around it."""
    first, last = date(2026, 11, 1), date(2026, 11, 30)
    days = [date(2026, 10, 31) + timedelta(days=one) for one in range(40)]
    felt = {first: 10.0, last: 10.0}
    rows = [
        WeatherRow(one, False, felt.get(one, 0.0 if first < one < last else 30.0)) for one in days
    ]
    found = previous_month_mean_c(weather_of(rows, days[0], days[-1]), [date(2026, 12, 5)])
    assert found.tolist() == [pytest.approx(20.0 / 30.0)]


def test_microbes_of_a_diet_at_the_limit_of_fat_count_by_the_lean_equation() -> None:
    """NASEM 2016: 3.9 % fat; the lean equation up to it, the fat one above."""
    lean = microbial_cp_g(5876.0)
    assert microbial_cp_g(5876.0, fat_pct=3.9, tdn_pct=60.0) == pytest.approx(lean)
    both = np.asarray(microbial_cp_g(5876.0, fat_pct=np.array([3.9, 4.5]), tdn_pct=60.0))
    assert both[0] == pytest.approx(lean)
    assert both[1] != pytest.approx(lean, rel=1e-3)


def test_concentrate_puts_aside_all_the_forage_at_most() -> None:
    assert forage_beside_kg(2.0, 10.0, 0.4) == 0.0
    assert forage_beside_kg(4.0, 10.0, 0.4) == 0.0
    assert forage_beside_kg(4.1, 10.0, 0.4) == pytest.approx(0.1)


def test_a_stated_need_of_stock_that_eat_more_is_of_that_much_more() -> None:
    need = StatedNeed("g", START, START + timedelta(days=7), most_dm_kg=10.0, least_dm_kg=9.5)
    assert (_eating(need, 1.2).most_dm_kg, _eating(need, 1.2).least_dm_kg) == (12.0, 9.5)
    assert (_eating(need, 0.5).most_dm_kg, _eating(need, 0.5).least_dm_kg) == (5.0, 5.0)
    assert _eating(replace(need, least_dm_kg=None), 0.5).least_dm_kg is None
    assert _eating(replace(need, most_dm_kg=None), 0.5) == replace(need, most_dm_kg=None)


def test_horses_are_flagged_outside_the_weights_of_the_equations() -> None:
    """NRC 2007 covers 50 to 900 kg; its printed tables of adults begin at 200 kg."""
    flags = {kg: horse_work(kg).flags for kg in (49.9, 50.0, 199.9, 200.0, 900.0, 900.1)}
    assert [bool(one) for one in flags.values()] == [True, True, True, False, False, True]
    assert ["outside" in " ".join(one) for one in flags.values()] == [
        *(True, False, False, False, False, True)
    ]


@each_row(
    ("group", "gallons"),
    [
        (steers(500.0 * KG_PER_LB), 6.5),
        (steers(400.0 * KG_PER_LB), 6.5),
        (steers(650.0 * KG_PER_LB), (6.5 + 9.3) / 2.0),
        (steers(800.0 * KG_PER_LB), 9.3),
        (steers(950.0 * KG_PER_LB), 9.3 + (9.3 - 6.5) / 2.0),
        (Group("b", "Bulls", AnimalClass.BULL, head=2, weight_kg=900.0), 12.7),
    ],
)
def test_growing_cattle_and_bulls_drink_as_printed_at_70_degrees(
    group: Group, gallons: float
) -> None:
    """Beef Magazine, from NRC 1996: 500 lb, 800 lb and bulls; straight lines between weights."""
    rows = weather_of(weather(21.1111111), START, START + timedelta(days=10))
    series = group_needs(group, [START], weather=rows)
    assert series.more["water_l"][0] / LITRES == pytest.approx(gallons, rel=1e-3)


@pytest.mark.parametrize(
    ("group", "stage"),
    [
        (steers(300.0), 0),
        (cows(calving_on=START + timedelta(days=60)), 1),
        (cows(calving_on=START - timedelta(days=60)), 2),
    ],
)
def test_minerals_are_those_of_the_stage_in_what_is_eaten(group: Group, stage: int) -> None:
    """NASEM 2016: of growing, of pregnant and of nursing stock, in percent or parts per million."""
    series = group_needs(group, [START])
    shares = {}
    for symbol, mineral in MINERALS_2016.items():
        name = next((one for one in NAMES if one.split("_")[0] == symbol.lower()), None)
        if name is None or mineral.need is None:
            continue
        share = mineral.need[stage] * (10.0 if mineral.unit == "pct" else 1.0)
        shares[symbol] = float(series.more[name][0]) / share
    assert len(shares) > 5
    eaten = list(shares.values())
    assert eaten == pytest.approx([eaten[0]] * len(eaten))
    assert 4.0 < eaten[0] < 16.0


def test_at_most_a_quarter_of_a_day_is_fed_for_the_cold_milk_and_calf_counted() -> None:
    rows = weather_of(weather(-35.0, 30.0), START, START + timedelta(days=39))
    nursing = cows(calving_on=START - timedelta(days=50), peak_milk_kg_per_day=10.0)
    for rule in (ColdRule.PERCENT, ColdRule.FACTORIAL):
        cold = group_needs(nursing, [START], weather=rows, cold_rule=rule)
        mild = group_needs(nursing, [START])
        assert cold.nem_mcal[0] - mild.nem_mcal[0] == pytest.approx(0.25 * mild.nem_mcal[0])


def test_the_score_that_maintenance_goes_by_is_taken_anew_every_thirty_days() -> None:
    days = [START + timedelta(days=one) for one in range(61)]
    group = cows(condition_score=5.0)
    settings = Conditions(maintenance_by_condition=True)
    fed = np.full(61, 20.0)
    found = condition_on_supply(group, days, fed, conditions=settings)
    steps = np.flatnonzero(np.abs(np.diff(found.surplus_mcal)) > 1e-6) + 1
    assert steps.tolist() == [30, 60]


def test_cows_that_would_starve_are_a_danger_and_no_matter_of_breeding() -> None:
    days = [START + timedelta(days=one) for one in range(100)]
    group = cows(condition_score=5.0, calving_on=days[95])
    need = group_needs(group, days).nem_mcal
    (starved,) = condition_on_supply(group, days, need - 9.0).cautions
    assert starved.level == "danger"
    assert "would starve" in starved.sentence
    assert "breed" not in starved.sentence
    (thin,) = condition_on_supply(group, days, need - 2.0).cautions
    assert (thin.level, "breed again" in thin.sentence) == ("warning", True)


@pytest.mark.parametrize(
    ("celsius", "wind", "beyond"),
    [(-40.0, 32.0, False), (-40.1, 32.0, True), (-40.0, 32.1, True)],
)
def test_cold_and_wind_beyond_the_method_are_told(
    celsius: float, wind: float, beyond: bool
) -> None:
    """NRC 2000: to 40 degrees below zero, and to 32 km an hour of wind."""
    rows = weather_of(weather(celsius, wind), START, START + timedelta(days=39))
    said = [
        group_needs(cows(), [START], weather=rows, cold_rule=ColdRule.FACTORIAL).assumptions,
        group_needs(
            cows(),
            [START],
            weather=weather_of(weather(-20.0, 20.0), START, START + timedelta(days=39)),
            cold_rule=ColdRule.FACTORIAL,
        ).assumptions,
    ]
    assert (len(said[0]) > len(said[1])) is beyond
