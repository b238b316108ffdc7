"""Properties of the equations of need and appetite, and the refusals at their edges."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.quantities import OutOfRange
from rickyard.stock.common.weights import (
    full_from_shrunk_kg,
    shrunk_from_full_kg,
    size_scaled_weight_kg,
)
from rickyard.stock.equations import condition, growth, intake, protein
from rickyard.stock.equations.by_month import cow_month
from rickyard.stock.equations.lactation import milk_kg, mp_lactation_g, nem_lactation_mcal
from rickyard.stock.equations.maintenance import BREEDS, cross_of, nem_maintenance_mcal
from rickyard.stock.equations.pregnancy import (
    conceptus_kg,
    mp_pregnancy_g,
    nem_pregnancy_mcal,
)
from rickyard.stock.minerals import calcium_phosphorus as minerals
from rickyard.stock.minerals import vitamins, water
from support.rows import each_row

WEIGHTS = st.floats(60.0, 1000.0)
GAINS = st.floats(0.05, 2.0)
MILK = st.floats(0.0, 20.0)
DAYS = st.floats(1.0, 284.0)
DIETS = st.floats(0.81, 2.19)

ONE_ARGUMENT: list[tuple[Callable[..., Any], list[float]]] = [
    (nem_maintenance_mcal, [60.0, 533.0, 1090.0]),
    (protein.mp_maintenance_g, [60.0, 533.0, 1090.0]),
    (protein.cp_kg_from_mp, [0.0, 420.0, 900.0]),
    (protein.microbial_cp_g, [0.0, 5876.0]),
    (milk_kg, [0.0, 4.3, 8.5, 30.0]),
    (nem_lactation_mcal, [0.0, 8.0]),
    (mp_lactation_g, [0.0, 8.0]),
    (nem_pregnancy_mcal, [-5.0, 0.0, 120.0, 280.0, 300.0]),
    (mp_pregnancy_g, [-5.0, 0.0, 120.0, 280.0, 300.0]),
    (conceptus_kg, [-5.0, 0.0, 120.0, 280.0, 300.0]),
    (condition.body_fat_pct, [1.0, 5.0, 9.0]),
    (condition.relative_weight_frac, [1.0, 5.0, 9.0]),
    (lambda weight: minerals.calcium_phosphorus_g(weight)[0], [200.0, 533.0]),
    (lambda weight: minerals.calcium_phosphorus_g(weight)[1], [200.0, 533.0]),
    (shrunk_from_full_kg, [100.0, 500.0]),
    (lambda gain: growth.retained_energy_mcal(gain, 280.0), [-0.2, 0.0, 0.9]),
    (lambda energy: growth.gain_kg(energy, 280.0), [-1.0, 0.0, 3.0]),
    (lambda energy: growth.gain_kg(energy, 280.0, by_regression=True), [0.0, 3.0]),
    (lambda weight: growth.mp_gain_g(0.9, weight), [150.0, 300.0, 450.0]),
    (lambda nem: intake.appetite_kg("calf", 250.0, nem), [0.5, 0.8, 1.3, 2.2, 2.5]),
    (lambda nem: intake.appetite_kg("cow_late", 533.0, nem, 4.0, 1.2), [0.5, 0.94, 1.3, 2.5]),
    (lambda nem: intake.appetite_slope("cow_early", 533.0, nem), [0.5, 0.9, 0.95, 1.3, 2.5]),
    (lambda tdn: intake.forage_intake_pct_bw(tdn, True), [40.0, 52.0, 55.5, 70.0]),
    (lambda tdn: intake.forage_intake_pct_bw(tdn, False, stepwise=True), [40.0, 52.0, 59.0, 60.0]),
    (lambda ndf: intake.ndf_cap_kg(590.0, ndf), [45.0, 70.0]),
    (lambda air: water.water_litres(590.0, air, 5.0), [-10.0, 4.0, 30.0]),
    (lambda month: cow_month(month, 533.0).nem_mcal, [1.0, 6.0, 7.0, 12.0]),
    (lambda month: cow_month(month, 533.0).late, [1.0, 6.0, 12.0]),
]


@each_row(("function", "values"), ONE_ARGUMENT)
def test_an_array_gives_what_its_floats_give(
    function: Callable[..., Any], values: list[float]
) -> None:
    together = function(np.array(values))
    apart = [function(value) for value in values]
    assert isinstance(together, np.ndarray)
    assert all(isinstance(value, float | bool) for value in apart)
    np.testing.assert_allclose(together, apart, rtol=1e-12)


@given(WEIGHTS, st.floats(1.01, 1.1))
def test_needs_rise_with_weight(weight: float, more: float) -> None:
    heavier = min(weight * more, 1100.0)
    assert nem_maintenance_mcal(heavier) > nem_maintenance_mcal(weight)
    assert protein.mp_maintenance_g(heavier) > protein.mp_maintenance_g(weight)
    more_of_both = zip(
        minerals.calcium_phosphorus_g(heavier), minerals.calcium_phosphorus_g(weight), strict=True
    )
    assert all(greater > less for greater, less in more_of_both)


@given(MILK, st.floats(0.01, 5.0))
def test_needs_rise_with_milk(milk: float, more: float) -> None:
    assert nem_lactation_mcal(milk + more) > nem_lactation_mcal(milk)
    assert mp_lactation_g(milk + more) > mp_lactation_g(milk)
    calcium, less = (
        minerals.calcium_phosphorus_g(500.0, milk_kg=kg)[0] for kg in (milk + more, milk)
    )
    assert calcium > less


@given(DAYS, st.floats(20.0, 50.0))
def test_needs_rise_through_pregnancy_and_with_the_calf(day: float, calf: float) -> None:
    assert nem_pregnancy_mcal(day + 1.0, calf) > nem_pregnancy_mcal(day, calf)
    assert nem_pregnancy_mcal(day, calf + 1.0) > nem_pregnancy_mcal(day, calf)
    assert mp_pregnancy_g(day + 1.0, calf) > mp_pregnancy_g(day, calf)
    assert conceptus_kg(day + 1.0, calf) > conceptus_kg(day, calf)


@given(GAINS, st.floats(0.01, 0.5), st.floats(100.0, 520.0))
def test_needs_rise_with_gain(gain: float, more: float, size: float) -> None:
    less, greater = (growth.retained_energy_mcal(g, size) for g in (gain, gain + more))
    assert greater > less
    if greater / (gain + more) < 8.0:  # beyond, protein in gain turns down: very fat, very fast
        assert growth.mp_gain_g(gain + more, size) > growth.mp_gain_g(gain, size)


@given(st.floats(0.0, 3.0), st.floats(60.0, 900.0))
def test_gain_and_retained_energy_are_inverse(gain: float, size: float) -> None:
    assert growth.gain_kg(growth.retained_energy_mcal(gain, size), size) == pytest.approx(
        gain, rel=1e-9, abs=1e-12
    )


@given(st.floats(0.3, 1.8), st.floats(150.0, 478.0))
def test_the_printed_regression_stays_close_to_the_inverse(gain: float, size: float) -> None:
    energy = growth.retained_energy_mcal(gain, size)
    assert growth.gain_kg(energy, size, by_regression=True) == pytest.approx(gain, rel=0.01)


@given(st.floats(-3.0, 0.0), st.floats(100.0, 500.0))
def test_no_gain_keeps_nothing(gain: float, size: float) -> None:
    assert growth.retained_energy_mcal(gain, size) == 0.0
    assert growth.mp_gain_g(gain, size) == 0.0


def test_protein_in_a_very_fat_gain_is_none_and_not_negative() -> None:
    assert growth.retained_energy_mcal(2.5, 900.0) / 2.5 > 9.1
    assert growth.net_protein_gain_g(2.5, 900.0) == 0.0


@given(st.sampled_from(intake.RULES), WEIGHTS, DIETS, st.floats(1.0, 1.3))
def test_the_slope_of_appetite_is_its_derivative(
    rule: str, weight: float, nem: float, factor: float
) -> None:
    step = 1e-6
    if abs(nem - intake.LEAST_DIVISOR) < 10 * step:
        return  # the divisor's corner
    rise = intake.appetite_kg(rule, weight, nem + step, 3.0, factor) - intake.appetite_kg(
        rule, weight, nem - step, 3.0, factor
    )
    slope = intake.appetite_slope(rule, weight, nem, factor)
    assert slope == pytest.approx(rise / (2 * step), rel=1e-4, abs=1e-4)


@each_row("rule", intake.RULES)
@each_row(("outside", "end"), [(0.4, 0.8), (2.6, 2.2)])
def test_appetite_is_held_outside_the_range_of_diets(rule: str, outside: float, end: float) -> None:
    assert intake.appetite_kg(rule, 400.0, outside) == intake.appetite_kg(rule, 400.0, end)
    assert intake.appetite_slope(rule, 400.0, outside) == 0.0


@given(WEIGHTS, DIETS)
def test_a_yearling_eats_more_than_a_calf_of_its_weight(weight: float, nem: float) -> None:
    assert intake.appetite_kg("yearling", weight, nem) > intake.appetite_kg("calf", weight, nem)


def test_the_calibrated_equations_meet_the_reported_means() -> None:
    # Gross et al. 2024: 12.7 kg seen at 593 kg and NEm 1.26, dry; 14.3 kg at 505 kg and 1.25.
    assert intake.appetite_kg("cow_late", 593.0, 1.26, 0.0, 1.06) == pytest.approx(12.7, rel=0.01)
    assert intake.appetite_kg("cow_early", 505.0, 1.25, 10.0, 1.20) == pytest.approx(14.3, rel=0.01)


@given(st.floats(30.0, 80.0), st.booleans())
def test_the_rule_of_forage_intake_has_no_steps_when_interpolated(tdn: float, milk: bool) -> None:
    jump = intake.forage_intake_pct_bw(tdn + 1e-6, milk) - intake.forage_intake_pct_bw(tdn, milk)
    assert 0.0 <= jump < 1e-6


def test_breed_and_sex_and_condition_and_weather_change_maintenance() -> None:
    plain = nem_maintenance_mcal(500.0)
    assert nem_maintenance_mcal(500.0, intact_male=True) == pytest.approx(1.15 * plain)
    assert nem_maintenance_mcal(500.0, breed_factor=0.9) == pytest.approx(0.9 * plain)
    assert nem_maintenance_mcal(500.0, condition_score=9.0) == pytest.approx(1.2 * plain)
    assert nem_maintenance_mcal(500.0, activity_factor=1.1) == pytest.approx(1.1 * plain)
    # NRC 2000, from memory: 0 degC adds 18 %, -10 degC 27 %, +30 degC takes 9 % off.
    for air, change in ((0.0, 1.18), (-10.0, 1.27), (30.0, 0.91)):
        cold = nem_maintenance_mcal(500.0, previous_month_temperature_c=air)
        assert cold == pytest.approx(change * plain, rel=0.005)


def test_a_cross_is_the_mean_of_its_parents() -> None:
    assert cross_of("angus", "holstein").peak_milk_kg_per_day == 11.5
    assert cross_of("brahman", "brahman") == BREEDS["brahman"]


def test_microbial_protein_of_a_fat_diet_rests_on_fat_free_tdn() -> None:
    # NASEM 2016, from memory: 0.096 FFTDN + 53.33 above 3.9 % ether extract.
    made = protein.microbial_cp_g(6000.0, "2016", fat_pct=6.0, tdn_pct=60.0)
    assert made == pytest.approx(0.096 * 6000.0 * (60.0 - 13.5) / 60.0 + 53.33)
    with pytest.raises(OutOfRange, match="TDN of the diet"):
        protein.microbial_cp_g(6000.0, "2016", fat_pct=6.0)


def test_too_little_fibre_costs_microbial_protein() -> None:
    # NRC 2000: 2.2 % per point of effective fibre below 20 %.
    full = protein.microbial_cp_g(6000.0, "1996")
    assert protein.microbial_cp_g(6000.0, "1996", effective_fibre_pct=15.0) == pytest.approx(
        0.89 * full
    )


def test_water_is_held_below_forty_degrees_fahrenheit() -> None:
    assert water.water_litres(590.0, -20.0) == pytest.approx(water.water_litres(590.0, 40.0 / 9.0))


REFUSALS: list[Callable[[], Any]] = [
    lambda: nem_maintenance_mcal(49.0),
    lambda: nem_maintenance_mcal(np.array([500.0, 1101.0])),
    lambda: nem_maintenance_mcal(float("nan")),
    lambda: nem_maintenance_mcal(500.0, condition_score=0.5),
    lambda: condition.body_energy_mcal(500.0, 9.5),
    lambda: condition.days_to_gain_condition(200.0, 0.0),
    lambda: milk_kg(-1.0),
    lambda: milk_kg(3.0, 8.0, 0.0),
    lambda: size_scaled_weight_kg(300.0, 0.0),
    lambda: growth.gain_to_target_kg(200.0, 300.0, 0.0),
    lambda: intake.appetite_kg("goat", 300.0, 1.2),
    lambda: intake.ndf_cap_kg(500.0, 0.0),
    lambda: protein.microbial_cp_g(6000.0, "1984"),  # type: ignore[arg-type]
    lambda: vitamins.vitamin_a_iu_per_kg("dry"),  # type: ignore[arg-type]
    lambda: water.water_litres(400.0, 20.0),
    lambda: water.water_litres(590.0, 35.0),
    lambda: water.water_litres(590.0, 20.0, 14.0),
    lambda: cow_month(13, 533.0),
]


@each_row("call", REFUSALS)
def test_what_no_equation_covers_is_refused(call: Callable[[], Any]) -> None:
    with pytest.raises(OutOfRange):
        call()


@given(WEIGHTS)
def test_full_and_shrunk_weight_are_inverse(weight: float) -> None:
    assert full_from_shrunk_kg(shrunk_from_full_kg(weight)) == pytest.approx(weight)
