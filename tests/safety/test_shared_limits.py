"""What one rule leaves of a lot or feed it leaves of all such lots and feeds together."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from rickyard.animals import CLASSES
from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group
from rickyard.program.audit import recheck
from rickyard.program.inputs import needs_of, sources_of
from rickyard.program.planning import plan_season
from rickyard.program.problem.step_schedule import shared_limits
from rickyard.program.result import PlanOptions
from rickyard.safety import bindings, rule_cautions, rules
from rickyard.safety.rule import Rule
from rickyard.sheets.data_files.plan_json import plan_json
from support.daily_audit import DailyAudit
from support.rechecked import not_looked_at
from support.rows import each_row
from support.season_farms import farm_of, hay, report_on
from support.shown_findings import farm_showing
from tests.safety.test_every_rule import bound_classes

LIMITS = [one for one in rules() if one.demand in ("share", "pct_bw")]


def twice(farm: Farm) -> Farm:
    """Return the farm with what its rule is about in the yard once more, as Y."""
    lots = [replace(one, lot_id="Y", name="Hay Y") for one in farm.lots if one.lot_id == "X"]
    feeds = [replace(one, feed_id="Y", name=f"{one.name} too") for one in farm.feeds]
    reports = [replace(one, report_id="RY", lot_id="Y") for one in farm.reports_of("X")]
    return replace(
        farm,
        lots=(*farm.lots, *lots),
        feeds=(*farm.feeds, *feeds),
        reports=(*farm.reports, *reports),
    )


@each_row("rule", LIMITS, ids=lambda one: one.rule_id)
def test_every_limit_of_a_source_is_one_of_all_such_sources(rule: Rule) -> None:
    assert rule.together
    for other in LIMITS:
        if (other.together, other.stock, other.stage) == (rule.together, rule.stock, rule.stage):
            assert (other.amount, other.demand) == (rule.amount, rule.demand)
    kinds = sorted(bound_classes(rule), key=lambda kind: CLASSES[kind].in_calf)
    farm = twice(farm_showing(rule, kinds[0]))
    needs = needs_of(farm)
    sources = sources_of(farm, needs)
    mine = [one for one in shared_limits(needs, sources) if one.rule_id == rule.rule_id]
    names = [{sources.values[i].source_id for i in np.flatnonzero(one.of)} for one in mine]
    assert names == [{"X", "Y"}]
    amount = (rule.amount or 0.0) / 100.0
    if rule.demand == "share":
        assert mine[0].most == pytest.approx(amount / (1.0 - amount))
        assert mine[0].free_kg is None
    else:
        assert mine[0].most == 0.0
        assert mine[0].free_kg == pytest.approx(amount * needs.full_weight_kg[0])
    (told,) = [one for one in rule_cautions(farm, bindings(farm)) if "count as one" in one.sentence
               and rule.rule_id in one.rules]  # fmt: skip
    assert f"no more than {rule.amount:g}% of " in told.sentence
    assert set(told.sources) == {"X", "Y"}


GRAINS = tuple(
    Feed(one, one.capitalize(), FeedKind.GRAIN, 0.02, dm_pct=88.0, tdn_pct=85.0, cp_pct=12.0,
         ca_pct=0.3, p_pct=0.3)
    for one in ("corn", "oats")
)  # fmt: skip


def alpacas() -> Farm:
    """Alpacas on dear poor hay, beside two cheap grains."""
    lot = hay("A", 50.0, 12.0, 60.0, 200.0)
    group = Group("a", "Alpacas", AnimalClass.ALPACA, 10, weight_kg=65.0)
    return farm_of([(lot, report_on(lot, 50.0, 12.0))], [group], list(GRAINS), weeks=4)


@pytest.mark.parametrize("weekly", [True, False])
def test_two_grains_are_no_more_of_the_diet_of_alpacas_than_one(weekly: bool) -> None:
    farm = alpacas()
    program = plan_season(farm, options=PlanOptions(effort=0.0, weekly=weekly))
    page = json.loads(plan_json(program))
    assert recheck(program, farm) == ()
    assert DailyAudit(page, farm).breaches() == []
    grain = [
        sum(one.eaten_kg_dm_per_head_day * (one.source_id in ("corn", "oats")) for one in mine)
        / sum(one.eaten_kg_dm_per_head_day for one in mine)
        for mine in (
            [one for one in program.feeding if one.period == number] for number in range(4)
        )
    ]
    assert 0.15 < max(grain) <= 0.2 + 1e-9


def test_a_program_of_two_grains_over_the_limit_of_one_is_refused() -> None:
    """Each was a fifth of the diet at most, and both together 28 % of it."""
    farm = alpacas()
    with not_looked_at():
        program = plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))
    rows = [one for one in program.feeding if one.period == 3]
    whole = sum(one.eaten_kg_dm_per_head_day for one in rows)
    hay_row = next(one for one in rows if one.source_id == "A")
    grain = [replace(hay_row, source_id=one, kind="feed", eaten_kg_dm_per_head_day=0.14 * whole)
             for one in ("corn", "oats")]  # fmt: skip
    rest = replace(hay_row, eaten_kg_dm_per_head_day=0.72 * whole)
    before = (one for one in program.feeding if one.period < 3)
    rich = replace(program, feeding=(*before, rest, *grain))
    assert any("grain together" in one.what for one in recheck(rich, farm))
    page = json.loads(plan_json(rich))
    assert any("grain is 28% of the diet" in one for one in DailyAudit(page, farm).breaches())
