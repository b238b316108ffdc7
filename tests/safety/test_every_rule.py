"""Every row of the table of safety, made into tests: none can be added without them."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

import pytest

from rickyard.animals import CLASSES
from rickyard.evidence import COMMON_PRACTICE, JUDGEMENT
from rickyard.farm import AnimalClass, Farm
from rickyard.program.audit import recheck
from rickyard.program.feedout import with_deliveries
from rickyard.program.inputs import needs_of, sources_of
from rickyard.program.planning import plan_season
from rickyard.program.result import Delivery, FeedingRow, PlanOptions
from rickyard.program.result.result import SeasonProgram
from rickyard.safety.binding import bindings
from rickyard.safety.rule import OF_A_SOURCE, Rule, rules
from rickyard.safety.whom import classes_bound
from support.laid_programs import laid_program
from support.rechecked import not_looked_at
from support.rows import each_row
from support.shown_findings import SHOWN, farm_showing

#: More classes than this are looked at by one of each kind.
MANY = 3

#: Demands that a program can break.
LIMITS = ("none", "share")


def in_stage(kind: AnimalClass, stage: str) -> bool:
    """Say whether a class can be in a stage at all."""
    word = stage.partition(":")[0]
    carries = CLASSES[kind].in_calf
    if word in ("pregnant", "nursing", "calving", "foaling", "birth"):
        return carries
    if word in ("grown", "not_grown"):
        return CLASSES[kind].grown_cattle is (word == "grown")
    if word == "open":
        in_calf = (AnimalClass.FIRST_CALF_HEIFER, AnimalClass.BRED_HEIFER)
        return kind not in (*in_calf, AnimalClass.DRY_DAIRY_COW)
    if word == "under_kg":
        return CLASSES[kind].weight_kg[0] < float(stage.partition(":")[2])
    return True


def bound_classes(rule: Rule) -> list[AnimalClass]:
    """Return the classes that a rule binds; of a rule for many, one of each kind of stock."""
    found = sorted(one for one in classes_bound(rule.stock) if in_stage(one, rule.stage))
    if len(found) <= MANY:
        return found
    return list({CLASSES[one].stock: one for one in found}.values())


OF_SOURCES = [rule for rule in rules() if rule.demand in OF_A_SOURCE]
CASES = [(rule, kind) for rule in OF_SOURCES for kind in bound_classes(rule)]
#: One class of each rule that limits, for what takes planning.
PLANNED = [
    next(mine)
    for _, mine in groupby(
        [case for case in CASES if case[0].demand in LIMITS and not case[0].stage.startswith("u")],
        key=lambda case: case[0].rule_id,
    )
]


def named(case: object) -> str:
    return case.rule_id if isinstance(case, Rule) else str(case)


def mine(farm: Farm, rule: Rule) -> list[object]:
    return [one for one in bindings(farm) if one.rule == rule]


def test_there_are_rows_enough_and_each_has_a_source() -> None:
    assert len(CASES) >= 150
    for rule in rules():
        assert rule.source, rule.rule_id
        assert rule.evidence in ("seen", "memory", "judgement", "common practice")
        if rule.evidence in ("judgement", "common practice"):
            marks = (JUDGEMENT, COMMON_PRACTICE, "untested hay")
            assert any(mark in rule.source for mark in marks), rule.rule_id


#: What can hurt, as a specialist would list it: each has rows of its own.
NAMED = (
    "nitrate", "prussic acid", "endophyte", "blister beetle", "mold", "botulism and listeria",
    "hot hay", "grass tetany", "milk fever", "calcium and stones", "copper", "urea", "ionophore",
    "gossypol", "sulfur", "grain and starch", "fat", "sweet clover", "selenium", "vitamin A",
    "salt and water", "slobbers", "feed at birth and weaning",
)  # fmt: skip


@each_row("hazard", NAMED)
def test_every_hazard_has_a_row_that_binds_or_limits(hazard: str) -> None:
    mine = [rule for rule in rules() if rule.hazard == hazard]
    assert mine
    of_sources = [rule for rule, _ in CASES if rule.hazard == hazard]
    of_diets = [rule for rule in mine if rule.demand not in OF_A_SOURCE]
    assert of_sources or of_diets
    assert all(rule.words or rule.demand != "keep" or rule.finding in SHOWN for rule in mine)


def test_every_finding_of_the_table_can_be_brought_about() -> None:
    assert {rule.finding for rule in OF_SOURCES} <= set(SHOWN)


@each_row(("rule", "kind"), CASES, ids=named)
def test_a_rule_binds_the_class_it_names_and_becomes_a_limit(rule: Rule, kind: AnimalClass) -> None:
    farm = farm_showing(rule, kind)
    assert mine(farm, rule), f"{rule.rule_id} does not bind {kind}"
    if rule.demand not in LIMITS:
        return
    sources = sources_of(farm, needs_of(farm))
    at = [value.source_id for value in sources.values].index("X")
    share = sources.share_limit[0, at, 0]
    assert share <= rule.most_share
    assert not (rule.demand == "none" and sources.allowed[0, at, :].any() and not rule.stage)
    if rule.demand == "none":
        assert not sources.allowed[0, at, 0]


@each_row(
    "rule",
    [one for one in OF_SOURCES if len(classes_bound(one.stock)) < len(AnimalClass)],
    ids=named,
)
def test_a_rule_binds_nobody_else(rule: Rule) -> None:
    for kind in set(AnimalClass) - classes_bound(rule.stock):
        if in_stage(kind, rule.stage):
            assert not mine(farm_showing(rule, kind), rule)


@each_row(
    "rule", [one for one in OF_SOURCES if one.stage in ("pregnant", "open", "sugar")], ids=named
)
def test_a_rule_of_a_stage_does_not_bind_another(rule: Rule) -> None:
    other = {"pregnant": "open", "open": "pregnant", "sugar": "none"}[rule.stage]
    for kind in bound_classes(rule):
        if in_stage(kind, other) and (CLASSES[kind].in_calf or other == "none"):
            assert not mine(farm_showing(rule, kind, stage=other), rule), kind


def fed_wholly(program: SeasonProgram) -> SeasonProgram:
    """Return a program that feeds nothing but X."""
    rows = {}
    for row in program.feeding:
        rows[row.period] = row
    wholly = tuple(
        replace(row, source_id="X", kind="lot", eaten_kg_dm_per_head_day=5.0)
        for row in rows.values()
    )
    return replace(program, feeding=wholly)


@pytest.mark.parametrize(("rule", "kind"), PLANNED, ids=named)
def test_a_program_obeys_the_rule_and_one_that_breaks_it_is_refused(
    rule: Rule, kind: AnimalClass
) -> None:
    farm = farm_showing(rule, kind)
    with not_looked_at():
        program = plan_season(farm, options=PlanOptions(seconds=0.0, effort=0.0, weekly=True))
    held = [one for one in program.rules if one.rule_id == rule.rule_id]
    assert held
    assert recheck(program, farm) == ()
    for row in program.feeding:
        if row.source_id == "X" and row.period == 0:
            total = sum(one.eaten_kg_dm_per_head_day for one in program.feeding if one.period == 0)
            assert row.eaten_kg_dm_per_head_day <= rule.most_share * total * (1.0 + 1e-6)
    fed = any(row.source_id == "X" for row in program.feeding)
    told = [one for one in program.cautions if rule.rule_id in one.rules]
    assert told or (rule.demand == "share" and not fed), f"no caution names {rule.rule_id}"
    broken = recheck(fed_wholly(program), farm)
    assert any(rule.rule_id in one.what for one in broken)
    put_out = recheck(listed_too(program, farm), farm)
    where = f"X to {farm.groups[0].name}"
    assert any(one.what.startswith(where) for one in put_out), "the list is not refused"


def listed_too(program: SeasonProgram, farm: Farm) -> SeasonProgram:
    """Return a program whose list puts out X for a day beside what it asks for."""
    more = Delivery(farm.season.start, farm.groups[0].group_id, "X", None, 40.0, 1)
    return replace(program, deliveries=(*program.deliveries, more))


#: Rules by which the list raises a feed or begins a hay, each for one class.
BY_DAYS = [
    next(mine)
    for _, mine in groupby(
        [case for case in CASES if case[0].demand in ("step", "rise", "begin")],
        key=lambda case: case[0].rule_id,
    )
]


@each_row(("rule", "kind"), BY_DAYS, ids=named)
def test_a_list_that_gives_all_of_it_on_the_first_day_is_refused(
    rule: Rule, kind: AnimalClass
) -> None:
    farm = farm_showing(rule, kind)
    program, group = laid_program(farm, 1), farm.groups[0]
    kg = 0.002 * group.weight_kg
    rows = tuple(
        FeedingRow(group.group_id, one.index, one.start, one.days, source, what, eaten,
                   one.days * eaten * group.head / 0.88, None)
        for one in program.periods
        for source, what, eaten in (("A", "lot", 9.0 * kg), ("X", of_what(farm), kg))
    )  # fmt: skip
    whole = with_deliveries(replace(program, feeding=rows), farm)
    first = min(one.day for one in whole.deliveries if one.source_id == "X")
    at_once = tuple(
        replace(one, mass_kg=kg * group.head / 0.88)
        if (one.day, one.source_id) == (first, "X")
        else one
        for one in whole.deliveries
    )
    assert at_once != whole.deliveries
    assert not of_days(whole, farm)
    assert of_days(replace(whole, deliveries=at_once), farm)


def of_days(program: SeasonProgram, farm: Farm) -> list[str]:
    """Return what the second look finds in how fast X is raised or begun."""
    found = [one.what for one in recheck(program, farm) if "X" in one.what]
    return [one for one in found if "raised" in one or "weighed out" in one]


def of_what(farm: Farm) -> str:
    """Return what X is in a feeding row."""
    return "feed" if any(one.feed_id == "X" for one in farm.feeds) else "lot"
