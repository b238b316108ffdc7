"""Mild, normal and severe winters planned together, with one autumn for all."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from functools import cache

import numpy as np
import pytest

from rickyard.farm import ColdRule, Farm, Feed, FeedKind, Winter
from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.program.problem.problem import Problem, problem_of
from rickyard.program.problem.step_schedule import step_factors
from rickyard.program.result.options import PlanOptions, Wish
from rickyard.program.result.winter_result import NoWinters, WinterPrograms
from rickyard.program.winters.two_stage import Scenario, StageSplit, two_stages
from rickyard.program.winters.winter_words import winter_sentences
from rickyard.program.winters.winters import farm_for_winter, plan_winters, winter_chances
from rickyard.quantities import OutOfRange
from rickyard.safety import bindings
from support.farms import START
from support.rows import few
from support.season_farms import CAKE, LIME, cows, farm_of, hay, report_on
from support.weekly import WEEKLY
from support.winter_farms import PAST, winter_farm


@cache
def planned(seed: int, **season: float) -> tuple[Farm, WinterPrograms]:
    farm = winter_farm(seed, **season)
    return farm, plan_winters(farm)


# ---- an example that can be solved on paper ----


def two_days(need: float) -> Problem:
    """One animal, two days, one hay at $1: 10 kg on the first day and ``need`` on the second.

    On the second day the hay can be bought for $1.30 too.
    """
    feed = Feed("x", "X", FeedKind.FORAGE, 1.0, dm_pct=100.0, tdn_pct=60.0, cp_pct=12.0)
    late = replace(feed, feed_id="x_later", price_usd_per_kg=1.3, from_on=START + timedelta(days=1))
    farm = farm_of([], [cows()], [feed, late])
    season = replace(farm.season, end=START + timedelta(days=2), period_days=1)
    problem = problem_of(replace(farm, season=season))
    one, none = np.ones((1, 2)), np.full((1, 2), np.nan)
    least = np.array([[10.0, need]])
    needs = replace(
        problem.needs,
        head=one,
        days=one,
        stated=one > 0,
        growing=one < 0,
        retained_mcal=0.0 * one,
        least={**dict.fromkeys(problem.needs.least, none), "least_dm": least},
        cp_floor_frac=none,
        ca_to_p=none,
        most_dm_kg=none,
        most_ndf_kg=none,
    )
    return replace(problem, needs=needs)


def on_paper(end_worth: float) -> tuple[float, float]:
    split = StageSplit(1, np.array([0]), np.array([1]), end_worth)
    scenarios = [Scenario(two_days(10.0), 0.5), Scenario(two_days(20.0), 0.5)]
    autumn = two_stages(scenarios, split, lambda _: None)
    return autumn.expected_usd, float(autumn.bought_kg_dm[0])


def test_what_keeps_its_worth_is_bought_early() -> None:
    """The last 10 kg in autumn: $10, and $8 come back in half of the winters: $6 against $6.50."""
    cost, bought = on_paper(0.8)
    assert cost == pytest.approx(10.0 + 10.0 + 6.0, rel=2e-5)
    assert bought == pytest.approx(30.0)


def test_what_loses_its_worth_is_bought_when_it_is_needed() -> None:
    """In autumn $10 and $6 come back half of the time: $7. Later $13 half of the time: $6.50."""
    cost, bought = on_paper(0.6)
    assert cost == pytest.approx(10.0 + 10.0 + 6.5, rel=2e-5)
    assert bought == pytest.approx(20.0)


# ---- whole farms ----

SEEDS = few((2, 3, 5), 1)


@pytest.mark.parametrize("seed", SEEDS)
def test_an_autumn_for_all_winters_costs_no_more_than_one_for_the_normal(seed: int) -> None:
    _, programs = planned(seed)
    expected = programs.expected_usd + programs.expected_penalty_usd
    assert expected == pytest.approx(programs.bound_usd, rel=2e-5)
    if programs.normal_only_usd is not None:
        assert expected <= programs.normal_only_usd * (1.0 + 1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_winter_is_fed_alike_in_autumn(seed: int) -> None:
    _, programs = planned(seed)
    first = programs.winters[0].program
    early = [period.index for period in first.periods if period.start < programs.known_on]
    assert early

    def fed(program: object) -> dict[tuple[str, int, str], float]:
        return {
            (row.group_id, row.period, row.source_id): row.eaten_kg_dm_per_head_day
            for row in program.feeding  # type: ignore[attr-defined]
            if row.period in early
        }

    for one in programs.winters[1:]:
        other, mine = fed(one.program), fed(first)
        for key in {*other, *mine}:
            assert other.get(key, 0.0) == pytest.approx(mine.get(key, 0.0), abs=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_winter_passes_the_recheck(seed: int) -> None:
    _, programs = planned(seed)
    for one in programs.winters:
        assert recheck(one.program, one.farm) == ()
        assert one.program.gap < 1e-5


@pytest.mark.parametrize("seed", SEEDS)
def test_a_harder_winter_costs_more(seed: int) -> None:
    _, programs = planned(seed)
    assert [one.winter for one in programs.winters] == [Winter.MILD, Winter.NORMAL, Winter.SEVERE]
    costs = [one.cost_usd + one.penalty_usd for one in programs.winters]
    assert costs == sorted(costs)
    assert costs[2] > costs[0]


def test_nothing_is_bought_later_than_it_pays() -> None:
    """Feed that keeps its whole price is bought in autumn where it costs more later."""
    farm = winter_farm(2, groups=1, carry_over_value_pct=100.0)
    programs = plan_winters(farm)
    assert programs.autumn
    assert all(not one.bought_later for one in programs.winters)


def test_where_waiting_costs_nothing_only_what_is_fed_is_bought_in_autumn() -> None:
    farm, programs = planned(2, late_price_pct=0.0)
    program = programs.of(Winter.SEVERE).program
    for one in programs.autumn:
        rows = [row for row in program.feeding if row.source_id == one.feed_id]
        early = sum(row.offered_kg for row in rows if row.start < programs.known_on)
        feed = next(feed for feed in farm.feeds if feed.feed_id == one.feed_id)
        if feed.kind is FeedKind.GRAIN:
            # What is bought later is raised from nothing by itself: autumn's is fed on meanwhile.
            assert one.as_fed_kg > early - 0.01
        elif feed.least_kg_per_head_day is None:
            assert one.as_fed_kg == pytest.approx(early, abs=0.01)


def test_a_limit_a_head_holds_for_both_purchases_together() -> None:
    lot = hay("hay", 52.0, 9.0, 200.0, 90.0)
    cake = replace(CAKE, most_kg_per_head_day=0.5)
    farm = farm_of([(lot, report_on(lot, 52.0, 9.0))], [cows(START + timedelta(days=20))], [cake])
    farm = replace(farm, feeds=(cake, LIME), weather=PAST)
    season = replace(farm.season, cold_rule=ColdRule.PERCENT, carry_over_value_pct=0.0)
    programs = plan_winters(replace(farm, season=season))
    for one in programs.winters:
        eaten: dict[int, float] = {}
        for row in one.program.feeding:
            if row.source_id.startswith("cake"):
                eaten[row.period] = eaten.get(row.period, 0.0) + row.eaten_kg_dm_per_head_day
        assert max(eaten.values()) <= 0.5 * 0.9 + 1e-6
        assert max(eaten.values()) == pytest.approx(0.45, abs=1e-6)


def test_grain_bought_in_autumn_and_later_rises_as_one_feed() -> None:
    _, programs = planned(2, late_price_pct=0.0)
    seen = 0
    for one in programs.winters:
        last = len(one.program.periods) - 1
        cells = {(row.group_id, row.period): row for row in one.program.groups}
        for bound in bindings(one.farm):
            if bound.rule.demand != "step" or bound.source_id.endswith("_later"):
                continue
            who, over = bound.group_id, int(bound.rule.amount or 0)
            eaten = np.zeros(last + 1)
            for row in one.program.feeding:
                if row.group_id == who and row.source_id.startswith(bound.source_id):
                    eaten[row.period] += row.eaten_kg_dm_per_head_day
            keep, ahead = step_factors(np.full(last + 1, 7.0), over)
            for t in range(1, last):
                small = min(0.5 * 0.45359237, 0.0005 * cells[who, t].full_weight_kg)
                most = keep[t] * eaten[t - 1] + ahead[t] * eaten[t + 1] + small
                assert eaten[t] <= most + 1e-6, (one.winter, who, bound.source_id, t)
                seen += eaten[t] > 1.0
    assert seen > 10


def test_a_feed_kept_off_is_kept_off_later_too() -> None:
    farm = winter_farm(2)
    unwanted = farm.feeds[0].feed_id
    options = PlanOptions(wishes=(Wish("keep_off", unwanted),), weekly=True)
    for one in plan_winters(farm, options).winters:
        assert not any(row.source_id.startswith(unwanted) for row in one.program.feeding)


def test_a_promise_is_kept_in_every_winter() -> None:
    farm = winter_farm(2, groups=1, assurance_pct=80.0)
    programs = plan_winters(farm)
    for one in programs.winters:
        assert recheck(one.program, one.farm) == ()
        assert any(row.assured is not None for row in one.program.needs)


def test_the_cash_limit_holds_in_every_winter() -> None:
    _, free = planned(2)
    spent = [
        sum(one.cost_usd for one in (*free.autumn, *winter.bought_later)) for winter in free.winters
    ]
    limit = 0.8 * max(spent)
    held = plan_winters(winter_farm(2, cash_limit_usd=limit))
    for one in held.winters:
        paid = sum(bought.cost_usd for bought in (*held.autumn, *one.bought_later))
        assert paid <= limit + 1.0
        assert one.cash_short_usd == pytest.approx(0.0, abs=1e-3)
    assert held.bound_usd > free.bound_usd


def test_a_cash_limit_that_cannot_be_kept_is_told() -> None:
    """A mineral on offer must be bought, whatever there is to spend."""
    farm = winter_farm(2, groups=1, cash_limit_usd=1.0)
    always = tuple(
        replace(one, least_kg_per_head_day=0.05) if one.kind is FeedKind.MINERAL else one
        for one in farm.feeds
    )
    programs = plan_winters(replace(farm, feeds=always))
    assert all(one.cash_short_usd > 1.0 for one in programs.winters)
    assert any("It goes $" in one for one in winter_sentences(programs))


@pytest.mark.more
def test_loads_come_whole_and_pasture_is_not_stored() -> None:
    farm = winter_farm(3, lots=5, groups=3, carry_over_value_pct=60.0)
    pasture = Feed("pasture", "Pasture", FeedKind.GRAZING, 0.02, dm_pct=30.0, tdn_pct=60.0)
    pasture = replace(pasture, cp_pct=12.0, ndf_pct=55.0, ca_pct=0.4, p_pct=0.3, most_kg=2e4)
    feeds = [replace(one, load_kg=900.0, most_kg=None) for one in farm.feeds[:1]]
    lots = (replace(farm.lots[0], sale_usd_per_kg=0.2), *farm.lots[1:])
    farm = replace(farm, lots=lots, feeds=(*feeds, *farm.feeds[1:], pasture))
    programs = plan_winters(farm)
    bought = {one.feed_id: one.as_fed_kg for one in programs.autumn}
    loads = bought.get(feeds[0].feed_id, 0.0) / 900.0
    assert loads >= 1.0
    assert loads == pytest.approx(round(loads))
    assert "pasture" not in bought
    sold = {one.program.sales for one in programs.winters}
    assert len({tuple(round(sale.as_fed_kg, 3) for sale in one) for one in sold}) == 1
    for one in programs.winters:
        assert recheck(one.program, one.farm) == ()
        assert not any(feed.feed_id == "pasture_later" for feed in one.farm.feeds)


@pytest.mark.parametrize("what", ["lots", "feeds", "groups"])
def test_a_farm_without_hay_feed_or_stock_gets_a_plain_answer(what: str) -> None:
    farm = replace(winter_farm(2, groups=1), **{what: ()})
    if what == "lots":
        farm = replace(farm, reports=())
    programs = plan_winters(farm)
    assert len(winter_sentences(programs)) == 8
    for one in programs.winters:
        assert recheck(one.program, one.farm) == ()


# ---- when, how likely, and whether at all ----


def test_the_winter_is_known_after_a_third_of_the_season_where_nobody_says() -> None:
    farm, programs = planned(2)
    third = farm.season.start + timedelta(days=21)
    assert programs.known_on == third
    assert not programs.known_on_stated
    later = plan_winters(winter_farm(2, groups=1, winter_known_on=third + timedelta(days=10)))
    assert later.known_on == third + timedelta(days=14)  # the next period begins then
    assert later.known_on_stated


def test_a_winter_known_before_the_season_is_refused() -> None:
    with pytest.raises(OutOfRange, match="winter_known_on"):
        plan_winters(winter_farm(2, winter_known_on=START))


def test_chances_must_leave_room_for_a_normal_winter() -> None:
    season = winter_farm(2, mild_chance_pct=60.0, severe_chance_pct=50.0).season
    with pytest.raises(OutOfRange, match="mild_chance_pct"):
        winter_chances(season)


def test_a_winter_without_a_chance_is_not_planned() -> None:
    programs = plan_winters(winter_farm(2, groups=1, severe_chance_pct=0.0))
    assert [one.winter for one in programs.winters] == [Winter.MILD, Winter.NORMAL]
    with pytest.raises(KeyError):
        programs.of(Winter.SEVERE)
    assert any("no chance here" in one for one in winter_sentences(programs))


def test_without_weather_it_is_said_what_to_write() -> None:
    with pytest.raises(NoWinters, match=r"weather\.csv"):
        plan_winters(replace(winter_farm(2), weather=()))


def test_where_cold_counts_for_nothing_it_is_said_what_to_choose() -> None:
    with pytest.raises(NoWinters, match="cold_rule"):
        plan_winters(winter_farm(2, cold_rule=ColdRule.NONE))


# ---- what a person reads and does ----


def test_hay_is_held_back_for_a_severe_winter_and_an_ordinary_program_keeps_it() -> None:
    """Hay for one cheap winter, dear feed beside it: what a severe one takes is left otherwise."""
    lot = hay("hay", 58.0, 11.0, 60.0, 90.0)
    farm = farm_of([(lot, report_on(lot, 58.0, 11.0))], [cows()], [LIME], weeks=12)
    season = replace(farm.season, cold_rule=ColdRule.PERCENT)
    farm = replace(farm, weather=PAST, season=season)
    programs = plan_winters(farm)
    assert programs.hold_back_kg_dm > 1000.0
    assert programs.reserve_days > 1.0
    assert any(one.startswith("Hold back") for one in winter_sentences(programs))
    normal = programs.of(Winter.NORMAL)
    assert normal.hay_left_kg_dm >= programs.hold_back_kg_dm - 1.0
    ordinary = farm_for_winter(farm, programs, Winter.NORMAL)
    assert ordinary.season.winter is Winter.NORMAL
    assert ordinary.season.reserve_days == programs.reserve_days
    program = plan_season(ordinary, options=WEEKLY)
    assert recheck(program, ordinary) == ()
    assert sum(one.left_t for one in program.lots) * 1000.0 >= programs.hold_back_kg_dm - 1.0
    severe = farm_for_winter(farm, programs, Winter.SEVERE)
    assert severe.season.reserve_days == farm.season.reserve_days


def test_the_sentences_say_what_to_do_in_autumn_and_what_it_saves() -> None:
    _, programs = planned(2)
    said = winter_sentences(programs)
    assert said[0].startswith("Until Nov 23, 2026")
    assert "mild, normal or severe" in said[0]
    assert any(one.startswith("Buy this fall: ") for one in said)
    assert sum("winter (" in one for one in said) == 3
    assert any(one.startswith("Expected cost over the winters: $") for one in said)
    assert "Planned for a normal winter alone, a severe one costs" in said[-1]
