"""What rations of the demonstration farm must come to, read from a plan's JSON."""

from __future__ import annotations

import json
from collections import Counter, defaultdict
from typing import Any

import pytest

from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions
from rickyard.sheets.data_files.plan_json import plan_json
from support.shipped import shipped_farm
from support.weekly import WEEKLY

#: So many rations a group, and so much dearer than amounts that change every week.
MOST_RATIONS = 6
DEARER = 1.02

#: Nothing under this is fed of a feed, in percent of weight. Common practice, no published source.
LEAST_PCT_BW = 0.05

#: Amounts that differ by more than this between two weeks have changed, in few of the weeks.
CHANGED, FEW = 0.05, 0.05


@pytest.mark.more
def test_rations_of_the_demonstration_are_few_and_cost_little_more() -> None:
    farm = shipped_farm(7)
    plan = json.loads(plan_json(plan_season(farm, options=PlanOptions())))
    weekly = plan_season(farm, options=WEEKLY)
    assert (plan["status"], weekly.status) == ("complete", "complete")
    assert max(Counter(one["group"] for one in plan["rations"]).values()) <= MOST_RATIONS
    assert plan["cost"] <= DEARER * weekly.cost
    assert trifles(plan) == []
    changed, weeks = changes(plan)
    assert weeks > 80
    assert changed <= FEW * weeks


def trifles(plan: dict[str, Any]) -> list[tuple[str, str, float]]:
    """Return what is fed in less than anybody would carry out; mineral is taken at will."""
    weight = {(one["group"], one["period"]): one["full_weight_kg"] for one in plan["groups"]}
    grazed = {one["source"] for one in plan["sources"] if not one["is_hay"] and one["is_forage"]}
    mineral = {one["source"] for one in plan["sources"] if one["cp_pct"] == 0.0}
    return [
        (one["group"], one["source"], one["eaten_kg_dm_per_head_day"])
        for one in plan["feeding"]
        if one["source"] not in mineral | grazed
        and 100.0 * one["eaten_kg_dm_per_head_day"]
        < LEAST_PCT_BW * weight[one["group"], one["period"]] * 0.99
    ]


def changes(plan: dict[str, Any]) -> tuple[int, int]:
    """Return how many amounts of a week differ from those of the week before, of how many.

    The first week of a ration is one of change: what it raises, it raises by degrees.
    """
    begins = {(one["group"], one["start"]) for one in plan["rations"]}
    fed: dict[tuple[str, int], dict[str, float]] = defaultdict(dict)
    for one in plan["feeding"]:
        fed[one["group"], one["period"]][one["source"]] = one["eaten_kg_dm_per_head_day"]
    changed = weeks = 0
    for (group, period), now in fed.items():
        before = fed.get((group, period - 1))
        if before is None or (group, plan["periods"][period]["start"]) in begins:
            continue
        weeks += 1
        amounts = [(now.get(one, 0.0), before.get(one, 0.0)) for one in {*now, *before}]
        changed += any(abs(a - b) > CHANGED * max(a, b) for a, b in amounts)
    return changed, weeks
