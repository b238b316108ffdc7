"""Rations: constant amounts over runs of weeks, the bound of such programs, and what they keep."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from functools import cache
from itertools import combinations

import numpy as np
import pytest

from rickyard.display import Display
from rickyard.farm import Farm, FeedKind
from rickyard.kinds import Offered
from rickyard.program.audit.audit import recheck
from rickyard.program.inputs import season_series
from rickyard.program.model.hay_for_rises import RisingModel, with_hay_for_rises
from rickyard.program.model.rows import Model
from rickyard.program.model.use_binaries import LotUse, uses_of
from rickyard.program.planning.season import plan_season
from rickyard.program.problem.problem import Problem, problem_of
from rickyard.program.problem.set_aside import set_aside_kg_dm
from rickyard.program.problem.use_rules import use_rules_of
from rickyard.program.problem.wishes import with_wishes
from rickyard.program.ration_check import fill_breaches
from rickyard.program.rations.few_things import Yard
from rickyard.program.rations.held import HeldRations, Limits
from rickyard.program.rations.offered import offered_to
from rickyard.program.rations.pricing import priced_cuts
from rickyard.program.result.options import PlanOptions, Wish
from rickyard.program.result.rations import Ration
from rickyard.program.result.result import SeasonProgram
from rickyard.program.runs.mixed import cheapest_cuts
from rickyard.program.runs.span_costs import SpanCosts
from rickyard.program.runs.spans import SpanRules, Spans, allowed_cut, other_cuts, span_rules
from rickyard.program.search.relax import Relaxation, relax
from rickyard.program.solver.highs import Session
from rickyard.program.solver.points import Meter, SparseRows
from rickyard.sheets.data_files.plan_json import plan_json
from rickyard.sheets.data_files.plan_load import program_from_json
from rickyard.sheets.wording.rations import proof_of, ration_lines
from rickyard.stock.equations import appetite_kg
from support.farms import random_farm
from support.hazard_farms import hazard_farm
from support.rows import few
from support.ruled_farms import ruled
from support.season_farms import LIME, cows, farm_of, hay, report_on

#: A farm whose rations are found in a moment.
SMALL = {"lots": 4, "groups": 2, "weeks": 9}


@cache
def planned(seed: int) -> tuple[SeasonProgram, Farm]:
    farm = random_farm(seed, **SMALL)
    return plan_season(farm, options=PlanOptions(effort=0.3)), farm


@pytest.mark.parametrize("seed", few([0, 2, 4], 2))
def test_rations_pass_the_second_look_and_are_what_is_fed(seed: int) -> None:
    program, farm = planned(seed)
    assert recheck(program, farm) == ()
    assert program.bound <= program.cost + program.penalty
    for ration in program.rations:
        weeks = [one for one in program.periods if ration.start <= one.start < ration.end]
        assert len(weeks) >= 3
        for week in weeks:
            fed = {
                row.source_id: row.eaten_kg_dm_per_head_day
                for row in program.feeding
                if (row.group_id, row.period) == (ration.group_id, week.index)
            }
            told = {one.source_id: one.eaten_kg_dm_per_head_day for one in ration.things}
            assert fed == pytest.approx(told)


def test_amounts_can_be_measured() -> None:
    program, _ = planned(0)
    kinds = {one.source_id: one for one in program.sources}
    head = {one.group_id: one.head for one in program.groups}
    # A fifth of a quarter pound a head, or of what is weighed for the group together.
    step = {key: min(0.25 * many, 5.0 if many >= 40 else 2.0) / 5.0 for key, many in head.items()}
    measured = [
        one.put_out_kg_per_head_day / 0.45359237 * head[ration.group_id] / step[ration.group_id]
        for ration in program.rations
        for one in ration.things
        if not kinds[one.source_id].is_hay and one.source_id not in ("mineral", "pasture")
    ]
    assert measured
    assert measured == pytest.approx([round(one) for one in measured], abs=1e-6)


def test_hay_that_may_only_be_in_a_mix_is_told_by_its_pounds_and_never_by_the_bale() -> None:
    # Who reads "2.6 bales a week" puts whole bales out, and one of hay with nitrate can kill.
    program, farm = planned(0)
    only_in_a_mix = {(one.group_id, one.source_id) for one in program.rules if one.mixed}
    things = [(r.group_id, thing) for r in program.rations for thing in r.things]
    told = {thing.bales_per_feeding for g, thing in things if (g, thing.source_id) in only_in_a_mix}
    assert told == {None}
    lines = [one.hay for one in ration_lines(program, farm, "group-0", Display("us"))]
    assert all(" a head), weighed and mixed together" in one for one in lines)
    assert not [one for one in lines if "bale" in one]


def test_the_second_look_sees_an_amount_that_changes_inside_a_ration() -> None:
    program, farm = planned(0)
    first = program.rations[0]
    thing = replace(
        first.things[0], eaten_kg_dm_per_head_day=first.things[0].eaten_kg_dm_per_head_day + 0.1
    )
    changed = replace(first, things=(thing, *first.things[1:]))
    broken = replace(program, rations=(changed, *program.rations[1:]))
    assert any("ration 1" in one.what for one in recheck(broken, farm))


def test_the_second_look_sees_a_week_without_a_ration() -> None:
    program, farm = planned(0)
    broken = replace(program, rations=program.rations[1:])
    assert any("weeks with a ration" in one.what for one in recheck(broken, farm))


@pytest.mark.parametrize("seed", few([2, 4], 1))
def test_hay_that_makes_up_for_what_is_raised_slowly_is_there(seed: int) -> None:
    program, _ = planned(seed)
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    asked: dict[str, float] = defaultdict(float)
    for row in program.feeding:
        asked[row.source_id] += row.offered_kg
    out = {one.source_id: one.planned_kg for one in program.delivery_totals if not one.group_id}
    more = {one.lot_id: out.get(one.lot_id, 0.0) - asked[one.lot_id] for one in program.lots}
    assert all(
        more[one.lot_id] * dry[one.lot_id] <= 1000.0 * one.left_t + 1e-6 for one in program.lots
    )
    assert any(more[one.lot_id] > 1.0 for one in program.lots)


def test_the_same_effort_gives_the_same_rations() -> None:
    first, farm = planned(2)
    assert plan_season(farm, options=PlanOptions(effort=0.3)) == first


def test_no_rations_where_weekly_amounts_are_asked_for() -> None:
    farm = random_farm(0, **SMALL)
    assert plan_season(farm, options=PlanOptions(effort=0.0, weekly=True)).rations == ()


def cows_at_a_ring() -> Farm:
    lot = hay("A", 58.0, 11.0, 400.0, 80.0)
    return farm_of([(lot, report_on(lot, 58.0, 11.0))], [cows()], [LIME], weeks=8)


@pytest.mark.parametrize("seed", few([0, 2, 4], 2))
def test_cattle_at_a_ring_are_planned_what_fills_them(seed: int) -> None:
    program, farm = planned(seed)
    filled = [one.appetite_pct for one in program.rations if one.appetite_pct is not None]
    rings = [one for one in farm.groups if offered_to(one) is Offered.FREE_CHOICE]
    assert bool(filled) == bool(rings)
    if program.status == "complete":
        assert all(95.0 <= one <= 105.0 for one in filled)


def test_the_second_look_sees_stock_at_a_ring_that_are_given_less_than_they_eat() -> None:
    farm = cows_at_a_ring()
    program = plan_season(farm, options=PlanOptions(effort=0.2))
    assert [one.offered for one in program.rations] == [Offered.FREE_CHOICE] * len(program.rations)
    assert list(fill_breaches(program, farm)) == []

    def less(ration: Ration) -> Ration:
        things = (
            replace(one, eaten_kg_dm_per_head_day=0.8 * one.eaten_kg_dm_per_head_day)
            for one in ration.things
        )
        return replace(ration, things=tuple(things))

    hungry = replace(program, rations=tuple(map(less, program.rations)))
    assert len(list(fill_breaches(hungry, farm))) == len(program.rations)


def test_cows_alone_with_a_hay_eat_what_the_equation_says() -> None:
    farm = cows_at_a_ring()
    program = plan_season(farm, options=PlanOptions(effort=0.2))
    (value,) = (one for one in program.sources if one.source_id == "A")
    series = season_series(farm, farm.groups[0], program.periods)
    for ration in program.rations:
        assert {one.source_id for one in ration.things} <= {"A", "lime"}
        weeks = [one.index for one in program.periods if ration.start <= one.start < ration.end]
        by_energy = [
            appetite_kg(
                series.intake_rule[at],
                series.shrunk_weight_kg[at],
                value.nem_mcal_per_kg,
                series.milk_kg[at],
                series.intake_factor[at],
            )
            for at in weeks
        ]
        by_fiber = [1.2 / value.ndf_pct * series.full_weight_kg[at] for at in weeks]
        alone = [min(one, two) for one, two in zip(by_energy, by_fiber, strict=True)]
        eaten = ration.things[0].eaten_kg_dm_per_head_day
        assert sum(eaten / one for one in alone) / len(alone) == pytest.approx(1.0, abs=0.0201)


def all_cuts(rules: SpanRules, group: int) -> list[tuple[int, ...]]:
    first, last = rules.first[group], rules.last[group]
    inner = range(first + 1, last + 1)
    found = [
        (first, *more) for count in range(rules.most[group]) for more in combinations(inner, count)
    ]
    return [one for one in found if allowed_cut(rules, group, one)]


def test_the_cheapest_cuts_are_those_of_all_there_are() -> None:
    chance = np.random.default_rng(3)
    rules = SpanRules(most=(3,), least=(3,), first=(1,), last=(12,))
    for _ in range(5):
        usd = np.full((14, 14), np.inf)
        for start in range(1, 13):
            for stop in range(start + 3, 14):
                usd[start, stop] = chance.uniform(1.0, 2.0) * (stop - start) ** 1.3
        total, starts = cheapest_cuts(SpanCosts(usd), rules, 0)

        def worth(one: tuple[int, ...], usd: np.ndarray = usd) -> float:
            ends = (*one[1:], 13)
            return float(sum(usd[a, b] for a, b in zip(one, ends, strict=True)))

        every = [one for one in all_cuts(rules, 0) if np.isfinite(worth(one))]
        assert total == pytest.approx(min(map(worth, every)))
        assert worth(starts) == pytest.approx(total)


def test_neighbours_of_cuts_keep_the_rules() -> None:
    rules = SpanRules(most=(4,), least=(3,), first=(0,), last=(15,))
    spans = Spans(((0, 4, 9),), (15,))
    found = list(other_cuts(rules, spans, 0))
    assert all(allowed_cut(rules, 0, one) for one in found)
    assert {(0, 5, 9), (0, 9), (0, 4), (0, 4, 9, 12)} <= set(found)
    assert (0, 2, 9) not in found
    assert spans.starts[0] not in found


def season(
    seed: int, farm: Farm | None = None, asked: Problem | None = None
) -> tuple[Relaxation, Model, LotUse, Limits, SpanRules]:
    farm = farm or ruled(seed)
    raised = asked or problem_of(farm)
    problem = replace(raised, steps=(), begins=())
    rules = use_rules_of(farm, problem)
    relaxation = relax(problem, str, rough=True)
    groups = problem.shape[0]
    limits = Limits(
        leeway=np.full(groups, 0.03),
        things=np.full(groups, 4),
        hays=rules.hays_at_once,
        least_kg=np.zeros((groups, problem.shape[1])),
        change_usd=0.0,
        counts=~problem.sources.is_mineral,
        is_hay=problem.sources.is_hay,
    )
    return (
        relaxation,
        with_hay_for_rises(relaxation.model, raised),
        uses_of(relaxation.model, rules),
        limits,
        span_rules(problem, (2,) * groups, (14,) * groups),
    )


def open_cost(
    relaxation: Relaxation, model: Model, uses: LotUse, limits: Limits, spans: Spans
) -> float:
    held = HeldRations(model, uses, limits, spans, Meter(), relaxation.optimum.x)
    nothing = np.zeros(len(held.at), dtype=bool)
    held.hold(nothing, ~nothing)
    return held.settled(moving=8).objective


@pytest.mark.parametrize("farm", [ruled(0), ruled(1), ruled(4), random_farm(2, **SMALL)])
def test_no_cut_costs_less_than_the_bound(farm: Farm) -> None:
    relaxation, model, uses, limits, rules = season(0, farm)
    found = priced_cuts(relaxation, model, uses, limits, rules, Meter())
    each = [all_cuts(rules, group) or [()] for group in range(len(rules.first))]
    chance = np.random.default_rng(0)
    for _ in range(12):
        starts = tuple(one[int(chance.integers(len(one)))] for one in each)
        cost = open_cost(relaxation, model, uses, limits, Spans(starts, rules.last))
        assert cost >= found.bound - 1e-6 * abs(found.bound)


def test_a_wish_that_cannot_be_kept_is_missed_in_the_bound_too() -> None:
    # Four kilograms for everybody of three bales: the bound had held that they get them.
    farm = random_farm(11, lots=4, groups=2, weeks=6)
    lots = (replace(farm.lots[0], bales=3.0), *(replace(one, bales=400.0) for one in farm.lots[1:]))
    farm = replace(farm, lots=lots)
    wishes = tuple(
        Wish("amount", lots[0].lot_id, one.group_id, kg_dm_per_head_day=4.0) for one in farm.groups
    )
    asked = with_wishes(farm, problem_of(farm), wishes).problem
    relaxation, model, uses, limits, rules = season(0, farm, asked)
    found = priced_cuts(relaxation, model, uses, limits, rules, Meter())
    cost = open_cost(relaxation, model, uses, limits, found.spans)
    assert found.bound <= cost * (1.0 + 1e-6)
    assert found.bound >= 0.99 * cost


def test_cuts_are_good_ones_for_all_groups_together() -> None:
    # Cuts that are cheapest for each group at one set of prices had come to 1.1% from the bound.
    relaxation, model, uses, limits, rules = season(0, hazard_farm(2, weeks=24))
    groups = len(rules.most)
    rules = replace(rules, most=(6,) * groups, least=(3,) * groups)
    found = priced_cuts(relaxation, model, uses, limits, rules, Meter())
    cost = open_cost(relaxation, model, uses, limits, found.spans)
    assert found.bound <= cost <= 1.005 * found.bound


@pytest.mark.parametrize("seed", [2, 4])
def test_rises_take_no_more_hay_in_the_program_than_their_days_do(seed: int) -> None:
    """So that the bound stays one, and nearly as much, so that it is worth something."""
    farm = random_farm(seed, **SMALL)
    relaxation, model, uses, limits, rules = season(0, farm)
    assert isinstance(model, RisingModel)
    found = priced_cuts(relaxation, model, uses, limits, rules, Meter())
    held = HeldRations(model, uses, limits, found.spans, Meter(), relaxation.optimum.x)
    nothing = np.zeros(len(held.at), dtype=bool)
    held.hold(nothing, ~nothing)
    x = held.settled(moving=8).x
    amounts, own = model.columns.amounts, len(relaxation.model.rows.lower)
    lower, upper = model.lower.copy(), model.upper.copy()
    lower[:amounts] = upper[:amounts] = x[:amounts]
    cost = np.zeros(len(lower))
    cost[len(cost) - len(model.more_source) :] = np.where(model.more_source < 0, 0.0, 1.0)
    mine = model.rows.row >= own
    rows = SparseRows(
        model.rows.row[mine] - own,
        model.rows.column[mine],
        model.rows.value[mine],
        model.rows.lower[own:],
        model.rows.upper[own:],
    )
    least = model.set_aside_kg(Session(cost, lower, upper, rows).minimise().x).sum()
    exact = set_aside_kg_dm(problem_of(farm), model.eaten(x)).sum()
    assert 0.1 * exact <= least <= exact


def test_leasts_take_no_more_of_a_lot_than_there_is_and_the_largest_come_first() -> None:
    yard = Yard(
        lot=np.array([0, 0, 0, 1, -1]),
        takes=np.array([1.0, 2.0, 1.0, 1.0, 0.0]),
        there=np.array([5.0, 1.0]),
    )
    least = np.array([2.0, 1.0, 2.0, 2.0, 9.0])
    used = np.array([True, False, False, False, False])
    size = np.array([1.0, 0.4, 0.5, 0.9, 0.1])
    kept = yard.enough_for(least, used, ~used, size)
    assert kept.tolist() == [False, False, True, False, True]
    both = yard.enough_for(least, np.zeros(5, dtype=bool), np.ones(5, dtype=bool), size)
    assert both.tolist() == [True, False, True, False, True]


def test_rations_of_a_week_each_cost_what_the_weekly_program_costs() -> None:
    relaxation, _, uses, limits, rules = season(1)
    every = tuple(
        tuple(range(first, last + 1)) if first >= 0 else ()
        for first, last in zip(rules.first, rules.last, strict=True)
    )
    exact = replace(limits, leeway=np.zeros_like(limits.leeway))
    cost = open_cost(relaxation, relaxation.model, uses, exact, Spans(every, rules.last))
    assert cost == pytest.approx(relaxation.optimum.objective, rel=1e-5)


def test_a_farm_says_how_many_rations_how_long_and_of_how_many_things() -> None:
    farm = random_farm(2, **SMALL)
    asked = replace(farm.season, rations_at_most=1, least_ration_days=28, things_in_ration=2)
    farm = replace(farm, season=asked)
    program = plan_season(farm, options=PlanOptions(effort=0.1))
    minerals = {one.feed_id for one in farm.feeds if one.kind is FeedKind.MINERAL}
    assert [one.number for one in program.rations] == [1] * len(farm.groups)
    for ration in program.rations:
        assert len({one.source_id for one in ration.things} - minerals) <= 2
    assert recheck(program, farm) == ()
    assert recheck(program, replace(farm, season=replace(asked, things_in_ration=1))) != ()


def test_hay_that_is_there_for_a_part_of_a_ration_does_not_spoil_the_bound() -> None:
    """Prices of rations leave such hay out; with it, it would be worth endlessly much."""
    farm = random_farm(2, **SMALL)
    _, model, *_ = season(0, farm)
    assert isinstance(model, RisingModel)
    rows, most = model.rows, 50.0
    dual = np.zeros(len(rows.lower))
    dual[np.unique(model.more_row[model.more_row >= 0])] = most
    sound = model.sound_prices(dual)
    more = len(model.more_source)
    charged = np.bincount(rows.column, sound[rows.row] * rows.value, len(model.cost))[-more:]
    assert (model.cost[-more:] - charged >= -1e-9).all()
    assert (sound <= dual).all()


def test_a_group_says_otherwise_than_the_season() -> None:
    farm = random_farm(2, **SMALL)
    mine = replace(
        farm.groups[0],
        rations_at_most=1,
        things_in_ration=2,
        week_may_lack_pct=0.0,
    )
    farm = replace(farm, groups=(mine, *farm.groups[1:]))
    program = plan_season(farm, options=PlanOptions(effort=0.1))
    assert recheck(program, farm) == ()
    assert sum(one.group_id == mine.group_id for one in program.rations) == 1
    for row in program.needs:
        if row.group_id == mine.group_id and row.nutrient in ("nem", "gain_energy", "cp"):
            assert row.supplied + row.shortage >= row.need * (1.0 - 1.2e-5)
    strict = replace(farm, groups=(replace(mine, things_in_ration=1), *farm.groups[1:]))
    assert any("things" in one.what for one in recheck(program, strict))


def test_what_steadiness_and_free_choice_cost_is_told_where_nothing_is_short() -> None:
    farm = cows_at_a_ring()
    program = plan_season(farm, options=PlanOptions(effort=0.1))
    weekly = plan_season(farm, options=PlanOptions(effort=0.1, weekly=True))
    assert (weekly.steadiness_usd, weekly.free_choice_usd) == (None, None)
    steady, free = program.steadiness_usd, program.free_choice_usd
    assert (program.status, weekly.status) == ("complete", "complete")
    assert steady is not None
    assert free is not None
    assert steady >= 0.0
    # One hay and lime: what rations cost more is what the cows eat beyond their needs.
    assert free > 100.0
    assert weekly.cost + free + steady == pytest.approx(program.cost, rel=0.03)
    assert "eat their fill about $" in proof_of(program)
    assert proof_of(weekly).count(".") <= 2
    told = replace(program, steadiness_usd=12.4, free_choice_usd=0.0)
    assert proof_of(told).endswith(
        "Feeding the same for weeks costs at least $12 of this, against amounts that change every "
        "week."
    )
    assert program_from_json(plan_json(program)) == program


def test_rations_that_are_short_tell_how_near_they_are_to_the_least_short_and_least_money() -> None:
    farm = cows_at_a_ring()
    little = replace(farm, lots=(replace(farm.lots[0], bales=20.0),))
    program = plan_season(little, options=PlanOptions(effort=0.0))
    assert program.status == "short"
    # All of the only hay is eaten in any rations, and whoever eats it all pays for all of it.
    assert program.short_gap == pytest.approx(0.0, abs=0.02)
    assert program.money_gap == pytest.approx(0.0, abs=0.1)
    assert proof_of(replace(program, money_gap=0.0004)) == (
        "Proven: no rations can be less short for these numbers. Of rations no shorter than "
        "these, none costs less."
    )
    assert proof_of(replace(program, money_gap=0.031)).endswith(
        "Of rations no shorter than these, none costs over 3.1% less."
    )
    assert program_from_json(plan_json(program)) == program
