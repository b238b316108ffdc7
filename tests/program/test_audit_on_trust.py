"""What the second look takes on trust, worked out a third time from print and by hand.

The second look shares the science of needs, of storage and the published limits with the program
it checks, and the tables that say of each nutrient, class of animals and feeder what it is. A slip
there would pass it: these tests hold each of them to figures written down here.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from rickyard.animals import CAMELIDS, CLASSES, GOATS, HORSES, SHEEP
from rickyard.farm import AnimalClass, Farm, Feeder, Lot, Package, Storage
from rickyard.forage.hazards import SULFUR_PER_SULFATE, WATER_PCT_BW_BEEF, WATER_PCT_BW_LACTATING
from rickyard.hay.feeding import FEEDERS
from rickyard.nutrients import AT_LEAST, NUTRIENTS, SUPPLIES, TAGGED
from rickyard.program.audit import audit, books, ceilings, deliveries, fed, needs, view
from rickyard.program.inputs import (
    LEAST_CA_TO_P,
    LEAST_FORAGE_PCT_BW,
    LEAST_SHARE_OFFERED,
    MOST_GRAIN_PCT_BW,
    MOST_MINERAL_KG,
    UNKNOWN_RAINFALL_MM,
    season_periods,
    season_series,
    yard_lot,
)
from rickyard.safety.rule import rule_of
from rickyard.stock.equations import CP_FLOOR_PCT, NDF_CAP_PCT_BW
from rickyard.stock.herd import group_needs
from support.farms import random_farm
from support.rows import each_row

LB = 0.45359237

#: What the second look imports of the limits, and what print says of each.
IN_PRINT = [
    (MOST_GRAIN_PCT_BW, 0.5, "Illinois Extension 2015: starch grain with hay, % of weight"),
    (MOST_MINERAL_KG, 4.0 / 16.0 * LB, "Clemson BC-3001: 4 oz of a free-choice mineral"),
    (
        float(rule_of("urea-light").stage.removeprefix("under_kg:")),
        450.0 * LB,
        "Ohio State, Little 2019: no urea under 450 lb",
    ),
    (LEAST_FORAGE_PCT_BW, 0.5, "eXtension and Missouri: long forage when hay is stretched"),
    (LEAST_CA_TO_P, 1.0, "calcium to phosphorus at least 1 to 1"),
    (LEAST_SHARE_OFFERED, 0.001, "common practice, no published source"),
    (CP_FLOOR_PCT, 7.0, "New Mexico State Univ. Circular 583"),
    (NDF_CAP_PCT_BW, 1.2, "Univ. of Missouri"),
    (SULFUR_PER_SULFATE, 32.06 / 96.06, "atomic masses; Colorado State says one third"),
    (WATER_PCT_BW_BEEF[0], 8.0, "Colorado State Univ., 40 degF"),
    (WATER_PCT_BW_BEEF[1], 10.0, "Colorado State Univ., 70 degF"),
    (WATER_PCT_BW_BEEF[2], 18.0, "Colorado State Univ., 90 degF"),
    (WATER_PCT_BW_LACTATING[0], 10.0, "Colorado State Univ., 40 degF"),
    (WATER_PCT_BW_LACTATING[1], 15.0, "Colorado State Univ., 70 degF"),
    (UNKNOWN_RAINFALL_MM, 40.0 * 25.4, "40 in of rain, the humid end of BAE-1716"),
]


@each_row(("value", "printed", "source"), IN_PRINT)
def test_a_limit_that_both_looks_share_is_the_printed_one(
    value: float, printed: float, source: str
) -> None:
    assert value == pytest.approx(printed, rel=2e-3), source


#: A need as a person states it and one kilogram of dry matter, both turned into the unit that is
#: counted: the definition of each unit.
COUNTED_ALIKE = [
    ("nem", "nem_mcal", 1.0, "nem_mcal_per_kg", 1.0, "Mcal NEm"),
    ("tdn", "tdn_kg", 1.0, "tdn_pct", 1.0 / 100.0, "kg TDN"),
    ("cp", "cp_kg", 1.0, "cp_pct", 1.0 / 100.0, "kg CP"),
    ("ca", "ca_kg", 1000.0, "ca_pct", 1000.0 / 100.0, "g Ca"),
    ("p", "p_kg", 1000.0, "p_pct", 1000.0 / 100.0, "g P"),
    ("forage", "", 1.0, "", 1.0, "kg DM"),
    ("least_dm", "least_dm_kg", 1.0, "", 1.0, "kg DM"),
]


def test_need_and_supply_of_a_nutrient_are_read_alike_and_in_one_unit() -> None:
    assert [one.key for one in AT_LEAST] == [row[0] for row in COUNTED_ALIKE]
    for key, need, need_scale, field, scale, unit in COUNTED_ALIKE:
        one, supply = NUTRIENTS[key], SUPPLIES[NUTRIENTS[key].supply]
        assert (one.need, one.need_scale, one.unit) == (need, need_scale, unit)
        assert (supply.field, supply.scale, supply.of_forage) == (field, scale, key == "forage")
    assert (SUPPLIES["neg"].field, SUPPLIES["neg"].scale) == ("neg_mcal_per_kg", 1.0)
    assert (SUPPLIES["ndf"].field, SUPPLIES["ndf"].scale) == ("ndf_pct", 1.0 / 100.0)
    # Parts per million are milligrams in a kilogram.
    nitrate = SUPPLIES["nitrate"]
    assert (nitrate.field, nitrate.scale, nitrate.of_forage) == ("nitrate_no3n_ppm", 1.0, False)


def test_what_is_unknown_of_a_hay_is_taken_at_its_worst() -> None:
    # What is held under a ceiling is cautious at the most; magnesium, which balances, at the least.
    assert {one.field: (one.analyte, one.unknown) for one in TAGGED} == {
        "starch_pct": ("starch", "most"),
        "fat_pct": ("ee", "most"),
        "sulfur_pct": ("s", "most"),
        "magnesium_pct": ("mg", "least"),
    }


def test_a_class_is_of_the_stock_that_its_name_says() -> None:
    assert {one.value for one in SHEEP} == {"ewe", "ewe_lamb", "ram", "feeder_lamb"}
    assert {one.value for one in GOATS} == {"doe", "kid", "buck"}
    assert {one.value for one in HORSES} == {"horse", "mare", "young_horse", "donkey", "mule"}
    assert {one.value for one in CAMELIDS} == {"llama", "alpaca"}
    grown = {one for one, facts in CLASSES.items() if facts.grown_cattle}
    assert grown == {AnimalClass.COW, AnimalClass.BULL, AnimalClass.DRY_DAIRY_COW}


def test_hay_on_the_ground_and_in_a_bunk_is_put_out_daily() -> None:
    daily = {one for one, facts in FEEDERS.items() if facts.daily}
    unrolled = {Feeder.UNROLLED_DAILY, Feeder.UNROLLED_EXCESS}
    assert daily == {Feeder.BUNK, Feeder.MIXED_RATION, Feeder.NONE} | unrolled


#: Dry matter lost to nine and to twelve months, % of what was put up, in dry and in humid
#: country: Huhnke, Oklahoma State BAE-1716, as printed.
PRINTED_LOSS = {
    Storage.EXPOSED_GROUND: ((5.0, 20.0), (15.0, 50.0)),
    Storage.COVERED_ELEVATED: ((2.0, 4.0), (5.0, 10.0)),
    Storage.ENCLOSED_BARN: ((0.0, 2.0), (2.0, 5.0)),
}
RAIN_MM = (25.0 * 25.4, 40.0 * 25.4)
MONTH_DAYS = 30.4375


def plain_farm(rain_mm: float, storage: Storage, months: float) -> tuple[Farm, Lot]:
    """Return a farm whose season begins so long after its one lot was baled and counted."""
    farm = random_farm(1, lots=1, groups=1, weeks=4)
    baled = farm.season.start - timedelta(days=round(months * MONTH_DAYS))
    lot = replace(
        farm.lots[0],
        package=Package.ROUND,
        storage=storage,
        wrap=None,
        bales=100,
        bale_weight_kg=500.0,
        baled_on=baled,
        counted_on=baled,
    )
    season = replace(farm.season, rainfall_mm_per_year=rain_mm)
    return replace(farm, lots=(lot,), season=season, moves=(), fed=()), lot


@each_row("storage", PRINTED_LOSS)
@each_row("humid", [0, 1])
def test_the_hay_at_the_start_is_bales_times_weight_less_the_printed_loss(
    storage: Storage, humid: int
) -> None:
    farm, lot = plain_farm(RAIN_MM[humid], storage, 9.0)
    stands = yard_lot(farm, lot, 88.0, season_periods(farm.season)).start_kg_dm
    lost = PRINTED_LOSS[storage][0][humid]
    assert stands == pytest.approx(100 * 500.0 * 0.88 * (1.0 - lost / 100.0), rel=2e-3)


def test_hay_in_the_barn_half_way_lost_half_of_what_nine_months_take() -> None:
    farm, lot = plain_farm(RAIN_MM[1], Storage.ENCLOSED_BARN, 4.5)
    stands = yard_lot(farm, lot, 88.0, season_periods(farm.season)).start_kg_dm
    assert stands == pytest.approx(100 * 500.0 * 0.88 * (1.0 - 0.5 * 0.02), rel=2e-3)


@pytest.mark.parametrize("seed", range(6))
def test_needs_of_a_period_are_those_of_its_middle_day(seed: int) -> None:
    farm = random_farm(seed, lots=1, groups=3, weeks=6)
    periods = season_periods(farm.season)
    for group in farm.groups:
        found = season_series(farm, group, periods)
        for number, period in enumerate(periods):
            day: date = period.start + timedelta(days=period.days // 2)
            alone = group_needs(
                group,
                [day],
                calibrated=farm.season.intake_calibrated,
                weighed_on=farm.season.weighed_on or farm.season.start,
                maintenance_by_condition=farm.season.maintenance_by_condition,
            )
            assert found.stage[number] == alone.stage[0]
            np.testing.assert_allclose(found.nem_mcal[number], alone.nem_mcal[0])
            np.testing.assert_allclose(found.gain_kg[number], alone.gain_kg[0])


def test_the_second_look_says_what_it_takes_on_trust() -> None:
    """Whatever it imports from the rooms it checks is named in its docstring."""
    named = audit.__doc__ or ""
    checked = "rickyard.program.inputs", "rickyard.program.problem"
    for module in (audit, books, ceilings, deliveries, fed, needs, view):
        for name, value in vars(module).items():
            home = getattr(value, "__module__", "") or ""
            if home.startswith(checked) and callable(value):
                assert f"`{name}`" in named, f"{name} of {module.__name__}"
