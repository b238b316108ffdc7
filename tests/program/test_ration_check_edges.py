"""The second look at rations at its edges: days that just touch, amounts just off, who waits."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.farm import AnimalClass, FeedKind
from rickyard.kinds import Offered
from rickyard.program.ration_check import free_choice
from rickyard.program.ration_check.constant import _Look, ration_breaches, week_may_lack
from rickyard.program.ration_check.free_choice import (
    _alone,
    _share,
    _weeks,
    fill_breaches,
    has_free_access,
)
from rickyard.program.ration_check.turns import waits
from support.by_hand import one
from support.rows import each_row

START = date(2027, 1, 4)


def day(number: int) -> date:
    return START + timedelta(days=number)


def period(index: int) -> Any:
    return one(index=index, start=day(7 * index), days=7)


PERIODS = [period(t) for t in range(4)]
COWS = one(group_id="cows", name="Cows", things_in_ration=None, week_may_lack_pct=None)
SEASON = one(things_in_ration=None, week_may_lack_pct=3.0)


def ration(first: int, end: int, **other: Any) -> Any:
    given = {
        "group_id": "cows",
        "number": 1,
        "things": [],
        "offered": Offered.FREE_CHOICE,
        "appetite_pct": 100.0,
    }
    return one(start=day(first), end=day(end), **{**given, **other})


@each_row(
    ("first", "end", "weeks"),
    [
        (7, 14, [1]),
        (7, 15, [1, 2]),
        (6, 14, [0, 1]),
        (8, 13, [1]),
        (0, 28, [0, 1, 2, 3]),
        (13, 14, [1]),
        (14, 15, [2]),
    ],
)
def test_a_ration_has_the_weeks_with_which_it_shares_a_day(
    first: int, end: int, weeks: list[int]
) -> None:
    mine = ration(first, end)
    program = one(periods=PERIODS, rations=[mine], groups=[], feeding=[])
    assert _weeks(program, mine) == weeks
    cows = one(group_id="cows", animal_class=AnimalClass.COW)
    assert [t for t in range(4) if has_free_access(program, cows, t)] == weeks
    look = _Look(program, one(groups=[COWS], feeds=[], season=SEASON))
    look.cells = {("cows", t): one(period=t) for t in range(4)}
    assert [cell.period for cell in look._cells(mine)] == weeks


def test_stock_counted_in_tdn_and_other_groups_have_no_free_access() -> None:
    program = one(periods=PERIODS, rations=[ration(0, 28)])
    assert not has_free_access(program, one(group_id="x", animal_class=AnimalClass.COW), 0)
    assert not has_free_access(program, one(group_id="cows", animal_class=AnimalClass.EWE), 0)
    by_weight = one(periods=PERIODS, rations=[ration(0, 28, offered=Offered.LIMITED)])
    assert not has_free_access(by_weight, one(group_id="cows", animal_class=AnimalClass.COW), 0)


def test_a_week_of_a_ration_may_lack_three_percent_of_what_is_met_on_the_mean() -> None:
    program = one(rations=[1])
    farm = one(season=SEASON)
    assert week_may_lack(one(rations=[]), farm, COWS, "nem", 0.5) == 0.5
    for nutrient in ("nem", "gain_energy", "tdn", "cp"):
        assert week_may_lack(program, farm, COWS, nutrient, 0.5) == pytest.approx(0.030011)
    assert week_may_lack(program, farm, COWS, "ca", 0.5) == pytest.approx(1.1e-5)
    strict = one(week_may_lack_pct=0.0)
    assert week_may_lack(program, farm, strict, "cp", 0.5) == pytest.approx(1.1e-5)
    assert list(ration_breaches(one(rations=[]), one())) == []


def looked_at(eaten: float = 5.0, offered: float = 6.0, **said: float) -> list[Any]:
    """Look at a ration of a hay for ten head in two weeks, eaten and put out as given."""
    told = {
        "eaten_kg_dm_per_head_day": 5.0,
        "put_out_kg_per_head_day": 6.0,
        "put_out_kg_per_day": 60.0,
        **said,
    }
    mine = ration(0, 14, things=[one(source_id="hay", **told)])
    cells = [one(group_id="cows", period=t, head=10, days=7.0) for t in range(2)]
    rows = [
        one(
            group_id="cows",
            period=t,
            source_id="hay",
            eaten_kg_dm_per_head_day=eaten,
            offered_kg=offered * 70.0,
        )
        for t in range(2)
    ]
    program = one(periods=PERIODS[:2], rations=[mine], groups=cells, feeding=rows, needs=[])
    farm = one(
        groups=[COWS],
        feeds=[],
        season=SEASON,
    )
    return list(ration_breaches(program, farm))


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_amounts_of_a_ration_are_the_same_every_week(sign: float) -> None:
    little, much = 0.5e-6 * sign, 2e-6 * sign
    assert looked_at() == []
    assert looked_at(5.0 + little, 6.0 + little) == []
    assert [what for what, _, _ in looked_at(eaten=5.0 + much)] == [
        "Cows, ration 1, hay, period 0",
        "Cows, ration 1, hay, period 1",
    ]
    off = looked_at(offered=6.0 + much)
    assert [what for what, _, _ in off[:2]] == [
        "Cows, ration 1, hay, period 0, put out",
        "Cows, ration 1, hay, period 0, put out for the group",
    ]
    assert off[0][1:] == pytest.approx((6.0, 6.0 + much), abs=1e-9)
    assert off[1][1:] == pytest.approx((60.0, 10.0 * (6.0 + much)), abs=1e-8)
    whole = looked_at(put_out_kg_per_day=60.0 + 10.0 * much)
    assert [what.endswith("for the group") for what, _, _ in whole] == [True, True]
    assert looked_at(put_out_kg_per_day=60.0 + 10.0 * little) == []


def test_what_a_ration_does_not_name_must_not_be_eaten() -> None:
    mine = ration(0, 7)
    cell = one(group_id="cows", period=0, head=10, days=7.0)
    row = one(
        group_id="cows",
        period=0,
        source_id="corn",
        eaten_kg_dm_per_head_day=0.01,
        offered_kg=0.0,
    )
    program = one(periods=PERIODS[:1], rations=[mine], groups=[cell], feeding=[row], needs=[])
    farm = one(groups=[COWS], feeds=[], season=SEASON)
    assert list(ration_breaches(program, farm)) == [("Cows, ration 1, corn, period 0", 0.0, 0.01)]


@each_row(
    ("count", "most", "own", "minerals", "too_many"),
    [
        (4, None, None, 0, False),
        (5, None, None, 0, True),
        (5, None, None, 1, False),
        (3, 2, None, 0, True),
        (2, 2, None, 0, False),
        (3, 2, 3, 0, False),
        (3, 5, 2, 0, True),
    ],
)
def test_a_ration_holds_few_things_beside_mineral(
    count: int, most: int | None, own: int | None, minerals: int, too_many: bool
) -> None:
    names = [f"thing{number}" for number in range(count)]
    things = [
        one(
            source_id=name,
            eaten_kg_dm_per_head_day=0.0,
            put_out_kg_per_head_day=0.0,
            put_out_kg_per_day=0.0,
        )
        for name in names
    ]
    feeds = [one(feed_id=name, kind=FeedKind.MINERAL) for name in names[:minerals]]
    cell = one(group_id="cows", period=0, head=10, days=7.0)
    program = one(
        periods=PERIODS[:1],
        rations=[ration(0, 7, things=things)],
        groups=[cell],
        feeding=[],
        needs=[],
    )
    farm = one(
        groups=[one(**{**vars(COWS), "things_in_ration": own})],
        feeds=feeds,
        season=one(things_in_ration=most),
    )
    found = list(ration_breaches(program, farm))
    wanted = [("Cows, ration 1, things", own or most or 4, count - minerals)] if too_many else []
    assert found == wanted


@each_row(
    ("need", "given", "short", "breach"),
    [
        ((10.0, 10.0), (10.0, 10.0), (0.0, 0.0), False),
        # The first week has two head and the second one: a third weighs as much as half of it.
        ((10.0, 10.0), (9.5, 11.0), (0.0, 0.0), False),
        ((10.0, 10.0), (9.5, 10.99), (0.0, 0.0), True),
        ((10.0, 10.0), (9.5, 10.5), (0.0, 0.5), False),
        ((10.0, 10.0), (10.0, 10.0 - 3.2e-4), (0.0, 0.0), False),
        ((10.0, 10.0), (10.0, 10.0 - 3.4e-4), (0.0, 0.0), True),
        ((-1.0, -1.0), (-1.0, -1.0 - 3.2e-5), (0.0, 0.0), False),
        ((-1.0, -1.0), (-1.0, -1.0 - 3.4e-5), (0.0, 0.0), True),
        ((0.0, 0.0), (0.0, -3.2e-8), (0.0, 0.0), False),
        ((0.0, 0.0), (0.0, -3.4e-8), (0.0, 0.0), True),
    ],
)
def test_needs_are_met_on_the_mean_of_a_ration_by_head_and_day(
    need: tuple[float, float],
    given: tuple[float, float],
    short: tuple[float, float],
    breach: bool,
) -> None:
    cells = [one(group_id="cows", period=t, head=head, days=7.0) for t, head in enumerate((2, 1))]
    rows = [
        one(
            group_id=who,
            period=t,
            nutrient=what,
            need=need[t],
            supplied=given[t],
            shortage=short[t],
        )
        for t in range(2)
        for who, what in (("cows", "cp"), ("ewes", "tdn"), ("cows", "ca"))
    ]
    program = one(
        periods=PERIODS[:2], rations=[ration(0, 14)], groups=cells, feeding=[], needs=rows
    )
    farm = one(groups=[COWS], feeds=[], season=SEASON)
    found = list(ration_breaches(program, farm))
    assert [what for what, _, _ in found] == (["Cows, mean cp of ration 1"] if breach else [])


def test_every_week_of_a_group_has_one_ration() -> None:
    cells = [one(group_id="cows", period=t, head=1, days=7.0) for t in range(2)]
    farm = one(groups=[COWS], feeds=[], season=SEASON)
    for rations, told in (([ration(0, 7)], 1), ([ration(0, 14), ration(7, 14)], 3)):
        program = one(periods=PERIODS[:2], rations=rations, groups=cells, feeding=[], needs=[])
        assert list(ration_breaches(program, farm)) == [("Cows, weeks with a ration", told, 2)]


# --- appetite ----------------------------------------------------------------------------------


def filled(monkeypatch: pytest.MonkeyPatch, share: float, short: float = 0.0) -> list[Any]:
    monkeypatch.setattr(free_choice, "season_series", lambda farm, group, periods: None)
    monkeypatch.setattr(free_choice, "_share", lambda *_: share)
    group = one(group_id="cows", name="Cows", animal_class=AnimalClass.COW)
    needs = [one(group_id="cows", period=1, shortage=short)]
    program = one(periods=PERIODS[:2], rations=[ration(0, 14)], needs=needs)
    return list(fill_breaches(program, one(groups=[group], needs=[])))


@pytest.mark.parametrize(
    ("share", "short", "breach"),
    [
        (0.95, 0.0, False),
        (0.949, 0.0, True),
        (0.949, 0.01, False),
        (1.05, 0.0, False),
        (1.051, 0.0, True),
        (1.051, 0.01, True),
    ],
)
def test_stock_with_free_access_are_planned_what_they_eat_within_a_twentieth(
    share: float, short: float, breach: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = filled(monkeypatch, share, short)
    wanted = [("Cows, appetite filled by ration 1", 100.0, pytest.approx(100.0 * share))]
    assert found == (wanted if breach else [])


def share_of(
    monkeypatch: pytest.MonkeyPatch, *things: tuple[str, float]
) -> tuple[float, list[Any]]:
    """Return the share of appetite of some things, and what was asked of what is put aside."""
    alone = {"a": 10.0, "b": 8.0}
    asked: list[Any] = []

    def aside(amount: float, weight: float, kind: str, *, forage_tdn_pct: float) -> float:
        asked.append((amount, weight, kind, forage_tdn_pct))
        return 0.5 * amount

    monkeypatch.setattr(free_choice, "_alone", lambda value, series, at: alone[value.source_id])
    monkeypatch.setattr(free_choice, "forage_put_aside_kg", aside)
    sources = [
        one(source_id="a", is_forage=True, tdn_pct=50.0, cp_pct=9.0),
        one(source_id="b", is_forage=True, tdn_pct=60.0, cp_pct=9.0),
        one(source_id="corn", is_forage=False, tdn_pct=88.0, cp_pct=50.0),
        one(source_id="meal", is_forage=False, tdn_pct=80.0, cp_pct=34.0),
        one(source_id="hulls", is_forage=False, tdn_pct=70.0, cp_pct=33.9),
        one(source_id="salt", is_forage=False, tdn_pct=0.0, cp_pct=0.0),
    ]
    kinds = {
        "corn": FeedKind.GRAIN,
        "meal": FeedKind.SUPPLEMENT,
        "hulls": FeedKind.SUPPLEMENT,
        "salt": FeedKind.MINERAL,
    }
    feeds = [one(feed_id=name, kind=kind) for name, kind in kinds.items()]
    mine = ration(
        0, 7, things=[one(source_id=name, eaten_kg_dm_per_head_day=kg) for name, kg in things]
    )
    series = one(full_weight_kg=np.array([500.0, 600.0]))
    return _share(one(sources=sources), one(feeds=feeds), mine, series, 1), asked


def test_forage_fills_by_what_is_eaten_of_each_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    assert share_of(monkeypatch, ("a", 0.0))[0] == 0.0
    assert share_of(monkeypatch, ("corn", 1.0))[0] == 0.0, "there is no forage to put aside"
    assert share_of(monkeypatch, ("a", 0.05))[0] == pytest.approx(0.005)
    assert share_of(monkeypatch, ("a", 5.0), ("b", 4.0))[0] == pytest.approx(1.0)


@pytest.mark.parametrize(("ndf", "kg"), [(60.0, 10.0), (30.0, 13.0), (0.0, 13.0)])
def test_a_forage_alone_is_eaten_to_appetite_or_until_its_fiber_fills(
    ndf: float, kg: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """1.2 % of weight of fiber fills a head (Univ. of Missouri)."""
    asked: list[Any] = []
    monkeypatch.setattr(free_choice, "appetite_kg", lambda *what: asked.append(what) or 13.0)
    column = np.array([0.0, 500.0])
    series = one(
        intake_rule=("x", "rule"),
        shrunk_weight_kg=column - 20.0,
        milk_kg=column / 50.0,
        intake_factor=column / 500.0,
        full_weight_kg=column,
    )
    value = one(ndf_pct=ndf, nem_mcal_per_kg=1.2)
    assert _alone(value, series, 1) == pytest.approx(kg)
    assert asked == [("rule", 480.0, 1.2, 10.0, 1.0)]


def test_concentrate_puts_aside_forage_by_its_kind(monkeypatch: pytest.MonkeyPatch) -> None:
    share, asked = share_of(
        monkeypatch,
        *(("a", 6.0), ("b", 2.0), ("corn", 1.0), ("meal", 2.0), ("hulls", 3.0), ("salt", 9.0)),
    )
    tdn, eats = (6.0 * 50.0 + 2.0 * 60.0) / 8.0, (6.0 * 10.0 + 2.0 * 8.0) / 8.0
    assert asked == [
        (1.0, 600.0, "starch", pytest.approx(tdn)),
        (2.0, 600.0, "protein", pytest.approx(tdn)),
        (3.0, 600.0, "fibre", pytest.approx(tdn)),
    ]
    assert share == pytest.approx(0.6 + 0.25 + 0.5 * 6.0 / eats)


# --- whose week it is --------------------------------------------------------------------------


def rules(**kinds: str) -> list[Any]:
    """Return rules by source: nitrate begins, grain and urea are stepped up."""
    demand = {"nitrate": "begin", "feared": "begin", "grain": "step", "urea": "step"}
    finding = {"nitrate": "", "feared": "", "grain": "begin_grain", "urea": "begin_npn"}
    return [
        one(
            source_id=name,
            rule=one(demand=demand[kind]),
            found=one(finding=finding[kind], assumed=kind == "feared"),
        )
        for name, kind in kinds.items()
    ]


DAYS = [day(number) for number in range(30)]
RULES = rules(hay="nitrate", corn="grain", block="urea", untested="feared")


def from_day(**first: int) -> dict[str, dict[date, float]]:
    return {name: dict.fromkeys(DAYS[number:], 1.0) for name, number in first.items()}


def held(asked: dict[str, dict[date, float]], *known: str) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for name, on in sorted(waits(asked, DAYS, RULES, frozenset(known))):
        found.setdefault(name, []).append((on - START).days)
    return found


def test_one_danger_begins_in_a_week_the_gravest_first() -> None:
    assert held(from_day(hay=0)) == {}
    assert held(from_day(hay=0, corn=0)) == {"corn": list(range(7))}
    assert held(from_day(hay=0, corn=6)) == {"corn": [0, 1, 2, 3, 4, 5, 6][6:]}
    assert held(from_day(hay=0, corn=7)) == {}
    assert held(from_day(corn=0, hay=3)) == {"hay": [3, 4, 5, 6]}
    # The third waits for the second, which waits for the first.
    assert held(from_day(hay=0, corn=0, block=0)) == {
        "corn": list(range(7)),
        "block": list(range(14)),
    }


def test_what_is_known_does_not_begin_and_what_stops_begins_again() -> None:
    assert held(from_day(hay=0, corn=0), "hay") == {}
    assert held(from_day(hay=0, corn=0), "corn") == {}
    again = from_day(hay=0)
    again["corn"] = {DAYS[9]: 1.0, DAYS[12]: 1.0}
    assert held(again) == {}, "of the same kind nothing waits for itself"
    again["corn"] = {DAYS[9]: 1e-10, DAYS[3]: 2e-9}
    assert held(again) == {"corn": [3, 4, 5, 6]}, "and a trace is nothing"


def test_hay_that_nobody_tested_makes_nobody_used_to_nitrate() -> None:
    """Nobody knows that there was any in it: hay with nitrate begins anew, and only that waits."""
    assert held(from_day(untested=0, corn=0)) == {"corn": list(range(7))}
    assert held(from_day(untested=0, hay=9, corn=9)) == {"corn": list(range(9, 16))}
    assert held(from_day(hay=9, corn=9), "untested") == {"corn": list(range(9, 16))}
    assert held(from_day(untested=0, corn=8, hay=10)) == {"hay": list(range(10, 15))}
    assert held(from_day(hay=0, corn=8, untested=10)) == {}
    both = from_day(corn=0, hay=3, untested=3)
    assert held(both) == {"hay": [3, 4, 5, 6], "untested": [3, 4, 5, 6]}
