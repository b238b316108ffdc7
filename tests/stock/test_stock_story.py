"""A group as a story in time: spread calving, condition, periods, and what comes of a diet."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rickyard.animals import CLASSES, Stock
from rickyard.evidence import MEANING, Flag
from rickyard.farm import AnimalClass, BeefBreed, Group, Sex
from rickyard.quantities import KG_PER_LB, UNITS, OutOfRange, convert
from rickyard.stock.beef.beef import BEEF_EVIDENCE
from rickyard.stock.beef.beef_batch import herd_needs
from rickyard.stock.beef.defaults import settings_of
from rickyard.stock.beef.herd_parts import NAMES, Days
from rickyard.stock.beef.herd_rows import condition_mcal_per_day, herd_rows, mean_by_group
from rickyard.stock.common import read_rows
from rickyard.stock.common.births import MOST_DAYS, calving_offsets
from rickyard.stock.common.series import Conditions, NeedSeries, period_means
from rickyard.stock.equations.appetite_factors import (
    MUD_CM,
    breed_factor,
    fat_factor,
    mud_factor,
    temperature_factor,
)
from rickyard.stock.equations.condition import energy_between_scores_mcal, relative_weight_frac
from rickyard.stock.equations.intake import appetite_kg
from rickyard.stock.equations.maintenance import BREEDS
from rickyard.stock.herd.herd import ENGINES, group_needs
from rickyard.stock.herd.outcome import condition_on_supply, gain_on_diet
from rickyard.stock.minerals.diet_minerals import (
    EDITIONS,
    minerals,
)

CALVING = date(2027, 3, 1)
FIRST = date(2026, 11, 1)


def season(days: int = 200, first: date = FIRST) -> list[date]:
    return [first + timedelta(days=one) for one in range(days)]


def cows(**changes: object) -> Group:
    values = {"calving_on": CALVING, "weight_is_shrunk": True, "activity_factor": 1.0}
    return Group("c", "Cows", AnimalClass.COW, 60, 533.0, **(values | changes))  # type: ignore[arg-type]


def steers(**changes: object) -> Group:
    values = {
        "weight_is_shrunk": True,
        "finish_weight_kg": 1200 * KG_PER_LB,
        "age_months": 8.0,
        "gain_kg_per_day": 0.0,
        "activity_factor": 1.0,
    }
    weight = 500 * KG_PER_LB
    return Group("s", "Steers", AnimalClass.STOCKER, 40, weight, **(values | changes))  # type: ignore[arg-type]


# ---- calving that is spread ----


@given(st.integers(0, 180))
def test_offsets_of_calving_are_even_about_the_mean_day(spread: int) -> None:
    offsets = calving_offsets(spread)
    assert len(offsets) == min(spread + 1, MOST_DAYS)
    assert abs(offsets.mean()) <= 0.5
    assert offsets[-1] - offsets[0] == pytest.approx(spread, abs=1.0)


@pytest.mark.parametrize(("spread", "count"), [(59, 60), (60, 61), (61, 61)])
def test_calving_of_two_months_is_followed_day_by_day(spread: int, count: int) -> None:
    assert len(calving_offsets(spread)) == count


def test_a_spread_of_one_day_is_the_mean_day() -> None:
    plain, spread = (group_needs(cows(calving_spread_days=days), season()) for days in (None, 0))
    np.testing.assert_array_equal(plain.nem_mcal, spread.nem_mcal)
    assert plain.stage == spread.stage


def test_calves_are_not_weaned_before_the_last_cow_has_calved() -> None:
    spread = cows(calving_spread_days=60)
    assert spread.calving_on is not None
    early = spread.calving_on + timedelta(days=20)
    with pytest.raises(OutOfRange, match="last cow has calved"):
        group_needs(replace(spread, weaning_on=early), season())


def test_a_spread_group_needs_the_mean_of_its_animals_and_not_of_the_mean_day() -> None:
    days = season()
    spread = group_needs(cows(calving_spread_days=40), days)
    weaning = CALVING + timedelta(days=213)
    alone = [
        group_needs(cows(calving_on=CALVING + timedelta(days=one), weaning_on=weaning), days)
        for one in range(-20, 21)
    ]
    for name in ("nem_mcal", "mp_g", "ca_kg", "milk_kg"):
        mean = np.mean([getattr(one, name) for one in alone], axis=0)
        np.testing.assert_allclose(getattr(spread, name), mean, rtol=1e-12)
    mean_day = group_needs(cows(), days)
    assert np.max(np.abs(spread.nem_mcal - mean_day.nem_mcal)) > 0.5


def test_the_stage_says_how_many_have_calved() -> None:
    spread = group_needs(cows(calving_spread_days=40), [CALVING - timedelta(days=30), CALVING])
    assert spread.stage[0].startswith("pregnant, 30 days")
    assert spread.stage[1] == "calving, 51% nursing"
    assert spread.pregnant.all()
    assert spread.nursing_share is not None
    assert spread.nursing_share[1] == pytest.approx(21 / 41)
    assert any("Equal numbers calve" in one.sentence for one in spread.assumptions)


def test_the_appetite_of_a_spread_group_is_that_of_its_animals() -> None:
    days = [CALVING]
    spread = group_needs(cows(calving_spread_days=20), days)
    alone = [
        group_needs(cows(calving_on=CALVING + timedelta(days=one)), days) for one in range(-10, 11)
    ]

    def eaten(series: NeedSeries, nem: float) -> float:
        return appetite_kg(
            series.intake_rule[0],
            float(series.shrunk_weight_kg[0]),
            nem,
            float(series.milk_kg[0]),
            float(series.intake_factor[0]),
        )

    usual = np.mean([eaten(one, 1.14) for one in alone])
    assert eaten(spread, 1.14) == pytest.approx(usual, rel=1e-9)
    rich = np.mean([eaten(one, 1.4) for one in alone])
    assert eaten(spread, 1.4) == pytest.approx(rich, rel=0.01)


def test_calves_of_a_spread_group_are_weaned_on_one_day() -> None:
    weaning = CALVING + timedelta(days=213)
    days = [weaning - timedelta(days=1), weaning]
    for spread in (
        group_needs(cows(calving_spread_days=60), days),
        group_needs(cows(calving_spread_days=60, weaning_on=weaning), days),
    ):
        assert spread.nursing_share is not None
        assert spread.nursing_share.tolist() == [1.0, 0.0]


def test_a_spread_group_nurses_once_half_of_it_does() -> None:
    days = season(60, CALVING - timedelta(days=30))
    spread = group_needs(cows(calving_spread_days=40), days)
    assert spread.nursing_share is not None
    np.testing.assert_array_equal(spread.lactating, spread.nursing_share >= 0.5)


@pytest.mark.parametrize("stated", [None, 0.4])
def test_weight_is_the_sum_of_gains_through_calvings(stated: float | None) -> None:
    heifers = Group(
        "h",
        "Heifers",
        AnimalClass.BRED_HEIFER,
        20,
        400.0,
        mature_weight_kg=560.0,
        calving_on=CALVING,
        gain_kg_per_day=stated,
    )
    needs = group_needs(heifers, season(900))
    np.testing.assert_allclose(np.diff(needs.shrunk_weight_kg), needs.gain_kg[:-1], atol=1e-9)


def test_heifers_spread_too_and_each_grows_by_her_own_calving() -> None:
    heifers = Group(
        "h", "Heifers", AnimalClass.BRED_HEIFER, 20, 450.0, mature_weight_kg=560.0,
        calving_on=CALVING, calving_spread_days=30,
    )  # fmt: skip
    needs = group_needs(heifers, season())
    assert np.all(np.diff(needs.shrunk_weight_kg) >= 0.0)
    during = (needs.nursing_share > 0.0) & (needs.nursing_share < 1.0)  # type: ignore[operator]
    assert len(set(needs.gain_kg[during].round(6))) > 5


def test_a_mean_of_one_row_is_the_row() -> None:
    rows = np.arange(6.0).reshape(3, 2)
    np.testing.assert_array_equal(mean_by_group(rows, np.array([1, 1, 1])), rows)
    np.testing.assert_array_equal(mean_by_group(rows, np.array([2, 1]))[0], [1.0, 2.0])
    with pytest.raises(OutOfRange):
        calving_offsets(-1)


# ---- one engine for one group and for many ----


def many() -> list[Group]:
    bred = {"mature_weight_kg": 560.0, "calving_on": CALVING}
    return [
        cows(),
        cows(calving_on=None),
        cows(weaning_on=date(2026, 12, 15)),
        Group("h", "Heifers", AnimalClass.BRED_HEIFER, 12, 450.0, **bred),  # type: ignore[arg-type]
        Group("f", "Firsts", AnimalClass.FIRST_CALF_HEIFER, 12, 470.0, **bred),  # type: ignore[arg-type]
        steers(gain_kg_per_day=0.7),
        Group("b", "Bulls", AnimalClass.BULL, 3, 880.0, sex=Sex.INTACT_MALE),
    ]


def test_many_groups_in_one_call_are_each_as_if_alone() -> None:
    groups, days = many(), season(90)
    on = np.array([day.toordinal() for day in days], dtype=np.float64)
    unknown = np.full(on.shape, np.nan)
    herd, counts = herd_rows(groups, [settings_of(one) for one in groups], [on[0]] * len(groups))
    together = herd_needs(herd, Days(on, unknown, unknown, unknown, np.zeros(on.shape, bool)))
    assert counts.tolist() == [1] * len(groups)
    for row, group in enumerate(groups):
        alone = group_needs(group, days)
        for name in ("nem_mcal", "mp_g", "ca_kg", "p_kg", "shrunk_weight_kg", "intake_factor"):
            np.testing.assert_array_equal(together[name][row], getattr(alone, name))
        for name in NAMES:
            np.testing.assert_array_equal(together[name][row], alone.more[name])


# ---- condition, both ways ----


def test_a_wanted_condition_is_fed_up_to_its_day_and_not_after() -> None:
    wanted = cows(condition_score=4.0, target_condition_score=5.0, target_on=date(2027, 1, 30))
    plain, fed = group_needs(cows(), season()), group_needs(wanted, season())
    more = fed.nem_mcal - plain.nem_mcal
    at_five = 533.0 / relative_weight_frac(4.0)
    assert more.sum() == pytest.approx(energy_between_scores_mcal(at_five, 4.0, 5.0))
    assert np.all(more[:90] > 0.0)
    assert not more[90:].any()


def test_condition_that_may_be_lost_takes_feed_off() -> None:
    wanted = cows(condition_score=6.0, target_condition_score=5.0, target_on=date(2027, 1, 30))
    fed = group_needs(wanted, season(30))
    assert fed.nem_condition_mcal is not None
    assert np.all(fed.nem_condition_mcal < 0.0)
    assert any("0.80" in one.sentence for one in fed.assumptions)
    late = replace(wanted, target_on=FIRST)
    with pytest.raises(OutOfRange, match="after the day of weighing"):
        condition_mcal_per_day(late, settings_of(late), float(FIRST.toordinal()))


@settings(deadline=None)
@given(st.floats(3.0, 7.0), st.floats(-1.0, 1.0))
def test_what_is_fed_for_a_condition_reaches_it(now: float, change: float) -> None:
    wanted = cows(
        calving_on=None,
        condition_score=now,
        target_condition_score=now + change,
        target_on=FIRST + timedelta(days=90),
    )
    days = season(90)
    need = group_needs(wanted, days).nem_mcal
    outcome = condition_on_supply(wanted, days, need)
    assert outcome.score[-1] == pytest.approx(now + change, abs=0.02)


def test_a_thin_cow_at_calving_is_told_of() -> None:
    days = season(150)
    need = group_needs(cows(), days).nem_mcal
    thin = condition_on_supply(cows(condition_score=5.0), days, 0.85 * need)
    assert thin.score[-1] < 5.0
    assert "extension office" in thin.cautions[0].sentence
    fine = condition_on_supply(cows(condition_score=6.0), days, need)
    assert fine.cautions == ()
    with pytest.raises(OutOfRange, match="score is given"):
        condition_on_supply(cows(), days, need)


def test_condition_changes_maintenance_only_when_asked() -> None:
    thin = cows(condition_score=3.0)
    plain = group_needs(thin, season(3))
    counted = group_needs(thin, season(3), maintenance_by_condition=True)
    np.testing.assert_allclose(
        counted.nem_maintenance_mcal, (0.8 + 0.05 * 2) * plain.nem_maintenance_mcal
    )
    told = " ".join(one.sentence for one in counted.assumptions)
    assert "5% less" in told
    assert "whatever the score" not in told
    follow = condition_on_supply(
        thin, season(61), 12.0, conditions=Conditions(maintenance_by_condition=True)
    )
    assert follow.score[-1] != condition_on_supply(thin, season(61), 12.0).score[-1]


# ---- gain, both ways ----


def test_a_diet_that_meets_a_wanted_gain_gives_it() -> None:
    # Derived table: 500-lb steers gain 1.5 lb on 62 % TDN (1.376 and 0.796 Mcal/kg) to appetite.
    grown = gain_on_diet(steers(), season(1), 1.376, 0.796)
    assert grown.gain_kg[0] / KG_PER_LB == pytest.approx(1.5, abs=0.02)
    assert not grown.losing


def test_gain_on_a_diet_follows_the_animal_as_it_grows() -> None:
    grown = gain_on_diet(steers(), season(150), 1.376, 0.796)
    assert grown.shrunk_weight_kg[-1] == pytest.approx(
        grown.shrunk_weight_kg[0] + grown.gain_kg[:-1].sum()
    )
    assert np.all(np.diff(grown.intake_kg) >= -1e-9)
    assert grown.gain_kg[-1] > grown.gain_kg[0]  # a yearling eats more than a calf


def test_too_little_feed_tells_a_loss_and_no_gain() -> None:
    held = gain_on_diet(steers(), season(5), 1.0, 0.4, intake_kg=2.0)
    assert held.losing
    assert not held.gain_kg.any()
    assert np.all(held.nem_deficit_mcal > 0.0)


def test_fibre_that_fills_limits_gain() -> None:
    free = gain_on_diet(steers(), season(3), 1.3, 0.7)
    full = gain_on_diet(steers(), season(3), 1.3, 0.7, ndf_pct=72.0)
    assert np.all(full.gain_kg < free.gain_kg)


def test_gain_is_not_told_for_cows_nor_from_no_energy() -> None:
    with pytest.raises(OutOfRange, match="cows change condition"):
        gain_on_diet(cows(), season(2), 1.2, 0.6)
    with pytest.raises(OutOfRange, match="cannot maintain"):
        gain_on_diet(steers(), season(2), 0.0, 0.6)
    assert not gain_on_diet(steers(), season(2), 0.9, 0.0).gain_kg.any()


# ---- days, weeks, season ----


def test_periods_must_cover_the_days() -> None:
    daily = group_needs(cows(), season(10))
    for lengths in ([5, 4], [10, 0], [11]):
        with pytest.raises(OutOfRange, match="cover"):
            period_means(daily, lengths)


# ---- minerals, vitamins, water, evidence ----


def test_every_constituent_is_told_and_none_is_negative() -> None:
    for group in many():
        series = group_needs(group, season(200))
        assert set(series.more) == set(NAMES)
        for name, values in series.more.items():
            if name == "water_l":
                assert np.isnan(values).all()  # no temperature is given
            elif name == "cold_owed_mcal":
                assert not values.any()  # cold is not counted
            elif name == "conceptus_kg":
                np.testing.assert_array_equal(values > 0.0, series.nem_pregnancy_mcal > 0.0)
            else:
                assert np.all(values > 0.0), name


def test_every_constituent_of_the_output_says_how_it_is_known() -> None:
    series = group_needs(cows(), season(2))
    shown = {*series.more, "mp_g", "cp_kg", "ca_kg", "p_kg"}
    shown |= {entry.name for entry in fields(NeedSeries) if entry.name.startswith("nem_")}
    assert shown - {"nem_mcal"} <= set(BEEF_EVIDENCE)
    assert set(MEANING) == set(Flag)
    rows = read_rows("beef_evidence")
    assert {Flag(one["flag"]) for one in rows} == set(Flag)
    assert all(one["source"] for one in rows if one["name"] != "calving_spread")


def test_minerals_follow_what_she_is_doing() -> None:
    days = [CALVING - timedelta(days=30), CALVING + timedelta(days=30)]
    cow, steer = group_needs(cows(), days), group_needs(steers(), days)
    per_kg = cow.more["mg_g"] / cow.more["usual_hay_dm_kg"]
    np.testing.assert_allclose(per_kg, [1.2, 2.0])  # 0.12 and 0.20 %
    growing = steer.more["mg_g"] / steer.more["usual_hay_dm_kg"]
    np.testing.assert_allclose(growing, 1.0)


def test_maxima_stand_under_both_editions_and_differ_where_they_do() -> None:
    new, old = minerals("NASEM 2016"), minerals("NRC 1996")
    assert set(EDITIONS) == {"NASEM 2016", "NRC 1996"}
    differ = {name for name in new if new[name].most != old[name].most}
    assert differ == {"k", "s", "cu", "se", "fe", "co"}
    for mineral in (*new.values(), *old.values()):
        if mineral.need is not None and mineral.most is not None:
            assert max(mineral.need) < mineral.most
    with pytest.raises(OutOfRange, match="no edition"):
        minerals("NRC 1984")  # type: ignore[arg-type]


def test_the_water_of_a_cow_is_that_of_the_kansas_state_table() -> None:
    from rickyard.farm import WeatherRow
    from rickyard.stock.common.weather import weather_of
    from rickyard.stock.minerals.water import water_litres

    warm = (65.0 - 32.0) / 1.8
    weather = weather_of([WeatherRow(FIRST, True, warm)], FIRST, season(2)[-1])
    dry = cows(weight_is_shrunk=False, calving_on=None)
    group = replace(dry, weight_kg=1300 * KG_PER_LB)
    litres = group_needs(group, season(2), weather=weather).more["water_l"]
    # 8.2 + 0.005 * 200 + 0.104 * 25 US gallons
    assert litres[0] / 3.785411784 == pytest.approx(11.8)
    fresh = replace(group, calving_on=FIRST - timedelta(days=60))
    needs = group_needs(fresh, season(1), weather=weather)
    milk = needs.milk_kg[0]
    assert 5.0 < milk < 11.3
    expected = water_litres(1300 * KG_PER_LB, warm, milk)
    assert needs.more["water_l"][0] == pytest.approx(expected)
    steer = group_needs(steers(), season(2), weather=weather).more["water_l"]
    assert 0.0 < steer[0] < litres[0]


def test_factors_of_appetite_stay_within_what_is_printed() -> None:
    assert temperature_factor(40.0, cool_nights=False) == 0.65
    assert np.isnan(temperature_factor(float("nan")))
    assert [mud_factor(depth) for depth in MUD_CM] == [1.0, 0.85, 0.85, 0.7, 0.7]
    assert breed_factor("other") == 1.0
    assert fat_factor(600.0) == 0.73
    with pytest.raises(OutOfRange):
        mud_factor(-1.0)
    with pytest.raises(OutOfRange):
        breed_factor("unknown")


def test_a_breed_fills_in_what_a_group_does_not_give() -> None:
    angus = cows(breed=BeefBreed.ANGUS, crossed_with=BeefBreed.HOLSTEIN)
    plain, bred = group_needs(cows(), season()), group_needs(angus, season())
    np.testing.assert_allclose(bred.nem_maintenance_mcal, 1.1 * plain.nem_maintenance_mcal)
    assert bred.milk_kg.max() > plain.milk_kg.max()
    assert np.all(bred.more["conceptus_kg"] <= plain.more["conceptus_kg"])
    assert "Angus x Holstein" in bred.assumptions[0].sentence
    own = cows(
        breed=BeefBreed.ANGUS,
        breed_factor=1.0,
        calf_birth_weight_kg=40.0,
        peak_milk_kg_per_day=8.0,
    )
    np.testing.assert_array_equal(group_needs(own, season()).nem_mcal, plain.nem_mcal)
    assert {one.value for one in BeefBreed} == set(BREEDS)


def test_the_scale_carries_the_calf_and_the_need_does_not() -> None:
    series = group_needs(cows(), [CALVING - timedelta(days=3)])
    assert series.more["conceptus_kg"][0] == pytest.approx(1.61 * 40.0, rel=0.01)
    assert series.full_weight_kg[0] == pytest.approx(533.0 / 0.96)


@given(st.sampled_from(sorted(UNITS)), st.floats(-1e6, 1e6))
def test_units_come_back(name: str, value: float) -> None:
    unit = UNITS[name]
    assert unit.from_canonical(unit.to_canonical(value)) == pytest.approx(value, abs=1e-6)


@given(st.floats(800.0, 1800.0))
def test_a_weight_in_pounds_and_in_kilograms_is_one_need(pounds: float) -> None:
    kilograms = convert(pounds, "lb", "kg")
    by_kg, by_lb = (
        group_needs(replace(cows(), weight_kg=weight), [CALVING]).nem_mcal[0]
        for weight in (kilograms, UNITS["lb"].to_canonical(convert(kilograms, "kg", "lb")))
    )
    assert by_kg == pytest.approx(by_lb)


def test_every_class_of_animal_has_an_engine() -> None:
    assert set(ENGINES) == set(Stock)
    assert set(CLASSES) == set(AnimalClass)
