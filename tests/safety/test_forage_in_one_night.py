"""Forage falls by degrees: by no more than a quarter of the ration in one night."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

from rickyard.farm import Farm
from rickyard.program.audit import recheck
from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions
from rickyard.program.result.result import SeasonProgram
from rickyard.sheets.data_files.plan_json import plan_json
from support.daily_audit import DailyAudit
from support.hazard_farms import hazard_farm

#: Cows of this farm would go from 17 lb of hay to 6 lb in one night, as corn is cheaper.
SEED = 47


def planned() -> tuple[Farm, SeasonProgram]:
    farm = hazard_farm(SEED, weeks=8)
    return farm, plan_season(farm, options=PlanOptions(effort=0.0))


def forage_by_week(farm: Farm, program: SeasonProgram, group_id: str) -> list[tuple[float, float]]:
    """Return forage and the whole ration of each week. [kg DM per head and day]."""
    hays = {one.source_id for one in program.sources if one.is_hay}
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


def test_a_program_and_a_list_that_halve_the_forage_in_one_night_are_refused() -> None:
    farm, program = planned()
    hays = {one.source_id for one in program.sources if one.is_hay}
    group = next(one for one in farm.groups if forage_by_week(farm, program, one.group_id)[2][0])
    start = program.periods[3].start
    rows = tuple(
        replace(row, eaten_kg_dm_per_head_day=0.4 * row.eaten_kg_dm_per_head_day,
                offered_kg=0.4 * row.offered_kg)
        if (row.group_id, row.period) == (group.group_id, 3) and row.source_id in hays else row
        for row in program.feeding
    )  # fmt: skip
    loads = tuple(
        replace(one, mass_kg=0.4 * one.mass_kg)
        if one.group_id == group.group_id and one.source_id in hays
        and start <= one.day < start + timedelta(days=7) else one
        for one in program.deliveries
    )  # fmt: skip
    short = replace(program, feeding=rows, deliveries=loads)
    assert any("forage-fall" in one.what for one in recheck(short, farm))
    found = DailyAudit(json.loads(plan_json(short)), farm).breaches()
    assert any("in one night" in one for one in found)
