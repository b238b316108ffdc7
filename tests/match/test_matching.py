"""Diet and animal against each other: gain, feed, and the poorest diet that will do."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.forage.energy.energy import neg_from_tdn, nem_from_tdn
from rickyard.match.least_density import (
    LEAST_TDN_PCT,
    MOST_TDN_PCT,
    _bisect,
    cow_density,
    density_for_need,
    mean_cow_need,
)
from rickyard.match.matching import (
    NeedUnreachable,
    diet_cp_pct,
    extra_feed_kg,
    feed_for_maintenance_kg,
    feed_for_need_kg,
    gain_from_intake,
)
from rickyard.quantities import KG_PER_LB, OutOfRange
from rickyard.stock.common.weights import size_scaled_weight_kg
from rickyard.stock.equations.growth import gain_kg, retained_energy_mcal
from rickyard.stock.equations.intake import appetite_kg
from rickyard.stock.equations.maintenance import nem_maintenance_mcal

FINISH_KG = 1200.0 * KG_PER_LB
WEIGHTS = st.floats(180.0, 420.0)
GAINS = st.floats(0.1, 1.0)
RULES = st.sampled_from(["calf", "yearling"])


def test_the_montana_steer() -> None:
    # Montana State Univ., net energy example (NRC 2000): a 715-lb steer finishing at 1,300 lb
    # eats 7.26 kg of a diet of 2.09 and 1.42 Mcal/kg; 3.64 lb a day by the printed regression.
    size = size_scaled_weight_kg(715.0, 1300.0)
    steer = gain_from_intake(7.26, 5.89, 2.09, 1.42, size)
    assert steer.feed_for_maintenance_kg == pytest.approx(2.82, abs=0.005)
    assert steer.retained_energy_mcal == pytest.approx(6.30, abs=0.02)
    assert steer.gain_kg / KG_PER_LB == pytest.approx(3.64, abs=0.03)
    assert steer.nem_deficit_mcal == 0.0


def test_too_little_feed_gives_no_gain_and_names_what_is_missing() -> None:
    thin = gain_from_intake(3.0, 5.0, 1.0, 0.45, 280.0)
    assert thin.gain_kg == 0.0
    assert thin.nem_deficit_mcal == pytest.approx(2.0)


@given(WEIGHTS, GAINS, RULES)
def test_the_diet_found_gives_the_gain_asked(weight: float, gain: float, rule: str) -> None:
    size = size_scaled_weight_kg(weight, FINISH_KG)
    nem = nem_maintenance_mcal(weight)
    diet = density_for_need(nem, retained_energy_mcal(gain, size), weight, rule)
    assert diet.intake_kg == pytest.approx(appetite_kg(rule, weight, diet.nem_mcal_per_kg))
    found = gain_from_intake(diet.intake_kg, nem, diet.nem_mcal_per_kg, diet.neg_mcal_per_kg, size)
    assert found.gain_kg == pytest.approx(gain, rel=1e-6)


@given(WEIGHTS, GAINS, RULES, st.floats(0.02, 0.2))
def test_more_gain_asks_a_richer_diet(weight: float, gain: float, rule: str, more: float) -> None:
    size = size_scaled_weight_kg(weight, FINISH_KG)
    need = retained_energy_mcal(np.array([gain, gain + more]), size)
    diet = density_for_need(nem_maintenance_mcal(weight), need, weight, rule)
    assert diet.tdn_pct[1] > diet.tdn_pct[0]


@given(WEIGHTS, GAINS, st.floats(50.0, 75.0))
def test_feed_for_a_need_and_gain_from_that_feed_agree(
    weight: float, gain: float, tdn: float
) -> None:
    size = size_scaled_weight_kg(weight, FINISH_KG)
    nem, neg = nem_from_tdn(tdn), neg_from_tdn(tdn)
    need = nem_maintenance_mcal(weight)
    feed = feed_for_need_kg(need, retained_energy_mcal(gain, size), nem, neg)
    assert gain_from_intake(feed, need, nem, neg, size).gain_kg == pytest.approx(gain, rel=1e-9)


def test_density_depends_on_gain_and_class_but_not_on_weight() -> None:
    weights = np.array([200.0, 300.0])
    retained = retained_energy_mcal(0.7, size_scaled_weight_kg(weights, FINISH_KG))
    diet = density_for_need(nem_maintenance_mcal(weights), retained, weights, "calf")
    assert diet.tdn_pct[0] == pytest.approx(diet.tdn_pct[1], abs=1e-6)
    alone = density_for_need(nem_maintenance_mcal(200.0), retained[0], 200.0, "calf")
    assert isinstance(alone.tdn_pct, float)
    assert alone.tdn_pct == pytest.approx(diet.tdn_pct[0])


def test_the_two_directions_of_gain_differ_little_in_the_diet_they_ask() -> None:
    # Stocker of 500 lb at 2 lb a day: 66.9 % with the printed regression, derived.
    weight = 500.0 * KG_PER_LB
    retained = retained_energy_mcal(2.0 * KG_PER_LB, size_scaled_weight_kg(weight, FINISH_KG))
    diet = density_for_need(nem_maintenance_mcal(weight), retained, weight, "calf")
    assert diet.tdn_pct == pytest.approx(66.9, abs=0.15)


def test_a_need_that_any_hay_meets_is_refused() -> None:
    with pytest.raises(OutOfRange, match="more than enough"):
        density_for_need(3.0, 0.0, 533.0, "cow_late")


def test_a_known_intake_replaces_appetite() -> None:
    diet = density_for_need(10.0, 0.0, 533.0, "cow_late", intake_kg=9.0)
    assert diet.intake_kg == 9.0
    assert diet.nem_mcal_per_kg == pytest.approx(10.0 / 9.0)


def test_a_calibrated_appetite_allows_a_poorer_diet() -> None:
    plain = density_for_need(12.0, 0.0, 533.0, "cow_early", milk_kg=8.0)
    real = density_for_need(12.0, 0.0, 533.0, "cow_early", milk_kg=8.0, factor=1.2)
    assert real.tdn_pct < plain.tdn_pct


def test_a_cows_energy_is_met_exactly_by_the_diet_found() -> None:
    for month in range(1, 13):
        diet = cow_density(month, 533.0)
        assert diet.tdn_kg == pytest.approx(diet.intake_kg * diet.tdn_pct / 100.0)
        assert 45.0 < diet.tdn_pct < 65.0


def test_statements_about_dry_and_pregnant_cows() -> None:
    # Louisiana State Univ.: a dry 1,100-lb cow, here 1.4 lb CP and 10.0-10.3 lb TDN, derived.
    for month in (7, 8):
        need = mean_cow_need([month], 1100.0 * KG_PER_LB)
        assert need.cp_kg / KG_PER_LB == pytest.approx(1.4, abs=0.05)
        assert need.tdn_kg / KG_PER_LB == pytest.approx(10.15, abs=0.2)


def test_forage_without_net_energy_for_gain_cannot_put_on_weight() -> None:
    with pytest.raises(NeedUnreachable):
        feed_for_need_kg(5.0, 1.0, 0.55, 0.0)
    assert feed_for_need_kg(5.0, 0.0, 0.5, 0.0) == pytest.approx(10.0)
    with pytest.raises(OutOfRange):
        feed_for_maintenance_kg(5.0, 0.0)


def test_shares_and_extra_feed_refuse_nothing_to_share() -> None:
    with pytest.raises(OutOfRange):
        diet_cp_pct(600.0, 0.0)
    with pytest.raises(OutOfRange):
        extra_feed_kg(15.5, 17.0, 0.0)


def test_arrays_give_what_floats_give() -> None:
    intake = np.array([2.0, 7.26])
    together = gain_from_intake(intake, 5.89, 2.09, 1.42, 263.0)
    for index, eaten in enumerate(intake):
        alone = gain_from_intake(float(eaten), 5.89, 2.09, 1.42, 263.0)
        assert isinstance(alone.gain_kg, float)
        assert together.gain_kg[index] == pytest.approx(alone.gain_kg)
        assert together.nem_deficit_mcal[index] == pytest.approx(alone.nem_deficit_mcal)
    assert gain_kg(np.array([0.0]), 263.0).tolist() == [0.0]


@pytest.mark.parametrize("tdn", [LEAST_TDN_PCT, (LEAST_TDN_PCT + MOST_TDN_PCT) / 2, MOST_TDN_PCT])
def test_a_diet_that_just_meets_the_need_is_found_at_the_ends_and_halfway(tdn: float) -> None:
    found = float(_bisect(lambda tried: tried - tdn, ()))
    assert found == (pytest.approx(tdn) if tdn == LEAST_TDN_PCT else tdn)
