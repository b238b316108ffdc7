"""What may hold nitrate or prussic acid is tested before it is fed, or fed under a rule by name."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from rickyard.farm import AnimalClass, Farm
from rickyard.hay.sampling import farm_sample_plans
from rickyard.hay.sampling.sampling_plan import SamplePlan
from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions
from rickyard.safety.found import of_lot
from rickyard.safety.rule import rule_of
from support.delivery_farms import START
from support.rechecked import not_looked_at
from support.shown_findings import farm_showing

UNKNOWN = [
    ("nitrate-unknown-stressed", AnimalClass.COW, "nitrate"),
    ("nitrate-unknown-stressed", AnimalClass.BULL, "nitrate"),
    ("nitrate-unknown-pregnant", AnimalClass.EWE, "nitrate"),
    ("nitrate-unknown-quarter", AnimalClass.BULL, "nitrate"),
    ("nitrate-unknown-drought-pregnant", AnimalClass.COW, "nitrate"),
    ("nitrate-unknown-drought-half", AnimalClass.RAM, "nitrate"),
    ("hcn-suspected", AnimalClass.COW, "hcn"),
]


def cored(farm: Farm) -> tuple[SamplePlan, ...]:
    return farm_sample_plans(
        farm, START - timedelta(days=30), {one.lot_id: 88.0 for one in farm.lots}
    )


@pytest.mark.parametrize("rule_id", ["nitrate-unknown-quarter", "nitrate-unknown-drought-half"])
def test_what_nobody_measured_is_limited_as_if_and_says_that_nobody_did(rule_id: str) -> None:
    farm = farm_showing(rule_of(rule_id), AnimalClass.RAM)
    lot = next(one for one in farm.lots if one.lot_id == "X")
    (begun,) = (one for one in of_lot(lot, farm) if one.finding == "begin_nitrate")
    assert (begun.value, begun.assumed) == (4000.0, True)
    shown = farm_showing(rule_of("nitrate-half"), AnimalClass.RAM)
    lot = next(one for one in shown.lots if one.lot_id == "X")
    (begun,) = (one for one in of_lot(lot, shown) if one.finding == "begin_nitrate")
    assert not begun.assumed


@pytest.mark.parametrize(("rule_id", "kind", "test"), UNKNOWN)
def test_it_is_asked_for_first_and_held_back_or_fed_under_a_rule(
    rule_id: str, kind: AnimalClass, test: str
) -> None:
    rule = rule_of(rule_id)
    farm = farm_showing(rule, kind)
    pages = cored(farm)
    assert pages[0].lot_id == "X", "the lot that can kill is cored first"
    first = [one for one in pages[0].wanted if one.before_fed]
    assert test in {one.test for one in first}
    assert pages[0].wanted[: len(first)] == tuple(first)
    assert all("before it is fed" in one.reason for one in first)
    with not_looked_at():
        program = plan_season(farm, options=PlanOptions(seconds=0.0, effort=0.0, weekly=True))
    fed = [row for row in program.feeding if row.source_id == "X"]
    held = {one.rule_id: one for one in program.rules if one.source_id == "X"}
    assert rule_id in held
    if held[rule_id].demand == "none":
        assert fed == []
    for row in fed:
        whole = sum(
            one.eaten_kg_dm_per_head_day for one in program.feeding if one.period == row.period
        )
        assert row.eaten_kg_dm_per_head_day <= rule.most_share * whole * (1.0 + 1e-6)
    told = {name for one in program.cautions for name in one.rules}
    assert rule_id in told or not fed


def test_hay_that_carries_nothing_is_not_asked_to_be_tested_first() -> None:
    farm = farm_showing(rule_of("nitrate-unknown-pregnant"), AnimalClass.EWE)
    safe = replace(farm, lots=tuple(one for one in farm.lots if one.lot_id != "X"))
    for page in cored(safe):
        assert not any(one.before_fed for one in page.wanted)
