"""Mistakes that are easy to make with these equations, each held off by a test."""

import math

import numpy as np
import pytest

from rickyard.program.matching import feed_for_need_kg
from rickyard.stock.by_month import cow_month
from rickyard.stock.condition import body_energy_mcal
from rickyard.stock.growth import mp_gain_g, net_protein_gain_g, retained_energy_mcal
from rickyard.stock.intake import appetite_kg
from rickyard.stock.lactation import milk_kg
from rickyard.stock.maintenance import nem_maintenance_mcal
from rickyard.stock.pregnancy import (
    conceptus_kg,
    nem_pregnancy_mcal,
    weight_without_conceptus_kg,
)
from rickyard.stock.protein import cp_kg_from_mp, cp_with_floor_kg, mp_maintenance_g
from rickyard.stock.weights import empty_weight_cow_kg, empty_weight_kg, size_scaled_weight_kg


def test_net_energies_for_maintenance_and_gain_add_up_as_kilograms_of_feed() -> None:
    nem, neg = 1.31, 0.736
    feed = feed_for_need_kg(4.5, 1.93, nem, neg)
    assert feed == pytest.approx(4.5 / nem + 1.93 / neg)
    assert feed > (4.5 + 1.93) / nem


def test_lactation_and_pregnancy_do_add_to_maintenance() -> None:
    for month in range(1, 13):
        cow = cow_month(month, 533.0)
        parts = cow.nem_maintenance_mcal + cow.nem_lactation_mcal + cow.nem_pregnancy_mcal
        assert cow.nem_mcal == pytest.approx(parts)


def test_month_m_means_the_end_of_month_m() -> None:
    # Univ. of Nebraska cow table: 4.8 Mcal of milk in month 1, which is week 4.34, not week 0.
    assert cow_month(1, 533.0).milk_kg == pytest.approx(milk_kg(30.4 / 7.0))
    assert cow_month(12, 533.0).day_pregnant == 280.0


@pytest.mark.parametrize(
    ("day", "printed"), [(130, 0.327), (190, 1.166), (250, 3.333), (280, 5.174)]
)
def test_the_pregnancy_equation_holds_at_both_ends(day: int, printed: float) -> None:
    # NRC 2000, Table 4-2, p.43: a slip of sign passes in the middle and fails at term.
    assert nem_pregnancy_mcal(float(day), 38.5) == pytest.approx(printed, abs=0.002)


def test_pregnancy_costs_nothing_before_it_begins_and_is_held_past_term() -> None:
    assert nem_pregnancy_mcal(0.0) == nem_pregnancy_mcal(-40.0) == 0.0
    assert nem_pregnancy_mcal(300.0) == nem_pregnancy_mcal(285.0)


def test_milk_counts_weeks_and_peaks_in_week_eight_and_a_half() -> None:
    weeks = np.linspace(0.1, 40.0, 400)
    assert weeks[np.argmax(milk_kg(weeks))] == pytest.approx(8.5, abs=0.1)
    assert milk_kg(8.5 * 7.0) < 1.0  # what days in place of weeks would give


def test_cow_reserves_and_growth_use_their_own_empty_weight() -> None:
    assert empty_weight_cow_kg(500.0) == pytest.approx(0.851 * 500.0)
    assert empty_weight_kg(500.0) == pytest.approx(0.891 * 500.0)
    # Reserves at score 5 rest on the cow's fraction.
    expected = 0.851 * 500.0 * (9.4 * 0.188415 + 5.7 * 0.167505)
    assert body_energy_mcal(500.0, 5.0) == pytest.approx(expected, rel=1e-6)


def test_protein_efficiency_has_no_jump_where_it_turns_constant() -> None:
    below, above = mp_gain_g(1.0, 300.0), mp_gain_g(1.0, 300.0 + 1e-9)
    assert below == pytest.approx(above, rel=1e-9)
    assert net_protein_gain_g(1.0, 400.0) / mp_gain_g(1.0, 400.0) == pytest.approx(0.492)


def test_a_size_scaled_weight_may_exceed_the_reference_weight() -> None:
    size = size_scaled_weight_kg(700.0, 600.0)
    assert size > 478.0
    assert retained_energy_mcal(0.5, size) > retained_energy_mcal(0.5, 478.0)


@pytest.mark.parametrize("rule", ["cow_early", "cow_late"])
def test_the_intake_of_cows_does_not_jump_at_a_diet_of_one(rule: str) -> None:
    # Read literally, the printed divisor makes intake fall by 5 % as energy passes 1.0.
    nem = np.linspace(0.8, 1.2, 4001)
    eaten = np.asarray(appetite_kg(rule, 533.0, nem))
    assert np.abs(np.diff(eaten)).max() < 0.001 * eaten.min()
    assert np.all(np.diff(eaten * nem) > 0.0)


def test_the_conceptus_is_not_read_as_condition() -> None:
    # It weighs up to 64 kg near term.
    assert conceptus_kg(280.0, 40.0) == pytest.approx(64.4, abs=0.5)
    assert weight_without_conceptus_kg(600.0, 280.0) == pytest.approx(600.0 - 64.4, abs=0.5)
    assert nem_maintenance_mcal(weight_without_conceptus_kg(600.0, 280.0)) < nem_maintenance_mcal(
        600.0
    )


def test_a_protein_need_below_seven_percent_is_fed_at_seven() -> None:
    need, eaten = cp_kg_from_mp(mp_maintenance_g(533.0)), 11.0
    assert need / eaten < 0.07
    assert cp_with_floor_kg(need, eaten) == pytest.approx(0.07 * eaten)
    assert cp_with_floor_kg(1.5, eaten) == 1.5


def test_a_bull_table_hides_two_finish_weights() -> None:
    # One finish weight for both columns moves crude protein by about half a point at 900 lb.
    weight, gain, eaten = 408.2, 0.9072, 8.89

    def cp_pct(finish_kg: float) -> float:
        mp = mp_maintenance_g(weight) + mp_gain_g(gain, size_scaled_weight_kg(weight, finish_kg))
        return float(100.0 * cp_kg_from_mp(mp) / eaten)

    assert 0.3 < math.fabs(cp_pct(1880.0 * 0.4536) - cp_pct(1200.0 * 0.4536)) < 0.7
