"""Small stock and horses through the season: the stage of each day and what it asks."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.animals import IN_TDN
from rickyard.farm import (
    AnimalClass,
    ColdRule,
    Farm,
    Group,
    Season,
    Sex,
    StatedNeed,
    WeatherRow,
    Work,
)
from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.quantities import OutOfRange
from rickyard.stock.common.series import NeedSeries, period_means
from rickyard.stock.common.weather import weather_of
from rickyard.stock.goats.goat import goat_1981
from rickyard.stock.goats.goat_series import ACTIVITY_USUAL
from rickyard.stock.herd.herd import group_needs, missing_inputs
from rickyard.stock.herd.stated import stated_needs, with_stated_needs
from rickyard.stock.horses.horse import horse_work, mare_in_milk, mare_pregnant, stallion
from rickyard.stock.horses.horse_diet import horse_cold_mcal
from rickyard.stock.sheep.sheep import ram_1985, sheep_1985, with_triplets
from rickyard.stock.sheep.sheep_series import lamb_class
from support.farms import random_farm
from support.rows import each_row
from support.weekly import WEEKLY

BIRTH = date(2027, 3, 1)
SEASON = Season(date(2026, 11, 1), date(2027, 5, 1))


def around(*days: int) -> list[date]:
    return [BIRTH + timedelta(days=one) for one in days]


def group(kind: AnimalClass, weight: float, **changes: Any) -> Group:
    return Group(kind.value, kind.value.title(), kind, 10, weight, **changes)


def ewes(young: float = 1.0, **changes: Any) -> Group:
    return group(AnimalClass.EWE, 70.0, calving_on=BIRTH, young=young, **changes)


def tdn(series: NeedSeries) -> list[float]:
    assert series.tdn_kg is not None
    return [round(one, 6) for one in series.tdn_kg.tolist()]


EVERY_CLASS = [
    ewes(1.8),
    group(AnimalClass.EWE_LAMB, 40.0, calving_on=BIRTH),
    group(AnimalClass.RAM, 100.0, breeding_on=date(2026, 12, 1)),
    group(AnimalClass.FEEDER_LAMB, 30.0),
    group(AnimalClass.DOE, 60.0, calving_on=BIRTH),
    group(AnimalClass.KID, 20.0, gain_kg_per_day=0.12),
    group(AnimalClass.BUCK, 80.0),
    group(AnimalClass.HORSE, 500.0, work=Work.LIGHT),
    group(AnimalClass.MARE, 500.0, calving_on=BIRTH),
    group(AnimalClass.YOUNG_HORSE, 320.0, age_months=12.0, mature_weight_kg=500.0),
    group(AnimalClass.DONKEY, 180.0),
    group(AnimalClass.MULE, 350.0),
    group(AnimalClass.DAIRY_HEIFER, 200.0, age_months=7.0),
    group(AnimalClass.DRY_DAIRY_COW, 650.0, calving_on=date(2027, 6, 1)),
    group(AnimalClass.LLAMA, 150.0, calving_on=BIRTH),
    group(AnimalClass.ALPACA, 65.0),
]


def test_every_class_of_small_stock_is_among_those_tested() -> None:
    assert {one.animal_class for one in EVERY_CLASS} == IN_TDN


@each_row("one", EVERY_CLASS, ids=lambda one: one.group_id)
def test_every_class_tells_its_needs_on_every_day(one: Group) -> None:
    assert missing_inputs(one) == ()
    days = [SEASON.start + timedelta(days=at) for at in range(181)]
    series = group_needs(one, days)
    assert series.energy_basis in ("tdn", "de")
    for name in ("tdn_kg", "energy_mcal", "cp_kg", "ca_kg", "p_kg", "dry_matter_kg"):
        values = getattr(series, name)
        assert values.shape == (181,), name
        assert np.all(values > 0.0), name
    assert np.all(np.isnan(series.nem_mcal))
    assert np.all(series.most["dm_kg"] >= series.dry_matter_kg - 1e-9)
    assert len(series.stage) == 181
    assert all(series.stage)
    assert series.assumptions
    assert set(series.evidence) >= {"tdn_kg", "cp_kg", "ca_kg", "p_kg"}
    for values in (*series.more.values(), *series.most.values(), *series.least.values()):
        assert values.shape == (181,)


@each_row("one", EVERY_CLASS, ids=lambda one: one.group_id)
def test_needs_by_the_day_add_up_to_those_of_the_weeks_and_the_season(one: Group) -> None:
    days = [SEASON.start + timedelta(days=at) for at in range(181)]
    daily = group_needs(one, days)
    lengths = [7] * 25 + [6]
    weekly = period_means(daily, lengths)
    assert daily.tdn_kg is not None
    assert weekly.tdn_kg is not None
    assert (weekly.tdn_kg * lengths).sum() == pytest.approx(daily.tdn_kg.sum())
    assert (weekly.cp_kg * lengths).sum() == pytest.approx(daily.cp_kg.sum())


@pytest.mark.parametrize("one", EVERY_CLASS, ids=lambda one: one.group_id)
def test_a_day_asks_the_same_alone_and_in_a_series(one: Group) -> None:
    days = [SEASON.start + timedelta(days=at) for at in range(0, 181, 13)]
    whole = tdn(group_needs(one, days, weighed_on=SEASON.start))
    for at, day in enumerate(days):
        alone = tdn(group_needs(one, [day], weighed_on=SEASON.start))
        assert alone[0] == pytest.approx(whole[at], abs=1e-6)


# Stages of a 70 kg ewe by day from lambing; NRC 1985 rows.
@each_row(
    ("day", "sheep_class"),
    [
        (-162, "ewe_maintenance"),
        (-161, "ewe_flushing"),  # two weeks before breeding
        (-147, "ewe_flushing"),
        (-127, "ewe_flushing"),  # third week after it
        (-126, "ewe_early_gest"),
        (-42, "ewe_early_gest"),  # day 105
        (-28, "ewe_late_gest_130_150"),
        (-1, "ewe_late_gest_130_150"),
        (0, "ewe_lact_single"),
        (55, "ewe_lact_single"),
        (56, "ewe_late_gest_130_150"),  # last weeks with singles
        (89, "ewe_late_gest_130_150"),
        (90, "ewe_maintenance"),
    ],
)
def test_the_row_of_each_day_of_a_ewe(day: int, sheep_class: str) -> None:
    need = sheep_1985(sheep_class, 70.0)
    series = group_needs(ewes(), around(day))
    assert tdn(series) == [need.tdn_kg]
    assert series.cp_kg[0] == pytest.approx(need.cp_g / 1000.0)


def test_the_weeks_of_flushing_are_named() -> None:
    series = group_needs(ewes(), around(-162, -161, -127, -126))
    assert series.stage == (
        "dry, not pregnant",
        "flushed for breeding",
        "flushed for breeding",
        "pregnant, 126 days to lambing",
    )


def test_days_106_to_119_take_the_mean_of_the_rows_beside_them() -> None:
    series = group_needs(ewes(), around(-41, -29))
    mean = (sheep_1985("ewe_early_gest", 70.0).tdn_kg + 1.06) / 2.0
    assert tdn(series) == [pytest.approx(mean), pytest.approx(mean)]


def test_ewes_with_twins_take_the_row_of_singles_in_later_weeks() -> None:
    series = group_needs(ewes(2.0), around(-10, 10, 60))
    assert tdn(series) == [1.24, 1.82, 1.63]


def test_a_litter_between_singles_and_twins_is_a_mix_of_ewes() -> None:
    half = group_needs(ewes(1.5), around(10))
    assert tdn(half) == [pytest.approx((1.63 + 1.82) / 2.0)]


def test_triplets_ask_more_than_twins_before_and_after_lambing() -> None:
    twins, triplets = (group_needs(ewes(young), around(-10, 10)) for young in (2.0, 3.0))
    want = with_triplets(sheep_1985("ewe_lact_twin", 70.0))
    assert tdn(triplets)[1] == pytest.approx(want.tdn_kg)
    assert np.all(triplets.cp_kg > twins.cp_kg)


def test_ewes_with_twins_get_the_higher_calcium_of_both_editions() -> None:
    # 70 kg: 2007 asks 6.5, 8.8, 7.9, 6.5 g; 1985 asks 3.5, 7.6, 11.0 and, later, 9.3 g.
    twins = group_needs(ewes(2.0), around(-100, -10, 10, 60))
    assert (1000.0 * twins.ca_kg).round(2).tolist() == [6.5, 8.8, 11.0, 9.3]
    singles = group_needs(ewes(1.0), around(-100))
    assert (1000.0 * singles.ca_kg).round(2).tolist() == [3.5]


def test_thin_and_fat_ewes_take_the_row_beside_theirs() -> None:
    thin, fat = (group_needs(ewes(condition_score=score), around(120)) for score in (3.0, 8.0))
    assert (tdn(thin), tdn(fat)) == ([0.72], [0.61])
    assert thin.full_weight_kg.tolist() == [70.0]


def test_a_thin_ewe_at_the_end_of_the_table_is_read_where_it_ends() -> None:
    thin = group(AnimalClass.EWE, 98.0, condition_score=3.0)
    want = sheep_1985("ewe_maintenance", 100.0).tdn_kg
    assert tdn(group_needs(thin, around(0))) == [pytest.approx(want)]
    with pytest.raises(OutOfRange, match="carried on"):
        group_needs(group(AnimalClass.EWE, 120.0, condition_score=3.0), around(0))


def test_ewes_without_a_date_are_open_and_it_is_said() -> None:
    series = group_needs(group(AnimalClass.EWE, 70.0), around(0))
    assert tdn(series) == [0.66]
    assert any("open and dry" in one.sentence for one in series.assumptions)


def test_a_shrunk_weight_is_said_to_be_taken_as_full() -> None:
    series = group_needs(ewes(weight_is_shrunk=True), around(0))
    assert any("taken as their full weight" in one.sentence for one in series.assumptions)
    assert tdn(series) == tdn(group_needs(ewes(), around(0)))


def test_a_breeding_day_alone_leads_to_a_lambing() -> None:
    bred = group(AnimalClass.EWE, 70.0, breeding_on=BIRTH - timedelta(days=147), young=1.0)
    assert tdn(group_needs(bred, around(-10))) == tdn(group_needs(ewes(), around(-10)))


def test_spread_lambing_is_the_mean_over_its_days_and_not_the_mean_day() -> None:
    spread = group_needs(ewes(calving_spread_days=20), around(0))
    each = [
        tdn(group_needs(ewes(), [BIRTH + timedelta(days=-shift)]))[0] for shift in range(-10, 11)
    ]
    assert tdn(spread)[0] == pytest.approx(np.mean(each), abs=1e-6)
    assert tdn(spread) != tdn(group_needs(ewes(), around(0)))
    assert 0.0 < float(spread.nursing_share[0]) < 1.0  # type: ignore[index]


def test_young_of_last_year_nurse_until_their_weaning() -> None:
    weaned = BIRTH - timedelta(days=300)
    series = group_needs(ewes(weaning_on=weaned), around(-310, -301, -300))
    assert series.lactating.tolist() == [True, True, False]


def test_rams_are_fed_up_for_breeding() -> None:
    ram = group(AnimalClass.RAM, 90.0, breeding_on=BIRTH)
    series = group_needs(ram, around(-43, -42, 42, 43))
    quiet, fed_up = ram_1985(90.0).tdn_kg, ram_1985(90.0, breeding=True).tdn_kg
    assert tdn(series) == [pytest.approx(one) for one in (quiet, fed_up, fed_up, quiet)]


def test_lambs_grow_by_the_gain_of_their_row_and_stop_where_it_ends() -> None:
    lambs = group(AnimalClass.FEEDER_LAMB, 30.0)
    series = group_needs(lambs, around(0, 1, 200))
    assert series.gain_kg[0] == pytest.approx(0.295)
    assert series.full_weight_kg[1] == pytest.approx(30.295)
    assert series.full_weight_kg[2] == pytest.approx(60.0)
    assert series.stage[2] == "holding weight"


@pytest.mark.parametrize(
    ("weight", "gain", "wanted"),
    [
        (20.0, None, "lamb_early_weaned_moderate"),
        (40.0, None, "lamb_finishing"),
        (40.0, 0.39, "lamb_early_weaned_rapid"),
        (40.0, 0.28, "lamb_finishing"),
        (66.0, None, "lamb_early_weaned_rapid"),  # past the reach of the others
    ],
)
def test_lambs_take_the_class_whose_gain_is_nearest(
    weight: float, gain: float | None, wanted: str
) -> None:
    assert lamb_class(group(AnimalClass.FEEDER_LAMB, weight, gain_kg_per_day=gain)) == wanted


def test_ewe_lambs_move_from_growing_to_their_own_rows() -> None:
    lambs = group(AnimalClass.EWE_LAMB, 50.0, calving_on=BIRTH, young=1.0)
    series = group_needs(lambs, around(-10, 10), weighed_on=BIRTH - timedelta(days=20))
    want = [
        sheep_1985("ewelamb_late_gest_100_120", 50.0).tdn_kg,
        sheep_1985("ewelamb_lact_single", 50.0).tdn_kg,
    ]
    assert tdn(series) == [pytest.approx(one) for one in want]


def test_does_are_fed_by_equation_with_the_last_eight_weeks_and_milk_added() -> None:
    does = group(AnimalClass.DOE, 60.0, calving_on=BIRTH, young=1.0, peak_milk_kg_per_day=3.0)
    series = group_needs(does, around(-57, -56, 10, 60))
    base = {"activity_factor": ACTIVITY_USUAL}
    want = [
        goat_1981(60.0, **base).tdn_kg,
        goat_1981(60.0, **base, late_pregnancy=True).tdn_kg,
        goat_1981(60.0, **base, milk_kg=3.0).tdn_kg,
        goat_1981(60.0, **base, milk_kg=2.0).tdn_kg,
    ]
    assert tdn(series) == [pytest.approx(one, abs=1e-6) for one in want]


def test_dairy_does_with_twins_get_the_calcium_of_2007() -> None:
    does = group(AnimalClass.DOE, 70.0, calving_on=BIRTH, young=2.0, peak_milk_kg_per_day=3.0)
    series = group_needs(does, around(-100, 10))
    assert series.ca_kg[0] == pytest.approx(0.0066, abs=1e-4)
    assert series.ca_kg[1] >= 0.0207


def test_bucks_walk_more_at_breeding() -> None:
    buck = group(AnimalClass.BUCK, 80.0, breeding_on=BIRTH)
    series = group_needs(buck, around(0, 100))
    assert tdn(series)[0] == pytest.approx(1.5 / 1.25 * tdn(series)[1], abs=1e-6)


def test_a_kid_needs_the_day_of_its_target() -> None:
    kids = group(AnimalClass.KID, 20.0, target_weight_kg=30.0)
    assert missing_inputs(kids) == ("target_on",)
    aimed = replace(kids, target_on=BIRTH + timedelta(days=100))
    series = group_needs(aimed, around(0, 50), weighed_on=BIRTH)
    assert series.full_weight_kg.tolist() == pytest.approx([20.0, 25.0])
    with pytest.raises(OutOfRange, match="before the weighing"):
        group_needs(replace(kids, target_on=BIRTH), around(0), weighed_on=BIRTH)


def test_mares_step_by_the_month_to_foaling_and_after() -> None:
    mares = group(AnimalClass.MARE, 500.0, calving_on=BIRTH)
    series = group_needs(mares, around(-341, -340 + 150, -1, 0, 29, 30, 179, 180))
    want = [
        horse_work(500.0).de_mcal,
        mare_pregnant(500.0, 5.0).de_mcal,
        mare_pregnant(500.0, 11.0).de_mcal,
        mare_in_milk(500.0, 1.0).de_mcal,
        mare_in_milk(500.0, 1.0).de_mcal,
        mare_in_milk(500.0, 2.0).de_mcal,
        mare_in_milk(500.0, 6.0).de_mcal,
        # Bred again 25 days after foaling: month 6 of the next foal.
        mare_pregnant(500.0, 6.0).de_mcal,
    ]
    assert series.energy_mcal is not None
    assert series.energy_mcal.tolist() == [pytest.approx(one) for one in want]
    assert series.energy_basis == "de"


def test_horses_work_and_stallions_breed() -> None:
    worked = group_needs(group(AnimalClass.HORSE, 500.0, work=Work.MODERATE), around(0))
    male = group(AnimalClass.HORSE, 500.0, sex=Sex.INTACT_MALE)
    resting = group_needs(male, around(0))
    breeding = group_needs(replace(male, work=Work.LIGHT), around(0))
    assert worked.energy_mcal[0] == pytest.approx(23.31)  # type: ignore[index]
    assert resting.energy_mcal[0] == pytest.approx(stallion(500.0, breeding=False).de_mcal)  # type: ignore[index]
    assert breeding.energy_mcal[0] == pytest.approx(stallion(500.0, breeding=True).de_mcal)  # type: ignore[index]


def test_young_horses_grow_from_their_own_weight_and_are_adults_at_two_years() -> None:
    colts = group(AnimalClass.YOUNG_HORSE, 300.0, age_months=20.0, mature_weight_kg=500.0)
    series = group_needs(colts, around(0, 30, 200), weighed_on=BIRTH)
    assert series.full_weight_kg[0] == pytest.approx(300.0)
    assert np.all(np.diff(series.full_weight_kg) > 0.0)
    assert series.stage[2] == "grown"
    assert missing_inputs(group(AnimalClass.YOUNG_HORSE, 300.0)) == (
        "mature_weight_kg",
        "age_months",
    )


def test_donkeys_have_limits_of_their_own() -> None:
    series = group_needs(group(AnimalClass.DONKEY, 200.0), around(0))
    assert series.most["dm_kg"][0] == pytest.approx(3.6)
    assert series.least["dm_kg"][0] == pytest.approx(2.6)
    assert series.energy_mcal[0] == pytest.approx(0.75 * 0.0333 * 200.0)  # type: ignore[index]


def test_horses_need_more_in_the_cold_when_a_rule_of_cold_is_chosen() -> None:
    days = around(0, 1)
    rows = [WeatherRow(days[0], False, -25.0), WeatherRow(days[1], False, 5.0)]
    weather = weather_of(rows, days[0], days[1])
    idle = group(AnimalClass.HORSE, 500.0)
    plain = group_needs(idle, days, weather=weather)
    cold = group_needs(idle, days, weather=weather, cold_rule=ColdRule.PERCENT)
    added = cold.energy_mcal - plain.energy_mcal  # type: ignore[operator]
    assert added.tolist() == [
        pytest.approx(horse_cold_mcal(500.0, -25.0, adapted=True)),
        pytest.approx(0.0),
    ]
    unknown = weather_of([], days[0], days[1])
    same = group_needs(idle, days, weather=unknown, cold_rule=ColdRule.PERCENT)
    assert same.energy_mcal.tolist() == plain.energy_mcal.tolist()  # type: ignore[union-attr]


def test_dairy_heifers_change_class_with_age() -> None:
    heifers = group(AnimalClass.DAIRY_HEIFER, 150.0, age_months=5.5)
    series = group_needs(heifers, around(0, 40), weighed_on=BIRTH)
    share = series.cp_kg / series.dry_matter_kg
    assert share.tolist() == pytest.approx([0.16, 0.12])
    assert missing_inputs(replace(heifers, age_months=None)) == ("age_months",)
    with pytest.raises(OutOfRange, match="three months"):
        group_needs(replace(heifers, age_months=2.0), around(0))


def test_a_dry_cow_that_has_calved_is_said_to_be_out_of_place() -> None:
    cows = group(AnimalClass.DRY_DAIRY_COW, 650.0, calving_on=BIRTH)
    series = group_needs(cows, around(-10, 10))
    assert series.stage == ("pregnant, 10 days to calving", "calved: no longer dry")
    assert any("take them out" in one.sentence for one in series.assumptions)
    assert series.most["k_pct"].tolist() == [1.3, 1.3]


def test_llamas_need_more_before_birth_and_in_milk() -> None:
    llamas = group(AnimalClass.LLAMA, 150.0, calving_on=BIRTH)
    series = group_needs(llamas, around(-100, -30, 30))
    assert np.all(np.diff(tdn(series)) > 0.0)
    assert all("common practice" in flag for flag in series.evidence.values())


def test_presence_follows_the_days_of_the_group() -> None:
    sold = ewes(from_on=BIRTH, to_on=BIRTH + timedelta(days=2))
    assert group_needs(sold, around(-1, 0, 1, 2)).present.tolist() == [False, True, True, False]


def test_a_litter_must_be_one_to_three() -> None:
    with pytest.raises(OutOfRange, match="one to three"):
        group_needs(ewes(0.4), around(0))


@given(st.floats(45.0, 89.0), st.floats(0.5, 5.0), st.integers(-200, 120))
def test_needs_of_ewes_rise_with_weight_on_every_day(weight: float, more: float, day: int) -> None:
    light, heavy = (
        group_needs(group(AnimalClass.EWE, kg, calving_on=BIRTH, young=2.0), around(day))
        for kg in (weight, weight + more)
    )
    assert tdn(heavy)[0] > tdn(light)[0]
    assert heavy.cp_kg[0] > light.cp_kg[0]


@given(st.floats(1.0, 2.9), st.floats(0.05, 0.1), st.integers(0, 80))
def test_needs_of_ewes_rise_with_the_lambs_they_raise(young: float, more: float, day: int) -> None:
    few, many = (group_needs(ewes(one), around(day)) for one in (young, young + more))
    assert tdn(many)[0] > tdn(few)[0]
    assert many.cp_kg[0] > few.cp_kg[0]


def test_a_period_that_crosses_a_stage_takes_the_higher_need() -> None:
    season = Season(BIRTH - timedelta(days=4), BIRTH + timedelta(days=3))
    rows = stated_needs(ewes(2.0), season)
    assert len(rows) == 1
    assert rows[0].tdn_kg == pytest.approx(1.82)
    assert (rows[0].start, rows[0].end) == (season.start, season.end)


def test_stated_rows_cover_the_season_and_carry_a_margin_on_request() -> None:
    rows = stated_needs(ewes(), SEASON)
    assert rows[0].start == SEASON.start
    assert rows[-1].end == SEASON.end
    assert all(one.end == two.start for one, two in pairwise(rows))
    more = stated_needs(ewes(), SEASON, margin_pct=5.0)
    assert more[0].tdn_kg == pytest.approx(1.05 * rows[0].tdn_kg)  # type: ignore[operator]
    assert more[0].most_dm_kg == rows[0].most_dm_kg
    with pytest.raises(OutOfRange, match="margin"):
        stated_needs(ewes(), SEASON, margin_pct=-1.0)
    with pytest.raises(OutOfRange, match="net energy"):
        stated_needs(group(AnimalClass.COW, 550.0), SEASON)


def test_needs_that_the_farm_states_itself_stand_first() -> None:
    own = StatedNeed("ewe", SEASON.start, SEASON.end, tdn_kg=2.0)
    farm = with_stated_needs(Farm("Home", SEASON, groups=(ewes(),), needs=(own,)))
    assert farm.needs[0] == own
    assert len(farm.needs) > 20


def test_a_farm_of_cattle_alone_is_left_as_it_is() -> None:
    farm = random_farm(1)
    assert with_stated_needs(farm) is farm


def test_horses_get_their_forage_floor_unless_the_group_has_one() -> None:
    own = group(AnimalClass.MARE, 500.0, least_forage_pct_bw=1.8)
    farm = with_stated_needs(Farm("Home", SEASON, groups=(own, group(AnimalClass.DONKEY, 180.0))))
    assert [one.least_forage_pct_bw for one in farm.groups] == [1.8, 1.0]


def test_the_season_program_feeds_every_class_by_the_rows_and_the_recheck_agrees() -> None:
    farm = random_farm(3, groups=2, weeks=6)
    small = [replace(one, head=3) for one in EVERY_CLASS]
    stated = with_stated_needs(replace(farm, groups=(*farm.groups, *small)))
    program = plan_season(stated, options=WEEKLY)
    assert recheck(program, stated) == ()
    told = {(row.group_id, row.nutrient) for row in program.needs}
    for one in small:
        assert {(one.group_id, name) for name in ("tdn", "cp", "ca", "p")} <= told
        assert (one.group_id, "nem") not in told


def test_the_season_program_keeps_from_each_what_harms_it() -> None:
    farm = random_farm(3, groups=2, weeks=6)
    cubes, hulls, corn, mineral = farm.feeds
    feeds = (replace(cubes, ionophore=True), hulls, corn, replace(mineral, price_usd_per_kg=0.0))
    small = (ewes(2.0), group(AnimalClass.MARE, 500.0, calving_on=BIRTH))
    stated = with_stated_needs(replace(farm, feeds=feeds, groups=(*farm.groups, *small)))
    program = plan_season(stated, options=WEEKLY)
    assert recheck(program, stated) == ()
    fed = {(row.group_id, row.source_id) for row in program.feeding if row.offered_kg > 0.0}
    assert ("ewe", mineral.feed_id) not in fed
    assert ("mare", cubes.feed_id) not in fed
    assert any(source == mineral.feed_id for _, source in fed)
    said = " ".join(caution.sentence for caution in program.cautions)
    assert "is kept from Ewe" in said
    assert "has an ionophore" in said


def test_the_recheck_finds_what_was_fed_to_an_animal_it_is_kept_from() -> None:
    farm = random_farm(2, groups=2, weeks=6)
    stated = with_stated_needs(replace(farm, groups=(*farm.groups, ewes(2.0))))
    program = plan_season(stated, options=WEEKLY)
    assert recheck(program, stated) == ()
    row = next(row for row in program.feeding if row.group_id == "ewe")
    planted = replace(row, source_id=farm.feeds[3].feed_id, kind="feed", offered_kg=1.0)
    wrong = replace(program, feeding=(*program.feeding, planted))
    assert any("kept from it" in breach.what for breach in recheck(wrong, stated))


def test_the_season_program_states_the_needs_of_small_stock_itself() -> None:
    farm = random_farm(3, groups=1, weeks=4)
    program = plan_season(replace(farm, groups=(*farm.groups, ewes())), options=WEEKLY)
    told = {one.nutrient for one in program.needs if one.group_id == ewes().group_id}
    assert {"tdn", "cp"} <= told
