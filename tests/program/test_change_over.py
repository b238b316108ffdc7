"""A group that asks for days to change its hay gets them, or is told why it does not."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from rickyard.farm import Feed, FeedKind
from rickyard.program.audit.audit import recheck
from rickyard.program.feedout.transitions import given_up
from rickyard.program.planning.season import plan_season
from rickyard.program.problem.transition_schedule import change_limits, mean_share, steeper
from rickyard.program.result.result import SeasonProgram
from support.delivery_farms import START
from support.farms import random_farm
from support.rows import each_row
from support.turning_farms import turning_farm
from support.weekly import WEEKLY


def hay_of(program: SeasonProgram, period: int) -> dict[str, float]:
    return {
        row.source_id: row.eaten_kg_dm_per_head_day
        for row in program.feeding
        if row.period == period
    }


def test_a_week_of_change_holds_four_sevenths_of_the_new_hay() -> None:
    program = plan_season(turning_farm(7), options=WEEKLY)
    week = hay_of(program, 2)
    assert week["B"] == pytest.approx(4.0 / 7.0 * 10.0)
    assert week["A"] == pytest.approx(3.0 / 7.0 * 10.0)
    assert hay_of(program, 3)["B"] > week["B"]
    assert not [one for one in program.shortages if one.nutrient == "change_over"]
    assert recheck(program, turning_farm(7)) == ()


def test_without_the_rule_the_change_comes_at_once() -> None:
    week = hay_of(plan_season(turning_farm(None), options=WEEKLY), 2)
    assert week["B"] > 4.0 / 7.0 * 10.0 + 1.0


def test_a_fortnight_of_change_takes_more_than_a_fortnight_of_weeks() -> None:
    program = plan_season(turning_farm(14), options=WEEKLY)
    share = mean_share(7, 14)
    for period in (2, 3):
        new = hay_of(program, period).get("B", 0.0) - hay_of(program, period - 1).get("B", 0.0)
        assert new <= 10.0 * share + 1e-6
    assert hay_of(program, 2)["B"] == pytest.approx(10.0 * share)


def test_the_bales_follow_the_straight_line_day_by_day() -> None:
    farm = turning_farm(7)
    small = tuple(replace(one, bale_weight_kg=20.0, bales=9000.0) for one in farm.lots)
    program = plan_season(replace(farm, lots=small), options=WEEKLY)
    got = {(one.source_id, one.day): one.bales or 0 for one in program.deliveries}
    days = [START + timedelta(days=14 + number) for number in range(7)]
    new = np.array([got.get(("B", day), 0) for day in days])
    old = np.array([got.get(("A", day), 0) for day in days])
    assert new / (new + old) == pytest.approx([one / 7 for one in range(1, 8)], abs=0.1)
    (change,) = [one for one in program.change_overs if one.to_source == "B"]
    assert change.in_program
    assert change.shares == pytest.approx([one / 7 for one in range(1, 8)], abs=1e-6)
    assert "the amounts allow for it" in change.sentence


def test_where_the_old_hay_is_gone_the_rule_gives_way_in_words() -> None:
    farm = turning_farm(7, old_goes_on=False)
    program = plan_season(farm, options=WEEKLY)
    (short,) = [one for one in program.shortages if one.nutrient == "change_over"]
    assert short.most_per_head_day == pytest.approx(3.0 / 7.0 * 10.0)
    assert "in fewer days than they are to have for it" in short.sentence
    assert "the old hay is gone" in short.sentence
    assert recheck(program, farm) == ()


def test_the_rule_is_free_in_the_first_period_and_beside_grazing() -> None:
    farm = turning_farm(7)
    days = np.array([[0.0, 7.0, 7.0, 7.0, 7.0, 3.0]])
    limits = change_limits(farm, days)
    assert np.isnan(limits[0, :2]).all()
    assert limits[0, 2] == pytest.approx(4.0 / 7.0)
    assert limits[0, 5] == pytest.approx(2.0 / 7.0)
    grass = Feed("G", "Grass", FeedKind.GRAZING, 0.01)
    assert np.isnan(change_limits(replace(farm, feeds=(grass,)), days)).all()


@each_row("mean", [0.0, 0.2, 0.55, 0.9, 0.999, 1.0])
def test_a_line_can_be_given_any_mean(mean: float) -> None:
    line = steeper(np.arange(1.0, 8.0) / 7.0, mean)
    assert line.mean() == pytest.approx(mean)
    assert np.all(np.diff(line) >= 0)
    assert 0.0 <= line.min() <= line.max() <= 1.0 + 1e-12


@pytest.mark.parametrize(
    "seed",
    [pytest.param(seed, marks=pytest.mark.long if seed else ()) for seed in range(4)],
)
def test_the_rule_never_makes_a_season_cheaper(seed: int) -> None:
    farm = random_farm(seed, lots=5, groups=3, weeks=6)
    free = plan_season(farm, options=WEEKLY)
    groups = tuple(replace(one, change_over_days=7) for one in farm.groups)
    bound = replace(farm, groups=groups)
    program = plan_season(bound, options=WEEKLY)
    assert program.cost + program.penalty >= (free.cost + free.penalty) * (1 - 1e-6)
    assert recheck(program, bound) == ()


def test_too_fast_a_change_is_found() -> None:
    farm = turning_farm(7)
    program = plan_season(turning_farm(None), options=WEEKLY)
    breaches = [one.what for one in recheck(program, farm)]
    assert any("new hay in period 2, row" in one for one in breaches)
    program = plan_season(farm, options=WEEKLY)
    needs = tuple(
        replace(row, supplied=row.supplied - 0.5) if row.nutrient == "change_over" else row
        for row in program.needs
    )
    breaches = [one.what for one in recheck(replace(program, needs=needs), farm)]
    assert any("new hay in period 2, is" in one for one in breaches)


def test_one_hay_at_a_time_leaves_nothing_to_mix() -> None:
    farm = turning_farm(7)
    groups = tuple(replace(one, hays_at_once=1) for one in farm.groups)
    farm = replace(farm, groups=groups)
    program = plan_season(farm, options=WEEKLY)
    assert not [row for row in program.needs if row.nutrient == "change_over"]
    for change in program.change_overs:
        assert not change.in_program
        assert "one hay at a time" in change.sentence
    assert recheck(program, farm) == ()


@pytest.mark.parametrize(
    ("here", "gone"),
    [
        ({"new": 5.0, "goes on": 5.0}, {"old"}),
        ({"new": 5.0, "goes on": 2.0, "old": 9.0}, {"goes on"}),
        ({"new": 5.0, "goes on": 6.0, "old": 9.0}, {"goes on", "old"}),
    ],
)
def test_hay_that_goes_on_is_not_what_they_change_from(
    here: dict[str, float], gone: set[str]
) -> None:
    assert set(given_up({"goes on": 5.0, "old": 9.0}, here)) == gone
