"""The second look at how feeds climb and hay changes, by amounts laid down by hand."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from rickyard.farm import AnimalClass, FeedKind
from rickyard.program.audit import change
from rickyard.program.audit.change import (
    _climbs,
    _held_back,
    _to_mean,
    _top,
    asked_by_day,
    change_breaches,
    days_here,
    hay_over,
)
from support.by_hand import one
from support.rows import each_row

START = date(2027, 1, 4)
DAYS = [START + timedelta(days=number) for number in range(30)]
INF = float("inf")


def near(*values: float) -> Any:
    return pytest.approx(list(values))


def group_of(**what: Any) -> Any:
    usual = {"group_id": "g", "name": "Cows", "head": 10, "weight_kg": 500.0}
    open_end = {"from_on": None, "to_on": None, "change_over_days": None, "hays_at_once": None,
                "animal_class": AnimalClass.BULL, "weaning_on": None}  # fmt: skip
    return one(**{**usual, **open_end, **what})


def weeks_of(days: int, count: int = 2) -> dict[int, list[date]]:
    return {t: DAYS[t * days : (t + 1) * days] for t in range(count)}


def season(days: int, count: int = 2, **what: Any) -> Any:
    """Return a program of periods of so many days, with two hays and two grains."""
    periods = [one(index=t, start=DAYS[t * days], days=days) for t in range(count)]
    dry = {"a": 80.0, "b": 40.0, "corn": 90.0, "corn2": 90.0, "oats": 90.0}
    usual = {
        "periods": periods,
        "sources": [
            one(source_id=name, dm_pct=pct, bale_weight_kg=None) for name, pct in dry.items()
        ],
        "groups": [one(group_id="g", period=t, full_weight_kg=500.0) for t in range(count)],
        "rations": (),
        "feeding": [],
        "lots": [],
        "needs": [],
    }
    return one(**{**usual, **what})


def row(source: str, period: int, kg: float, group: str = "g", eaten: float = 0.0) -> Any:
    return one(
        group_id=group,
        source_id=source,
        period=period,
        offered_kg=kg,
        eaten_kg_dm_per_head_day=eaten,
    )


CORN, OATS, LATER = (
    one(feed_id=name, kind=FeedKind.GRAIN, same_as=first, most_kg=None)
    for name, first in (("corn", None), ("oats", None), ("corn2", "corn"))
)


def farm_of(*feeds: Any, **what: Any) -> Any:
    season = one(start=START, hays_at_once=None)
    return one(feeds=feeds, fed=[], lots=[], wishes=[], season=season, **what)


def test_a_group_is_here_from_its_first_day_to_the_day_before_its_last() -> None:
    program = season(3)
    assert days_here(program, group_of()) == {DAYS[n]: n // 3 for n in range(6)}
    some = group_of(from_on=DAYS[1], to_on=DAYS[4])
    assert days_here(program, some) == {DAYS[1]: 0, DAYS[2]: 0, DAYS[3]: 1}


def test_hay_that_is_fed_to_nobody_is_over() -> None:
    grass, straw, all_fed = (
        one(feed_id=name, kind=FeedKind.FORAGE, most_kg=most)
        for name, most in (("a", 5000.0), ("b", None), ("corn2", 500.0))
    )
    program = season(
        7,
        lots=[one(lot_id="lot", left_t=2.0)],
        feeding=[row("a", 0, 600.0), row("a", 1, 400.0, "h"), row("corn2", 0, 900.0)],
    )
    over = hay_over(program, farm_of(grass, straw, all_fed, CORN))
    assert over == {"lot": 2000.0, "a": pytest.approx(3200.0), "b": INF, "corn2": 0.0}


@each_row(
    ("over", "days", "means", "most", "level", "line"),
    [
        # By a fourth of the most that is ahead, as far as the mean is kept.
        (4, 4, (2.0, 4.0), INF, 0.0, (1, 2, 2.5, 2.5, 2.875, 3.25, 3.625, 4)),
        # No more a day than may be: then the rise goes on as it began.
        (4, 4, (2.0, 4.0), 0.5, 0.0, (0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4)),
        # Days beyond those of the rise are not looked at.
        (3, 4, (2.0, 4.0), INF, 0.0, (2 / 3, 4 / 3, 2, 2, 8 / 3, 10 / 3, 4, 4)),
        # What needs no days, and a fall, come at once.
        (4, 4, (2.1, 1.0), INF, 2.0, (2.1, 2.1, 2.1, 2.1, 1, 1, 1, 1)),
        (4, 4, (2.11, 1.0), INF, 2.0, (2.0275, 2.055, 2.0825, 2.11, 1, 1, 1, 1)),
        # A rise that is over begins anew from where it ended.
        (2, 2, (1.0, 5.0), INF, 0.0, (1, 1, 3, 5)),
        (4, 1, (1.0, 5.0), INF, 0.0, (1, 2.25)),
    ],
)
def test_a_feed_climbs_by_even_steps(
    over: int, days: int, means: tuple[float, float], most: float, level: float, line: Any
) -> None:
    free = {0: 0.1, 1: 0.1}
    found = _climbs(dict(enumerate(means)), weeks_of(days), [0, 1], free, (over, most, level))
    assert list(found) == DAYS[: 2 * days]
    assert list(found.values()) == near(*line)


def test_a_feed_that_is_held_back_is_never_more_than_is_asked_for() -> None:
    def line(means: dict[int, float], most: float = INF, *closed: date) -> list[float]:
        free = {0: 0.1, 1: 0.1}
        pace = (4, most, 0.0)
        return list(_held_back((means, set(closed)), weeks_of(5), [0, 1], free, pace).values())

    assert line({0: 2.0, 1: 3.0}) == near(0.5, 1, 1.5, 2, 2, 2.25, 2.5, 2.75, 3, 3)
    assert line({0: 2.0, 1: 2.05}) == near(0.5, 1, 1.5, 2, 2, *[2.05] * 5)
    assert line({0: 2.0, 1: 3.0}, 0.3) == near(0.3, 0.6, 0.9, 1.2, 1.5, 1.8, 2.1, 2.4, 2.7, 3.0)
    # Another goal while it still climbs is another climb, from where it is.
    assert line({0: 4.0, 1: 4.2}, 0.7)[5:] == near(3.675, 3.85, 4.025, 4.2, 4.2)
    assert line({0: 2.0, 1: 0.5}, INF, DAYS[0], DAYS[1]) == near(0, 0, 0.5, 1, 1.5, *[0.5] * 5)


def test_a_line_is_cut_off_or_stretched_so_that_its_mean_is_right() -> None:
    assert _top(0.0, 2.45, 4, 1.0) == pytest.approx(3.8)
    assert _top(0.0, 9.0, 4, 1.0) == 9.0
    assert _top(1.0, 2.0, 2, 0.5) == pytest.approx(2.0)
    assert _to_mean([1.0, 1.0], 0.05) == near(0.05, 0.05)
    assert _to_mean([0.25, 0.5, 0.75, 1.0], 0.95) == near(0.8, 1.0, 1.0, 1.0)


def rule(source: str, demand: str, amount: float) -> Any:
    named = one(rule_id="grain-step", demand=demand, amount=amount, mixed=False)
    return one(group_id="g", source_id=source, rule=named)


def asked(
    monkeypatch: pytest.MonkeyPatch, rules: list[Any], program: Any, farm: Any, **what: Any
) -> tuple[dict[str, list[float]], dict[str, float]]:
    """Return what is asked for of each source by day, and what is then over of hay."""
    monkeypatch.setattr(change, "bindings", lambda farm: [*rules, one(group_id="h")])
    monkeypatch.setattr(change, "waits", lambda *args: what.pop("waiting", set()))
    over = {"a": 20.0, "b": 0.0}
    group = group_of(**{name: value for name, value in what.items() if name != "waiting"})
    found = asked_by_day(program, farm, group, (), over)
    return {name: list(by_day.values()) for name, by_day in found.items()}, over


def test_grain_climbs_and_hay_that_is_over_makes_up(monkeypatch: pytest.MonkeyPatch) -> None:
    program = season(
        4, 1, feeding=[row("corn", 0, 80.0), row("a", 0, 400.0), row("a", 0, 9.0, "h")]
    )
    found, over = asked(monkeypatch, [rule("corn", "step", 4.0)], program, farm_of(CORN))
    assert found["corn"] == near(5.0, 10.0, 15.0, 20.0)
    # 15, 10 and 5 kg of corn at 90 % are held back, and 20 kg of dry hay are over: 7 are lacking,
    # as much on each of three days.
    lacks = 7.0 / 3.0
    hay = [100.0 + (held - lacks) / 0.8 for held in (13.5, 9.0, 4.5)]
    assert found["a"] == near(*hay, 100.0)
    assert over == {"a": pytest.approx(0.0), "b": 0.0}
    rations = season(4, 1, feeding=program.feeding, rations=(1,))
    again, _ = asked(monkeypatch, [rule("corn", "step", 4.0)], rations, farm_of(CORN))
    assert again["corn"] == near(5.0, 10.0, 15.0, 20.0)


def test_small_grain_comes_at_once_and_all_grains_rise_by_no_more_than_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rules = [rule("corn", "step", 4.0), rule("oats", "step", 4.0)]
    rules += [rule(name, "rise", 0.3) for name in ("corn", "oats")]
    program = season(4, 1, feeding=[row("corn", 0, 80.0), row("oats", 0, 40.0)])
    found, _ = asked(monkeypatch, rules, program, farm_of(CORN, OATS))
    assert found["corn"] == near(2.0, 4.0, 6.0, 8.0), "two thirds of 3 kg a day"
    assert found["oats"] == near(1.0, 2.0, 3.0, 4.0)
    # Half a pound a head, or a two-thousandth of what it weighs.
    for weight, kg, at_once in ((500.0, 9.07, True), (500.0, 9.08, False), (400.0, 8.01, False)):
        light = season(4, 1, feeding=[row("corn", 0, kg)])
        light.groups[0].full_weight_kg = weight
        found, _ = asked(monkeypatch, rules[:1], light, farm_of(CORN))
        assert (found["corn"][0] == pytest.approx(kg / 4.0)) is at_once, kg


def test_what_is_bought_twice_climbs_as_one_feed(monkeypatch: pytest.MonkeyPatch) -> None:
    fed = [row("corn", 0, 80.0), row("corn", 1, 60.0), row("corn2", 1, 20.0)]
    rules = [rule("corn", "step", 4.0)]
    found, _ = asked(monkeypatch, rules, season(4, feeding=fed), farm_of(CORN, LATER))
    assert found["corn"] == near(5, 10, 15, 20, 15, 15, 15, 15)
    assert found["corn2"] == near(5, 5, 5, 5)
    alone = season(4, 1, feeding=[row("corn2", 0, 80.0)])
    found, _ = asked(monkeypatch, rules, alone, farm_of(CORN, LATER))
    assert found == {"corn2": near(5, 10, 15, 20)}


def test_new_hay_comes_in_over_the_days_of_change(monkeypatch: pytest.MonkeyPatch) -> None:
    fed = [row("a", 0, 400.0), row("a", 1, 200.0), row("b", 1, 400.0)]
    program = season(4, feeding=fed)
    found, _ = asked(monkeypatch, [], program, farm_of(), change_over_days=4)
    # Half of the dry matter is new: a line of quarters, a little less steep, has that mean.
    share = [0.2, 0.4, 0.6, 0.8]
    assert found["a"][4:] == near(*(200.0 * (1.0 - one) / 2.0 for one in share))
    assert found["b"][:4] == near(*(400.0 * one / 2.0 for one in share))
    for days in (None, 1):
        found, _ = asked(monkeypatch, [], program, farm_of(), change_over_days=days)
        assert found["b"][:4] == near(*[100.0] * 4)
    # Hay of which a first day is fed after days away is no change.
    away = season(4, 3, feeding=[*fed, row("a", 2, 400.0)])
    late = asked(monkeypatch, [], away, farm_of(), change_over_days=4, from_on=DAYS[4])[0]
    assert late["b"][:4] == near(*[100.0] * 4)


def told(*claims: Any, **what: Any) -> list[str]:
    eaten = [
        row("a", 0, 1.0, eaten=8.0),
        row("a", 1, 1.0, eaten=5.0),
        row("b", 1, 1.0, eaten=5.0),
        row("corn", 1, 1.0, eaten=9.0),
        row("a", 1, 1.0, "h", eaten=90.0),
    ]
    program = season(7, feeding=eaten, needs=claims)
    farm = farm_of(*what.pop("feeds", (CORN,)))
    farm.season.hays_at_once = what.pop("at_once", None)
    farm.groups = [group_of(**{"change_over_days": 4, **what})]
    return [one.what.rpartition(", ")[2] for one in change_breaches(program, farm)]


def test_more_new_hay_than_days_of_change_allow_is_named() -> None:
    # A fourth, half, three fourths and four whole days, of ten kilograms.
    most = 10.0 * 5.5 / 7.0
    claim = {"group_id": "g", "period": 1, "nutrient": "change_over"}
    right = {"need": most, "supplied": 5.0, "shortage": 0.0}
    assert told(one(**claim, **right)) == []
    assert told() == ["row"]
    assert told(one(**{**claim, "nutrient": "cp"}, **right)) == ["row"]
    for name, what in (("need", "may be"), ("supplied", "is"), ("shortage", "too much")):
        for off, found in ((0.99e-5 * most, []), (1.01e-5 * most, [what])):
            changed = {**right, name: right[name] + off}
            assert told(one(**claim, **changed)) == found
    short = {"need": 1.0, "supplied": 5.0, "shortage": 4.0}
    assert told(one(**claim, **short)) == ["may be", "too much"]
    assert told(one(**claim, **right), from_on=DAYS[7]) == []
    for free in ({"at_once": 1}, {"hays_at_once": 1}, {"change_over_days": 1}):
        assert told(**free) == []
    assert told(change_over_days=None) == []
    assert told(at_once=1, hays_at_once=2) == ["row"]
    grass = one(feed_id="grass", kind=FeedKind.GRAZING)
    assert told(feeds=(grass,)) == []
    # Five kilograms of eight in a week of one day's change is all that may be new, and no more.
    assert (
        told(one(**claim, need=10.0 * 6.5 / 7.0, supplied=5.0, shortage=0.0), change_over_days=2)
        == []
    )
