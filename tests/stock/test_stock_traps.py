"""Mistakes that are easy to make with these equations, each held off by a test."""

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from rickyard.farm import AnimalClass, ColdRule, Group, WeatherRow, WindChill
from rickyard.hay.feeding.need import as_fed_from_dm
from rickyard.match.matching import feed_for_need_kg
from rickyard.quantities import KM_PER_MILE, OutOfRange
from rickyard.stock.cold.cold import (
    coat_insulation,
    heat_made_mcal,
    nem_cold_mcal,
    tissue_insulation,
)
from rickyard.stock.cold.cold_rules import acclimatised_tdn_kg, cold_pct
from rickyard.stock.cold.wind_chill import CHARTS, effective_temperature_c
from rickyard.stock.common.weather import weather_of
from rickyard.stock.common.weights import (
    size_scaled_weight_kg,
)
from rickyard.stock.equations.by_month import cow_month
from rickyard.stock.equations.growth import mp_gain_g, net_protein_gain_g, retained_energy_mcal
from rickyard.stock.equations.intake import appetite_kg
from rickyard.stock.equations.lactation import milk_kg
from rickyard.stock.equations.maintenance import nem_maintenance_mcal
from rickyard.stock.equations.pregnancy import (
    conceptus_kg,
    nem_pregnancy_mcal,
    weight_without_conceptus_kg,
)
from rickyard.stock.equations.protein import cp_kg_from_mp, cp_with_floor_kg, mp_maintenance_g
from rickyard.stock.herd.herd import group_needs


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


def test_pregnancy_costs_nothing_before_it_begins_and_is_held_past_term() -> None:
    assert nem_pregnancy_mcal(0.0) == nem_pregnancy_mcal(-40.0) == 0.0
    assert nem_pregnancy_mcal(300.0) == nem_pregnancy_mcal(285.0)


def test_milk_counts_weeks_and_peaks_in_week_eight_and_a_half() -> None:
    weeks = np.linspace(0.1, 40.0, 400)
    assert weeks[np.argmax(milk_kg(weeks))] == pytest.approx(8.5, abs=0.1)
    assert milk_kg(8.5 * 7.0) < 1.0  # what days in place of weeks would give


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


def test_a_percentage_on_top_of_acclimatisation_is_refused() -> None:
    # It would count the cold twice: 0 degC is 18 % by the month and 0 % by the day.
    cows = Group("c", "Cows", AnimalClass.COW, 60, 533.0, calving_on=date(2027, 3, 1))
    rows = [WeatherRow(date(2026, month, 1), True, -10.0) for month in (9, 10, 11, 12)]
    weather = weather_of(rows, date(2026, 9, 1), date(2026, 12, 31))
    days = [date(2026, 12, 1)]
    for months in ({"previous_month_temperature_c": 0.0}, {"acclimatise": True}):
        with pytest.raises(OutOfRange, match="counts the cold twice"):
            group_needs(cows, days, weather=weather, cold_rule=ColdRule.PERCENT, **months)
        # The factorial method has both, as NRC 2000 does.
        needs = group_needs(cows, days, weather=weather, cold_rule=ColdRule.FACTORIAL, **months)
        assert needs.nem_mcal[0] > 0.0


def test_months_and_days_of_cold_are_different_numbers() -> None:
    # South Dakota State prints 0.3 % per degree beside its own rule of 1 %.
    by_month = acclimatised_tdn_kg(15.5, (0.0 - 32.0) / 1.8) / 15.5 - 1.0
    by_day = cold_pct((0.0 - 32.0) / 1.8, 0.0) / 100.0
    assert by_month == pytest.approx(0.097, abs=0.005)
    assert by_day == pytest.approx(0.32)


def test_cold_that_lasts_takes_nothing_more_at_the_reference() -> None:
    """NRC 2000: 0.077 Mcal and 0.0007 for each degree under 20, of which 72 % is upkeep."""
    assert acclimatised_tdn_kg(15.5, 0.0) == 15.5
    more = (0.077 + 0.0007 * 30.0) / (0.077 + 0.0007 * 20.0) - 1.0
    assert acclimatised_tdn_kg(10.0, -10.0) == pytest.approx(10.0 * (1.0 + 0.72 * more), rel=1e-9)
    assert acclimatised_tdn_kg(10.0, -10.0, 0.0, 1.0) == pytest.approx(10.0 * (1.0 + more))
    assert acclimatised_tdn_kg(10.0, 0.0, 20.0, 1.0) == pytest.approx(10.0 * 0.091 / 0.077)


def test_a_wind_chill_has_the_name_of_its_chart() -> None:
    felt = {
        chart: effective_temperature_c((10.0 - 32.0) / 1.8, 10.0 * KM_PER_MILE, chart)
        for chart in WindChill
    }
    assert len({round(value, 1) for value in felt.values()}) == len(WindChill)
    assert set(CHARTS) == set(WindChill)


def test_heat_is_told_from_the_mild_diet_and_not_iterated() -> None:
    # More feed in the cold makes more heat, which would ask for less feed, and so on: the heat
    # comes from the need of mild weather, so the answer does not depend on the cold.
    cows = Group("c", "Cows", AnimalClass.COW, 60, 533.0, True, calving_on=date(2027, 3, 1))
    rows = [WeatherRow(date(2026, 12, 1), False, -25.0, 10.0)]
    weather = weather_of(rows, date(2026, 12, 1), date(2026, 12, 1))
    days = [date(2026, 12, 1)]
    mild = group_needs(cows, days)
    cold = group_needs(cows, days, weather=weather, cold_rule=ColdRule.FACTORIAL)
    held = tissue_insulation(5.0) + coat_insulation(1.3, 10.0)
    heat = heat_made_mcal(mild.nem_maintenance_mcal[0], 0.0, mild.nem_pregnancy_mcal[0])
    extra = nem_cold_mcal(-25.0, heat, 533.0, held)
    assert cold.nem_cold_mcal is not None
    assert cold.nem_cold_mcal[0] == pytest.approx(min(extra, 0.25 * mild.nem_mcal[0]))


def test_printed_intake_is_for_its_density_and_no_target_of_poor_hay() -> None:
    # 26.8 lb stands for a diet of 59.8 % TDN in month 1; of hay at 50 % she does not eat more to
    # make it up, but less.
    eaten = [appetite_kg("cow_early", 544.3, nem, 9.07 * 0.73) for nem in (0.968, 1.303)]
    assert eaten[0] < eaten[1]
    need = cow_month(1, 544.3, 9.07).nem_mcal
    assert eaten[0] * 0.968 < need


def test_as_fed_and_dry_matter_are_never_subtracted_from_each_other() -> None:
    # A deficit of 0.46 lb of protein in dry matter, from a 40 % tag that is as fed at 90 %.
    by_tag = 0.46 / 0.40  # as fed, because the tag is
    by_dry_matter = 0.46 / (0.40 / 0.90)
    assert as_fed_from_dm(by_dry_matter, 90.0) == pytest.approx(by_tag)
    assert as_fed_from_dm(by_tag, 90.0) != pytest.approx(by_tag)


def test_chains_of_rounding_are_met_within_their_tolerance_only() -> None:
    # The printed total of month 1 adds rounded parts: 10.3 + 4.8 = 15.1, printed 15.
    cow = cow_month(1, 533.0)
    assert round(cow.nem_maintenance_mcal, 1) + round(cow.nem_lactation_mcal, 1) != cow.nem_mcal
    assert cow.nem_mcal == pytest.approx(15.0, abs=0.08)


def test_a_scale_weight_is_not_a_shrunk_weight() -> None:
    full, shrunk = (
        group_needs(Group("c", "Cows", AnimalClass.COW, 60, 533.0, is_shrunk), [date(2027, 1, 1)])
        for is_shrunk in (False, True)
    )
    assert full.nem_mcal[0] / shrunk.nem_mcal[0] == pytest.approx(0.96**0.75)


def test_a_calf_turns_yearling_by_age_and_not_by_weight() -> None:
    heavy_calf = Group(
        "s", "Calves", AnimalClass.STOCKER, 40, 400.0, finish_weight_kg=600.0, age_months=8.0,
        gain_kg_per_day=0.5,
    )  # fmt: skip
    light_yearling = replace(heavy_calf, weight_kg=250.0, age_months=15.0)
    rules = [
        group_needs(one, [date(2027, 1, 1)]).intake_rule[0] for one in (heavy_calf, light_yearling)
    ]
    assert rules == ["calf", "yearling"]
    assert 1.15 < appetite_kg("yearling", 300.0, 1.3) / appetite_kg("calf", 300.0, 1.3) < 1.24


def test_acclimatised_and_acute_cold_are_each_told_by_name() -> None:
    cows = Group("c", "Cows", AnimalClass.COW, 60, 533.0, calving_on=date(2027, 3, 1))
    days = [date(2026, 12, 1)]
    weather = weather_of([WeatherRow(days[0], False, -5.0)], days[0], days[0])
    acute = group_needs(cows, days, weather=weather, cold_rule=ColdRule.PERCENT)
    assert any("for each °F" in one.sentence for one in acute.assumptions)
    assert any("Last month" in one.sentence for one in group_needs(cows, days).assumptions)
