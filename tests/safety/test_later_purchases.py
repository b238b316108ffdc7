"""Grain bought in autumn and grain bought later is one feed to the stock that eat it."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from rickyard.farm import Feed, FeedKind
from rickyard.program.days.day_amounts import group_days
from rickyard.program.feedout.transitions import change_overs
from rickyard.program.problem.problem import problem_of
from rickyard.program.result import FeedingRow, SeasonProgram
from rickyard.program.winters.winters import plan_winters
from rickyard.sheets.data_files.plan_json import plan_json
from rickyard.types import FloatArray
from support.daily_audit import DailyAudit
from support.farms import START
from support.laid_programs import laid_program
from support.rows import few
from support.season_farms import farm_of, hay, report_on, steers
from support.winter_farms import winter_farm

CORN = Feed("corn", "Corn", FeedKind.GRAIN, 0.2, table_id="corn_grain_cracked_nrc2001", dm_pct=88.0)
STRAW = Feed(
    "oats", "Oat hay", FeedKind.FORAGE, 0.1, dm_pct=88.0, tdn_pct=55.0, cp_pct=9.0,
    nitrate_no3n_ppm=1700.0,
)  # fmt: skip
LOT = hay("A", 56.0, 10.0, 60.0, 90.0)
FARM = farm_of(
    [(LOT, report_on(LOT, 56.0, 10.0))],
    [steers(head=10)],
    [
        feed
        for one in (CORN, STRAW)
        for feed in (one, replace(one, feed_id=f"{one.feed_id}_later", same_as=one.feed_id))
    ],
    weeks=5,
)


@cache
def laid() -> SeasonProgram:
    return laid_program(FARM, 1)


def days_of(amounts: dict[str, tuple[float, ...]]) -> dict[str, FloatArray]:
    """Return what is put out by day where a head is to get so many kilograms in each week."""
    program = laid()
    rows = [
        FeedingRow("steers", one.index, one.start, 7, feed, "feed", kg * 0.88, kg * 70.0, None)
        for feed, weeks in {"A": (8.0,) * 5, **amounts}.items()
        for one, kg in zip(program.periods, weeks, strict=True)
        if kg > 0.0
    ]
    (days,) = group_days(replace(program, feeding=tuple(rows)), FARM)
    return {one: kg / 10.0 for one, kg in days.asked.items()}


def test_corn_of_another_purchase_takes_the_place_of_the_first_at_once() -> None:
    alone = days_of({"corn": (0.5, 1.0, 2.0, 2.0, 2.0)})["corn"]
    both = days_of({"corn": (0.5, 1.0, 2.0, 0.0, 0.0), "corn_later": (0.0, 0.0, 0.0, 2.0, 2.0)})
    assert both["corn"] + both["corn_later"] == pytest.approx(alone)


def test_two_purchases_rise_no_faster_than_one() -> None:
    alone = days_of({"corn": (0.0, 1.4, 2.5, 2.5, 2.5)})["corn"]
    both = days_of({"corn": (0.0, 0.7, 1.25, 1.25, 0.5), "corn_later": (0.0, 0.7, 1.25, 1.25, 2.0)})
    assert both["corn"] + both["corn_later"] == pytest.approx(alone)
    assert both["corn"][7] == pytest.approx(both["corn_later"][7])
    assert np.diff(alone).max() <= 0.26


def test_the_step_is_told_once_of_both_purchases() -> None:
    program = laid()
    rows = [
        FeedingRow("steers", one.index, one.start, 7, feed, "feed", kg * 0.88, kg * 70.0, None)
        for feed, kg in (("A", 8.0), ("corn", 1.0), ("corn_later", 1.0))
        for one in program.periods
    ]
    program = replace(program, feeding=tuple(rows))
    told = [one for one in change_overs(program, FARM, list(group_days(program, FARM)))
            if one.to_source.startswith("corn")]  # fmt: skip
    assert [one.to_source for one in told] == ["corn"]


def test_one_row_holds_all_purchases_of_a_feed() -> None:
    problem = problem_of(FARM)
    at = {value.source_id: i for i, value in enumerate(problem.sources.values)}
    steps = [one for one in problem.steps if at["corn"] in one.sources]
    assert steps
    assert all(one.sources == (at["corn"], at["corn_later"]) for one in steps)
    assert not any(one.source == at["corn_later"] for one in problem.steps)
    begins = [one.sources for one in problem.begins]
    assert begins == [(at["oats"], at["oats_later"])]


@pytest.mark.parametrize("late_price_pct", few([-15.0, 20.0], 1))
def test_every_day_of_several_winters_is_safe(late_price_pct: float) -> None:
    for one in plan_winters(winter_farm(1, late_price_pct=late_price_pct)).winters:
        assert DailyAudit(json.loads(plan_json(one.program)), one.farm).breaches() == []
        assert one.program.start == START
