"""Forage falls by degrees: by no more than a quarter of the ration in one night."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest

from rickyard.farm import Farm, Feed, FeedKind
from rickyard.program.audit import recheck
from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions
from rickyard.program.result.result import SeasonProgram
from rickyard.sheets.data_files.plan_json import plan_json
from support.daily_audit import DailyAudit
from support.farms import START
from support.hazard_farms import hazard_farm
from support.season_farms import farm_of, steers

#: Cows of this farm would go from 17 lb of hay to 6 lb in one night, as corn is cheaper.
SEED = 47


def planned() -> tuple[Farm, SeasonProgram]:
    farm = hazard_farm(SEED, weeks=8)
    return farm, plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))


def forage_by_week(farm: Farm, program: SeasonProgram, group_id: str) -> list[tuple[float, float]]:
    """Return forage and the whole ration of each week. [kg DM per head and day]."""
    hays = {one.source_id for one in program.sources if one.is_forage}
    found = []
    for period in program.periods:
        mine = {
            row.source_id: row.eaten_kg_dm_per_head_day
            for row in program.feeding
            if (row.group_id, row.period) == (group_id, period.index)
        }
        found.append((sum(kg for one, kg in mine.items() if one in hays), sum(mine.values())))
    return found


def test_forage_falls_by_no_more_than_a_quarter_of_the_ration_in_one_night() -> None:
    farm, program = planned()
    for group in farm.groups:
        weeks = forage_by_week(farm, program, group.group_id)
        for (was, whole), (now, _) in pairwise(weeks):
            assert was - now <= 0.25 * whole + 1e-6
    assert [one for one in program.rules if one.rule_id == "forage-fall"]
    assert recheck(program, farm) == ()
    assert DailyAudit(json.loads(plan_json(program)), farm).breaches() == []


def halved(program: SeasonProgram, group_id: str) -> SeasonProgram:
    """Return a program and its list with three fifths of the hay of the fourth week gone."""
    hays = {one.source_id for one in program.sources if one.is_hay}
    start = program.periods[3].start
    rows = tuple(
        replace(row, eaten_kg_dm_per_head_day=0.4 * row.eaten_kg_dm_per_head_day,
                offered_kg=0.4 * row.offered_kg)
        if (row.group_id, row.period) == (group_id, 3) and row.source_id in hays else row
        for row in program.feeding
    )  # fmt: skip
    loads = tuple(
        replace(one, mass_kg=0.4 * one.mass_kg)
        if one.group_id == group_id and one.source_id in hays
        and start <= one.day < start + timedelta(days=7) else one
        for one in program.deliveries
    )  # fmt: skip
    return replace(program, feeding=rows, deliveries=loads)


def test_a_program_and_a_list_that_halve_the_forage_in_one_night_are_refused_unless_told() -> None:
    farm, program = planned()
    group = next(one for one in farm.groups if forage_by_week(farm, program, one.group_id)[2][0])
    short = halved(program, group.group_id)
    assert any("forage-fall" in one.what for one in recheck(short, farm))
    page = json.loads(plan_json(short))
    assert any("in one night" in one for one in DailyAudit(page, farm).breaches())
    # Told, it is known; told smaller than it is, or of other forage, it is found.
    (was, whole), (now, _) = forage_by_week(farm, short, group.group_id)[2:4]
    of_week = next(one for one in short.needs if (one.group_id, one.period) == (group.group_id, 3))
    least = was - 0.25 * 0.85 * whole
    row = replace(of_week, nutrient="forage_fall", need=least, supplied=now, shortage=least - now)
    for other, found in (
        (row, False),
        (replace(row, shortage=0.5 * row.shortage), True),
        (replace(row, supplied=now + 1.0), True),
    ):
        told = replace(short, needs=(*short.needs, other))
        assert any("forage-fall" in one.what for one in recheck(told, farm)) == found
    start = short.periods[3].start
    page["shortages"] = [{"group": group.group_id, "nutrient": "forage_fall",
                          "start": start.isoformat(),
                          "end": (start + timedelta(days=7)).isoformat()}]  # fmt: skip
    again = DailyAudit(page, farm).breaches()
    assert not any(f"{start} forage falls in one night" in one for one in again)


def grass_that_ends() -> Farm:
    """Steers on grass for a week, and then on no more hay than a little, whatever it costs."""
    known = {"dm_pct": 100.0, "tdn_pct": 62.0, "cp_pct": 14.0, "ca_pct": 0.5, "p_pct": 0.3}
    grass = Feed("grass", "Grass", FeedKind.GRAZING, 0.05, to_on=START + timedelta(days=7), **known)
    hay = Feed("hay", "Bought hay", FeedKind.FORAGE, 0.2, most_kg_per_head_day=2.5, **known)
    return farm_of([], [steers()], [grass, hay])


def test_forage_that_nothing_follows_falls_further_and_is_told() -> None:
    """It had no program at all while the rule could not be missed."""
    farm = grass_that_ends()
    program = plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))
    (was, whole), (now, _) = forage_by_week(farm, program, "steers")[:2]
    (row,) = [one for one in program.needs if one.nutrient == "forage_fall"]
    assert row.period == 1
    assert (row.need, row.supplied) == pytest.approx((was - 0.25 * 0.85 * whole, now))
    assert row.shortage == pytest.approx(row.need - now)
    (told,) = [one for one in program.shortages if one.nutrient == "forage_fall"]
    fall = (was - now) / whole
    assert fall > 0.5
    assert f"falls by up to {fall:.0%} of the ration in one night, on " in told.sentence
    assert "over 9 days" in told.sentence
    assert told.proven
    assert recheck(program, farm) == ()
    page = json.loads(plan_json(program))
    assert not [one for one in DailyAudit(page, farm).breaches() if "in one night" in one]
