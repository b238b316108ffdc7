"""A hay that thins the nitrate of another is not held back while it is new."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from rickyard.farm import AnimalClass, Farm, Forage, Group
from rickyard.program.planning import plan_season
from rickyard.program.result import ChangeOver, PlanOptions, SeasonProgram
from support.farms import START
from support.season_farms import farm_of, hay, report_on

TURN = START + timedelta(days=14)


def farm_with(no3n_ppm: float, kind: AnimalClass = AnimalClass.COW, kg: float = 550.0) -> Farm:
    """Cheap hay all along, and beside it one hay until a day and a better one from then on."""
    birth = START + timedelta(days=120)
    group = Group("g", "Group", kind, 20, kg, age_months=40.0, calving_on=birth)
    cheap = hay("cheap", 54.0, 9.0, 60.0, 5.0)
    old = hay("old", 54.0, 9.0, 60.0, 80.0, feed_by=TURN - timedelta(days=1))
    new = replace(hay("new", 62.0, 16.0, 60.0, 80.0, feed_from=TURN), forage=Forage.ALFALFA)
    lots = [(cheap, report_on(cheap, 54.0, 9.0, no3n_ppm)), (old, report_on(old, 54.0, 9.0)),
            (new, report_on(new, 62.0, 16.0))]  # fmt: skip
    return farm_of(lots, [group], [], weeks=5)


def planned(farm: Farm) -> tuple[SeasonProgram, list[ChangeOver]]:
    program = plan_season(farm, options=PlanOptions(seconds=0.0, effort=0.0, weekly=True))
    return program, [one for one in program.change_overs if one.to_source == "new"]


def test_a_new_hay_of_a_mix_is_fed_as_it_is_listed() -> None:
    """The list gave it in full and told to hold it back: more nitrate hay would take its place."""
    program, (change,) = planned(farm_with(900.0))
    rows = {one.source_id: one.offered_kg for one in program.feeding if one.period == 2}
    assert set(rows) == {"cheap", "new"}
    assert change.shares == pytest.approx([rows["new"] / sum(rows.values())] * change.days)
    assert "as it is listed" in change.sentence
    assert "hold" not in change.sentence
    assert change.in_program


def test_a_new_hay_beside_safe_hay_and_of_horses_is_mixed_in_by_degrees() -> None:
    for farm in (farm_with(100.0), farm_with(2500.0, AnimalClass.MARE, 500.0)):
        for change in planned(farm)[1]:
            assert "little more every day" in change.sentence
            assert change.shares[0] < change.shares[-1]


@pytest.mark.parametrize("kind", [AnimalClass.BULL, AnimalClass.HORSE])
def test_only_whom_the_list_begins_by_thirds_are_told_to_be(kind: AnimalClass) -> None:
    """Horses are held to half of such hay (judgement); their list begins with all of that."""
    bull = kind is AnimalClass.BULL
    farm = farm_with(2500.0, kind, 550.0)
    farm = replace(farm, groups=(replace(farm.groups[0], calving_on=None, age_months=60.0),))
    program, _ = planned(farm)
    first = [one.mass_kg for one in program.deliveries if one.source_id == "cheap"]
    assert first
    assert (first[0] < 0.5 * max(first)) is bull
    told = [one for one in program.cautions if "Begin with a third" in one.sentence]
    assert bool(told) is bull
    weighed = [one for one in program.cautions if "weighed out" in one.sentence]
    assert weighed
    assert set(told) <= set(weighed)
    assert bool(set(weighed) - set(told)) is not bull
