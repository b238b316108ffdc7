"""Hay that wants other hay beside it has some where there is some, and else it is told."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Forage, Group
from rickyard.program.audit import recheck
from rickyard.program.feedout.diet_cautions import _fescue_alone
from rickyard.program.planning import plan_season
from rickyard.program.problem.problem import problem_of
from rickyard.program.result import PlanOptions
from rickyard.program.result.result import SeasonProgram
from rickyard.safety import amount_of, rules
from rickyard.safety.rule import Rule
from rickyard.sheets.data_files.plan_json import plan_json
from support.daily_audit import DailyAudit
from support.rows import each_row
from support.season_farms import farm_of, hay, report_on
from support.shown_findings import farm_showing
from tests.safety.test_every_rule import bound_classes

MIXES = [one for one in rules() if one.demand == "mix"]
OTHER = Feed("other", "Bought grass hay", FeedKind.FORAGE, 0.25, dm_pct=88.0, tdn_pct=54.0,
             cp_pct=9.0, ndf_pct=62.0, ca_pct=0.4, p_pct=0.25)  # fmt: skip


def bermuda(*feeds: Feed) -> Farm:
    """Mares with cheap bermudagrass, and other hay at a price or none."""
    lot = replace(hay("B", 56.0, 11.0, 60.0, 60.0), forage=Forage.WARM_GRASS)
    lot = replace(lot, species="bermudagrass")
    mares = Group("m", "Mares", AnimalClass.MARE, 8, weight_kg=500.0)
    return farm_of([(lot, report_on(lot, 56.0, 11.0))], [mares], list(feeds), weeks=3)


def planned(farm: Farm) -> SeasonProgram:
    return plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))


def test_mares_on_bermudagrass_get_other_hay_beside_it() -> None:
    """They had nothing else for a winter, while the caution said to feed other hay beside it."""
    farm = bermuda(OTHER)
    program = planned(farm)
    page = json.loads(plan_json(program))
    assert recheck(program, farm) == ()
    assert DailyAudit(page, farm).breaches() == []
    assert not [one for one in program.shortages if one.nutrient == "other_hay"]
    parts: dict[int, dict[str, float]] = {}
    for row in program.feeding:
        parts.setdefault(row.period, {})[row.source_id] = row.eaten_kg_dm_per_head_day
    for here in parts.values():
        assert here["B"] == pytest.approx(here["other"], rel=0.05)


def test_where_there_is_no_other_hay_it_is_told() -> None:
    farm = bermuda()
    program = planned(farm)
    (told,) = [one for one in program.shortages if one.nutrient == "other_hay"]
    assert "Mares should get more hay of another kind" in told.sentence
    row = next(one for one in program.needs if one.nutrient == "other_hay")
    eaten = next(one.eaten_kg_dm_per_head_day for one in program.feeding if one.source_id == "B")
    part = 1.0 - amount_of("bermuda-packs") / 100.0
    assert (row.need, row.supplied) == pytest.approx((part * eaten, 0.0))
    assert recheck(program, farm) == ()
    page = json.loads(plan_json(program))
    assert DailyAudit(page, farm).breaches() == []
    # Untold, it is found by the second look and by the audit of the list.
    silent = replace(program, shortages=(), needs=tuple(
        one for one in program.needs if one.nutrient != "other_hay"))  # fmt: skip
    assert any("other hay" in one.what for one in recheck(silent, farm))
    page = json.loads(plan_json(silent))
    assert any("bermuda is 100% of forage" in one for one in DailyAudit(page, farm).breaches())


@each_row("rule", MIXES, ids=lambda one: one.rule_id)
def test_every_rule_of_a_mix_is_a_row_that_can_be_missed(rule: Rule) -> None:
    problem = problem_of(farm_showing(rule, bound_classes(rule)[0]))
    mine = [one for one in problem.besides if one.rule_id == rule.rule_id]
    assert [one.soft for one in mine] == [True]
    names = [value.source_id for value, of in zip(problem.sources.values, mine[0].of, strict=True)
             if of]  # fmt: skip
    assert names == ["X"]


def test_untested_fescue_with_little_beside_it_is_told_to_be_so() -> None:
    """Its caution said to mix it with other hay, and the program fed it alone without a word."""
    lot = replace(hay("F", 56.0, 11.0, 60.0, 60.0), species="tall fescue")
    ewes = Group("e", "Ewes", AnimalClass.EWE, 40, weight_kg=75.0)
    farm = farm_of([(lot, report_on(lot, 56.0, 11.0))], [ewes], [OTHER], weeks=3)
    program = planned(farm)
    (told,) = [one for one in program.cautions if "three quarters of the forage" in one.sentence]
    assert told.rules == ("fescue-unknown-others",)
    assert (told.start, told.groups, told.sources) == (farm.season.start, ("e",), ("F",))
    assert DailyAudit(json.loads(plan_json(program)), farm).breaches() == []
    page = json.loads(plan_json(replace(program, cautions=())))
    assert any("fescue is 100% of forage" in one for one in DailyAudit(page, farm).breaches())
    problem = problem_of(farm)
    eaten = np.zeros(problem.shape)
    for other, count in ((0.4, 0), (0.39, 1)):
        eaten[0] = np.array([[1.2], [other]])
        assert len(list(_fescue_alone(problem, eaten, display_for("us")))) == count
    eaten[0, :, 2] = 0.0
    (told,) = _fescue_alone(problem, eaten, display_for("us"))
    assert told.end == problem.needs.periods[2].start
