"""The farms behind a plan for several winters: feeds in two, and feeds in the yard, in figures."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.farm import ColdRule, Farm, Feed, FeedKind, WeatherRow, Winter
from rickyard.program.result import NoWinters, Wish
from rickyard.program.winters.two_stage import FirstStage
from rickyard.program.winters.winter_farms import (
    farm_for_winter,
    need_winters,
    split_farm,
    winter_chances,
    with_stock,
)
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on


def autumn(days: int = 42, **season: Any) -> Farm:
    """Return a farm of six weeks with a lot of hay, two feeds to buy and a pasture."""
    lot = hay("lot", 55.0, 9.0, 50.0, 60.0)
    bought = Feed("x", "X", FeedKind.FORAGE, 0.2, dm_pct=80.0, tdn_pct=60.0, cp_pct=12.0)
    farm = farm_of([(lot, report_on(lot, 55.0, 9.0))], [cows()], [])
    start = farm.season.start
    later = replace(
        bought, feed_id="y", name="Y", load_kg=500.0, from_on=start + timedelta(days=30)
    )
    grass = replace(bought, feed_id="z", name="Z", kind=FeedKind.GRAZING)
    given = {"carry_over_value_pct": 60.0, "late_price_pct": 10.0, **season}
    return replace(
        farm,
        season=replace(farm.season, end=start + timedelta(days=days), period_days=7, **given),
        feeds=(replace(bought, most_kg=1000.0), grass, later),
    )


def test_feeds_are_bought_now_or_later_at_another_price() -> None:
    farm = autumn()
    start = farm.season.start
    wishes = [Wish("keep_off", "x"), Wish("keep_off", "lot"), Wish("feed", "y")]
    given = split_farm(farm, wishes)
    # A third of 42 days is the end of the second week.
    assert (given.known_on, given.split.early) == (start + timedelta(days=14), 2)
    assert given.split.autumn.tolist() == [1, 3]
    assert given.split.late.tolist() == [4, 5]
    assert given.split.end_worth == pytest.approx(0.6)
    first, second = given.farm.feeds[3:]
    assert (first.feed_id, first.from_on) == ("x_later", given.known_on)
    assert (second.feed_id, second.from_on) == ("y_later", start + timedelta(days=30))
    assert first.price_usd_per_kg == pytest.approx(0.22)
    assert given.dm_frac[1] == pytest.approx(0.8)
    assert given.wishes == (*wishes, replace(wishes[0], source_id="x_later"))


@pytest.mark.parametrize(("day", "early", "copies"), [(7, 1, 2), (8, 2, 2), (35, 5, 2), (36, 6, 0)])
def test_a_winter_is_known_at_the_end_of_a_week(day: int, early: int, copies: int) -> None:
    farm = autumn()
    known = farm.season.start + timedelta(days=day)
    season = replace(farm.season, winter_known_on=known, carry_over_value_pct=120.0)
    given = split_farm(replace(farm, season=season), ())
    assert given.split.early == early
    assert given.known_on == farm.season.start + timedelta(days=7 * early)
    assert sum(given.split.late >= 0) == copies == len(given.farm.feeds) - 3
    assert given.split.end_worth == 1.0


def test_what_was_bought_in_autumn_stands_in_the_yard() -> None:
    given = split_farm(autumn(), ())
    stage = FirstStage.__new__(FirstStage)
    object.__setattr__(stage, "bought_kg_dm", np.array([400.0, 80.0]))
    farm = with_stock(given, Winter.SEVERE, stage)
    x, _, y, x_later, y_later = farm.feeds
    assert farm.season.winter is Winter.SEVERE
    assert (x.most_kg, y.most_kg) == pytest.approx((500.001, 100.001), abs=1e-9)
    assert (x.load_kg, y.load_kg) == (None, None)
    assert x.price_usd_per_kg == pytest.approx(0.12)
    assert (x_later.most_kg, y_later.most_kg) == (pytest.approx(500.0), None)
    object.__setattr__(stage, "bought_kg_dm", np.array([1000.0, 0.0]))
    farm = with_stock(given, Winter.MILD, stage)
    assert (farm.feeds[0].most_kg, farm.feeds[3].most_kg) == (1000.0, 0.0)


@each_row(
    ("winter", "own", "severe", "days"),
    [
        (Winter.MILD, None, 5.0, 5.0), (Winter.NORMAL, 7.0, 5.0, 7.0), (Winter.MILD, 3.0, 5.0, 5.0),
        (Winter.SEVERE, None, 5.0, None), (Winter.SEVERE, 3.0, 5.0, 3.0),
        (Winter.MILD, None, 0.0, None), (Winter.MILD, 0.0, 0.0, 0.0),
    ],
)  # fmt: skip
def test_hay_for_a_severe_winter_is_kept_in_the_others(
    winter: Winter, own: Any, severe: float, days: Any
) -> None:
    farm = autumn(reserve_days=own)
    programs: Any = type("Programs", (), {"reserve_days": severe})()
    season = farm_for_winter(farm, programs, winter).season
    assert (season.winter, season.reserve_days) == (winter, days)


def test_winters_differ_where_cold_or_weather_counts() -> None:
    told = (WeatherRow(date(2027, 1, 1), True, -5.0),)
    plain: dict[str, Any] = {"acclimatise": False, "intake_by_weather": False}
    warm = replace(autumn(cold_rule=ColdRule.NONE, **plain), weather=told)
    with pytest.raises(NoWinters, match="no way to count the cold"):
        need_winters(warm)
    for counts in ("acclimatise", "intake_by_weather"):
        need_winters(replace(warm, season=replace(warm.season, **{counts: True})))
    need_winters(replace(warm, season=replace(warm.season, cold_rule=ColdRule.FACTORIAL)))
    with pytest.raises(NoWinters, match="no weather"):
        need_winters(replace(warm, weather=()))


def test_chances_are_shares_of_a_hundred_in_all() -> None:
    season = replace(autumn().season, mild_chance_pct=30.0, severe_chance_pct=70.0)
    assert winter_chances(season) == pytest.approx({Winter.MILD: 0.3, Winter.SEVERE: 0.7})
    with pytest.raises(ValueError, match="100 at most"):
        winter_chances(replace(season, mild_chance_pct=30.1))
    with pytest.raises(ValueError, match="none below 0"):
        winter_chances(replace(season, mild_chance_pct=-0.1))
