"""A group through its season: its calendar, its weight, its needs, and what was assumed."""

from dataclasses import MISSING, fields, replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.farm import AnimalClass, Group, Sex
from rickyard.quantities import OutOfRange
from rickyard.stock.common import NeedSeries
from rickyard.stock.equations.lactation import milk_kg
from rickyard.stock.equations.pregnancy import nem_pregnancy_mcal
from rickyard.stock.herd.herd import group_needs, missing_inputs
from support.rows import each_row

CALVING = date(2027, 3, 1)


def cows(**changes: Any) -> Group:
    """Return the cow of the printed tables: 533 kg shrunk, no walking counted."""
    group = Group(
        "cows",
        "Cows",
        AnimalClass.COW,
        head=40,
        weight_kg=533.0,
        weight_is_shrunk=True,
        activity_factor=1.0,
        calving_on=CALVING,
    )
    return replace(group, **changes)


def heifers(kind: AnimalClass, **changes: Any) -> Group:
    """Return heifers of 500 kg mature shrunk weight at 0.60 of it."""
    group = Group(
        "heifers",
        "Heifers",
        kind,
        head=20,
        weight_kg=300.0,
        weight_is_shrunk=True,
        mature_weight_kg=500.0,
        activity_factor=1.0,
        calving_on=CALVING,
    )
    return replace(group, **changes)


def steers(**changes: Any) -> Group:
    """Return steers of 250 kg shrunk at 10 months that gain 0.8 kg a day."""
    group = Group(
        "steers",
        "Steers",
        AnimalClass.STOCKER,
        head=60,
        weight_kg=250.0,
        weight_is_shrunk=True,
        finish_weight_kg=545.0,
        age_months=10.0,
        sex=Sex.STEER,
        gain_kg_per_day=0.8,
        activity_factor=1.0,
    )
    return replace(group, **changes)


def bulls(**changes: Any) -> Group:
    """Return mature bulls."""
    group = Group("bulls", "Bulls", AnimalClass.BULL, 3, 900.0, weight_is_shrunk=True)
    return replace(group, activity_factor=1.0, **changes)


def after_calving(*days: int) -> list[date]:
    return [CALVING + timedelta(days=day) for day in days]


def sentences(needs: NeedSeries) -> str:
    return "\n".join(assumption.sentence for assumption in needs.assumptions)


# ---- the calendar of a cow ----


def test_a_cow_goes_from_pregnant_to_nursing_to_pregnant() -> None:
    needs = group_needs(cows(), after_calving(-61, -1, 0, 34, 212, 213, 364, 365))
    assert needs.stage == (
        "pregnant, 61 days to calving",
        "pregnant, 1 day to calving",
        "nursing, week 1",
        "nursing, week 5",
        "nursing, week 31",
        "pregnant, 152 days to calving",
        "pregnant, 1 day to calving",
        "nursing, week 1",
    )
    assert needs.lactating.tolist() == [False, False, True, True, True, False, False, True]
    assert needs.pregnant.tolist() == [True, True, False, False, True, True, True, False]


def test_her_needs_are_those_of_her_day() -> None:
    # Printed cow table, Univ. of Nebraska (NRC 1996): 10.3 in milk and 8.5 dry, 4.8 for milk.
    needs = group_needs(cows(), after_calving(-3, 30))
    assert needs.nem_maintenance_mcal == pytest.approx([8.54, 10.25], abs=0.01)
    assert needs.nem_pregnancy_mcal == pytest.approx([nem_pregnancy_mcal(280.0), 0.0])
    assert needs.milk_kg == pytest.approx([0.0, milk_kg(30.0 / 7.0)])
    assert needs.nem_lactation_mcal[1] == pytest.approx(4.8, abs=0.05)


def test_a_fresh_cow_of_little_milk_needs_what_she_needed_on_her_last_day_in_calf() -> None:
    """Her maintenance is a fifth higher in milk: her milk is counted as what is left of it."""
    needs = group_needs(cows(peak_milk_kg_per_day=2.0), after_calving(-1, 0, 5))
    dry = needs.nem_maintenance_mcal[0]
    assert needs.nem_maintenance_mcal[1] == pytest.approx(1.2 * dry)
    assert needs.nem_mcal[1:] == pytest.approx([dry + float(nem_pregnancy_mcal(283.0))] * 2)


def test_gestation_is_counted_back_from_calving_and_forward_from_breeding() -> None:
    days = after_calving(-283, -282, 82, 83)
    assert group_needs(cows(), days).pregnant.tolist() == [False, True, False, True]
    bred = cows(calving_on=None, breeding_on=CALVING - timedelta(days=283))
    np.testing.assert_array_equal(
        group_needs(bred, days).nem_mcal, group_needs(cows(), days).nem_mcal
    )


def test_a_later_breeding_sets_the_next_calving() -> None:
    late = cows(breeding_on=CALVING + timedelta(days=120))
    needs = group_needs(late, after_calving(120, 121, 402, 403))
    assert needs.pregnant.tolist() == [False, True, True, False]
    assert needs.lactating.tolist() == [True, True, False, True]
    assert "bred again" not in sentences(needs)


def test_the_year_repeats() -> None:
    first = group_needs(cows(), after_calving(20, 150, 300))
    later = group_needs(cows(), after_calving(20 + 730, 150 + 730, 300 + 730))
    np.testing.assert_array_equal(first.nem_mcal, later.nem_mcal)
    assert first.stage == later.stage


def test_a_weaning_date_ends_the_milk() -> None:
    needs = group_needs(cows(weaning_on=CALVING + timedelta(days=180)), after_calving(179, 180))
    assert needs.lactating.tolist() == [True, False]
    assert needs.milk_kg[0] > 0.0 == needs.milk_kg[1]
    assert "weaned 213 days" not in sentences(needs)


def test_a_weaning_before_calving_is_of_the_calf_before() -> None:
    weaning = CALVING - timedelta(days=130)
    days = after_calving(-140, -130)
    needs = group_needs(cows(weaning_on=weaning), days)
    assert needs.stage == ("nursing, week 33", "pregnant, 130 days to calving")
    assert needs.milk_kg[0] == pytest.approx(milk_kg((365 - 140) / 7.0))
    assert needs.pregnant.all()


def test_cows_that_may_still_nurse_without_a_weaning_date_are_told_of() -> None:
    assert "give its weaning date" in sentences(group_needs(cows(), after_calving(-200)))
    assert "give its weaning date" not in sentences(group_needs(cows(), after_calving(-100)))


def test_a_cow_without_dates_is_open_and_dry_and_says_so() -> None:
    needs = group_needs(cows(calving_on=None), after_calving(0, 100))
    assert needs.stage == ("dry, not pregnant",) * 2
    assert not needs.pregnant.any()
    assert not needs.lactating.any()
    assert "counted open and dry" in sentences(needs)


def test_calf_minerals_are_fed_in_the_last_ninety_days() -> None:
    needs = group_needs(cows(), after_calving(-91, -90))
    # NRC 2000, from memory: 13.7 g Ca and 7.6 g P per kg of calf over 90 days.
    assert needs.ca_kg[1] - needs.ca_kg[0] == pytest.approx(40.0 * 13.7 / 90.0 / 0.50 / 1000.0)
    assert needs.p_kg[1] - needs.p_kg[0] == pytest.approx(40.0 * 7.6 / 90.0 / 0.68 / 1000.0)


def test_intake_rule_and_calibration_follow_her_state() -> None:
    days = after_calving(-200, -100, 60, 82 + 94, 82 + 95)
    needs = group_needs(cows(), days)
    assert needs.intake_rule == ("cow_early", "cow_late", "cow_early", "cow_early", "cow_late")
    assert needs.intake_factor.tolist() == [1.0, 1.06, 1.20, 1.20, 1.20]
    plain = group_needs(cows(), days, calibrated=False)
    assert plain.intake_factor.tolist() == [1.0] * 5
    assert "eat more than" in sentences(needs)
    assert "eat more than" not in sentences(plain)


def test_a_mature_cow_does_not_grow() -> None:
    needs = group_needs(cows(gain_kg_per_day=0.5), after_calving(-50, 100))
    assert needs.shrunk_weight_kg.tolist() == [533.0, 533.0]
    assert needs.retained_energy_mcal.tolist() == [0.0, 0.0]
    assert "not counted as growth" in sentences(needs)


def test_peak_milk_outside_what_is_seen_is_held_and_told() -> None:
    needs = group_needs(cows(peak_milk_kg_per_day=30.0), after_calving(60))
    assert needs.milk_kg[0] == pytest.approx(milk_kg(60.0 / 7.0, 20.0))
    assert "counted as 44 lb (20 kg)" in sentences(needs)


# ---- heifers in calf ----


def test_a_bred_heifer_reaches_her_calving_weight() -> None:
    bred = heifers(AnimalClass.BRED_HEIFER)
    needs = group_needs(bred, after_calving(-280, -140, 0))
    # Breeding at 0.60 and calving at 0.85 of mature weight, Univ. of Arkansas 2018.
    assert needs.shrunk_weight_kg == pytest.approx([300.0, 362.5, 425.0])
    assert needs.gain_kg[0] == pytest.approx(0.25 * 500.0 / 280.0)
    assert needs.nem_pregnancy_mcal[1] == pytest.approx(nem_pregnancy_mcal(143.0, 36.0))
    assert needs.stage[1] == "pregnant, 140 days to calving"
    assert needs.intake_rule[:2] == ("cow_early", "cow_late")
    assert needs.intake_factor[:2].tolist() == [1.0, 1.0]


def test_a_first_calf_heifer_milks_less_and_keeps_growing() -> None:
    first = heifers(AnimalClass.FIRST_CALF_HEIFER, weight_kg=425.0)
    needs = group_needs(first, after_calving(0, 60, 364, 365, 425))
    gain = 0.07 * 500.0 / 365.0
    assert needs.gain_kg == pytest.approx([gain, gain, gain, 0.0, 0.0])
    assert needs.shrunk_weight_kg[3:] == pytest.approx([460.0, 460.0])
    # Peak of a two-year-old 0.74 (Arkansas 2018) and of a three-year-old 0.88 (from memory).
    assert needs.milk_kg[1] == pytest.approx(0.74 * milk_kg(60.0 / 7.0))
    assert needs.milk_kg[4] == pytest.approx(0.88 * milk_kg(60.0 / 7.0))
    assert needs.retained_energy_mcal[1] > 0.0
    assert needs.intake_factor[1] == 1.20


def test_her_second_calf_is_as_heavy_as_a_cows() -> None:
    first = heifers(AnimalClass.FIRST_CALF_HEIFER)
    needs = group_needs(first, after_calving(-30, 335))
    assert needs.nem_pregnancy_mcal == pytest.approx(
        [nem_pregnancy_mcal(253.0, 36.0), nem_pregnancy_mcal(253.0, 40.0)]
    )


def test_a_heifer_has_no_calf_before_her_first() -> None:
    weaning = CALVING - timedelta(days=100)
    needs = group_needs(heifers(AnimalClass.BRED_HEIFER, weaning_on=weaning), after_calving(-120))
    assert not needs.lactating.any()


def test_a_stated_gain_holds_until_calving() -> None:
    bred = heifers(AnimalClass.BRED_HEIFER, gain_kg_per_day=0.3)
    needs = group_needs(bred, after_calving(-10, 0, 10))
    assert needs.gain_kg == pytest.approx([0.3, 0.07 * 500.0 / 365.0, 0.07 * 500.0 / 365.0])
    assert needs.shrunk_weight_kg[1] == pytest.approx(303.0)
    assert "until their next calving" in sentences(needs)


# ---- growing stock and bulls ----


def test_a_stocker_grows_and_turns_yearling_by_age() -> None:
    needs = group_needs(steers(), [date(2027, 1, 1), date(2027, 3, 2), date(2027, 3, 3)])
    assert needs.shrunk_weight_kg == pytest.approx([250.0, 298.0, 298.8])
    assert needs.full_weight_kg == pytest.approx(needs.shrunk_weight_kg / 0.96)
    assert needs.intake_rule[1:] == ("calf_11_of_24_to_yearling", "calf_12_of_24_to_yearling")
    assert needs.stage == ("growing",) * 3


def test_a_target_sets_the_pace() -> None:
    heifer = heifers(
        AnimalClass.REPLACEMENT_HEIFER,
        calving_on=None,
        age_months=9.0,
        weight_kg=200.0,
        target_weight_kg=300.0,
        target_on=date(2027, 4, 11),
    )
    needs = group_needs(heifer, [date(2027, 1, 1), date(2027, 4, 11)])
    assert needs.gain_kg == pytest.approx([1.0, 1.0])
    assert needs.shrunk_weight_kg == pytest.approx([200.0, 300.0])
    assert "keeps its pace" in sentences(needs)
    reached = replace(heifer, target_weight_kg=190.0)
    assert group_needs(reached, [date(2027, 1, 1)]).stage == ("holding weight",)


def test_full_weights_are_shrunk_by_four_percent_throughout() -> None:
    shrunk = group_needs(steers(), [CALVING])
    full = steers(weight_kg=250.0 / 0.96, finish_weight_kg=545.0 / 0.96, weight_is_shrunk=False)
    needs = group_needs(full, [CALVING])
    assert needs.nem_mcal == pytest.approx(shrunk.nem_mcal)
    assert needs.retained_energy_mcal == pytest.approx(shrunk.retained_energy_mcal)
    assert "full weights" in sentences(needs)


def test_an_intact_male_needs_fifteen_percent_more_to_live() -> None:
    plain, intact = (group_needs(steers(sex=sex), [CALVING]) for sex in (None, Sex.INTACT_MALE))
    assert intact.nem_mcal == pytest.approx(1.15 * plain.nem_mcal)
    assert "without a sex" in sentences(plain)


def test_bulls_hold_their_weight_unless_a_gain_is_wanted() -> None:
    still = group_needs(bulls(), [CALVING])
    # 2,000-lb bull, 14.6 Mcal: derived from the published equation.
    assert group_needs(bulls(weight_kg=907.18), [CALVING]).nem_mcal[0] == pytest.approx(
        14.6, abs=0.05
    )
    assert still.stage == ("holding weight",)
    assert still.intake_rule == ("yearling",)
    grown = group_needs(bulls(gain_kg_per_day=0.5, mature_weight_kg=950.0), [CALVING])
    assert grown.retained_energy_mcal[0] > 0.0


def test_a_group_that_comes_later_is_weighed_when_it_comes() -> None:
    late = steers(from_on=date(2027, 1, 11), to_on=date(2027, 1, 21))
    days = [date(2027, 1, day) for day in (1, 11, 20, 21)]
    needs = group_needs(late, days)
    assert needs.present.tolist() == [False, True, True, False]
    assert needs.shrunk_weight_kg == pytest.approx([250.0, 250.0, 257.2, 258.0])


def test_the_day_of_weighing_may_lie_before_the_days_asked() -> None:
    needs = group_needs(steers(), [date(2027, 1, 11)], weighed_on=date(2027, 1, 1))
    assert needs.shrunk_weight_kg == pytest.approx([258.0])


# ---- weather, assumptions, refusals ----


def test_last_months_weather_counts_only_when_given() -> None:
    days = after_calving(-30, -20)
    plain = group_needs(cows(), days)
    cold = group_needs(cows(), days, previous_month_temperature_c=[20.0, 0.0])
    assert cold.nem_maintenance_mcal[0] == pytest.approx(plain.nem_maintenance_mcal[0])
    assert cold.nem_maintenance_mcal[1] == pytest.approx(
        1.18 * plain.nem_maintenance_mcal[1], rel=0.01
    )
    assert "does not change maintenance (counted as 68" in sentences(plain)
    held = group_needs(cows(), days, previous_month_temperature_c=-30.0)
    assert "where it was colder" in sentences(held)
    assert "where it was colder" not in sentences(cold)


def test_every_default_is_told_and_no_value_that_was_given() -> None:
    days = after_calving(-30, 30)
    bare = cows(activity_factor=None, weight_is_shrunk=False)
    said = sentences(group_needs(bare, days))
    for words in (
        "factor of 1.10",
        "breed does not change",
        "moderate condition",
        "equations use 96%",
        "88 lb (40 kg) at birth",
        "peak at 18 lb (8 kg)",
        "weaned 213 days",
        "bred again 82 days",
        "283 days",
        "67%",
    ):
        assert words in said
    full = cows(
        breed_factor=1.0,
        calf_birth_weight_kg=38.0,
        peak_milk_kg_per_day=9.0,
        weaning_on=CALVING + timedelta(days=200),
        breeding_on=CALVING + timedelta(days=80),
    )
    told = sentences(group_needs(full, days))
    for words in ("factor of", "breed", "equations use", "at birth", "peak at", "weaned", "bred"):
        assert words not in told


def test_every_assumption_has_a_source() -> None:
    for group in (cows(), heifers(AnimalClass.BRED_HEIFER), steers(), bulls()):
        for assumption in group_needs(group, after_calving(-30, 30)).assumptions:
            assert assumption.source


@each_row(
    ("group", "missing"),
    [
        (cows(calving_on=None), ()),
        (bulls(), ()),
        (bulls(gain_kg_per_day=0.4), ("mature_weight_kg",)),
        (steers(), ()),
        (steers(finish_weight_kg=None, age_months=None), ("finish_weight_kg", "age_months")),
        (steers(gain_kg_per_day=None), ("gain_kg_per_day",)),
        (steers(gain_kg_per_day=None, target_weight_kg=300.0), ("target_on",)),
        (heifers(AnimalClass.BRED_HEIFER, calving_on=None), ("calving_on",)),
        (heifers(AnimalClass.BRED_HEIFER, calving_on=None, breeding_on=CALVING), ()),
        (heifers(AnimalClass.FIRST_CALF_HEIFER, mature_weight_kg=None), ("mature_weight_kg",)),
        (
            heifers(AnimalClass.REPLACEMENT_HEIFER, calving_on=None),
            ("age_months", "gain_kg_per_day"),
        ),
    ],
)
def test_missing_inputs_are_named(group: Group, missing: tuple[str, ...]) -> None:
    assert missing_inputs(group) == missing
    if missing:
        with pytest.raises(OutOfRange, match=missing[0]):
            group_needs(group, [CALVING])
    else:
        assert group_needs(group, [CALVING]).nem_mcal[0] > 0.0


@pytest.mark.parametrize(("gain", "told"), [(0.0, False), (0.1, True), (0.8, False), (2.0, True)])
def test_a_gain_outside_the_fitted_range_is_told(gain: float, told: bool) -> None:
    said = sentences(group_needs(steers(gain_kg_per_day=gain), [CALVING]))
    assert ("read their needs with care" in said) == told


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(OutOfRange, match="cannot be negative"):
        group_needs(steers(gain_kg_per_day=-0.1), [CALVING])
    late = steers(gain_kg_per_day=None, target_weight_kg=300.0, target_on=CALVING)
    with pytest.raises(OutOfRange, match="after the day of weighing"):
        group_needs(late, [CALVING])
    with pytest.raises(OutOfRange, match="at least one day"):
        group_needs(cows(), [])
    with pytest.raises(OutOfRange, match="between 50 and 1100"):
        group_needs(cows(weight_kg=5330.0), [CALVING])


# ---- properties ----

#: Every field of a series that holds a value for each day of any group of beef cattle.
DAILY = [
    field.name
    for field in fields(NeedSeries)
    if field.default is MISSING and field.default_factory is MISSING and field.name != "assumptions"
]

GROUPS = st.sampled_from(
    [
        cows(),
        cows(calving_on=None),
        heifers(AnimalClass.BRED_HEIFER),
        heifers(AnimalClass.FIRST_CALF_HEIFER, weight_kg=425.0),
        steers(),
        bulls(),
    ]
)


@given(GROUPS, st.lists(st.integers(-200, 250), min_size=1, max_size=12, unique=True))
def test_days_asked_together_give_what_they_give_alone(group: Group, offsets: list[int]) -> None:
    days = after_calving(*offsets)
    weighed = CALVING - timedelta(days=250)
    together = group_needs(group, days, weighed_on=weighed)
    for index, day in enumerate(days):
        alone = group_needs(group, [day], weighed_on=weighed)
        for name in DAILY:
            assert getattr(together, name)[index] == getattr(alone, name)[0]


@given(GROUPS, st.lists(st.integers(-400, 900), min_size=1, max_size=12))
def test_sums_hold_on_every_day(group: Group, offsets: list[int]) -> None:
    needs = group_needs(group, after_calving(*offsets), weighed_on=CALVING)
    parts = needs.nem_maintenance_mcal + needs.nem_lactation_mcal + needs.nem_pregnancy_mcal
    np.testing.assert_allclose(needs.nem_mcal, parts)
    np.testing.assert_allclose(needs.cp_kg, needs.mp_g / 0.67 / 1000.0)
    assert np.all((needs.retained_energy_mcal > 0.0) == (needs.gain_kg > 0.0))
    assert np.all((needs.nem_pregnancy_mcal > 0.0) == needs.pregnant)
    for name in DAILY:
        assert len(getattr(needs, name)) == len(offsets)


@given(GROUPS, st.floats(1.01, 1.15), st.integers(-250, 300))
def test_a_heavier_group_needs_more_energy(group: Group, more: float, offset: int) -> None:
    # Minerals need not rise: a heavier steer of one finish weight lays down more fat.
    day = after_calving(offset)
    heavier = replace(group, weight_kg=group.weight_kg * more)
    assert group_needs(heavier, day).nem_mcal[0] > group_needs(group, day).nem_mcal[0]
