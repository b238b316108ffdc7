"""Cold, wind, wet coats and winters, from the charts to the needs of a group."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from rickyard.farm import (
    AnimalClass,
    Coat,
    ColdRule,
    Group,
    Hide,
    Mud,
    Panting,
    WeatherRow,
    WindChill,
    Winter,
)
from rickyard.quantities import KM_PER_MILE, OutOfRange
from rickyard.stock.cold.cold import (
    HAIR_CM,
    HIDE_FACTOR,
    KG_HAY,
    MUD_FACTOR,
    coat_insulation,
    heat_made_mcal,
    lower_critical_temperature_c,
    nem_cold_mcal,
    surface_area_m2,
    tissue_insulation,
)
from rickyard.stock.cold.cold_rules import (
    CRITICAL_F,
    STORM_CAP,
    cold_pct,
    critical_temperature_c,
    heat_factor,
    storm_schedule,
)
from rickyard.stock.cold.wind_chill import effective_temperature_c
from rickyard.stock.common import NeedSeries
from rickyard.stock.common.series import storm_cautions
from rickyard.stock.common.weather import WET_MM, DailyWeather, previous_month_mean_c, weather_of
from rickyard.stock.herd.herd import group_needs

FIRST = date(2026, 11, 1)


def season(days: int = 60) -> list[date]:
    return [FIRST + timedelta(days=one) for one in range(days)]


def daily(
    temperatures: list[float], wind: float = 0.0, rain: list[float] | None = None
) -> DailyWeather:
    rows = [
        WeatherRow(day, False, value, wind, None if rain is None else rain[at])
        for at, (day, value) in enumerate(zip(season(len(temperatures)), temperatures, strict=True))
    ]
    return weather_of(rows, FIRST, FIRST + timedelta(days=len(temperatures) - 1))


def cows(**changes: object) -> Group:
    values = {"calving_on": date(2027, 3, 1), "weight_is_shrunk": True, "activity_factor": 1.0}
    return Group("c", "Cows", AnimalClass.COW, 60, 533.0, **(values | changes))  # type: ignore[arg-type]


def needs(
    weather: DailyWeather | None, rule: ColdRule = ColdRule.PERCENT, **changes: object
) -> NeedSeries:
    days = season(60 if weather is None else len(weather.temperature_c))
    return group_needs(cows(**changes), days, weather=weather, cold_rule=rule)


# ---- wind ----


def f_to_c(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8


@pytest.mark.parametrize("chart", list(WindChill))
@given(air_f=st.floats(-40.0, 50.0), mph=st.floats(0.0, 60.0))
@example(air_f=0.0, mph=4.0)
def test_wind_never_warms(chart: WindChill, air_f: float, mph: float) -> None:
    felt = effective_temperature_c(f_to_c(air_f), mph * KM_PER_MILE, chart)
    # The index of 2001 is half a degree above the air at 3 mph near 50 degF, as it is published.
    assert felt <= f_to_c(air_f) + (1.5 if chart is WindChill.WEATHER_SERVICE else 1e-9)


@given(st.floats(0.0, 60.0), st.floats(0.0, 60.0))
def test_the_chill_of_cattle_grows_with_the_wind_and_is_held_at_forty(
    low: float, more: float
) -> None:
    felt = effective_temperature_c(-5.0, np.array([low, low + more]) * KM_PER_MILE)
    assert felt[1] <= felt[0] + 1e-9
    assert effective_temperature_c(-5.0, 90.0 * KM_PER_MILE) == pytest.approx(-5.0 - 68.0 / 1.8)


def test_a_wind_below_zero_is_refused() -> None:
    with pytest.raises(OutOfRange, match="still air"):
        effective_temperature_c(0.0, -1.0)


# ---- the factorial method ----

HEAT = 14.829


@given(st.floats(-40.0, 20.0), st.floats(0.0, 15.0), st.floats(0.0, 31.0), st.floats(0.0, 30.0))
def test_cold_costs_more_the_colder_and_the_windier(
    air: float, colder: float, wind: float, windier: float
) -> None:
    def cost(celsius: float, km_per_h: float) -> float:
        held = tissue_insulation(5.0) + coat_insulation(1.3, km_per_h)
        return float(nem_cold_mcal(celsius, HEAT, 533.0, held))

    assert cost(air - colder, wind) >= cost(air, wind) - 1e-9
    assert cost(air, wind + windier) >= cost(air, wind) - 1e-9


def test_coat_hide_mud_and_condition_hold_heat_in_their_order() -> None:
    def limit(hair: float = 1.3, mud: float = 1.0, hide: float = 1.0, score: float = 5.0) -> float:
        held = tissue_insulation(score) + coat_insulation(hair, 0.0, mud, hide)
        return float(lower_critical_temperature_c(HEAT, 533.0, held))

    by_coat = [limit(hair=HAIR_CM[coat]) for coat in Coat]
    assert by_coat == sorted(by_coat, reverse=True)
    # NRC 2000: the more mud, the less of the coat is left.
    assert [MUD_FACTOR[mud] for mud in Mud] == [1.0, 0.8, 0.5, 0.2]
    by_mud = [limit(mud=MUD_FACTOR[mud]) for mud in Mud]
    assert by_mud == sorted(by_mud)
    by_hide = [limit(hide=HIDE_FACTOR[hide]) for hide in Hide]
    assert by_hide == sorted(by_hide, reverse=True)
    assert limit(score=3.0) > limit(score=7.0)


def test_a_storm_blows_through_a_coat_but_never_below_none() -> None:
    assert coat_insulation(0.6, 80.0) == 0.0
    with pytest.raises(OutOfRange, match="less than none"):
        coat_insulation(1.3, -1.0)


def test_a_young_calf_is_insulated_by_its_age() -> None:
    ages = np.array([0.5, 3.0, 8.0, 20.0])
    assert tissue_insulation(5.0, ages).tolist() == [2.5, 6.5, 6.75, 9.0]
    with pytest.raises(OutOfRange, match="50 kg"):
        surface_area_m2(30.0)


def test_heat_is_what_is_eaten_less_what_is_kept() -> None:
    # Milk, gain and calf each leave less than they are fed for: the rest warms the animal.
    idle = heat_made_mcal(8.54)
    assert idle < heat_made_mcal(8.54, nem_lactation_mcal=5.0) < idle + 5.0 / 0.576
    assert idle < heat_made_mcal(8.54, retained_energy_mcal=2.0) < idle + 2.0 / KG_HAY
    assert idle < heat_made_mcal(8.54, nem_pregnancy_mcal=3.0) < idle + 3.0 / 0.576


# ---- the percent rule and the storm ----


def test_the_coat_table_is_that_of_kansas_state() -> None:
    assert [critical_temperature_c(coat) * 1.8 + 32.0 for coat in Coat] == pytest.approx(
        list(CRITICAL_F.values())
    )
    assert critical_temperature_c(Coat.HEAVY_WINTER, wet=True) == pytest.approx(15.0)


@given(st.lists(st.floats(0.0, 30.0), min_size=1, max_size=40), st.floats(2.0, 20.0))
def test_what_a_storm_takes_is_fed_or_still_owed(extra: list[float], base: float) -> None:
    took, most = np.array(extra), np.full(len(extra), base)
    fed, owed = storm_schedule(took, most)
    assert np.all(fed <= STORM_CAP * base + 1e-9)
    assert fed.sum() + owed[-1] == pytest.approx(took.sum(), abs=1e-6)
    assert np.all(owed >= -1e-12)
    # While something is owed, as much as can be is fed.
    np.testing.assert_allclose(fed[owed > 1e-9], STORM_CAP * base)


def test_a_storm_without_a_cap_is_refused() -> None:
    with pytest.raises(OutOfRange, match="above zero"):
        storm_schedule(np.ones(2), np.ones(2), 0.0)


# ---- a group in its weather ----


def test_without_a_rule_of_cold_weather_changes_nothing() -> None:
    weather = daily([-25.0] * 60, 30.0)
    plain, blown = needs(None, ColdRule.NONE), needs(weather, ColdRule.NONE)
    np.testing.assert_array_equal(plain.nem_mcal, blown.nem_mcal)
    assert blown.nem_cold_mcal is not None
    assert not blown.nem_cold_mcal.any()


def test_the_percent_rule_adds_to_maintenance_and_nothing_else() -> None:
    series = needs(daily([-5.0] * 20))
    assert series.nem_cold_mcal is not None
    expected = 0.01 * (5.0 * 1.8) * series.nem_maintenance_mcal
    np.testing.assert_allclose(series.nem_cold_mcal, expected)
    parts = series.nem_maintenance_mcal + series.nem_lactation_mcal + series.nem_pregnancy_mcal
    np.testing.assert_allclose(series.nem_mcal, parts + series.nem_cold_mcal)


@pytest.mark.parametrize("rule", [ColdRule.PERCENT, ColdRule.FACTORIAL])
def test_needs_rise_with_cold(rule: ColdRule) -> None:
    mild, cold, bitter = (needs(daily([air] * 30), rule).nem_mcal for air in (5.0, -8.0, -14.0))
    assert np.all(cold > mild)
    assert np.all(bitter > cold)


@pytest.mark.parametrize("rule", [ColdRule.PERCENT, ColdRule.FACTORIAL])
def test_a_windbreak_takes_the_wind_away(rule: ColdRule) -> None:
    weather = daily([-4.0] * 10, 20.0)
    calm = needs(daily([-4.0] * 10), rule)
    behind, open_ = needs(weather, rule, windbreak=True), needs(weather, rule)
    np.testing.assert_allclose(behind.nem_mcal, calm.nem_mcal)
    assert np.all(open_.nem_mcal > calm.nem_mcal)


@pytest.mark.parametrize("rule", [ColdRule.PERCENT, ColdRule.FACTORIAL])
def test_mud_costs_energy(rule: ColdRule) -> None:
    weather = daily([-5.0] * 10)
    assert np.all(needs(weather, rule, mud=Mud.CAKED).nem_mcal > needs(weather, rule).nem_mcal)


def test_rain_wets_a_coat_and_snow_does_not() -> None:
    rain = daily([5.0, 5.0, -5.0], rain=[WET_MM, 0.0, WET_MM])
    assert rain.wet.tolist() == [True, False, False]
    series = needs(rain)
    assert series.nem_cold_mcal is not None
    wet_pct = 2.0 * 1.8 * (15.0 - 5.0)
    first = min(
        wet_pct / 100.0 * series.nem_maintenance_mcal[0], 0.25 * series.nem_maintenance_mcal[0]
    )
    assert series.nem_cold_mcal[0] >= first - 1e-9


def test_a_storm_is_fed_over_the_days_after_it() -> None:
    series = needs(daily([18.0] * 5 + [-30.0] * 2 + [18.0] * 13, 30.0))
    assert series.nem_cold_mcal is not None
    fed = series.nem_cold_mcal
    assert not fed[:5].any()
    assert np.all(fed[5:9] > 0.0)  # two days of storm, fed over more
    mild = series.nem_mcal - fed
    assert np.all(fed <= 0.25 * mild + 1e-9)


def test_cold_before_a_group_comes_is_not_owed_by_it() -> None:
    weather = daily([-30.0] * 10 + [18.0] * 10, 30.0)
    late = needs(weather, from_on=season(11)[-1])
    assert late.nem_cold_mcal is not None
    assert late.nem_cold_mcal[10:].tolist() == [0.0] * 10
    assert storm_cautions(cows(from_on=season(11)[-1]), late) == ()


def test_days_asked_alone_carry_the_storm_before_them() -> None:
    weather = daily([18.0] * 5 + [-30.0] * 2 + [18.0] * 13, 30.0)
    whole = needs(weather)
    one = group_needs(
        cows(), [season(8)[7]], weather=weather, cold_rule=ColdRule.PERCENT, weighed_on=FIRST
    )
    assert one.nem_mcal[0] == whole.nem_mcal[7]


def test_days_without_a_temperature_count_as_mild_and_are_told() -> None:
    rows = [WeatherRow(FIRST, False, -20.0)]
    weather = weather_of(rows, FIRST, season(3)[-1])
    series = needs(weather)
    assert series.nem_cold_mcal is not None
    assert np.isfinite(series.nem_mcal).all()
    assert any("not known" in one.sentence for one in series.assumptions)


def test_every_rule_of_cold_is_told_with_its_source() -> None:
    weather = daily([-45.0, -20.0, 3.0], 60.0)
    for rule in (ColdRule.PERCENT, ColdRule.FACTORIAL):
        told = " ".join(one.sentence for one in needs(weather, rule).assumptions)
        assert "25%" in told
        assert "winter coat" in told
        assert ("beyond the method" in told) == (rule is ColdRule.FACTORIAL)
    charts = {
        chart: {
            one.source
            for one in group_needs(
                cows(), season(3), weather=weather, cold_rule=ColdRule.PERCENT, wind_chill=chart
            ).assumptions
        }
        for chart in WindChill
    }
    assert len({frozenset(sources) for sources in charts.values()}) == len(WindChill)
    assert "No weather" in " ".join(one.sentence for one in needs(None).assumptions)


def test_panting_raises_maintenance_by_the_printed_share() -> None:
    plain, panting = (
        group_needs(cows(panting=how), season(2)).nem_maintenance_mcal
        for how in (None, Panting.RAPID)
    )
    np.testing.assert_allclose(panting, 1.07 * plain)
    assert 1.11 <= heat_factor(Panting.OPEN_MOUTH) <= 1.25


def test_appetite_follows_the_weather_only_when_asked() -> None:
    weather = daily([-20.0, 0.0, 20.0, 36.0])
    days = season(4)
    plain = group_needs(cows(), days, weather=weather)
    asked = group_needs(cows(mud_depth_cm=15.0), days, weather=weather, intake_by_weather=True)
    np.testing.assert_allclose(
        asked.intake_factor / plain.intake_factor, 0.85 * np.array([1.16, 1.05, 1.0, 0.9])
    )


# ---- weather and winters ----


def winter_rows(years: dict[int, float]) -> list[WeatherRow]:
    rows = []
    for year, mean in years.items():
        day = date(year, 10, 1)
        while day < date(year + 1, 5, 1):
            rows.append(WeatherRow(day, False, mean, 10.0, 0.0))
            day += timedelta(days=1)
    return rows


def test_scenarios_are_winters_that_were() -> None:
    rows = winter_rows({2019: -2.0, 2020: -6.0, 2021: 1.0, 2022: -4.0, 2023: -9.0})
    first, last = date(2026, 11, 1), date(2027, 3, 31)
    found = {
        winter: float(weather_of(rows, first, last, winter).temperature_c[0])
        for winter in (Winter.MILD, Winter.NORMAL, Winter.SEVERE)
    }
    assert found == {Winter.MILD: 1.0, Winter.NORMAL: -4.0, Winter.SEVERE: -9.0}
    said = weather_of(rows, first, last, Winter.SEVERE).assumptions[0].sentence
    assert "2023/24" in said
    assert "5 winters" in said


def test_a_winter_south_of_the_equator_is_chosen_by_its_own_frost() -> None:
    hardest = {2020: -6.0, 2021: 1.0, 2022: -4.0}
    days = [date(2020, 1, 1) + timedelta(days=one) for one in range(3 * 365 + 1)]
    rows = [
        WeatherRow(day, False, hardest[day.year] if 5 <= day.month <= 9 else 20.0) for day in days
    ]
    first, last = date(2027, 3, 1), date(2027, 9, 30)
    july = date(2027, 7, 1)
    found = {}
    for winter in (Winter.MILD, Winter.NORMAL, Winter.SEVERE):
        weather = weather_of(rows, first, last, winter)
        found[winter] = float(weather.temperature_c[weather.places([july])[0]])
    assert found == {Winter.MILD: 1.0, Winter.NORMAL: -4.0, Winter.SEVERE: -6.0}
    assert "winter is that of 2020, " in weather.assumptions[0].sentence


def test_winters_without_frost_are_told_apart_by_their_mean() -> None:
    rows = winter_rows({2019: 6.0, 2020: 2.0, 2021: 9.0})
    severe = weather_of(rows, date(2026, 11, 1), date(2027, 3, 31), Winter.SEVERE)
    assert severe.temperature_c[0] == 2.0


def test_a_leap_day_is_found_in_a_winter_that_had_none() -> None:
    rows = winter_rows({2020: -1.0, 2021: -2.0, 2022: -3.0})
    weather = weather_of(rows, date(2027, 11, 1), date(2028, 3, 31), Winter.NORMAL)
    assert np.all(weather.temperature_c == -2.0)
    assert len(weather.temperature_c) == 152


def test_too_few_winters_are_moved_and_told() -> None:
    rows = [WeatherRow(date(2026, month, 1), True, -1.0) for month in range(1, 13)]
    first, last = date(2026, 11, 1), date(2027, 3, 31)
    mild, normal, severe = (
        weather_of(rows, first, last, winter)
        for winter in (Winter.MILD, Winter.NORMAL, Winter.SEVERE)
    )
    assert np.all(mild.temperature_c == 2.0)
    assert np.all(normal.temperature_c == -1.0)
    assert np.all(severe.temperature_c == -4.0)
    assert "fewer than 3 winters" in severe.assumptions[0].sentence


def test_the_severe_winter_needs_more_than_the_mild_one() -> None:
    rows = winter_rows({2019: -2.0, 2020: -6.0, 2021: 1.0, 2022: -4.0, 2023: -9.0})
    days = [date(2026, 11, 1) + timedelta(days=one) for one in range(120)]
    total = {
        winter: group_needs(
            cows(),
            days,
            weather=weather_of(rows, days[0], days[-1], winter),
            cold_rule=ColdRule.PERCENT,
        ).nem_mcal.sum()
        for winter in (Winter.MILD, Winter.NORMAL, Winter.SEVERE)
    }
    assert total[Winter.MILD] < total[Winter.NORMAL] < total[Winter.SEVERE]


def test_a_normal_fills_days_that_have_no_row_and_never_wets_a_coat() -> None:
    rows = [
        WeatherRow(date(2026, 11, 1), True, 3.0, 12.0, 90.0),
        WeatherRow(date(2026, 11, 2), False, 9.0),
    ]
    weather = weather_of(rows, FIRST, date(2026, 11, 3))
    assert weather.temperature_c.tolist() == [3.0, 9.0, 3.0]
    assert weather.wind_km_per_h.tolist() == [12.0, 12.0, 12.0]
    assert not weather.wet.any()
    with pytest.raises(OutOfRange, match="does not reach"):
        weather.places([date(2026, 12, 1)])
    with pytest.raises(OutOfRange, match="before the first"):
        weather_of(rows, FIRST, date(2026, 10, 1))


def test_acclimatisation_by_weather_is_that_of_the_month_before() -> None:
    rows = [WeatherRow(date(2026, 10, 1), True, 0.0), WeatherRow(date(2026, 11, 1), True, 12.0)]
    weather = weather_of(rows, date(2026, 9, 1), date(2026, 12, 31))
    days = [date(2026, 11, 10), date(2026, 12, 10)]
    assert previous_month_mean_c(weather, days).tolist() == [0.0, 12.0]
    by_weather = group_needs(cows(), days, weather=weather, acclimatise=True)
    by_hand = group_needs(cows(), days, previous_month_temperature_c=[0.0, 12.0])
    np.testing.assert_array_equal(by_weather.nem_mcal, by_hand.nem_mcal)


# ---- walking ----


@given(st.floats(-30.0, 14.0))
def test_a_wet_coat_costs_at_least_twice_as_much(air: float) -> None:
    dry = cold_pct(air, critical_temperature_c(Coat.WINTER))
    wet = cold_pct(air, critical_temperature_c(Coat.WINTER, wet=True), 2.0)
    assert wet >= 2.0 * dry


def test_a_storm_that_cannot_be_fed_is_warned_of() -> None:
    wet = daily([1.0] * 4 + [10.0] * 20, 30.0, rain=[20.0] * 4 + [0.0] * 20)
    caution = storm_cautions(cows(), needs(wet))[0]
    assert caution.level == "warning"
    assert "Wind shelter" in caution.sentence
    assert storm_cautions(cows(), needs(daily([-4.0] * 10))) == ()
    away = cows(to_on=FIRST)
    series = group_needs(away, season(24), weather=wet, cold_rule=ColdRule.PERCENT)
    assert storm_cautions(away, series) == ()


def test_an_unknown_wind_counts_as_calm_and_is_told() -> None:
    rows = [WeatherRow(FIRST, False, -20.0)]
    weather = weather_of(rows, FIRST, FIRST)
    told = " ".join(one.sentence for one in needs(weather).assumptions)
    assert "count as calm" in told
    behind = " ".join(one.sentence for one in needs(weather, windbreak=True).assumptions)
    assert "count as calm" not in behind


@pytest.mark.parametrize("first", [date(2026, 6, 20), date(2026, 9, 1), date(2026, 12, 30)])
def test_the_winter_chosen_does_not_hang_on_the_first_day(first: date) -> None:
    rows = winter_rows({2019: -2.0, 2020: -6.0, 2021: 1.0, 2022: -4.0, 2023: -9.0})
    weather = weather_of(rows, first, date(2027, 4, 15), Winter.SEVERE)
    january = weather.places([date(2027, 1, 15)])
    assert weather.temperature_c[january] == -9.0


@pytest.mark.parametrize("rule", [ColdRule.PERCENT, ColdRule.FACTORIAL])
def test_rain_costs_energy_by_either_rule(rule: ColdRule) -> None:
    dry, wet = (needs(daily([1.0], 10.0, rain=[fell]), rule) for fell in (0.0, 20.0))
    assert wet.nem_mcal[0] > dry.nem_mcal[0]


def test_mud_is_part_of_the_day_that_a_storm_is_measured_by() -> None:
    clean = needs(daily([-30.0]))
    muddy = needs(daily([-30.0]), mud=Mud.LOW)
    mud = 0.2 * clean.nem_maintenance_mcal
    assert clean.nem_cold_mcal is not None
    assert muddy.nem_cold_mcal is not None
    np.testing.assert_allclose(muddy.nem_cold_mcal, clean.nem_cold_mcal + mud + 0.25 * mud)


def test_a_little_owed_for_a_day_is_no_storm() -> None:
    series = needs(daily([-20.0, 10.0, 10.0]))
    assert series.more["cold_owed_mcal"].max() > 0.0
    assert storm_cautions(cows(), series) == ()


def test_the_chart_of_the_weather_service_ends_at_fifty_degrees() -> None:
    warm = f_to_c(60.0)
    felt = effective_temperature_c(warm, 40.0, WindChill.WEATHER_SERVICE)
    assert felt == pytest.approx(warm)
    calm = effective_temperature_c(-10.0, 2.0, WindChill.OLD_HUMAN)
    assert calm == pytest.approx(-10.0)
