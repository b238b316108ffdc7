"""What a change does to a season, and what is said of it."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from rickyard.farm import AnimalClass, Farm, Group, Season, Winter
from rickyard.program.audit.audit import recheck
from rickyard.program.planning.changes import (
    Bought,
    Cash,
    Change,
    Condition,
    HeadCount,
    Intake,
    LotLoss,
    Price,
    SalePrice,
    SeasonEnd,
    WinterIs,
    changed,
)
from rickyard.program.planning.season import plan_season, using
from rickyard.program.planning.what_if import (
    answer,
    is_unclear,
    short_weeks,
    what_if,
)
from rickyard.program.problem.problem import problem_of
from rickyard.program.result.options import PlanOptions
from rickyard.program.result.result import SeasonProgram
from rickyard.quantities import OutOfRange
from support.farms import START, random_farm
from support.weekly import WEEKLY


@pytest.fixture(scope="module")
def farm() -> Farm:
    return random_farm(11, lots=4, groups=3, weeks=6)


@pytest.fixture(scope="module")
def base(farm: Farm) -> SeasonProgram:
    return plan_season(farm, options=WEEKLY)


def asked(farm: Farm, base: SeasonProgram, *changes: Change) -> tuple[SeasonProgram, str]:
    other = changed(farm, changes)
    program = what_if(farm, *changes, options=WEEKLY)
    assert [str(one) for one in recheck(program, other)] == []
    return program, answer(farm, base, changes, program).sentence


def test_more_head_cost_more(farm: Farm, base: SeasonProgram) -> None:
    head = farm.groups[0].head + 5
    program, said = asked(farm, base, HeadCount("group-0", head))
    assert next(one.head for one in program.groups if one.group_id == "group-0") == head
    assert said.startswith(f"Group 0 at {head} head: the season costs $")
    assert "more" in said


def test_nobody_at_all_costs_what_storage_takes(farm: Farm, base: SeasonProgram) -> None:
    none = [HeadCount(group.group_id, 0) for group in farm.groups]
    program, _ = asked(farm, base, *none)
    assert program.feeding == ()
    assert program.costs.purchases == 0.0


@pytest.mark.parametrize("share", [0.4, 1.0])
@pytest.mark.parametrize("days", [7, 0, -7])
def test_hay_that_is_lost_is_not_there(farm: Farm, share: float, days: int) -> None:
    """However old the count is: of what stands on the first day a share is gone."""
    lot = replace(farm.lots[2], counted_on=START - timedelta(days=days))
    counted = replace(farm, lots=(*farm.lots[:2], lot, *farm.lots[3:]))
    before = problem_of(counted).sources.start_kg_dm
    after = problem_of(changed(counted, [LotLoss("lot-2", share)])).sources.start_kg_dm
    assert after[2] == pytest.approx((1.0 - share) * before[2], abs=1e-6)
    assert after[[0, 1, 3]] == pytest.approx(before[[0, 1, 3]])


def test_losing_hay_says_what_it_was_worth(farm: Farm, base: SeasonProgram) -> None:
    lot = max(base.lots, key=lambda one: one.eaten_t)
    _, said = asked(farm, base, LotLoss(lot.lot_id))
    price = next(one.usd_per_kg_dm for one in base.sources if one.source_id == lot.lot_id)
    assert said.startswith(f"Without {lot.name}: the season costs $")
    assert f"Plus the lost hay, worth ${1000.0 * lot.start_t * price:,.0f}" in said


def test_a_dearer_feed_is_charged_at_its_price(farm: Farm, base: SeasonProgram) -> None:
    program, said = asked(farm, base, Price("corn", 0.46))
    value = next(one for one in program.sources if one.source_id == "corn")
    assert value.usd_per_kg_dm * value.dm_pct / 100.0 == pytest.approx(0.46)
    assert "Corn at $417 a ton" in said
    assert program.cost >= base.cost - 1e-6
    lots = changed(farm, [Price("lot-1", 0.2)]).lots
    assert [lot.value_usd_per_kg == 0.2 for lot in lots] == [False, True, False, False]


def test_late_grass_is_more_days(farm: Farm, base: SeasonProgram) -> None:
    later = farm.season.end + timedelta(days=14)
    program, said = asked(farm, base, SeasonEnd(later))
    assert program.end == later
    assert len(program.periods) == len(base.periods) + 2
    assert "Feeding until Dec 28, 2026: the season costs $" in said


def test_stock_that_eat_more_have_more_room(farm: Farm, base: SeasonProgram) -> None:
    program, said = asked(farm, base, Intake(0.1))
    assert program.cost <= base.cost + 1e-6
    assert said.startswith("Stock eating 10% more: ")
    less, _ = asked(farm, base, Intake(-0.1))
    assert less.cost + less.penalty >= base.cost + base.penalty - 1e-6


def test_a_winter_that_counts_for_nothing_says_so(farm: Farm, base: SeasonProgram) -> None:
    _, said = asked(farm, base, WinterIs(Winter.SEVERE))
    assert said.startswith("A severe winter: the season costs the same. A severe winter changes")


def test_what_runs_short_is_named_with_how_much_and_when(farm: Farm, base: SeasonProgram) -> None:
    assert base.status == "complete"
    lost = [LotLoss(lot.lot_id) for lot in farm.lots]
    program, said = asked(farm, base, *lost)
    assert program.status == "short"
    assert " leaves Group " in said
    assert " a head and day from " in said
    other = answer(farm, program, [Intake(0.0)], base)
    assert "nothing is short anymore" in other.sentence


def test_changes_are_made_one_after_the_other(farm: Farm) -> None:
    both = changed(farm, [LotLoss("lot-0", 0.5), LotLoss("lot-0", 0.5), Intake(0.1), Intake(0.1)])
    left = problem_of(both).sources.start_kg_dm[0] / problem_of(farm).sources.start_kg_dm[0]
    assert left == pytest.approx(0.25)
    assert both.season.intake_pct == pytest.approx(121.0)


@pytest.mark.parametrize(
    "change",
    [
        HeadCount("geese", 4),
        HeadCount("group-0", -1),
        LotLoss("lot-9"),
        LotLoss("lot-0", 0.0),
        LotLoss("lot-0", 1.2),
        Price("gold", 1.0),
        Price("corn", -1.0),
        SeasonEnd(START),
        Intake(0.9),
    ],
)
def test_changes_that_make_no_sense_are_refused(farm: Farm, change: Change) -> None:
    with pytest.raises(OutOfRange):
        changed(farm, [change])


# What the first users asked of what-if and could not.


def test_first_use_what_if_on_cash(farm: Farm, base: SeasonProgram) -> None:
    assert base.costs.purchases > 100.0
    program, said = asked(farm, base, Cash(0.5 * base.costs.purchases))
    assert program.costs.purchases <= 0.5 * base.costs.purchases + 0.01
    assert "to spend: " in said
    same, said = asked(farm, base, Cash(None))
    assert same.cost == pytest.approx(base.cost)
    assert said == "No limit on cash: the season costs the same."


def test_first_use_what_if_on_a_sale_price(farm: Farm, base: SeasonProgram) -> None:
    lot = farm.lots[0]
    program, said = asked(farm, base, SalePrice(lot.lot_id, 5.0))
    assert [one.lot_id for one in program.sales] == [lot.lot_id]
    assert said.startswith(f"{lot.name} sold at $")
    assert "Money paid for feed, less what sales bring: $" in said
    assert changed(farm, [SalePrice(lot.lot_id, None)]).lots[0].sale_usd_per_kg is None


def test_first_use_what_if_on_bought_hay(farm: Farm, base: SeasonProgram) -> None:
    lot = farm.lots[0]
    program, said = asked(farm, base, Bought(lot.lot_id, 10_000.0))
    before = next(one for one in base.lots if one.lot_id == lot.lot_id)
    now = next(one for one in program.lots if one.lot_id == lot.lot_id)
    dm = next(one.dm_pct for one in base.sources if one.source_id == lot.lot_id) / 100.0
    assert now.start_t == pytest.approx(before.start_t + 10.0 * dm, rel=1e-3)
    assert f"of hay like {lot.name} bought" in said
    feed = farm.feeds[0]
    assert changed(farm, [Bought(feed.feed_id, 0.0)]).feeds[0].most_kg == 0.0


def test_first_use_what_if_on_wanted_condition() -> None:
    season = Season(START, START + timedelta(days=120))
    cows = Group("c", "Cows", AnimalClass.COW, 20, 550.0, condition_score=4.5)
    heifers = replace(
        cows, group_id="h", name="Heifers", animal_class=AnimalClass.FIRST_CALF_HEIFER
    )
    farm = Farm("Home", season, groups=(cows, heifers))
    wanted = changed(farm, [Condition("c", 5.5)]).groups[0]
    assert (wanted.target_condition_score, wanted.target_on) == (5.5, season.end)
    calving = replace(cows, calving_on=START + timedelta(days=60))
    due = changed(replace(farm, groups=(calving,)), [Condition("c", 5.5)]).groups[0]
    assert due.target_on == calving.calving_on
    with pytest.raises(OutOfRange, match="class cow"):
        changed(farm, [Condition("h", 5.5)])
    with pytest.raises(OutOfRange, match="1 to 9"):
        changed(farm, [Condition("c", 12.0)])


def test_first_use_how_short_in_which_week(farm: Farm, base: SeasonProgram) -> None:
    program = what_if(farm, *(LotLoss(lot.lot_id) for lot in farm.lots), options=WEEKLY)
    rows = short_weeks(program)
    assert rows
    assert [one.start for one in rows] == sorted(one.start for one in rows)
    assert {(one.group_id, one.nutrient) for one in rows} <= {
        (one.group_id, one.nutrient) for one in program.shortages
    }
    assert all(one.shortage > 0.0 for one in rows)
    assert short_weeks(replace(base, shortages=())) == ()


def test_first_use_09_a_difference_that_the_search_leaves_open_is_no_clear_change(
    farm: Farm, base: SeasonProgram
) -> None:
    dearer = replace(base, cost=base.cost + 100.0, gap=200.0 / (base.cost + 100.0))
    assert is_unclear(base, dearer)
    said = answer(farm, base, [Intake(0.01)], dearer).sentence
    assert "no clear change in cost ($100 more, but the search is only exact to $200)" in said
    exact = replace(dearer, gap=0.0)
    assert not is_unclear(base, exact)
    assert "costs $100 more" in answer(farm, base, [Intake(0.01)], exact).sentence
    # A cheaper one counts against what the farm as it is leaves open.
    cheaper = replace(base, cost=base.cost - 100.0, gap=0.0)
    assert not is_unclear(replace(base, gap=0.0), cheaper)
    assert is_unclear(replace(base, gap=200.0 / base.cost), cheaper)


def test_first_use_09_who_is_better_supplied_is_told_too(farm: Farm) -> None:
    base = what_if(farm, *(LotLoss(lot.lot_id, 0.9) for lot in farm.lots), options=WEEKLY)
    (first, *_) = base.shortages
    worse = replace(first, total=2.0 * first.total)
    other = next(one for one in base.shortages if one.group_id != first.group_id)
    now = replace(base, shortages=(worse,))
    said = answer(farm, base, [Intake(0.01)], now).sentence
    name = next(one.name for one in farm.groups if one.group_id == other.group_id)
    assert "while less is short for " in said
    assert name in said


def test_what_if_begins_from_the_program_it_is_compared_with() -> None:
    farm = random_farm(11, lots=3, groups=2, weeks=4)
    farm = replace(farm, season=replace(farm.season, hays_at_once=1, change_usd=10.0))
    best = plan_season(farm, options=PlanOptions(effort=3.0, weekly=True))
    first = plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))
    begun = plan_season(farm, options=PlanOptions(effort=0.0, begin_from=using(best), weekly=True))
    assert begun.cost + begun.penalty <= first.cost + first.penalty + 0.01
    assert begun.cost + begun.penalty == pytest.approx(best.cost + best.penalty, rel=1e-3)
    assert [str(one) for one in recheck(begun, farm)] == []
