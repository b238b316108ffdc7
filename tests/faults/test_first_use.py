"""What newcomers stumbled over: advice that could not be followed, and dangers not told."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from rickyard.display import Display
from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    Caution,
    Farm,
    FedRow,
    Feed,
    FeedKind,
    Forage,
    Group,
    Report,
)
from rickyard.folder import read_folder
from rickyard.forage.hazards.every_hazard import horse_hazards
from rickyard.program.days.step_up import Pace, raised_slowly
from rickyard.program.inputs.fed_before import daily_before_kg
from rickyard.program.planning import plan_season
from rickyard.program.problem.mid_season import farm_from
from rickyard.program.result import NEEDS_OF_HAY, PlanOptions
from rickyard.sheets.wording import answer_of, said_once
from support.delivery_farms import START, cows, farm_of, lot
from support.farm_folders import good_folder
from support.rules_bound import all_cautions


@pytest.fixture
def farm(tmp_path: Path) -> Farm:
    return read_folder(good_folder(tmp_path / "farm"), ["corn_grain_dry_rolled"]).farm


@pytest.mark.parametrize(("table_id", "warned"), [("", True), ("corn_grain_dry_rolled", False)])
def test_04_pellets_that_go_as_grain_may_hold_an_ionophore(
    table_id: str, warned: bool, farm: Farm
) -> None:
    horse = replace(farm.groups[0], animal_class=AnimalClass.HORSE, weight_kg=500.0)
    pellets = replace(farm.feeds[1], feed_id="p", name="Sweet pellets", table_id=table_id)
    told = [
        one.sentence
        for one in all_cautions(replace(farm, groups=(horse,), feeds=(pellets,)))
        if one.level == "danger" and "ionophore" in one.sentence
    ]
    assert bool(told) is warned
    assert all("Sweet pellets" in one for one in told)


def test_06_what_from_date_advises_can_be_written(farm: Farm) -> None:
    day = date(2026, 1, 10)
    (told,) = [
        one.sentence for one in farm_from(farm, day).assumptions if "weighed_on" in one.sentence
    ]
    assert "write 2026-01-10 as start and as weighed_on in a copy of the folder" in told


def test_15_nobody_is_told_to_ask_a_seller_about_his_own_hay(farm: Farm) -> None:
    alfalfa = replace(farm.lots[2], baled_on=date(2025, 7, 20))
    told = [one.ask for one in horse_hazards(alfalfa, {})]
    assert told
    assert not any("seller" in one for one in told)


def test_08_grain_that_has_been_fed_daily_does_not_begin_from_nothing(farm: Farm) -> None:
    stockers = next(one for one in farm.groups if one.group_id == "STOCK")
    start = farm.season.start
    fed = tuple(
        FedRow(start - timedelta(days=day), "corn", "STOCK", mass_kg=1.6 * stockers.head)
        for day in range(1, 8)
    )
    assert daily_before_kg(replace(farm, fed=fed), stockers, "corn") == pytest.approx(1.6)
    assert daily_before_kg(replace(farm, fed=fed), stockers, "cubes") == 0.0
    week, weight = np.repeat([0, 1, 2], 7), np.full(21, 250.0)
    given = raised_slowly(np.full(21, 1.6), weight, week, Pace(10, 0.454), 1.6)
    assert given.tolist() == pytest.approx([1.6] * 21)
    more = raised_slowly(np.array([2.0, 2.6, 2.6])[week], weight, week, Pace(10, 0.454), 1.6)
    assert 1.6 < more[0] < 1.8
    assert more[-1] == pytest.approx(2.6)


def test_stock_with_no_safe_hay_are_told_why_and_what_would_help() -> None:
    cow = cows(calving_on=START + timedelta(days=60))
    risky = lot("S", forage=Forage.SUMMER_ANNUAL, species="sudangrass")
    farm = farm_of((risky,), (cow,), weeks=3)
    program = plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))
    first = next(one for one in program.shortages if one.nutrient in NEEDS_OF_HAY)
    assert first.sentence.endswith(
        " Hay S: kept from them until a test says that it is safe; have it tested, or buy tested "
        "hay."
    )
    answer = answer_of(program, farm, Display("us"))
    assert (
        "are left, but those who are short may not have it: see What is short." in answer.sentence
    )
    assert "of what is left carry a danger: read it before any is fed or sold." in answer.detail
    deadly = Report("R", "S", (Analyte("nitrate_no3n", 4200.0, "ppm", Basis.DRY_MATTER),))
    program = plan_season(
        replace(farm, reports=(deadly,)), options=PlanOptions(effort=0.0, weekly=True)
    )
    first = next(one for one in program.shortages if one.nutrient in NEEDS_OF_HAY)
    assert first.sentence.endswith(" Hay S: kept from them, it can harm them; buy tested hay.")


def test_hay_for_sale_that_may_be_fed_to_nobody_says_where_the_reason_stands() -> None:
    cow = cows(calving_on=START + timedelta(days=60))
    bought = Feed("B", "Sudan hay bought", FeedKind.FORAGE, 0.05, dm_pct=88.0, tdn_pct=52.0)
    farm = farm_of((lot(),), (cow,), (replace(bought, cp_pct=7.0),), weeks=3)
    program = plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))
    (worth,) = program.feed_worth
    assert worth.sentence == (
        "Sudan hay bought: not allowed for any group here: its caution or its dates say why."
    )
    assert any(
        one.about == "B" and one.level == "danger" and "Test its nitrate first" in one.sentence
        for one in program.cautions
    )


def test_what_is_said_of_several_horses_is_said_once_with_their_names() -> None:
    horses = [Group(one, f"{one} horses", AnimalClass.HORSE, 4, 500.0) for one in ("Saddle", "Old")]
    farm = farm_of((lot(),), tuple(horses), weeks=1)
    found = [
        Caution(level, one.group_id, words.format(one.name), "")
        for level, words in (
            ("warning", "Give {} forage."),
            ("note", "Ask about {}."),
            ("danger", "It kills {}."),
        )
        for one in horses
    ]
    assert [one.sentence for one in said_once(found, farm)] == [
        "Give Saddle horses and Old horses forage.",
        "Ask about Saddle horses and Old horses.",
        "It kills Saddle horses.",
        "It kills Old horses.",
    ]
