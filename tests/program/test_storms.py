"""A cold spell that is forecast: which days, what to add, when to begin."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    Coat,
    Farm,
    FedRow,
    Group,
    Report,
    WeatherRow,
)
from rickyard.folder import read_folder
from rickyard.program.storms import cold_page
from support.farm_folders import GOOD, write_texts

FIRST = date(2026, 1, 9)
COWS = Group(
    "c", "Cows", AnimalClass.COW, 60, 560.0, calving_on=date(2026, 3, 1), activity_factor=1.0
)


def celsius(degrees_f: float) -> float:
    return (degrees_f - 32.0) / 1.8


def days(*told: tuple[int, float, float, float]) -> tuple[WeatherRow, ...]:
    return tuple(
        WeatherRow(date(2026, 1, day), False, celsius(f), wind, rain) for day, f, wind, rain in told
    )


@pytest.fixture
def farm(tmp_path) -> Farm:  # type: ignore[no-untyped-def]
    read = read_folder(write_texts(tmp_path / "farm", GOOD)).farm
    return replace(read, needs=(), groups=(COWS,), weather=days((11, 4.0, 0.0, 0.0)))


def test_a_cold_day_by_the_published_rule(farm: Farm) -> None:
    """28 degrees under 32 °F in a dry winter coat is 28 % of maintenance (Oklahoma State)."""
    (group,) = cold_page(farm, FIRST).groups
    (spell,) = group.spells
    (day,) = spell.days
    assert day.critical_c == pytest.approx(0.0)
    assert day.felt_c == pytest.approx(celsius(4.0))
    # Maintenance 0.077 Mcal a kg of shrunk weight to the power 0.75.
    maintenance = 0.077 * (0.96 * COWS.weight_kg) ** 0.75
    assert day.extra_mcal == pytest.approx(0.28 * maintenance, rel=0.02)
    assert sum(one.mcal for one in spell.feeding) == pytest.approx(day.extra_mcal)
    assert spell.owed_mcal == 0.0


def test_feeding_begins_the_day_before_where_the_storm_asks_too_much(farm: Farm) -> None:
    storm = days((11, -10.0, 10.0, 0.0), (12, -10.0, 10.0, 0.0), (13, 40.0, 0.0, 0.0))
    (group,) = cold_page(replace(farm, weather=storm), FIRST).groups
    (spell,) = group.spells
    assert spell.begin == date(2026, 1, 10)
    fed = [one.mcal for one in spell.feeding]
    assert max(fed) == pytest.approx(fed[0])
    total = sum(one.extra_mcal for one in spell.days)
    assert sum(fed) + spell.owed_mcal == pytest.approx(total, rel=0.01)
    (late,) = cold_page(replace(farm, weather=storm), date(2026, 1, 11)).groups
    assert late.spells[0].begin == date(2026, 1, 11)


def test_wet_coats_count_as_summer_coats_and_windbreaks_hold_the_wind(farm: Farm) -> None:
    rain = days((11, 38.0, 20.0, 20.0))
    (wet,) = cold_page(replace(farm, weather=rain), FIRST).groups
    assert wet.spells[0].days[0].wet
    assert wet.spells[0].days[0].critical_c == pytest.approx(15.0)
    behind = replace(COWS, windbreak=True)
    (calm,) = cold_page(replace(farm, groups=(behind,), weather=rain), FIRST).groups
    assert calm.spells[0].days[0].felt_c == pytest.approx(celsius(38.0))
    assert calm.spells[0].days[0].extra_mcal < wet.spells[0].days[0].extra_mcal
    heavy = replace(COWS, coat=Coat.HEAVY_WINTER)
    mild = replace(farm, groups=(heavy,), weather=days((11, 25.0, 0.0, 0.0)))
    assert cold_page(mild, FIRST).groups[0].spells == ()


def test_amounts_bring_the_energy_that_is_missing(farm: Farm) -> None:
    eaten = (FedRow(FIRST - timedelta(days=1), "corn", "c", mass_kg=60.0),)
    (group,) = cold_page(replace(farm, fed=eaten), FIRST).groups
    assert group.hay is not None
    assert group.grain is not None
    assert group.hay.source_id == "A1"
    for one in group.spells[0].feeding:
        assert one.hay_kg is not None
        assert one.hay_kg * group.hay.mcal_per_kg == pytest.approx(one.mcal)
        assert one.grain_kg is not None
        assert one.grain_kg < one.hay_kg


def test_cold_is_met_by_the_hay_they_eat_and_by_no_grain_that_is_new(farm: Farm) -> None:
    """A sudden feed of grain founders: what the log does not tell of is not begun in cold."""
    (group,) = cold_page(farm, FIRST).groups
    assert group.grain is None
    assert group.hay is not None
    assert group.hay.source_id == "A1", "the most of all"
    assert all(one.grain_kg is None for one in group.spells[0].feeding)

    def eating(*rows: tuple[int, str]) -> tuple[str | None, str | None]:
        log = tuple(FedRow(FIRST - timedelta(days=ago), what, "c", 3.0) for ago, what in rows)
        (cows,) = cold_page(replace(farm, fed=log), FIRST).groups
        return (cows.hay and cows.hay.source_id, cows.grain and cows.grain.source_id)

    assert eating((1, "B2"), (1, "corn")) == ("B2", "corn")
    assert eating((3, "B2"), (1, "A1"), (7, "corn")) == ("A1", "corn")
    assert eating((8, "B2"), (8, "corn"), (0, "corn")) == ("A1", None)
    nitrate = Analyte("nitrate_no3n", 900.0, "ppm", Basis.DRY_MATTER)
    strong = Report("R9", "B2", (nitrate,), sampled_on=FIRST)
    farm = replace(farm, reports=(*farm.reports, strong))
    assert eating((1, "B2")) == ("A1", None), "no more of what they may have only in part"


def test_no_days_ahead_is_not_no_cold(farm: Farm) -> None:
    page = cold_page(farm, date(2026, 1, 12))
    assert page.days == ()
    months = (WeatherRow(date(2026, 1, 1), True, -20.0),)
    assert cold_page(replace(farm, weather=months), FIRST).days == ()


def test_horses_get_hay_alone_and_sheep_are_not_counted(farm: Farm) -> None:
    horse = Group("h", "Geldings", AnimalClass.HORSE, 3, 500.0)
    ewes = Group("e", "Ewes", AnimalClass.EWE, 30, 70.0)
    bitter = replace(farm, groups=(horse, ewes), weather=days((11, -13.0, 0.0, 0.0)))
    geldings, sheep = cold_page(bitter, FIRST).groups
    assert (geldings.energy, geldings.grain) == ("DE", None)
    # 10 °C under -15 °C at 0.00082 Mcal a kg and degree.
    assert geldings.spells[0].days[0].extra_mcal == pytest.approx(0.00082 * 500.0 * 10.0)
    assert (sheep.counted, sheep.spells) == (False, ())


def test_groups_that_are_not_here_are_not_told_of(farm: Farm) -> None:
    later = replace(COWS, from_on=date(2026, 2, 1))
    assert cold_page(replace(farm, groups=(later,)), FIRST).groups[0].spells == ()


def test_what_heat_made_and_lost_asks_for_stands_beside_the_percent(farm: Farm) -> None:
    """The equations of energy are those by which the season counts cold where it is asked to."""
    (group,) = cold_page(farm, FIRST).groups
    (spell,) = group.spells
    assert spell.by_energy_mcal is not None
    assert spell.by_energy_mcal > 0.0
    # What a storm takes is counted whole, though no day can be fed all that is owed for it.
    storm = days((11, -30.0, 20.0, 0.0), (12, -30.0, 20.0, 0.0))
    ((both,),) = (one.spells for one in cold_page(replace(farm, weather=storm), FIRST).groups)
    apart = 0.0
    for one in storm:
        ((alone,),) = (g.spells for g in cold_page(replace(farm, weather=(one,)), FIRST).groups)
        assert alone.by_energy_mcal is not None
        apart += alone.by_energy_mcal
    assert both.by_energy_mcal == pytest.approx(apart, rel=1e-3)
    thin = replace(farm, groups=(replace(COWS, condition_score=3.0),))
    ((leaner,),) = (one.spells for one in cold_page(thin, FIRST).groups)
    assert leaner.by_energy_mcal is not None
    assert leaner.by_energy_mcal > spell.by_energy_mcal
    assert leaner.by_percent_mcal == pytest.approx(spell.by_percent_mcal, rel=0.01)


def test_sheep_and_horses_have_no_second_rule(farm: Farm) -> None:
    horse = Group("h", "Mares", AnimalClass.HORSE, 4, 500.0)
    cold = days((11, -10.0, 10.0, 0.0))
    (group,) = cold_page(replace(farm, groups=(horse,), weather=cold), FIRST).groups
    assert all(one.by_energy_mcal is None for one in group.spells)
