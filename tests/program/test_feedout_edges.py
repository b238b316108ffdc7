"""What is put out day by day at its edges: bales just due, days that touch, hay that just lasts."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from importlib import import_module
from typing import Any

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Caution, FedRow, Feed, Feeder, FeedKind, Package
from rickyard.program.days import held_rules
from rickyard.program.days.bale_stock import BaleStock, _whole
from rickyard.program.days.making_up import filled_up, made_up, room_kg_dm
from rickyard.program.days.safe_days import SafeDays
from rickyard.program.days.step_up import waiting
from rickyard.program.feedout.copper_cautions import _of_cattle, copper_cautions
from rickyard.program.feedout.deliveries import (
    _feeds,
    _Hay,
    _thrice,
    _while_fed,
    _Yard,
    _yard,
    whole_shares,
)
from rickyard.program.feedout.delivery_cautions import _too_long
from rickyard.program.feedout.delivery_totals import lots_in_bales
from rickyard.program.feedout.feeding_days import Span, bale_lasts_days, forked_out, hay_every_days
from rickyard.program.feedout.feeding_days import _days_a_bale_lasts as _every
from rickyard.program.feedout.transitions import _Changes, given_up
from support.by_hand import one
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on

#: Its name is that of what it gives, too.
delivery_cautions = import_module("rickyard.program.feedout.delivery_cautions")
START = date(2027, 1, 4)


# --- cautions ----------------------------------------------------------------------------------


def lasting(
    days: float,
    kind: AnimalClass = AnimalClass.COW,
    *,
    baleage: bool = False,
    forked: bool = False,
) -> Any:
    group: Any = one(group_id="g", name="They", animal_class=kind)
    package = Package.BALEAGE if baleage else Package.ROUND
    told: Any = one(group=group, forked=frozenset({"l1"} if forked else ()))
    found = list(_too_long(told, "l1", "Hill", package, days))
    return found[0] if found else None


@each_row(
    ("days", "kind", "level"),
    [
        (3.0, AnimalClass.COW, None),
        (3.1, AnimalClass.COW, "note"),
        (7.0, AnimalClass.COW, "note"),
        (7.1, AnimalClass.COW, "warning"),
        (2.0, AnimalClass.EWE, None),
        (2.1, AnimalClass.EWE, "note"),
        (2.1, AnimalClass.DOE, "note"),
        (3.0, AnimalClass.HORSE, None),
        (3.1, AnimalClass.HORSE, "note"),
    ],
)
def test_a_bale_lies_too_long_after_days_in_the_warm_and_a_week_in_the_cold(
    days: float, kind: AnimalClass, level: str | None
) -> None:
    found = lasting(days, kind, baleage=True)
    assert (None if found is None else found.level) == level


def test_days_are_told_with_a_tenth_below_ten() -> None:
    assert "about 9.9 days, too long in any weather" in lasting(9.94).sentence
    assert "about 10 days" in lasting(10.0).sentence
    assert "about 7.0 days, too long once it is warm (3 days)" in lasting(7.0).sentence
    assert "(2 days)" in lasting(3.0, AnimalClass.EWE).sentence
    assert "can kill" in lasting(7.0, AnimalClass.HORSE).sentence
    assert "opened baleage spoils and can kill" in lasting(7.0, baleage=True).sentence
    assert "can kill" not in lasting(7.0).sentence
    pony = lasting(43.0, AnimalClass.HORSE, forked=True).sentence
    assert "Never put the whole bale before them" in pony
    assert "then open another" in lasting(9.0, baleage=True, forked=True).sentence


@each_row(
    ("kind", "package", "days", "forked"),
    [
        (AnimalClass.DONKEY, Package.ROUND, 61, True),
        (AnimalClass.HORSE, Package.ROUND, 8, True),
        (AnimalClass.HORSE, Package.ROUND, 7, False),
        (AnimalClass.COW, Package.ROUND, 20, False),
        (AnimalClass.COW, Package.BALEAGE, 4, True),
        (AnimalClass.COW, Package.BALEAGE, 3, False),
        (AnimalClass.COW, Package.SMALL_SQUARE, 8, True),
    ],
)
def test_of_a_bale_that_would_lie_too_long_they_get_so_much_a_day(
    kind: AnimalClass, package: Package, days: int, forked: bool
) -> None:
    """A pony had a bale in week one, no hay in five, and was told to have it thrown out."""
    farm: Any = one(lots=[one(lot_id="a", package=package)])
    group = one(animal_class=kind, feeder=None, feed_every_days=None)
    asked = days_of({"a": [400.0 / days] * 61}, group=group)
    stocks = {"a": BaleStock(9, np.array([400.0]))}
    assert forked_out(farm, asked, frozenset({"a"}), stocks) == ({"a"} if forked else set())


@each_row(
    ("feeder", "every", "bales", "forked"),
    [
        (Feeder.UNROLLED_DAILY, None, {"a": 0.64}, {"a"}),
        (Feeder.BUNK, 1, {"a": 0.64}, {"a"}),
        (Feeder.UNROLLED_DAILY, 2, {"a": 0.64}, set()),
        (Feeder.CONE_RING, None, {"a": 0.64}, set()),
        (Feeder.UNROLLED_EXCESS, None, {"a": 0.64}, set()),
        (None, None, {"a": 0.64}, set()),
        (Feeder.UNROLLED_DAILY, None, {"a": 1.6}, set()),
        (Feeder.UNROLLED_DAILY, None, {"a": 0.6, "b": 0.6}, {"a", "b"}),
        (Feeder.UNROLLED_DAILY, None, {"a": 1.1, "b": 0.6}, set()),
        (Feeder.UNROLLED_DAILY, None, {"a": 0.3, "b": 0.6}, {"a", "b"}),
    ],
)
def test_of_hay_that_is_eaten_on_its_day_no_bale_is_for_two(
    feeder: Feeder | None, every: int | None, bales: dict[str, float], forked: set[str]
) -> None:
    """Cows had a bale unrolled on one day, and on the next 10 lb of corn and cubes and no hay."""
    farm: Any = one(lots=[one(lot_id=name, package=Package.ROUND) for name in bales])
    group = one(animal_class=AnimalClass.COW, feeder=feeder, feed_every_days=every)
    asked = days_of({name: [500.0 * part] * 9 for name, part in bales.items()}, group=group)
    stocks = {name: BaleStock(9, np.array([500.0])) for name in bales}
    assert forked_out(farm, asked, frozenset(bales), stocks) == forked


def days_of(asked: dict[str, list[float]], period: list[int] | None = None, **other: Any) -> Any:
    count = len(next(iter(asked.values())))
    given = {
        "group": cows(),
        "weighed": frozenset(),
        "forked": frozenset(),
        "bare": (),
        "lean": (),
        "short": (),
        "hunger_kg_dm": np.zeros(count),
        "count": count,
        "period": np.array(period or [0] * count),
        "asked": {name: np.array(kg) for name, kg in asked.items()},
        "day": lambda number: START + timedelta(days=number),
        "by_bale": lambda stocks: stocks,
        **other,
    }
    return one(**given)


def test_a_bale_lasts_the_days_on_which_it_is_fed() -> None:
    stock = BaleStock(9, np.array([400.0, 200.0]))
    days = days_of({"a": [100.0, 100.0, 0.0, 100.0]}, [0, 0, 1, 1])
    assert bale_lasts_days(days, "a", stock) == pytest.approx(3.0 / (0.5 + 0.5))
    assert bale_lasts_days(days_of({"a": [0.0, 0.0]}), "a", stock) == 0.0
    assert _every(days, ["a"], {"a": stock}) == 3
    assert _every(days_of({"a": [0.0, 0.0]}), ["a"], {"a": stock}) == 1
    assert _every(days_of({"a": [0.01] * 9}), ["a"], {"a": stock}) == 7, "a week at most"
    assert _every(days_of({"a": [900.0] * 9}), ["a"], {"a": stock}) == 1
    both = days_of({"a": [100.0, 0.0, 0.0, 100.0], "b": [0.0, 100.0, 0.0, 100.0]})
    assert _every(both, ["a", "b"], {"a": stock, "b": stock}) == 3
    # Three days of a third each are one bale in three days, however they add up.
    third = days_of({"a": [400.0 / 3.0] * 6})
    assert _every(third, ["a"], {"a": stock}) == 3


def test_who_gets_no_hay_or_says_how_often_is_not_asked_for_how_long_a_bale_lasts() -> None:
    farm: Any = one(lots=[])
    group = one(feed_every_days=None, feeder=None)
    days = days_of({"corn": [1.0]}, group=group)
    assert hay_every_days(farm, days, frozenset({"hay"}), {}) == (1, None)
    group.feed_every_days = 3
    assert hay_every_days(farm, days, frozenset({"corn"}), {}) == (3, None)


# --- bales -------------------------------------------------------------------------------------


def test_a_bale_that_lacks_a_trifle_is_whole() -> None:
    assert [_whole(bales) for bales in (3.0, 3.0 - 9e-7, 3.0 - 2e-6, 0.0)] == [3, 3, 2, 0]


@each_row(
    ("wanted", "bales", "whole"),
    [
        ({"a": 10.5, "b": 2.7}, None, {"a": 11, "b": 3}),
        ({"a": 10.5, "b": 2.7}, 14, {"a": 11, "b": 3}),
        ({"a": 10.5, "b": 2.7}, 13, {"a": 10, "b": 3}),
        ({"a": 10.5, "b": 2.7}, 12, {"a": 10, "b": 2}),
        # Who rounds down already gives up nothing more.
        ({"a": 10.4, "b": 2.0}, 11, {"a": 10, "b": 2}),
        ({"a": 0.49, "b": 0.51}, 9, {"a": 0, "b": 1}),
        ({}, 9, {}),
    ],
)
def test_bales_are_shared_out_whole(
    wanted: dict[str, float], bales: int | None, whole: dict[str, int]
) -> None:
    assert whole_shares(wanted, bales) == whole


def test_another_bale_is_given_while_it_is_due_or_some_are_over() -> None:
    stock = BaleStock(5, np.ones(1))
    yard = _Yard({"a": stock, "b": stock}, {("g", "a"): 2, ("g", "b"): 2}, {"a": 1, "b": None})
    assert yard.may_give_another("g", "a", 1)
    yard.give_another("g", "a", 1)
    assert (yard.due["g", "a"], yard.spare["a"]) == (2, 1), "it was due"
    assert yard.may_give_another("g", "a", 2)
    yard.give_another("g", "a", 2)
    assert (yard.due["g", "a"], yard.spare["a"]) == (3, 0)
    assert not yard.may_give_another("g", "a", 3)
    assert yard.may_give_another("g", "b", 9), "as many are bought as are wanted"
    yard.give_another("g", "b", 2)
    assert (yard.due["g", "b"], yard.spare["b"]) == (3, None)


def a_hay(
    asked: dict[str, list[float]],
    *,
    kg: float = 400.0,
    due: int = 9,
    spare: int | None = 0,
    opens: date | None = None,
    **other: Any,
) -> _Hay:
    """Return the hay of a group of cows, in bales of 80 % dry matter."""
    stocks = {name: BaleStock(99, np.full(4, kg)) for name in asked}
    yard = _Yard(stocks, {("cows", name): due for name in asked}, dict.fromkeys(asked, spare))
    lots = [one(lot_id=name, feed_from=opens) for name in asked]
    farm: Any = one(lots=lots, feeds=[])
    program: Any = one(sources=[one(source_id=name, dm_pct=80.0) for name in asked])
    return _Hay(program, farm, days_of(asked, **other), frozenset(asked), yard)


def loads(made: _Hay, every: int) -> list[tuple[int, float | None, float, int]]:
    return [
        ((each.day - START).days, each.bales, round(each.mass_kg, 6), each.for_days)
        for each in made.deliveries(every)
    ]


def test_bales_come_when_half_of_one_is_due() -> None:
    # Half a bale a day: one comes each second day.
    made = a_hay({"a": [200.0] * 4})
    assert loads(made, 2) == [(0, 1, 400.0, 2), (2, 1, 400.0, 2)]
    # 150 kg a day for two days are three quarters of a bale: what is left over lies.
    made = a_hay({"a": [150.0] * 4})
    assert loads(made, 2) == [(0, 1, 400.0, 2), (2, 1, 400.0, 2)]
    assert made.lying_kg == pytest.approx(0.8 * 200.0)


@pytest.mark.parametrize(
    ("bales", "wanted", "spare", "due"),
    [(10, 150.0, 7, 2), (None, 150.0, None, 2), (2, 150.0, 0, 1), (0, 0.0, 0, 0), (1, 0.0, 0, 0)],
)
def test_bales_are_shared_beside_what_is_weighed_out(
    bales: int | None, wanted: float, spare: int | None, due: int
) -> None:
    stocks = {"a": BaleStock(bales, np.array([400.0]))}
    weighed = days_of({"a": [100.0] * 4}, weighed=frozenset({"a"}), group=one(group_id="h"))
    other = days_of({"b": [1.0]}, group=one(group_id="other"))
    yard = _yard([days_of({"a": [wanted] * 4}), weighed, other], stocks)
    assert (yard.due, yard.spare) == ({("cows", "a"): due}, {"a": spare})


def test_loose_hay_lies_beside_the_bales() -> None:
    made = a_hay({"a": [100.0] * 4, "b": [100.0] * 4}, by_bale=lambda stocks: {"a": stocks["a"]})
    assert (made.wanted, made.broken) == ({"a": 0.0, "b": 0.0}, {"a": 0.0, "b": 0.0})
    found = loads(made, 2)
    assert found == [(0, 1, 400.0, 2), (0, None, 200.0, 2), (2, None, 200.0, 2)]
    assert made.lying_kg == pytest.approx(0.0)


@pytest.mark.parametrize(("kg", "bales"), [(265.0, 1), (270.0, 2)])
def test_half_a_day_of_hay_may_be_missing(kg: float, bales: int) -> None:
    # A bale is three quarters of what 266.7 kg a day come to in two days.
    assert loads(a_hay({"a": [kg] * 2}), 2) == [(0, bales, 400.0 * bales, 2)]


def test_no_bale_comes_early_where_they_graze_and_one_that_does_is_taken_from_what_is_over() -> (
    None
):
    made = a_hay({"a": [270.0] * 2})
    made.grazing = np.array([1.0, 0.0])
    assert loads(made, 2) == [(0, 1, 400.0, 2)]
    made = a_hay({"a": [270.0] * 2}, due=1, spare=1)
    assert loads(made, 2) == [(0, 2, 800.0, 2)]
    assert (made.yard.due["cows", "a"], made.yard.spare["a"]) == (2, 0)


def test_what_is_not_there_is_not_owed_later() -> None:
    # No bale is left: the hay of two days is weighed out of an opened one. Nine does that are due
    # less than half a bale got five sixths of their hay all winter.
    made = a_hay({"a": [100.0] * 4}, due=0, spare=0)
    assert loads(made, 2) == [(0, None, 200.0, 2), (2, None, 200.0, 2)]
    assert made.lying_kg == 0.0


def test_until_a_whole_bale_comes_no_more_is_weighed_out_than_must_be() -> None:
    made = a_hay({"a": [100.0] * 4}, due=1)
    load = {"a": 0}
    assert made._lacks(load, 80.0, 60.0, 50.0) == 10.0
    made.given["a"] = 1
    assert made._lacks(load, 80.0, 60.0, 50.0) == 30.0
    assert made._lacks(load, 80.0, 60.0, 60.0) == 0.0


def test_hungry_stock_leave_nothing_of_what_lies() -> None:
    """A list counted on hay that hungry cows had eaten: seven days in whole bales lasted six."""
    for hunger, lies in ((0.0, 160.0), (80.0, 80.0)):
        made = a_hay({"a": [100.0] * 2}, hunger_kg_dm=np.array([hunger, 0.0]))
        assert loads(made, 2) == [(0, 1, 400.0, 2)]
        assert made.lying_kg == pytest.approx(lies)


def test_a_bale_comes_early_where_more_than_half_of_one_is_missing() -> None:
    """Of half a day's hay a large group missed more than a bale: 31 bulls got half a ration."""
    # 400 kg of 620 is more than half a day's, and a second bale comes nearer to them.
    for kg, bales in ((170.0, 2), (149.0, 1)):
        made = a_hay({"a": [450.0], "b": [kg]})
        made.fed_before = {"a", "b"}
        assert loads(made, 1) == [(0, 1, 400.0, 1)] * bales


def test_the_first_bale_of_a_hay_comes_on_the_day_on_which_its_ration_begins() -> None:
    """A donkey of 9.5 lb of one hay and 2.3 lb of another got the 2.3 lb alone for five days."""
    made = a_hay({"a": [400.0] * 4, "b": [0.0, 40.0, 40.0, 40.0]})
    assert [(day, kg) for day, _, kg, _ in loads(made, 1) if day < 2] == [(0, 400.0)] + [
        (1, 400.0)
    ] * 2


def test_what_is_due_stays_within_what_is_the_groups() -> None:
    made = a_hay({"a": [400.0] * 4}, due=2)
    assert [bales for _, bales, _, _ in loads(made, 1)][:2] == [1, 1]
    assert made.given == {"a": 2}
    made = a_hay({"a": [400.0] * 4}, due=4)
    made.wanted, made.given = {"a": 4.0}, {"a": 2}
    assert made._due("a") == 2
    made.broken["a"] = 0.5
    assert made._due("a") == 2, "half of one rounds up"
    made.broken["a"] = 0.51
    assert made._due("a") == 1
    made.yard.due["cows", "a"] = 2
    assert made._due("a") == 0
    made.yard.due["cows", "a"] = 1
    assert made._due("a") == 0, "what came early is not taken back"


def test_a_load_comes_no_sooner_than_it_may_be_fed() -> None:
    opens = START + timedelta(days=2)
    made = a_hay({"a": [0.0, 0.0, 400.0, 400.0]}, opens=opens)
    assert made._arrival("a", Span(0, 4)) == Span(2, 4)
    assert made._arrival("a", Span(2, 4)) == Span(2, 4)
    late = a_hay({"a": [0.0, 0.0, 0.0, 400.0]}, opens=opens)
    assert late._arrival("a", Span(0, 4)) == Span(3, 4)
    assert late._arrival("a", Span(0, 3)) == Span(0, 3), "none of it is fed"
    assert late._arrival("a", Span(2, 4)) == Span(2, 4)
    assert a_hay({"a": [0.0, 1.0]})._arrival("a", Span(0, 2)) == Span(0, 2)


def test_loose_hay_is_for_the_days_on_which_it_is_fed() -> None:
    made = a_hay({"a": [0.0, 30.0, 0.0, 20.0, 0.0]})
    found = list(made._by_mass("a", Span(0, 5)))
    assert [((each.day - START).days, each.mass_kg, each.for_days) for each in found] == [
        (1, 50.0, 3)
    ]
    assert list(made._by_mass("a", Span(2, 3))) == []
    made.days.weighed = frozenset({"a"})
    found = list(made._by_mass("a", Span(0, 5)))
    assert [((each.day - START).days, each.mass_kg) for each in found] == [(1, 30.0), (3, 20.0)]
    trace = a_hay({"a": [9e-7, 0.0]})
    assert list(trace._by_mass("a", Span(0, 2))) == []
    assert len(list(a_hay({"a": [2e-6, 0.0]})._by_mass("a", Span(0, 2)))) == 1


def test_the_hay_that_is_latest_is_due_first_and_never_early() -> None:
    made = a_hay({"a": [100.0] * 4, "b": [100.0] * 4})
    made.wanted = {"a": 1.2, "b": 1.5}
    assert made._most_due({"a": 1, "b": 1}) == "b"
    assert made._most_due({"a": 1, "b": 2}) == "a"
    made.broken["a"] = 0.2
    assert made._most_due({"a": 1, "b": 2}) is None
    made.broken["a"], made.given["a"] = 0.0, 1
    assert made._most_due({"a": 0, "b": 2}) == "a"
    made.yard.due["cows", "a"] = 1
    assert made._most_due({"a": 0, "b": 2}) is None, "all of its bales are given"


def test_bales_are_opened_where_no_whole_one_is_left() -> None:
    made = a_hay({"a": [100.0] * 4, "b": [100.0] * 4})
    made.wanted = {"a": 0.5, "b": 0.25}
    bale = {"a": 320.0, "b": 320.0}
    assert made._parts({"a": 0, "b": 0}, bale, 0.0) == {}
    assert made._parts({"a": 0, "b": 0}, bale, 0.49) == {}, "half a kilogram is nothing"
    assert made._parts({"a": 0, "b": 0}, bale, 0.52).keys() == {"a"}
    made.broken["a"] = 0.0
    found = made._parts({"a": 0, "b": 0}, bale, 240.0)
    assert found == {"a": pytest.approx(0.5), "b": pytest.approx(0.25)}
    assert made.broken == {"a": pytest.approx(0.5), "b": pytest.approx(0.25)}
    # The last of them gives what is still lacking, whatever is due of it.
    made = a_hay({"a": [100.0] * 4, "b": [100.0] * 4})
    made.wanted = {"a": 0.5, "b": 0.25}
    assert made._parts({"a": 0, "b": 0}, bale, 320.0) == {
        "a": pytest.approx(0.5),
        "b": pytest.approx(0.5),
    }
    # Of hay that comes in whole bales too not quite one more, where all of it does.
    made = a_hay({"a": [100.0] * 4})
    made.wanted = {"a": 1.0}
    assert made._parts({"a": 1}, {"a": 320.0}, 640.0) == {"a": pytest.approx(0.99)}


@pytest.mark.parametrize(("behind", "parts"), [(0.5, {"a": 0.5, "b": 1.5}), (-0.5, {"b": 2.0})])
def test_no_more_is_opened_of_what_comes_whole_too_than_is_due(behind: float, parts: Any) -> None:
    made = a_hay({"a": [100.0] * 4, "b": [100.0] * 4})
    made.wanted, made.given = {"a": 2.25 + behind, "b": 2.25}, {"a": 1, "b": 1}
    made.broken = {"a": 0.25, "b": 0.25}
    found = made._parts({"a": 1, "b": 0}, {"a": 320.0, "b": 320.0}, 640.0)
    assert found == pytest.approx(parts)


def test_feeds_are_shared_out_over_the_loads_of_a_week() -> None:
    cake = Feed("cake", "Cake", FeedKind.SUPPLEMENT, 0.4)
    grass, other = (
        Feed(name, name, kind, 0.1)
        for name, kind in (("grass", FeedKind.GRAZING), ("other", FeedKind.SUPPLEMENT))
    )
    farm: Any = one(feeds=[grass, other, cake])
    program: Any = one(
        sources=[one(source_id=name, cp_pct=30.0) for name in ("cake", "grass", "other")]
    )
    days = days_of({"cake": [0.0, 3.0, 3.0, 3.0, 0.0, 0.0, 0.0, 6.0], "grass": [9.0] * 8})
    found = list(_feeds(program, farm, days, 2))
    # Three times a week, of which the days before and after are left out.
    assert [((each.day - START).days, each.mass_kg, each.for_days) for each in found] == [
        (1, 4.5, 1),
        (2, 4.5, 2),
        (7, 6.0, 1),
    ]
    trace = days_of({"cake": [0.0, 9e-7]})
    assert list(_feeds(program, farm, trace, 2)) == []
    assert len(list(_thrice(program, farm, days, 2))) == 1
    assert list(_thrice(program, farm, days, 1)) == []


def test_a_week_of_feed_comes_on_the_days_on_which_it_is_fed() -> None:
    week = [Span(0, 2), Span(2, 4), Span(4, 7)]
    given = np.array([0.0, 1.0, 0.0, 1.0, 0.0, 0.0, 0.0])
    assert _while_fed(week, given) == [Span(1, 2), Span(2, 4)]
    given[4] = 0.5
    assert _while_fed(week, given) == [Span(1, 2), Span(2, 4), Span(4, 5)]


# --- days as the rules want --------------------------------------------------------------------


def test_hay_makes_up_by_its_parts_and_no_more_than_is_left() -> None:
    hay_kg = {"A": np.array([10.0, 10.0, 0.0]), "B": np.array([30.0, 0.0, 0.0])}
    dry, room = {"A": 0.8, "B": 0.8}, {"A": 100.0, "B": 1.0}
    given = made_up(hay_kg, np.array([8.0, 4.0, 4.0]), dry, room)
    # Of eight kilograms B would give six and has one; A gives the rest.
    assert given["B"].tolist() == pytest.approx([30.0 + 1.25, 0.0, 0.0])
    assert given["A"].tolist() == pytest.approx([10.0 + 8.75, 15.0, 0.0])
    assert room == {"A": pytest.approx(100.0 - 7.0 - 4.0), "B": pytest.approx(0.0)}
    assert made_up(hay_kg, np.array([-1.0, 0.0, 0.0]), dry, room)["A"].tolist() == [10.0, 10.0, 0.0]
    two = {"A": np.array([10.0]), "B": np.array([10.0])}
    given = made_up(two, np.array([6.0]), {"A": 0.8, "B": 0.4}, {"A": 9.0, "B": 9.0})
    assert [given[one][0] for one in "AB"] == pytest.approx([15.0, 15.0])
    for lack, left in ((4.0, 1e-9), (1e-9, 4.0)):
        dust = {"A": left}
        assert made_up({"A": np.array([10.0])}, np.array([lack]), {"A": 1.0}, dust)["A"] == [10.0]
        assert dust == {"A": left}


def test_hay_of_a_period_makes_up_and_gives_way_by_as_much() -> None:
    hay_kg, dry = {"A": np.array([10.0, 10.0, 10.0, 10.0])}, {"A": 1.0}
    period = np.array([0, 0, 1, 1])
    found = filled_up(period, hay_kg, np.array([3.0, -2.0, 1.0, 0.0]), dry)["A"]
    assert found.tolist() == pytest.approx([12.0, 8.0, 10.0, 10.0])
    # Three tenths of the hay are there on any day.
    least = filled_up(period, hay_kg, np.array([9.0, -9.0, -1.0, 2.0]), dry)["A"]
    assert least.tolist() == pytest.approx([17.0, 3.0, 9.0, 11.0])
    none = filled_up(
        period, {"A": np.array([0.0, 10.0, 10.0, 10.0])}, np.array([5.0, -2.0, 0, 0]), dry
    )
    assert none["A"].tolist() == [0.0, 10.0, 10.0, 10.0]


def test_what_is_left_of_a_hay_is_room() -> None:
    lot = hay("lot", 55.0, 9.0, 50.0, 60.0)
    farm = farm_of([(lot, report_on(lot, 55.0, 9.0))], [cows()], [])
    program: Any = one(lots=[one(lot_id="lot", left_t=2.5)], sources=[], feeding=[])
    assert room_kg_dm(program, farm) == {"lot": 2500.0}


def safe(fed: list[tuple[int, float]], asked: list[float], *, counted: bool) -> list[float]:
    """Return a hay with nitrate by day that was fed so many days before the season."""
    lot = hay("lot", 55.0, 9.0, 50.0, 60.0)
    farm = farm_of([(lot, report_on(lot, 55.0, 9.0))], [cows()], [])
    start = farm.season.start
    rows = tuple(
        FedRow(start - timedelta(days=back), "lot", "cows", mass_kg=kg) for back, kg in fed
    )
    farm = replace(farm, fed=rows)
    period = np.repeat(np.arange(len(asked) // 7), 7)
    days = SafeDays(farm, cows(), start, period, np.full(len(asked), 500.0), [], {}, counted)
    return [round(kg, 6) for kg in days._begun("lot", np.array(asked)).tolist()]


def test_hay_with_nitrate_begins_by_thirds_unless_they_know_it() -> None:
    thirds = [3.0, 3.0, 3.0, 6.0, 6.0, 6.0, 9.0]
    week = [9.0] * 7
    assert safe([], week, counted=False) == thirds
    mean = sum(thirds) / 63.0
    assert safe([], week, counted=True) == [round(kg / mean, 6) for kg in thirds]
    assert safe([(1, 5.0)], week, counted=False) == week
    assert safe([(7, 5.0)], week, counted=False) == week
    assert safe([(8, 5.0)], week, counted=False) == thirds
    # Where it was left out for a week it begins again.
    assert safe([], week + [0.0] * 7 + week, counted=False) == thirds + [0.0] * 7 + thirds
    assert safe([], week + week, counted=False) == thirds + week
    assert safe([], [0.05] * 7, counted=False)[0] == pytest.approx(0.05 / 3.0, abs=1e-6)


def rules(**kinds: str) -> list[Any]:
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


def waits(asked: dict[str, list[int]], *known: str) -> dict[str, list[int]]:
    """Return the days on which each waits; what is asked for is given by its days."""
    kilograms = {name: np.isin(np.arange(24), days).astype(float) for name, days in asked.items()}
    bound = rules(hay="nitrate", corn="grain", block="urea", untested="feared")
    found = waiting(kilograms, bound, frozenset(known))
    return {name: np.flatnonzero(closed).tolist() for name, closed in found.items()}


def test_one_danger_begins_a_week_after_another() -> None:
    every = list(range(24))
    assert waits({"hay": every}) == {"hay": []}
    assert waits({"hay": every, "corn": every}) == {"hay": [], "corn": list(range(7))}
    assert waits({"hay": every, "corn": every[6:]}) == {"hay": [], "corn": [6]}
    assert waits({"hay": every, "corn": every[7:]}) == {"hay": [], "corn": []}
    assert waits({"hay": every, "corn": every, "block": every}) == {
        "hay": [],
        "corn": list(range(7)),
        "block": list(range(14)),
    }
    assert waits({"hay": every, "corn": every}, "hay") == {"hay": [], "corn": []}
    assert waits({"hay": every, "corn": every}, "corn") == {"hay": [], "corn": []}
    assert waits({"corn": [0, 1, 4, 5]}) == {"corn": []}, "nothing waits for itself"
    assert waits({"hay": every[3:], "corn": every}) == {"hay": [3, 4, 5, 6], "corn": []}


def test_hay_that_nobody_tested_makes_nobody_used_to_nitrate() -> None:
    """Nobody knows that there was any in it: hay with nitrate begins anew, and only that waits."""
    every = list(range(24))
    week = list(range(9, 16))
    assert waits({"untested": every, "corn": every})["corn"] == list(range(7))
    assert waits({"untested": every, "hay": every[9:], "corn": every[9:]})["corn"] == week
    assert waits({"hay": every[9:], "corn": every[9:]}, "untested")["corn"] == week
    assert waits({"untested": every, "corn": every[8:], "hay": every[10:]}) == {
        "untested": [],
        "corn": [],
        "hay": [10, 11, 12, 13, 14],
    }
    assert waits({"hay": every, "corn": every[8:], "untested": every[10:]})["untested"] == []
    both = waits({"corn": every, "hay": every[3:], "untested": every[3:]})
    assert both["hay"] == both["untested"] == [3, 4, 5, 6]


# --- changes of hay ----------------------------------------------------------------------------


def test_a_new_hay_takes_the_place_of_what_is_gone_or_else_of_what_is_less() -> None:
    old = {"a": 10.0, "b": 10.0}
    assert given_up(old, {"b": 10.0, "c": 10.0}) == {"a": 10.0}
    assert given_up(old, {"a": 0.0, "b": 4.0}) == {"a": 10.0}
    assert given_up(old, {"a": 9.9, "b": 10.0, "c": 1.0}) == {"a": 10.0}
    assert given_up(old, {"a": 10.0, "b": 10.0, "c": 1.0}) == old


@each_row(
    ("tdn", "cp", "differ"),
    [
        (58.0, 10.0, False),
        (58.01, 10.0, True),
        (52.0, 10.0, False),
        (51.99, 10.0, True),
        (55.0, 13.0, False),
        (55.0, 13.01, True),
        (55.0, 6.99, True),
    ],
)
def test_hays_differ_by_more_than_three_points(tdn: float, cp: float, differ: bool) -> None:
    changes: Any = object.__new__(_Changes)
    changes.value = {
        "a": one(tdn_pct=54.0, cp_pct=9.0),
        "b": one(tdn_pct=58.0, cp_pct=13.0),
        "new": one(tdn_pct=tdn, cp_pct=cp),
    }
    # Three quarters of the old hay are a: 55 % TDN and 10 % protein.
    assert changes._differ("new", {"a": 30.0, "b": 10.0}) == differ


@pytest.mark.parametrize(
    ("asked", "kind", "weighed", "days"),
    [
        (None, AnimalClass.COW, False, None),
        (None, AnimalClass.COW, True, 7),
        (None, AnimalClass.HORSE, False, 10),
        (1, AnimalClass.HORSE, False, None),
        (2, AnimalClass.COW, False, 2),
    ],
)
def test_a_change_takes_days_by_who_eats_and_what_is_asked(
    asked: int | None, kind: AnimalClass, weighed: bool, days: int | None
) -> None:
    changes: Any = object.__new__(_Changes)
    changes.baleage = {"wrapped"}
    changes.value = {name: one(tdn_pct=55.0, cp_pct=10.0) for name in ("a", "new", "wrapped")}
    changes.days = one(
        group=one(animal_class=kind, change_over_days=asked),
        weighed=frozenset({"new"} if weighed else ()),
    )
    assert changes._days("new", {"a": 1.0})[0] == days
    if kind is AnimalClass.HORSE and asked is None:
        assert changes._days("wrapped", {"a": 1.0})[0] == 14


def copper(ppm: list[float | None], eaten: list[float]) -> list[Any]:
    """Return what is said to ewes of a diet of some things, the second of them new in week two."""
    problem: Any = one(
        sources=one(values=[one(copper_ppm=value) for value in ppm]),
        needs=one(groups=[one(group_id="e", name="Ewes", animal_class=AnimalClass.EWE)]),
    )
    diet = np.zeros((1, len(ppm), 2))
    diet[0, :, 1] = eaten
    return list(copper_cautions(problem, diet))


def test_copper_of_a_diet_is_judged_where_all_that_is_eaten_is_known() -> None:
    assert copper([8.0, 30.0], [1.0, 0.0]) == []
    (found,) = copper([8.0, 30.0], [1.0, 1.0])
    assert (found.level, "19.0 mg/kg" in found.sentence) == ("danger", True)
    (found,) = copper([8.0, 18.0], [1.0, 1.0])
    assert found.level == "warning"
    assert copper([8.0, None], [1.0, 1.0]) == []
    assert len(copper([None, 30.0], [0.0, 1.0])) == 1, "what is not eaten need not be known"
    assert copper([8.0, 14.0 + 8e-4], [1.0, 1.0]) == [], "a millionth above need is at it"
    assert len(copper([8.0, 14.01], [1.0, 1.0])) == 1


@pytest.mark.parametrize(("ppm", "told"), [(40.0, 0), (40.1, 1)])
def test_copper_over_what_newer_tables_let_cattle_have_is_told(ppm: float, told: int) -> None:
    """40 mg/kg by NASEM 2016, printed in the Merck Veterinary Manual; the NRC had 100."""
    found = list(_of_cattle(cows(), ppm))
    assert [one.rules for one in found] == [("copper-diet-cattle",)] * told
    assert list(_of_cattle(replace(cows(), animal_class=AnimalClass.EWE), 90.0)) == []


def source(name: str, **other: Any) -> Any:
    given = {
        "source_id": name,
        "name": f"Sudan {name}",
        "is_hay": False,
        "bale_weight_kg": None,
        "nitrate_no3n_ppm": None,
    }
    return one(**{**given, "dm_pct": 80.0, **other})


@pytest.mark.parametrize(
    ("head", "package", "asked", "mixed", "said"),
    [
        (7, Package.ROUND, "hay", "", ["few_head"]),
        (8, Package.ROUND, "hay", "", []),
        (7, Package.SMALL_SQUARE, "hay", "", []),
        (7, Package.ROUND, "corn", "", []),
        (7, Package.ROUND, "loose", "", []),
        (8, Package.ROUND, "hay", "hay", ["weigh_and_mix"]),
        (8, Package.ROUND, "corn", "hay", []),
        (8, Package.ROUND, "corn", "corn", []),
    ],
)
def test_few_head_at_a_large_bale_and_hay_to_weigh_are_told_of(
    head: int,
    package: Package,
    asked: str,
    mixed: str,
    said: list[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(delivery_cautions, "cautioned", lambda key, *what, **named: key)
    monkeypatch.setattr(delivery_cautions, "only_mixed", lambda *what: frozenset({mixed}))
    group = one(group_id="g", name="Cows", head=head, animal_class=AnimalClass.COW)
    farm: Any = one(lots=[one(lot_id=name, package=package) for name in ("hay", "loose")], feeds=[])
    sources = [source(name, is_hay=name != "corn") for name in ("hay", "corn", "loose")]
    program: Any = one(sources=sources)
    program.cautions = program.rules = []
    program.feeding = [one(group_id="g", source_id=asked, period=0)]
    days = days_of({asked: [100.0]}, group=group)
    stocks = {name: BaleStock(9, np.array([400.0])) for name in ("hay", "corn")}
    found = delivery_cautions.delivery_cautions(program, farm, [days], stocks)
    assert list(found) == said


def test_hays_under_one_limit_are_told_to_be_weighed_in_one_line(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Ten dangers of a large ranch differed in the name of the lot alone."""
    monkeypatch.setattr(delivery_cautions, "only_mixed", lambda *what: frozenset("ab"))
    group = one(group_id="g", name="Cows", head=20, animal_class=AnimalClass.COW)
    farm: Any = one(lots=[one(lot_id=name, package=Package.ROUND) for name in "ab"], feeds=[])
    program: Any = one(sources=[source(name) for name in "ab"], feeding=[])
    mixed = {"group_id": "g", "mixed": True, "rule_id": "hcn-half"}
    program.rules = [one(source_id=name, **mixed) for name in "ab"]
    program.cautions = []
    days = days_of({"a": [100.0], "b": [100.0]}, group=group)
    (found,) = delivery_cautions.delivery_cautions(program, farm, [days], {})
    assert "Weigh out Sudan a and Sudan b for Cows every day" in found.sentence
    # It said that the nitrate of hay with prussic acid can kill.
    assert "prussic acid can kill" in found.sentence
    box = Caution("danger", "", "", "", ("nitrate-begin",), groups=("g",), sources=("a", "b"))
    program.cautions = [box]
    assert not list(delivery_cautions.delivery_cautions(program, farm, [days], {}))


def test_a_week_with_too_little_hay_low_in_nitrate_to_begin_is_told_with_its_days() -> None:
    begins = {"group_id": "g", "mixed": True, "demand": "begin"}
    group = one(group_id="g", name="Cows", head=20, animal_class=AnimalClass.COW)
    program: Any = one(sources=[one(source_id=name, name=f"Sudan {name}") for name in "abc"])
    program.rules = [one(source_id=name, rule_id="nitrate-begin", **begins) for name in "abc"]
    program.rules.append(one(source_id="d", rule_id="nitrate-begin", **{**begins, "group_id": "h"}))
    program.periods = [one(start=START + timedelta(days=at), days=1) for at in (0, 1)]
    farm: Any = one(units="us")
    asked = {"a": [0.0, 5.0], "b": [0.0, 5.0], "c": [5.0, 0.0]}
    days = days_of(asked, [0, 1], group=group, bare=(1,))
    (told,) = delivery_cautions._bare_of_safe_hay(program, farm, days)
    assert (told.level, told.about, told.groups) == ("warning", "g", ("g",))
    assert (told.sources, told.rules) == (("a", "b"), ("nitrate-begin",))
    assert (told.start, told.end) == (START + timedelta(days=1), START + timedelta(days=2))
    assert "begin Sudan a and Sudan b as low as it should be for Cows in the week of Jan 5" in (
        told.sentence
    )


def test_weeks_in_which_the_limit_of_nitrate_leaves_hunger_are_told_once() -> None:
    group = one(group_id="g", name="Cows", head=20, animal_class=AnimalClass.COW)
    program: Any = one(sources=[source(name, nitrate_no3n_ppm=9.0) for name in "abc"])
    held = [("a", "nitrate-half", True), ("b", "nitrate-half", True), ("", "nitrate-diet", False)]
    program.rules = [
        one(group_id="g", source_id=source, rule_id=rule, mixed=mixed)
        for source, rule, mixed in held
    ]
    program.periods = [one(start=START + timedelta(days=at), days=1) for at in range(3)]
    farm: Any = one(units="us")
    asked = {"a": [0.0, 5.0, 0.0], "b": [2.0, 0.0, 0.0], "c": [5.0, 5.0, 5.0]}
    days = days_of(asked, [0, 1, 2], group=group, lean=(1, 2))
    (told,) = delivery_cautions._lean_for_nitrate(program, farm, days)
    assert (told.level, told.groups, told.sources) == ("warning", ("g",), ("a",))
    assert told.rules == ("nitrate-half", "nitrate-diet")
    assert (told.start, told.end) == (START + timedelta(days=1), START + timedelta(days=3))
    assert "less than their fill on some days of the weeks of Jan 5 and Jan 6" in told.sentence
    assert not list(delivery_cautions._lean_for_nitrate(program, farm, days_of(asked, [0, 1, 2])))
    program.rules[0] = one(group_id="g", source_id="a", rule_id="hcn-half", mixed=True)
    (told,) = delivery_cautions._lean_for_nitrate(program, farm, days)
    assert "more Sudan a would be too much prussic acid" in told.sentence


def test_hay_that_is_not_mixed_is_named_where_the_limit_of_nitrate_leaves_hunger() -> None:
    """It told of more than nothing: "more  would be too much nitrate"."""
    group = one(group_id="g", name="Cows", head=20, animal_class=AnimalClass.COW)
    ppm = {"a": 1200.0, "b": None}
    program: Any = one(sources=[source(name, nitrate_no3n_ppm=ppm[name]) for name in ppm])
    program.rules = [one(group_id="g", source_id="", rule_id="nitrate-diet", mixed=False)]
    program.periods = [one(start=START, days=1)]
    days = days_of({"a": [5.0], "b": [5.0]}, group=group, lean=(0,))
    (told,) = delivery_cautions._lean_for_nitrate(program, one(units="us"), days)
    assert "more Sudan a would be too much nitrate" in told.sentence


@pytest.mark.parametrize(("lacks", "level"), [(14.0, "note"), (16.0, "warning")])
def test_weeks_in_which_a_rise_leaves_hunger_are_told_with_its_rule(
    lacks: float, level: str
) -> None:
    group = one(group_id="g", name="Cows", head=20, animal_class=AnimalClass.COW)
    program: Any = one(sources=[source("hay", is_hay=True), source("corn"), source("oats")])
    step = {"group_id": "g", "rule_id": "grain-step", "demand": "step"}
    program.rules = [one(source_id=name, **step) for name in ("corn", "oats")]
    program.periods = [one(start=START + timedelta(days=at), days=1) for at in range(2)]
    kg = (100.0 - lacks) / 0.8
    days = days_of({"hay": [kg, kg - 1.0], "corn": [0.0, 1.0], "oats": [1.0, 0.0]}, [0, 1],
                   group=group, short=(1,), hunger_kg_dm=np.array([0.0, lacks]))  # fmt: skip
    farm: Any = one(units="us")
    (told,) = delivery_cautions._short_while_raised(program, farm, days)
    assert (told.level, told.rules, told.sources) == (level, ("grain-step",), ("corn",))
    assert (told.start, told.end) == (START + timedelta(days=1), START + timedelta(days=2))
    assert "some days of the week of Jan 5, while Sudan corn is raised" in told.sentence


def test_who_eats_of_bales_is_told_which_may_lie_beside_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """No more of their hay was left, and it was told that none that they may have is."""
    group = one(group_id="g", name="Cows", head=20, animal_class=AnimalClass.COW)
    others = {"b": np.array([False, True]), "c": np.array([True, False]), "d": np.ones(2, bool)}
    monkeypatch.setattr(delivery_cautions, "stand_ins", lambda *_: others)
    sources = [source(name, bale_weight_kg=500.0, dm_pct=80.0) for name in "abcd"]
    program: Any = one(sources=[*sources, source("corn", bale_weight_kg=None)])
    program.lots = [one(lot_id=name, left_t=t) for name, t in (("b", 0.4), ("c", 9.0), ("d", 0.3))]
    program.rules = [one(group_id="g", source_id="corn", rule_id="grain-step", demand="step")]
    program.periods = [one(start=START + timedelta(days=at), days=1) for at in range(2)]
    kg = {"a": [9.0, 8.0], "corn": [0.0, 1.0]}
    for weighed, words in (("", "Put a bale of Sudan b beside it"), ("a", "no other hay")):
        days = days_of(kg, [0, 1], group=group, short=(1,), hunger_kg_dm=np.array([0.0, 1.0]),
                       first=START, weighed=frozenset(weighed))  # fmt: skip
        (told,) = delivery_cautions._short_while_raised(program, one(units="us"), days)
        assert words in told.sentence


def test_hay_that_stands_in_is_told_with_its_weeks() -> None:
    group = one(group_id="g", name="Cows", head=20, animal_class=AnimalClass.COW)
    program: Any = one(sources=[source("a", is_hay=True), source("b", is_hay=True)])
    program.feeding = [
        one(group_id=who, source_id="a", period=number) for who in "gh" for number in (0, 1)
    ]
    program.periods = [one(start=START + timedelta(days=at), days=1) for at in range(2)]
    days = days_of({"a": [5.0, 5.0], "b": [0.0, 2.0]}, [0, 1], group=group)
    other = days_of({"a": [5.0, 5.0]}, [0, 1], group=one(group_id="h", name="Bulls"))
    (told,) = delivery_cautions._stands_in(program, one(units="us"), [days, other])
    assert (told.level, told.sources, told.start) == ("note", ("b",), START + timedelta(days=1))
    assert told.groups == ("g",)
    assert "On some days of the week of Jan 5 Sudan b fills Cows" in told.sentence


@dataclass(frozen=True)
class Balance:
    lot_id: str
    start_bales: float = 0.0
    fed_bales: float = 0.0


@pytest.mark.parametrize(
    ("weighed", "counted", "fed"),
    [(200.0, 10.0, 3 + 3), (160.0, 10.0, 3 + 2), (0.0, 10.0, 3), (9000.0, 10.0, 3 + 10)],
)
def test_bales_opened_for_what_is_weighed_out_count_as_fed(
    weighed: float, counted: float, fed: float
) -> None:
    stocks = {"a": BaleStock(9, np.array([400.0]), counted), "b": BaleStock(9, np.array([400.0]))}
    out = days_of({"a": [weighed] * 5}, weighed=frozenset({"a"}))
    whole = days_of({"a": [900.0] * 5, "b": [900.0] * 5})
    totals: Any = [
        one(source_id="a", group_id="", bales=3),
        one(source_id="a", group_id="g", bales=9),
    ]
    lots: Any = [Balance("a"), Balance("b")]
    found = lots_in_bales(lots, [out, whole], stocks, totals)
    assert found == (Balance("a", counted, fed), Balance("b"))
    none = lots_in_bales(lots[:1], [], {"a": BaleStock(0, np.array([400.0]), 0.0)}, [])
    assert none == (Balance("a", 0.0, 0.0),)


def test_the_nights_in_which_forage_falls_slowly_are_those_of_the_group() -> None:
    weeks = [one(start=START + timedelta(days=7 * t), days=7) for t in range(4)]
    groups = [one(group_id=name) for name in ("ewes", "cows", "bulls")]
    falls = [one(group=g, period=t) for g, t in ((1, 0), (0, 1), (1, 2), (0, 3))]
    needs = one(groups=groups, periods=weeks)
    found = held_rules._of_nights(one(needs=needs, descents=falls))
    days = [(one.group_id, (one.start - START).days, (one.end - START).days) for one in found]
    assert days == [
        ("ewes", 7, 28),
        ("cows", 0, 21),
    ]


@pytest.mark.parametrize(
    ("counted", "since", "start_kg", "wanted"),
    [
        (10.0, -4.0, 2400.0, (4, [500.0, 450.0], 6.0)),
        (10.0, -10.0, 2400.0, (0, [480.0, 480.0], 0.0)),
        (10.0, -4.0, 0.0, (0, [480.0, 480.0], 0.0)),
    ],
)
def test_bales_of_a_lot_are_those_counted_and_moved_since_less_those_sold(
    counted: float,
    since: float,
    start_kg: float,
    wanted: tuple[int, list[float], float],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Six stand, of which each holds 400 kg dry and 500 wet; a quarter of them is sold."""
    stocks = import_module("rickyard.program.days.bale_stock")
    lot: Any = one(lot_id="l", bales=counted)
    monkeypatch.setattr(
        stocks, "yard_lot", lambda *what: one(start_kg_dm=start_kg, kept=np.array([1.0, 0.9]))
    )
    monkeypatch.setattr(stocks, "book_of", lambda *what: one(since_count=lambda day: since))
    sales = [one(lot_id="l", dm_kg=400.0), one(lot_id="m", dm_kg=900.0), one(lot_id="l", dm_kg=200)]
    program: Any = one(periods=(None, None), sales=sales)
    season = one(start=START, rainfall_mm_per_year=None)
    value: Any = one(bale_weight_kg=480.0, dm_pct=80.0)
    found = stocks._of_lot(program, one(moves=(), fed=(), season=season), lot, value)
    assert (found.bales, found.kg.tolist(), found.counted) == wanted
    assert stocks._of_lot(program, lot, lot, one(bale_weight_kg=None)) is None
