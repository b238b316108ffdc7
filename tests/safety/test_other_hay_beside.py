"""Hay that wants other hay beside it has some where there is some, and else it is told."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Forage, Group
from rickyard.program.audit import recheck
from rickyard.program.audit.nitrate_days import most_parts
from rickyard.program.days.safe_days import SafeDays
from rickyard.program.feedout.diet_cautions import _fescue_alone
from rickyard.program.planning import plan_season
from rickyard.program.problem.problem import problem_of
from rickyard.program.result import PlanOptions
from rickyard.program.result.result import SeasonProgram
from rickyard.safety import amount_of, may_stand_in, rules
from rickyard.safety.rule import Rule, rule_of
from rickyard.sheets.data_files.plan_json import plan_json
from support.by_hand import one
from support.daily_audit import DailyAudit
from support.farms import START
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on
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


def straw_while_corn_climbs(grass_over: float) -> tuple[dict[str, list[float]], list[int]]:
    """Return ten days of cows with straw, grass and corn that is new, and the short weeks."""
    lots = tuple(hay(name, 50.0, 8.0, 50.0, 9.0) for name in ("straw", "grass"))
    farm = replace(farm_of([], [cows()], []), lots=lots)
    straw: Any = one(source_id="straw", rule=rule_of("straw-packs"), found=one(finding="straw"))
    step: Any = one(source_id="corn", rule=rule_of("grain-step"), found=one(finding="begin_grain"))
    day = np.ones(10)
    asked = {"straw": 450.0 * day, "grass": 150.0 * day, "corn": 200.0 * day}
    room = {"straw": 9000.0, "grass": grass_over}
    safe = SafeDays(farm, farm.groups[0], START, np.zeros(10, dtype=int), 500.0 * day,
                    [straw, step], room, False)  # fmt: skip
    dry = dict.fromkeys(asked, 1.0)
    given, _ = safe.amounts(asked, frozenset({"straw", "grass"}), dry)
    again = {name: {START + timedelta(days=at): float(kg) for at, kg in enumerate(each.tolist())}
             for name, each in given.items()}  # fmt: skip
    wanted = {name: dict.fromkeys(again["straw"], float(each[0])) for name, each in asked.items()}
    parts = most_parts(wanted, again, [straw, step], dry, (), ("straw", "grass"))
    for on, most in parts["straw"].items():
        whole = sum(each[on] for each in again.values())
        assert again["straw"][on] <= most * whole * (1.0 + 5e-3), on
    return {name: each.tolist() for name, each in given.items()}, safe.short


def test_straw_is_no_more_of_any_day_than_it_may_be() -> None:
    """It alone made up for corn that climbed once the grass beside it was gone."""
    given, short = straw_while_corn_climbs(grass_over=9000.0)
    assert given["straw"][0] == pytest.approx(3.0 * given["grass"][0])
    assert (sum(each[0] for each in given.values()), short) == (pytest.approx(800.0), [])
    given, short = straw_while_corn_climbs(grass_over=20.0)
    for straw, grass in zip(given["straw"], given["grass"], strict=True):
        assert straw <= 0.75 * (straw + grass) * 1.005
    assert min(given["straw"]) >= 449.0
    assert short == [0], "what it is then short of is told"


def test_what_needs_other_hay_beside_it_does_not_stand_in() -> None:
    straw = replace(hay("straw", 45.0, 5.0, 75.0, 9.0), forage=Forage.STRAW, species="wheat straw")
    farm = replace(farm_of([], [cows()], []), lots=(straw, hay("grass", 55.0, 9.0, 60.0, 9.0)))
    assert may_stand_in(farm.groups[0], farm) == ("grass",)


def test_nobody_goes_hungry_for_what_needs_other_hay_beside_it() -> None:
    """Rams had a quarter of a ration, as hay with nitrate began low and alfalfa was cut with it."""
    lots = tuple(hay(name, 50.0, 8.0, 50.0, 9.0) for name in ("alfalfa", "strong"))
    farm = replace(farm_of([], [cows()], []), lots=lots)
    rules: list[Any] = [
        one(source_id=name, rule=rule_of(rule), bars=False,
            found=one(finding=finding, assumed=False))
        for name, rule, finding in (
            ("alfalfa", "alfalfa-males", "alfalfa_hay"),
            ("strong", "nitrate-half", "nitrate_no3n"),
            ("strong", "nitrate-begin", "begin_nitrate"),
        )
    ]  # fmt: skip
    day = np.ones(9)
    asked = {"alfalfa": 50.0 * day, "strong": 50.0 * day}
    safe = SafeDays(farm, farm.groups[0], START, np.zeros(9, dtype=int), 80.0 * day, rules,
                    {"alfalfa": 0.0, "strong": 0.0}, False)  # fmt: skip
    given, _ = safe.amounts(asked, frozenset({"alfalfa"}), dict.fromkeys(asked, 1.0))
    assert min(given["alfalfa"]) >= 50.0 - 1e-6
    assert given["strong"][0] == pytest.approx(10.0)  # a sixth of the day beside fifty
    assert given["strong"][-1] == pytest.approx(50.0)
