"""How slowly feeds are raised and hay with nitrate is begun, worked out day by day."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from rickyard.farm import AnimalClass, FedRow, Feed, FeedKind, Group
from rickyard.program.problem.problem import Problem, problem_of
from rickyard.program.problem.step_schedule import begin_parts, step_factors
from rickyard.program.problem.transition_schedule import day_shares, new_hay_by_day, steeper
from rickyard.safety.rule import amount_of
from support.farms import START
from support.rows import each_row
from support.season_farms import farm_of, hay, report_on

LB = 0.45359237
CORN = Feed("corn", "Corn", FeedKind.GRAIN, 0.3, dm_pct=88.0, tdn_pct=88.0, cp_pct=9.0)


def season(
    kind: AnimalClass = AnimalClass.COW, kg: float = 560.0, fed: tuple[FedRow, ...] = ()
) -> Problem:
    lot = hay("lot", 55.0, 9.0, 60.0, 60.0)
    bad = hay("bad", 55.0, 9.0, 60.0, 30.0)
    group = Group("g", "Stock", kind, 10, weight_kg=kg, feeding_loss_pct=0.0)
    reports = [(lot, report_on(lot, 55.0, 9.0)), (bad, report_on(bad, 55.0, 9.0, 1800.0))]
    return problem_of(replace(farm_of(reports, [group], [CORN]), fed=fed))


@each_row("over", [3, 7, 10, 14, 21, 28])
@each_row("days", [7, 5])
def test_a_rise_by_even_daily_steps_is_allowed_and_a_sudden_one_is_not(
    over: int, days: int
) -> None:
    periods = 8
    keep, ahead = step_factors(np.full(periods, float(days)), over)
    for first in range(3):
        day = np.arange(periods * days) - first * days
        heights = np.clip((day + 1.0) / over, 0.0, 1.0).reshape(periods, days).mean(axis=1)
        before = np.concatenate(([0.0], heights[:-1]))
        after = np.concatenate((heights[1:], [0.0]))
        most = keep * before + ahead * after
        held = range(first, periods - 1)
        assert all(heights[t] <= most[t] + 1e-9 for t in held)
        assert heights[first] == pytest.approx(most[first])
        if over > days:
            assert heights[first + 1] == pytest.approx(most[first + 1])
    full = np.ones(periods)
    assert (full[0] > ahead[0] + 1e-9) is (over > 1 and ahead[0] < 1.0 - 1e-9)


def test_a_period_without_days_neither_keeps_nor_asks() -> None:
    keep, ahead = step_factors(np.array([7.0, 0.0, 7.0, 7.0]), 14)
    assert ahead[:2].tolist() == [0.0, 0.0]
    assert keep[:2].tolist() == [1.0, 1.0]
    assert ahead[2] > 0.0


@pytest.mark.parametrize(
    ("kind", "kg", "pound_a_day"),
    [
        (AnimalClass.COW, 560.0, 1.0),
        (AnimalClass.EWE, 80.0, 0.125),
        (AnimalClass.HORSE, 500.0, 0.5),
    ],
)
def test_grain_that_is_free_and_its_rise_a_day(
    kind: AnimalClass, kg: float, pound_a_day: float
) -> None:
    """Half a pound or a twentieth of a percent of weight are free; cattle rise a pound a day."""
    problem = season(kind, kg)
    dry = 0.88
    weight = problem.needs.full_weight_kg[0]
    free = dry * np.minimum(0.5 * LB, 0.05 / 100.0 * weight)
    source = next(at for at, one in enumerate(problem.sources.values) if one.source_id == "corn")
    steps = {one.rule_id: one for one in problem.steps if one.source == source}
    rise = next(one for name, one in steps.items() if "rise" in name)
    step = next(one for name, one in steps.items() if "step" in name)
    assert step.days == int(amount_of(step.rule_id)) == 10
    assert rise.days == 0
    allowed = np.maximum(free, pound_a_day * LB * dry * (problem.needs.days[0] + 1.0) / 2.0)
    assert rise.free == pytest.approx(allowed)
    assert set(np.round(step.free, 9)) <= {0.0, *np.round(free, 9)}
    assert step.free.max() == pytest.approx(free.max())
    assert rise.keep == pytest.approx(1.0)
    assert rise.ahead == pytest.approx(0.0)
    assert step.before_kg == rise.before_kg == 0.0


def test_hay_with_nitrate_is_begun_by_thirds_unless_it_was_fed_the_week_before() -> None:
    """A third of its share on each three days."""
    assert begin_parts(9).tolist() == pytest.approx([1 / 3] * 3 + [2 / 3] * 3 + [1.0] * 3)
    wanted = begin_parts(7).mean()
    begins = season().begins
    assert [one.source for one in begins] == [1]
    part = begins[0].part
    assert set(np.round(part[np.isfinite(part)], 9)) <= {0.0, round(float(wanted), 9)}
    assert np.nanmax(part) == pytest.approx(wanted)
    for ago, known in ((0, False), (1, True), (7, True), (8, False)):
        row = FedRow(START - timedelta(days=ago), "bad", "g", mass_kg=50.0)
        first = season(fed=(row,)).begins[0].part[0]
        assert np.isnan(first) == known


def test_grain_and_hay_with_nitrate_are_fed_with_forage_beside_them() -> None:
    found = {one.rule_id: one for one in season().besides}
    share = amount_of("forage-beside-cattle")
    assert found["forage-beside-cattle"].most == pytest.approx((100.0 - share) / share)
    assert found["forage-beside-cattle"].of.tolist() == [False, False, True]
    assert found["forage-beside-cattle"].beside.tolist() == [True, True, False]
    if "nitrate-beside" in found:
        assert found["nitrate-beside"].of.tolist() == [False, True, False]
        assert found["nitrate-beside"].beside.tolist() == [True, False, False]


def test_new_hay_comes_in_over_the_days_of_its_week_and_dry_matter_stays() -> None:
    week = np.repeat([0, 1, 2], 7)
    old = np.where(week == 0, 10.0, np.where(week == 1, 6.0, 0.0))
    new = np.where(week == 0, 0.0, np.where(week == 1, 5.0, 11.0))
    dry = {"old": 0.9, "new": 0.8}
    found = new_hay_by_day(week, {"old": old, "new": new}, dry, 7)
    for name, asked in (("old", old), ("new", new)):
        for one in range(3):
            assert found[name][week == one].sum() == pytest.approx(asked[week == one].sum())
    total = found["old"] * 0.9 + found["new"] * 0.8
    asked_total = old * 0.9 + new * 0.8
    assert total == pytest.approx(asked_total)
    mean = 5.0 * 0.8 / (5.0 * 0.8 + 6.0 * 0.9)
    share = found["new"][week == 1] * 0.8 / total[week == 1]
    assert share == pytest.approx(steeper(day_shares(7, 7), mean))
    assert np.array_equal(found["new"][week == 2], new[week == 2])
    assert np.array_equal(found["old"][week == 0], old[week == 0])
    only = new_hay_by_day(week, {"new": new}, dry, 7)
    assert np.array_equal(only["new"], new)


@pytest.mark.parametrize(("ago", "counts"), [(0, False), (1, True), (7, True), (8, False)])
def test_what_was_fed_in_the_week_before_is_where_a_rise_begins(ago: int, counts: bool) -> None:
    """Seventy kilograms to ten head in a week: one a day, as dry matter."""
    row = FedRow(START - timedelta(days=ago), "corn", "g", mass_kg=70.0)
    strangers = (replace(row, group_id="h"), replace(row, source_id="lot"))
    problem = season(fed=(row, *strangers))
    mine = [one for one in problem.steps if problem.sources.values[one.source].source_id == "corn"]
    assert mine
    assert [one.before_kg for one in mine] == pytest.approx([0.88 * counts] * len(mine))


def test_hay_with_nitrate_and_grain_take_turns_by_the_week() -> None:
    problem = season()
    part = problem.begins[0].part
    step = next(one for one in problem.steps if one.days)
    last = len(part) - 1
    assert np.isfinite(part).all()
    assert [bool(one) for one in part[:last]] == [t % 2 == 0 for t in range(last)]
    assert [bool(one) for one in step.free[:last]] == [t % 2 == 1 for t in range(last)]
    assert not step.ahead[0:last:2].any()
    assert step.ahead[1 : last - 1 : 2].all()


def test_two_grains_rise_together_no_faster_than_one_of_them_may() -> None:
    oats = replace(CORN, feed_id="oats", name="Oats", dm_pct=80.0)
    lot = hay("lot", 55.0, 9.0, 60.0, 60.0)
    group = Group("g", "Stock", AnimalClass.COW, 10, weight_kg=560.0, feeding_loss_pct=0.0)
    corn = FedRow(START - timedelta(days=1), "corn", "g", mass_kg=70.0)
    farm = farm_of([(lot, report_on(lot, 55.0, 9.0))], [group], [CORN, oats])
    problem = problem_of(replace(farm, fed=(corn, replace(corn, source_id="oats"))))
    apart = [one for one in problem.steps if one.days]
    (together,) = [one for one in problem.steps if not one.days and "step" in one.rule_id]
    assert [one.sources for one in apart] == [(1,), (2,)]
    assert together.sources == (1, 2)
    assert together.before_kg == pytest.approx(0.88 + 0.80)
    assert together.free == pytest.approx(apart[1].free)
    assert together.free.max() == pytest.approx(0.80 * 0.5 * LB)


@pytest.mark.parametrize(
    ("calving", "weaning", "weeks"),
    [
        (14, None, {2, 3}),
        (13, None, {1, 2}),
        (15, None, {2, 3}),
        (None, 14, {2}),
        (None, 13, {1}),
        (None, 15, {2}),
        (None, 21, {3}),
        (3, None, {1}),
        (None, None, set()),
    ],
)
def test_feed_does_not_fall_in_the_week_of_a_birth_or_of_weaning(
    calving: int | None, weaning: int | None, weeks: set[int]
) -> None:
    lot = hay("lot", 55.0, 9.0, 60.0, 60.0)
    group = Group(
        *("g", "Stock", AnimalClass.COW, 10),
        weight_kg=560.0,
        calving_on=None if calving is None else START + timedelta(days=calving),
        weaning_on=None if weaning is None else START + timedelta(days=weaning),
    )
    problem = problem_of(farm_of([(lot, report_on(lot, 55.0, 9.0))], [group], [CORN]))
    rules = {one.rule_id for one in problem.holds}
    assert {one.period for one in problem.holds} == weeks
    assert {one.supply for one in problem.holds} == ({"nem", "cp"} if weeks else set())
    assert len(problem.holds) == 2 * len(weeks)
    for one in problem.holds:
        assert one.part == pytest.approx(amount_of(one.rule_id) / 100.0)
        assert one.slow == ((1,),)
    assert rules <= {"no-fall-birth", "no-fall-weaning"}
