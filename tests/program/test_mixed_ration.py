"""A mixed ration: hay and feeds in one load a day, weighed, limited, and never by the bale."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from rickyard.farm import AnimalClass, Farm, Feeder, Group, Package
from rickyard.hay.feeding import planned_loss
from rickyard.kinds import Offered
from rickyard.program.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.program.rations import offered_to
from rickyard.program.result import PlanOptions, SeasonProgram, Shortage
from rickyard.sheets.data_files.plan_json import plan_json
from rickyard.sheets.paper import week_list
from rickyard.sheets.wording import offer_line, offered_in, work_of_offering
from support.by_hand import one
from support.daily_audit import DailyAudit
from support.farms import random_farm
from support.rows import each_row

COWS = Group("C", "Cows", AnimalClass.COW, 40, 590.0)
LAST = "Timid, young, old and thin animals eat last: see who gets none, and feed them apart."
ROOM = "All must eat at once: 24 to 30 inches of room a head, 80 feet or more for all."


@pytest.fixture(scope="module")
def planned() -> tuple[Farm, SeasonProgram]:
    farm = random_farm(7, lots=3, groups=2, weeks=3)
    mixed = tuple(
        replace(one, feeder=Feeder.MIXED_RATION, offered=None, feed_every_days=None)
        for one in farm.groups
    )
    farm = replace(farm, groups=mixed)
    return farm, plan_season(farm, options=PlanOptions(effort=0.0))


def test_a_mixed_ration_is_weighed_out_every_day(planned: tuple[Farm, SeasonProgram]) -> None:
    _, program = planned
    forage = {one.source_id for one in program.sources if one.is_hay}
    hay = [one for one in program.deliveries if one.source_id in forage]
    assert hay
    assert {(one.bales, one.for_days) for one in hay} == {(None, 1)}
    assert {one.offered for one in program.rations} == {Offered.LIMITED}
    put_out = [one for ration in program.rations for one in ration.things]
    assert {one.bales_per_feeding for one in put_out if one.source_id in forage} == {None}


def test_both_checks_of_the_list_hold_for_a_mixed_ration(
    planned: tuple[Farm, SeasonProgram],
) -> None:
    farm, program = planned
    assert recheck(program, farm) == ()
    assert DailyAudit(json.loads(plan_json(program)), farm).breaches() == []


def test_the_list_of_a_week_says_how_to_mix_and_who_eats_last(
    planned: tuple[Farm, SeasonProgram],
) -> None:
    farm, program = planned
    for fed in week_list(program, farm, farm.season.start).groups:
        assert fed.says[0].startswith("Limited hay: in a mixed ration. Weigh the hay and the feeds")
        assert fed.says[0].endswith(LAST)
        # What is weighed alone is never a line of bales.
        assert not [line for line in fed.lines if line.unit.startswith("bales")]


OFFERS = [
    (replace(COWS, feeder=Feeder.BUNK), f"Limited hay: at a bunk. {ROOM} {LAST}", False),
    (
        replace(COWS, feeder=Feeder.UNROLLED_DAILY),
        f"Limited hay: unrolled daily. {ROOM} {LAST}",
        False,
    ),
    (
        replace(COWS, feeder=Feeder.OPEN_RING, hours_at_hay=6.0),
        f"Limited hay: 6 hours a day, at an open ring. {ROOM} {LAST}",
        True,
    ),
    (
        replace(COWS, feeder=Feeder.OPEN_RING, hours_at_hay=24.0),
        "As much hay as they like, at an open ring.",
        False,
    ),
    (
        replace(COWS, animal_class=AnimalClass.EWE, weight_kg=70.0),
        "Fed by hand, at a rack.",
        False,
    ),
]


@each_row(("group", "said", "care"), OFFERS)
def test_every_way_to_offer_hay_is_said_back(group: Group, said: str, care: bool) -> None:
    assert offer_line(group, us=True) == said
    farm = replace(random_farm(7, lots=2, groups=1, weeks=2), groups=(group,))
    assert work_of_offering(farm, "C") == ((said,) if care else ())


def test_a_mix_that_is_always_there_is_eaten_to_appetite() -> None:
    mixed = replace(COWS, feeder=Feeder.MIXED_RATION)
    assert offered_to(mixed) is Offered.LIMITED
    always = replace(mixed, offered=Offered.FREE_CHOICE)
    assert offer_line(always, us=True).startswith("As much hay as they like, in a mixed ration. W")
    ewes = replace(mixed, animal_class=AnimalClass.EWE, weight_kg=70.0)
    assert offered_to(ewes) is Offered.LIMITED


def test_a_mixed_ration_loses_what_was_found_from_a_processor_into_a_bunk() -> None:
    # Kansas State Univ., hdl 2097/6266: 8 % of wheat hay and 11 % of sudan hay.
    for package in (Package.ROUND, Package.SMALL_SQUARE):
        assert planned_loss(AnimalClass.COW, Feeder.MIXED_RATION, package).pct == pytest.approx(9.5)


def test_who_is_short_of_hay_is_not_told_to_have_all_it_likes() -> None:
    group = replace(COWS, feeder=Feeder.OPEN_RING)
    farm = replace(random_farm(7, lots=2, groups=1, weeks=2), groups=(group,))
    days = (farm.season.start, farm.season.end)
    hungry = Shortage("C", *days, "fill", "kg DM", 1.0, 9.0, "Short.")
    program: Any = one(rations=(1,), shortages=())
    assert offered_in(program, farm, "C") == "As much hay as they like, at an open ring."
    program = one(rations=(1,), shortages=(hungry,))
    assert offered_in(program, farm, "C").startswith("Less hay than they like, as there is too")
    # Amounts that change every week are what they need, and no word of appetite is said of them.
    program = one(rations=(), shortages=())
    assert offered_in(program, farm, "C") == ""
    bunk = replace(farm, groups=(replace(group, feeder=Feeder.BUNK),))
    assert offered_in(program, bunk, "C").startswith("Limited hay: at a bunk.")
