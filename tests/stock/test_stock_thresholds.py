"""Stock just under, at and just over the days, weights and amounts that count for it."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    ColdRule,
    Farm,
    Forage,
    Group,
    Lot,
    Package,
    Report,
    Season,
    Storage,
    WeatherRow,
    Winter,
)
from rickyard.kinds import Offered
from rickyard.match.matching import NeedUnreachable, feed_for_need_kg
from rickyard.quantities import OutOfRange
from rickyard.stock.beef import beef_words
from rickyard.stock.beef.defaults import settings_of
from rickyard.stock.beef.herd_rows import condition_mcal_per_day, mean_by_group
from rickyard.stock.cold.cold import surface_area_m2
from rickyard.stock.common import Asked
from rickyard.stock.common.births import Breeding
from rickyard.stock.common.series import period_means
from rickyard.stock.common.tables import all_along, find_row
from rickyard.stock.common.weather import (
    DailyWeather,
    previous_month_mean_c,
    weather_of,
)
from rickyard.stock.equations.growth import mp_efficiency
from rickyard.stock.equations.pregnancy import conceptus_kg, mp_pregnancy_g, nem_pregnancy_mcal
from rickyard.stock.fill.alone import fiber_fills_kg, fill_rule, late_factor, ndf_cap_pct_bw
from rickyard.stock.fill.hours_at_hay import LEAST_SCORE, _of_group, access_frac, hours_cautions
from rickyard.stock.fill.shares import places_needed
from rickyard.stock.fill.substitution import forage_beside_kg, forage_put_aside_kg
from rickyard.stock.goats.goat import goat_1981
from rickyard.stock.goats.goat_2004 import me_goat_kj
from rickyard.stock.herd import cautions
from rickyard.stock.herd.herd import group_needs
from rickyard.stock.herd.horse_care import is_risky_fescue, says_fescue
from rickyard.stock.herd.reproduction import outcome_table
from rickyard.stock.horses.horse_series import _young
from rickyard.stock.sheep.sheep import late_pregnancy_class, sheep_1985, with_triplets
from rickyard.stock.sheep.sheep_series import _in_reach
from support.rows import each_row

DAY, START = timedelta(days=1), date(2026, 12, 1)
LOT = Lot(
    *("A", "Hill", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0),
    *(date(2026, 6, 1), date(2026, 6, 1)),
)


def days(count: int, start: date = START) -> list[date]:
    return [start + one * DAY for one in range(count)]


def test_two_rows_of_a_table_are_not_taken_for_one() -> None:
    with pytest.raises(OutOfRange, match="has 2 rows early_gestation"):
        find_row("calcium_2007", stage="early_gestation")


# The breeding year -----------------------------------------------------------------------------


def test_young_weaned_on_the_day_of_birth_are_those_of_the_year_before() -> None:
    birth = date(2027, 3, 1)
    born, interval, after, before = Breeding.year(birth, birth, None, 283, 213)
    assert (interval, after, before) == (365.0, 213.0, born)
    assert Breeding.year(birth, birth + DAY, None, 283, 213)[2:] == (1.0, -math.inf)
    assert Breeding.year(birth, birth, None, 283, 213, first=True)[3] == -math.inf
    # Bred on the day of birth or before it she follows by a year.
    assert Breeding.year(birth, None, birth, 283, 213)[1] == 365.0
    assert Breeding.year(birth, None, birth + DAY, 283, 213)[1] == 284.0


def test_the_young_of_the_year_before_nurse_from_their_birth_to_their_weaning() -> None:
    birth = date(2027, 3, 1).toordinal()
    herd = Breeding(*(np.array([one]) for one in (birth, 365.0, 213.0, birth - 100.0)))
    at = np.array([-366.0, -365.0, -364.0, -101.0, -100.0, -1.0, 0.0, 212.0, 213.0, 364.0, 365.0])
    state = herd.cycle(birth + at, 283)
    assert state.nursing[0].tolist() == [False, True, True, True] + [False] * 2 + [
        *(True, True, False, False, True)
    ]
    assert state.births[0].tolist() == [0.0] * 6 + [1.0] * 4 + [2.0]
    assert state.days_since_birth[0, 6:].tolist() == [0.0, 212.0, 213.0, 364.0, 0.0]
    pregnant = herd.cycle(birth + np.array([-284.0, -283.0, -282.0, -1.0, 0.0]), 283).pregnant
    assert pregnant[0].tolist() == [False, False, True, True, False]


def test_a_table_goes_on_past_its_ends_along_its_last_lines() -> None:
    points, values = np.array([10.0, 20.0, 30.0]), {"need": np.array([1.0, 2.0, 5.0])}
    found = all_along(np.array([0.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0]), points, values)["need"]
    assert found.tolist() == [0.0, 1.0, 1.5, 2.0, 3.5, 5.0, 8.0]


def test_a_herd_is_the_mean_of_its_rows() -> None:
    rows = np.array([[1.0], [3.0], [8.0]])
    assert mean_by_group(rows, np.array([1, 1, 1])).tolist() == rows.tolist()
    assert mean_by_group(rows, np.array([1, 2])).tolist() == [[1.0], [5.5]]


# Weather ---------------------------------------------------------------------------------------


def test_rain_wets_from_five_millimetres_above_freezing_on_days_that_are_known() -> None:
    weather = DailyWeather(
        START,
        np.array([0.1, 0.0, 0.1, 0.1, np.nan]),
        np.zeros(5),
        np.array([5.0, 5.0, 4.9, 5.0, 5.0]),
        np.array([True, True, True, False, True]),
    )
    assert weather.wet.tolist() == [True, False, False, False, False]
    assert weather.places([START, START + 4 * DAY]).tolist() == [0, 4]
    for beyond in (START - DAY, START + 5 * DAY):
        with pytest.raises(OutOfRange):
            weather.places([beyond])


def winters(frost: list[float], known: int = 151, first: int = 2010) -> list[WeatherRow]:
    """As many winters as frosts are given, each of so many days of it."""
    return [
        WeatherRow(date(first + at, 11, 1) + one * DAY, False, -cold)
        for at, cold in enumerate(frost)
        for one in range(known)
    ]


@pytest.mark.parametrize(
    ("winter", "began"), [(Winter.MILD, 2010), (Winter.NORMAL, 2012), (Winter.SEVERE, 2014)]
)
def test_a_scenario_is_a_winter_in_the_order_of_frost(winter: Winter, began: int) -> None:
    """Of six winters the mildest, the third and the fifth: common practice."""
    rows = winters([1.0, 2.0, 3.0, 4.0, 5.0, 6.0])
    found = weather_of(rows, date(2026, 12, 1), date(2026, 12, 3), winter)
    assert found.temperature_c.tolist() == [-(began - 2009.0)] * 3
    assert f"that of {began}/" in found.assumptions[0].sentence


@pytest.mark.parametrize(
    ("years", "known", "chosen"), [(3, 136, True), (3, 135, False), (2, 151, False)]
)
def test_three_winters_known_for_nine_tenths_of_their_days_are_chosen_from(
    years: int, known: int, chosen: bool
) -> None:
    found = weather_of(winters([1.0, 2.0, 3.0][:years], known), START, START, Winter.NORMAL)
    assert ("among 3 winters" in found.assumptions[0].sentence) is chosen


def test_a_leap_day_is_that_of_february_in_another_year() -> None:
    rows = [WeatherRow(date(2011, 2, 28), False, -9.0), *winters([1.0, 2.0, 3.0], 118)]
    rows += [WeatherRow(date(2010 + at, 2, 27) + one * DAY, False, -20.0) for at in (1, 2, 3)
             for one in range(29)]  # fmt: skip
    leap = weather_of(rows, date(2028, 2, 29), date(2028, 2, 29), Winter.MILD)
    assert leap.temperature_c.tolist() == [-20.0]
    with pytest.raises(OutOfRange):
        weather_of(rows, START, START - DAY)
    month = weather_of([WeatherRow(date(2026, 11, 30), False, -5.0)], date(2026, 11, 1), START)
    assert previous_month_mean_c(month, [START]).tolist() == [-5.0]


# Cattle ----------------------------------------------------------------------------------------


def test_condition_that_may_be_lost_replaces_four_fifths_of_feed() -> None:
    cows = Group("C", "Cows", AnimalClass.COW, 9, 500.0, condition_score=5.0)
    start = float(START.toordinal())

    def asked(score: float, on: date = START + 90 * DAY) -> float:
        wants = replace(cows, target_condition_score=score, target_on=on)
        return condition_mcal_per_day(wants, settings_of(wants), start)

    assert asked(5.0) == 0.0
    assert asked(6.0) > 0.0 > asked(4.0)
    assert asked(6.0, START + DAY) == pytest.approx(90.0 * asked(6.0))
    assert condition_mcal_per_day(cows, settings_of(cows), start) == 0.0
    with pytest.raises(OutOfRange):
        asked(6.0, START)


@pytest.mark.parametrize(
    ("births", "to_birth", "told"),
    [(0, 365, True), (0, 366, False), (0, 152, False), (0, 153, True), (1, 300, False)],
)
def test_a_calf_of_the_year_before_is_told_of_while_it_may_nurse(
    births: int, to_birth: float, told: bool
) -> None:
    """Calves are weaned at 213 days where no day is written."""
    assert beef_words.YEAR_DAYS - beef_words.WEANING_DAYS == 152
    cycle: Any = SimpleNamespace(births=np.array([births]), days_to_birth=np.array([to_birth]))
    cows = Group("C", "Cows", AnimalClass.COW, 9, 500.0)
    assert beef_words._calf_before_unknown(cows, cycle) is told
    for other in (
        replace(cows, weaning_on=START),
        replace(cows, animal_class=AnimalClass.BRED_HEIFER),
    ):
        assert not beef_words._calf_before_unknown(other, cycle)


def test_a_cow_is_bred_after_she_calved_and_not_on_that_day() -> None:
    cows = Group("C", "Cows", AnimalClass.COW, 9, 500.0, calving_on=START)
    for bred, after in ((None, False), (START, False), (START + DAY, True)):
        assert beef_words._bred_after_calving(replace(cows, breeding_on=bred)) is after


def test_the_equations_of_cold_hold_from_fifty_kilograms() -> None:
    assert surface_area_m2(50.0) > 0.0
    with pytest.raises(OutOfRange):
        surface_area_m2(49.9)


# Fill and feeders ------------------------------------------------------------------------------


def test_ewes_that_raise_more_than_one_eat_as_with_twins() -> None:
    for young, rule in ((1.0, "ewe_nursing"), (1.1, "ewe_nursing_twins")):
        assert fill_rule(AnimalClass.EWE, nursing=True, young=young) == rule
    assert fill_rule(AnimalClass.EWE, late=True, young=2.0) != fill_rule(AnimalClass.EWE)


def test_every_animal_finds_a_place_and_a_ring_has_a_size() -> None:
    assert [places_needed(head, 1.0, 1.0) for head in (1, 3, 4)] == [1, 1, 2]
    assert places_needed(1, 0.05, 0.05) == 1
    for head, metres, ring in ((0, 1.0, 1.0), (1, 0.0, 1.0), (1, 1.0, 0.0)):
        with pytest.raises(OutOfRange):
            places_needed(head, metres, ring)


def test_protein_of_a_forage_at_seven_to_one_is_enough_and_supplement_counts_from_nothing() -> None:
    """Moore et al. 1999: TDN over protein."""
    good, poor = (
        forage_put_aside_kg(2.0, 544.0, "protein", forage_tdn_pct=50.0, forage_tdn_to_cp=ratio)
        for ratio in (7.0, 7.1)
    )
    assert good > poor
    assert forage_put_aside_kg(0.0, 544.0, "starch", forage_tdn_pct=55.0) == 0.0
    assert forage_put_aside_kg(0.05, 544.0, "starch", forage_tdn_pct=0.0) > 0.0
    assert forage_put_aside_kg(0.05, 0.05, "starch", forage_tdn_pct=100.0) > 0.0
    for amount, tdn in ((-0.1, 50.0), (1.0, -0.1), (1.0, 100.1)):
        with pytest.raises(OutOfRange):
            forage_put_aside_kg(amount, 544.0, "starch", forage_tdn_pct=tdn)
    assert forage_beside_kg(1.0, 2.0, 0.5) == forage_beside_kg(1.0, 3.0, 0.5) == 0.0


# Sheep and goats -------------------------------------------------------------------------------


def test_a_table_of_sheep_is_carried_on_past_its_rows_and_says_so() -> None:
    inside = [sheep_1985("ewe_maintenance", weight) for weight in (50.0, 90.0)]
    assert [one.flags for one in inside] == [(), ()]
    beyond = [sheep_1985("ewe_maintenance", weight) for weight in (49.9, 90.1)]
    assert all("50 to 90 kg" in one.flags[0] for one in beyond)
    assert {one.evidence for one in beyond} == {"common practice"}
    reach = [at for at in range(1, 60) if _taken(90.0 + at)][-1]
    assert _taken(50.0 - reach)
    assert not _taken(50.0 - reach - 0.1)


def _taken(weight_kg: float) -> bool:
    try:
        sheep_1985("ewe_maintenance", weight_kg)
    except OutOfRange:
        return False
    return True


@pytest.mark.parametrize(
    ("young", "ewe_lambs", "rows"),
    [
        (1.64, False, "ewe_late_gest_130_150"),
        (1.65, False, "ewe_late_gest_180_225"),
        (1.24, True, "ewelamb_late_gest_100_120"),
        (1.25, True, "ewelamb_late_gest_130_175"),
    ],
)
def test_late_pregnancy_goes_by_what_was_scanned(young: float, ewe_lambs: bool, rows: str) -> None:
    """Half way between the printed rows: common practice."""
    assert late_pregnancy_class(young, ewe_lambs=ewe_lambs) == rows


def test_goats_are_told_where_rows_are_carried_on() -> None:
    def flags(weight: float, gain: float = 0.0, fat: float = 4.0) -> int:
        return len(goat_1981(weight, gain_g=gain, milk_kg=1.0, fat_pct=fat).flags)

    assert [flags(one) for one in (9.9, 10.0, 100.0, 100.1)] == [1, 0, 0, 1]
    assert [flags(50.0, one) for one in (150.0, 150.1)] == [0, 1]
    assert [flags(50.0, fat=one) for one in (2.4, 2.5, 6.0, 6.1)] == [1, 0, 0, 1]
    young = [goat_1981(30.0, gain_g=one).p_g for one in (0.0, 50.0, 100.0, 150.0, 300.0)]
    more = [float(one - young[0]) for one in young]
    # NRC 1981: 0.7 g of phosphorus at 50 and 100 g a day, 1.4 at 150, and on in proportion.
    assert more == pytest.approx([0.0, 0.7, 0.7, 1.4, 2.8])


def test_a_goat_that_loses_weight_needs_less_than_one_that_holds_it() -> None:
    losing, holding, growing = (
        me_goat_kj("mature", 60.0, gain_g=one) for one in (-50.0, 0.0, 50.0)
    )
    assert losing < holding < growing
    for weight, milk in ((0.0, 1.0), (60.0, -0.1)):
        with pytest.raises(OutOfRange):
            me_goat_kj("mature", weight, milk_kg=milk, fat_pct=4.0)
    assert me_goat_kj("mature", 0.05, milk_kg=0.0, fat_pct=4.0) > 0.0


@pytest.mark.parametrize(
    ("months", "stage"), [(11.9, "growing"), (12.0, "holding"), (None, "holding")]
)
def test_a_ram_is_a_lamb_to_its_twelfth_month(months: float | None, stage: str) -> None:
    ram = Group("R", "Rams", AnimalClass.RAM, 2, 70.0, age_months=months, mature_weight_kg=100.0)
    assert stage in group_needs(ram, days(2)).stage[0]


@pytest.mark.parametrize(("left", "capped"), [(22, False), (21, True), (1, True), (0, False)])
def test_potassium_is_held_down_in_the_three_weeks_before_a_dairy_cow_calves(
    left: int, capped: bool
) -> None:
    cows = Group("D", "Dry", AnimalClass.DRY_DAIRY_COW, 4, 650.0, calving_on=START + left * DAY)
    assert ("k_pct" in group_needs(cows, days(1)).most) is capped


# Feeds that are kept from some -----------------------------------------------------------------


@pytest.mark.parametrize("free", ["Endophyte-free", "endophyte free", "Novel endophyte"])
def test_fescue_that_is_said_to_be_free_is_not_risky(free: str) -> None:
    assert says_fescue("Tall Fescue")
    assert not says_fescue(f"{free} tall fescue")
    assert not says_fescue("orchardgrass")


def farm(*groups: Group, lot: Lot = LOT, printed: Analyte | None = None) -> Farm:
    reports = () if printed is None else (Report("R", "A", (printed,), date(2026, 9, 1)),)
    season = Season(START, START + 60 * DAY)
    return Farm("Farm", season, groups=groups, lots=(lot,), reports=reports)


@pytest.mark.parametrize(("value", "risky"), [(0.0, False), (0.05, True), (None, True)])
def test_only_a_test_that_found_no_ergovaline_clears_fescue(
    value: float | None, risky: bool
) -> None:
    fescue = replace(LOT, species="tall fescue")
    printed = Analyte("ergovaline", value, "ppm", Basis.DRY_MATTER)
    assert is_risky_fescue(fescue, farm(lot=fescue, printed=printed)) is risky
    assert is_risky_fescue(fescue, farm(lot=fescue))


def test_a_mare_without_any_day_is_kept_from_fescue_by_her_owner() -> None:
    fescue = replace(LOT, species="tall fescue")
    mare = Group("M", "Mares", AnimalClass.MARE, 2, 550.0)

    def told(one: Group) -> bool:
        return any("calving_on" in said.sentence for said in cautions(farm(one, lot=fescue)))

    assert told(mare)
    assert not told(replace(mare, calving_on=START + 90 * DAY))
    assert not told(replace(mare, breeding_on=START - 90 * DAY))


@pytest.mark.parametrize(("ppm", "told"), [(15.0, False), (15.1, True)])
def test_hay_above_the_safe_copper_is_a_danger_to_sheep(ppm: float, told: bool) -> None:
    ewes = Group("E", "Ewes", AnimalClass.EWE, 20, 70.0)
    said = cautions(farm(ewes, printed=Analyte("cu", ppm, "ppm", Basis.DRY_MATTER)))
    assert any("holds" in one.sentence and "copper" in one.sentence for one in said) is told


def test_asked_days_keep_their_order() -> None:
    cows = Group("C", "Cows", AnimalClass.COW, 9, 500.0)
    assert Asked.of(cows, days(3)).days.tolist() == [one.toordinal() for one in days(3)]


def test_pregnancy_needs_nothing_up_to_the_day_of_breeding() -> None:
    for need in (nem_pregnancy_mcal, mp_pregnancy_g, conceptus_kg):
        assert need(0.0) == need(-9.0) == 0.0
        assert need(0.05) > 0.0


def test_protein_is_kept_with_the_same_efficiency_from_three_hundred_kilograms() -> None:
    """NRC 2000: 0.834 less 0.00114 for each kilogram, 0.492 above 300."""
    found = [mp_efficiency(one) for one in (200.0, 299.0, 300.0, 301.0, 600.0)]
    assert found == pytest.approx([0.606, 0.49314, 0.492, 0.492, 0.492])


def test_periods_cover_the_days_of_a_series_and_it_shows_its_ends() -> None:
    cows = Group("C", "Cows", AnimalClass.COW, 9, 500.0, calving_on=START + 2 * DAY)
    series = group_needs(cows, days(3))
    assert dict(series._facts())["from"] == series.stage[0] != series.stage[-1]
    assert dict(series._facts())["to"] == series.stage[-1]
    assert len(period_means(series, [2, 1]).stage) == 2
    for lengths in ([3, 0], [2], [2, 2]):
        with pytest.raises(OutOfRange):
            period_means(series, lengths)


@pytest.mark.parametrize(
    ("kind", "score", "warned"),
    [
        (AnimalClass.COW, LEAST_SCORE, False),
        (AnimalClass.COW, LEAST_SCORE - 0.1, True),
        (AnimalClass.COW, None, False),
        (AnimalClass.BRED_HEIFER, 6.0, True),
    ],
)
def test_hours_at_the_hay_are_for_grown_cows_in_condition(
    kind: AnimalClass, score: float | None, warned: bool
) -> None:
    herd = Group("C", "Herd", kind, 9, 500.0, condition_score=score, hours_at_hay=6.0)
    assert any("Thin cows" in one.sentence for one in _of_group(herd, us=True)) is warned


@each_row(
    ("kind", "units", "place"),
    [
        (AnimalClass.COW, "us", "24 to 30 inches of room a head, 18 feet or more for all."),
        (AnimalClass.COW, "metric", "61 to 76 centimeters of room a head, 6 meters or more"),
        (AnimalClass.EWE, "us", "16 to 20 inches of room a head, 12 feet or more for all."),
        (AnimalClass.LLAMA, "us", "at once: 24 inches of room a head, 18 feet or more for all."),
        (AnimalClass.MARE, "us", "one more place than there are animals"),
    ],
)
def test_whoever_is_said_to_get_less_hay_is_told_how(
    kind: AnimalClass, units: str, place: str
) -> None:
    herd = Group("C", "Herd", kind, 9, 500.0, offered=Offered.LIMITED)
    season = Season(START, START + 28 * DAY)
    farm = Farm("F", season, (), (), (herd, replace(herd, offered=None)), units=units)
    (told,) = hours_cautions(farm)
    assert (told.level, told.about) == ("note", "C")
    assert place in told.sentence
    assert "eat last and get least" in told.sentence


def test_a_doe_with_twins_milks_more_and_with_three_no_more() -> None:
    def peak(young: float) -> float:
        does = Group("D", "Does", AnimalClass.DOE, 9, 60.0, young=young, calving_on=START - DAY)
        return float(group_needs(does, days(1)).milk_kg[0])

    one, half, two, three = (peak(young) for young in (1.0, 1.5, 2.0, 3.0))
    assert one < half < two == three
    assert half == pytest.approx((one + two) / 2.0)


def test_horses_are_told_of_cold_when_there_is_any() -> None:
    herd = Group("H", "Horses", AnimalClass.HORSE, 2, 500.0)
    for celsius, told in ((10.0, False), (-15.0, False), (-15.01, True)):
        weather = weather_of([WeatherRow(START, False, celsius)], START - 31 * DAY, START)
        found = group_needs(herd, days(1), weather=weather, cold_rule=ColdRule.FACTORIAL)
        assert any("feel cold" in one.sentence for one in found.assumptions) is told


def test_an_outcome_names_who_printed_it() -> None:
    for table in ("sprott_pregnant_150d",):
        low, high, source = outcome_table(table)
        assert (low, high) == (4.0, 6.0)
        assert "Sprott" in source
        assert ";" not in source


def test_gain_wants_energy_for_gain_and_none_wants_none() -> None:
    """NRC 2000: the net energies of the diet."""
    assert feed_for_need_kg(4.0, 0.0, 2.0, 0.0) == 2.0
    assert feed_for_need_kg(4.0, 0.05, 2.0, 0.05) == 3.0
    for lacking in (0.0, -0.1):
        with pytest.raises(NeedUnreachable):
            feed_for_need_kg(4.0, 0.05, 2.0, lacking)
    assert feed_for_need_kg(4.0, [0.0, 1.0], 2.0, [0.0, 1.0]).tolist() == [2.0, 3.0]  # type: ignore


@pytest.mark.parametrize("lacking", ["age_months", "mature_weight_kg"])
def test_young_horses_need_an_age_and_a_mature_weight(lacking: str) -> None:
    foal = Group(
        "H", "Foals", AnimalClass.YOUNG_HORSE, 2, 200.0, age_months=8.0, mature_weight_kg=500.0
    )
    assert "8 months" in group_needs(foal, days(1)).stage[0]
    with pytest.raises(OutOfRange, match="an age and a mature weight"):
        _young(Asked.of(replace(foal, **{lacking: None}), days(1)))  # type: ignore[arg-type]


def test_a_herd_of_which_half_nurse_is_in_milk() -> None:
    cows = Group(
        *("C", "Cows", AnimalClass.COW, 9, 500.0), calving_on=START + 5 * DAY, calving_spread_days=3
    )
    series = group_needs(cows, days(12))
    nursing, in_milk = np.asarray(series.nursing_share), series.lactating
    assert 0.5 in nursing
    assert in_milk.tolist() == (nursing >= 0.5).tolist()
    assert series.pregnant.tolist() == (np.asarray(series.pregnant_share) > 0.0).tolist()


@pytest.mark.parametrize(("months", "in_calf"), [(14.9, False), (15.0, True)])
def test_dairy_heifers_count_as_in_calf_from_fifteen_months(months: float, in_calf: bool) -> None:
    """Common practice, where no day is written."""
    heifers = Group("D", "Heifers", AnimalClass.DAIRY_HEIFER, 4, 350.0, age_months=months)
    assert ("in calf" in group_needs(heifers, days(1)).stage[0]) is in_calf


def test_a_target_weight_is_reached_after_the_day_of_weighing() -> None:
    lambs = Group("L", "Lambs", AnimalClass.EWE_LAMB, 4, 40.0, target_weight_kg=40.2)
    assert Asked.of(
        replace(lambs, target_on=START + DAY), days(1)
    ).wanted_gain_kg() == pytest.approx(0.2)
    with pytest.raises(OutOfRange, match="before the weighing"):
        Asked.of(replace(lambs, target_on=START), days(1)).wanted_gain_kg()
    for gain, taken in ((0.0, True), (-0.1, False)):
        asked = Asked.of(replace(lambs, gain_kg_per_day=gain), days(1))
        if taken:
            assert asked.wanted_gain_kg() == 0.0
        else:
            with pytest.raises(OutOfRange, match="zero or more"):
                asked.wanted_gain_kg()


def test_hours_at_the_hay_are_counted_of_cattle_alone() -> None:
    cows = Group("C", "Cows", AnimalClass.COW, 9, 500.0, hours_at_hay=6.0)
    mares = Group("M", "Mares", AnimalClass.MARE, 9, 500.0, hours_at_hay=6.0)
    assert access_frac(cows) < access_frac(mares) == 1.0
    assert access_frac(replace(cows, hours_at_hay=None)) == 1.0


def test_tough_forage_fills_an_animal_sooner_above_seventy_percent_of_fiber() -> None:
    cap = ndf_cap_pct_bw("ewe_nursing")
    found = [float(fiber_fills_kg("ewe_nursing", 70.0, ndf)) for ndf in (70.0, 70.1)]
    assert found == pytest.approx([cap, (cap - 0.1) * 70.0 / 70.1])


def test_ewes_of_which_nothing_is_said_raise_three_lambs_in_two_years() -> None:
    """Common practice: 1.5 lambs a ewe."""
    ewes = Group("E", "Ewes", AnimalClass.EWE, 20, 70.0, calving_on=START + 20 * DAY)
    for start in (START, START + 30 * DAY):
        asked = days(2, start)
        usual, said = (
            group_needs(one, asked, weighed_on=START) for one in (ewes, replace(ewes, young=1.5))
        )
        assert usual.tdn_kg is not None
        assert said.tdn_kg is not None
        assert usual.tdn_kg.tolist() == said.tdn_kg.tolist()


def test_triplets_take_a_tenth_more_feed_and_a_twelfth_more_protein_than_twins() -> None:
    """Common practice: the need of twins with 10 % more feed and 8 % more protein."""
    twins = sheep_1985("ewe_lact_twin", 70.0)
    three = with_triplets(twins)
    assert [three.dm_kg, three.tdn_kg, three.me_mcal] == pytest.approx(
        [1.1 * twins.dm_kg, 1.1 * twins.tdn_kg, 1.1 * twins.me_mcal]
    )
    assert three.cp_g == pytest.approx(1.08 * twins.cp_g)
    assert twins.de_mcal is not None
    assert three.de_mcal == pytest.approx(1.1 * twins.de_mcal)
    assert "twins" in three.flags[-1]


def test_a_day_of_summer_is_none_of_winter_and_one_without_a_temperature_none_at_all() -> None:
    summer = [WeatherRow(date(2011, 7, 1) + one * DAY, False, 30.0) for one in range(60)]
    unknown = [WeatherRow(date(2013, 11, 1) + one * DAY, False, None) for one in range(151)]
    rows = [*winters([1.0, 2.0, 3.0]), *summer, *unknown]
    found = weather_of(rows, START, START, Winter.NORMAL)
    assert "that of 2011/" in found.assumptions[0].sentence
    assert "among 3 winters" in found.assumptions[0].sentence


def test_ewes_with_more_than_one_eat_less_at_the_end_than_with_one() -> None:
    one, more, two = (late_factor("ewe_late", 0.0, young=young) for young in (1.0, 1.05, 2.0))
    assert more == two < one < 1.0


@pytest.mark.parametrize(
    ("name", "least", "most"),
    [("lamb_finishing", 20.0, 60.0), ("lamb_early_weaned_rapid", 0.0, 70.0)],
)
def test_rows_of_lambs_reach_ten_kilograms_beyond_what_is_printed(
    name: str, least: float, most: float
) -> None:
    """Printed from 30 to 50 kg and from 10 to 60 kg (NRC 1985, table 1)."""
    inside = _in_reach(name, np.array([least, most, least - 0.01, most + 0.01]))
    assert inside.tolist() == [True, True, False, False]
