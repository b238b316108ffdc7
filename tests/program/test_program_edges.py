"""The small rules of a program on either side of their limits: bales, steps, loads, chances."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from rickyard.farm import (
    AnimalClass,
    Farm,
    FedRow,
    Feed,
    FeedKind,
    Season,
    Winter,
)
from rickyard.program.compare.fed_vs_planned import fed_against
from rickyard.program.days.step_up import free_step_kg
from rickyard.program.feedout.deliveries import whole_shares
from rickyard.program.feedout.feeding_days import feed_spans, hay_spans, rhythm_of
from rickyard.program.inputs.source_limits import whole_loads
from rickyard.program.planning.what_if import is_unclear
from rickyard.program.problem.problem import feed_left_share
from rickyard.program.problem.transition_schedule import day_shares, mean_share, steeper
from rickyard.program.result.judgement import distance_usd, is_clear
from rickyard.program.winters.winter_farms import winter_chances
from rickyard.quantities import OutOfRange
from support.season_example import example
from support.season_farms import cows, farm_of, hay, report_on

LB = 0.45359237
START = date(2026, 11, 2)


def test_a_light_animal_is_raised_by_a_twentieth_of_a_percent_of_its_weight() -> None:
    assert free_step_kg(200.0) == pytest.approx(0.1)
    assert free_step_kg(1000.0) == pytest.approx(0.5 * LB)
    assert free_step_kg(453.0) == pytest.approx(0.2265)


def test_bales_round_by_half_and_never_to_more_than_stand() -> None:
    assert whole_shares({"a": 1.5, "b": 1.4999}, None) == {"a": 2, "b": 1}
    assert whole_shares({"a": 1.6, "b": 1.7}, 3) == {"a": 1, "b": 2}
    assert whole_shares({"a": 1.6, "b": 1.7}, 4) == {"a": 2, "b": 2}
    assert whole_shares({"a": 2.0, "b": 1.7}, 3) == {"a": 2, "b": 1}


def test_deliveries_cover_every_day_once() -> None:
    for days in (1, 6, 7, 8, 15):
        for every in (1, 3, 7):
            spans = hay_spans(days, every)
            assert [day for one in spans for day in range(one.first, one.end)] == list(range(days))
        for rhythm in ("daily", "thrice", "weekly"):
            spans = [one for week in feed_spans(days, rhythm) for one in week]
            assert [day for one in spans for day in range(one.first, one.end)] == list(range(days))
    assert [[one.first for one in week] for week in feed_spans(14, "thrice")] == [
        *([0, 2, 4], [7, 9, 11])
    ]
    assert [len(week) for week in feed_spans(14, "weekly")] == [1, 1]


def test_protein_goes_three_times_a_week_from_25_percent_to_cows_alone() -> None:
    """SDSU Extension 2012; growing steers on alternate days ate less (Shirley 2002)."""
    feed = Feed("f", "Cake", FeedKind.SUPPLEMENT, 0.4, starch_pct=5.0)
    assert rhythm_of(feed, AnimalClass.COW, 25.0, 2) == "thrice"
    assert rhythm_of(feed, AnimalClass.COW, 24.9, 2) == "daily"
    assert rhythm_of(feed, AnimalClass.COW, 25.0, 1) == "daily"
    assert rhythm_of(feed, AnimalClass.STOCKER, 40.0, 2) == "daily"
    starchy = replace(feed, starch_pct=30.1)
    assert rhythm_of(starchy, AnimalClass.COW, 30.0, 2) == "daily"
    urea = replace(feed, npn_cp_pct=0.5)
    assert rhythm_of(urea, AnimalClass.COW, 40.0, 2) == "daily"


def test_a_new_hay_comes_in_by_equal_steps() -> None:
    assert day_shares(6, 4).tolist() == [0.25, 0.5, 0.75, 1.0, 1.0, 1.0]
    assert mean_share(0, 7) == 1.0
    assert mean_share(4, 4) == 0.625
    line = np.array([0.25, 0.5, 0.75, 1.0])
    for mean in (0.0, 0.2, 0.625, 0.7, 0.9, 1.0):
        found = steeper(line, mean)
        assert found.mean() == pytest.approx(mean)
        assert found.max() <= 1.0
        assert np.all(np.diff(found) >= 0.0)


def test_loads_are_whole_and_a_multiple_is_one() -> None:
    feed = Feed("f", "Corn", FeedKind.GRAIN, 0.2, most_kg=29_999.0, load_kg=10_000.0)
    assert whole_loads(feed) == 2
    assert whole_loads(replace(feed, most_kg=3 * 0.1, load_kg=0.1)) == 3
    assert whole_loads(replace(feed, most_kg=None)) is None
    assert whole_loads(replace(feed, load_kg=None)) is None


def test_feed_left_over_gains_nothing() -> None:
    assert [feed_left_share(one) for one in (0.5, 1.0, 1.1)] == [0.5, 1.0, 1.0]


def test_chances_of_winters_add_up_to_one() -> None:
    def chances(mild: float, severe: float) -> dict[Winter, float]:
        season = Season(START, START + timedelta(days=90))
        return winter_chances(replace(season, mild_chance_pct=mild, severe_chance_pct=severe))

    assert chances(25.0, 25.0) == {Winter.MILD: 0.25, Winter.NORMAL: 0.5, Winter.SEVERE: 0.25}
    assert chances(40.0, 60.0) == {Winter.MILD: 0.4, Winter.SEVERE: 0.6}
    assert chances(0.0, 0.0) == {Winter.NORMAL: 1.0}
    for mild, severe in ((-0.05, 20.0), (20.0, -0.05), (50.0, 50.1)):
        with pytest.raises(OutOfRange):
            chances(mild, severe)


def test_a_difference_is_clear_beyond_what_the_search_leaves_open() -> None:
    program, _ = example()
    at = replace(program, cost=1000.0, gap=0.01)
    assert distance_usd(1000.0, 0.01) == pytest.approx(10.0)
    assert [distance_usd(1000.0, gap) for gap in (0.0, 0.00049, 0.0005)] == [0.0, 0.0, 0.5]
    assert distance_usd(-0.5, 0.1) == 0.1
    wide = distance_usd(at.cost, at.gap)
    assert not is_clear(wide, at)
    assert is_clear(wide + 0.5, at)
    assert is_clear(-wide - 0.5, at)
    assert not is_clear(wide + 0.5, at, replace(at, gap=0.02))


def test_what_if_is_unclear_between_half_a_dollar_and_what_is_open() -> None:
    program, _ = example()
    base = replace(program, cost=1000.0, gap=0.01)
    costs = (1000.25, 1000.75, 1010.0, 1010.2, 990.0, 989.9, 999.6)
    found = [is_unclear(base, replace(base, cost=cost)) for cost in costs]
    assert found == [False, True, True, False, True, False, False]


def test_the_log_of_a_span_is_read_from_its_first_day_to_the_day_before_its_end() -> None:
    lot = hay("A", 56.0, 9.0, 30.0, 60.0)
    farm = farm_of([(lot, report_on(lot, 56.0, 9.0))], [cows()], [], weeks=2)

    def told(kg: float) -> Farm:
        row = FedRow(farm.season.start, "A", farm.groups[0].group_id, mass_kg=kg)
        return replace(farm, fed=(row,))

    end = farm.season.start + timedelta(days=7)
    lines = fed_against(told(100.0), None, farm.season.start, end).lines
    assert [(one.source_id, one.planned_kg, one.fed_kg) for one in lines] == [("A", None, 100.0)]
    before = fed_against(
        told(100.0), None, farm.season.start - timedelta(days=7), farm.season.start
    )
    assert before.lines == ()
