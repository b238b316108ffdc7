"""The second look at what is put out: loads counted by hand against what is asked for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.farm import Feed, Feeder, FeedKind
from rickyard.program.audit import deliveries
from rickyard.program.audit.deliveries import (
    Bales,
    _GroupCheck,
    _mixed,
    _starch_or_npn,
    bales_taken,
    count_bales,
    delivery_breaches,
)
from rickyard.program.audit.view import Breach
from support.by_hand import one
from support.farms import START
from support.rows import each_row

DAYS = [START + timedelta(days=number) for number in range(14)]
VISITS = [(DAYS[0], DAYS[:7]), (DAYS[7], DAYS[7:])]
WEEKS = [SimpleNamespace(index=t, start=DAYS[7 * t], days=7) for t in range(2)]


def said(found: Iterator[Breach]) -> list[tuple[str, float, float]]:
    return [(each.what.rsplit(", ", 1)[1], each.claimed, each.found) for each in found]


# --- bales on hand -----------------------------------------------------------------------------


def counted(
    start_kg_dm: float = 4000.0, most_kg: float | None = 1000.0, **of_season: Any
) -> tuple[dict[str, Bales], list[Any]]:
    """Count bales of a lot of twelve, two of which are gone, and of hay that is bought."""
    asked: list[Any] = []
    with pytest.MonkeyPatch.context() as patch:
        yard = one(start_kg_dm=start_kg_dm, kept=np.array([0.9, 0.5]))
        patch.setattr(deliveries, "yard_lot", lambda *what: yard)
        book = one(since_count=lambda day: -2.0 if day == START else 99.0)
        patch.setattr(deliveries, "book_of", lambda *what: asked.append(what[-1]) or book)
        weights = {"lot": 500.0, "bought": 400.0, "corn": 300.0, "loose": None}
        program: Any = one(
            sources=[
                one(source_id=name, bale_weight_kg=kg, dm_pct=80.0) for name, kg in weights.items()
            ],
            periods=WEEKS,
            sales=[one(lot_id="lot", dm_kg=800.0), one(lot_id="other", dm_kg=9e9)],
        )
        farm: Any = one(
            lots=[one(lot_id="lot", bales=12.0)],
            feeds=[
                Feed("bought", "Bought", FeedKind.FORAGE, 0.1, most_kg=most_kg),
                Feed("corn", "Corn", FeedKind.GRAIN, 0.2),
            ],
            season=one(**{"start": START, "rainfall_mm_per_year": None, **of_season}),
            moves=(),
            fed=(),
        )
        return dict(count_bales(program, farm)), asked


def test_bales_are_those_that_stand_less_those_sold() -> None:
    bales, rain = counted()
    # Ten of 500 kg at 80 %; two of them are sold, and what lies outside loses.
    assert bales["lot"].count == 8
    assert bales["lot"].weight_kg == pytest.approx([450.0, 225.0])
    assert bales["bought"] == Bales(2, [400.0, 400.0])
    assert bales.keys() == {"lot", "bought"}
    assert rain == [1016.0]
    bales, rain = counted(most_kg=None, rainfall_mm_per_year=600.0)
    assert (bales["bought"].count, rain) == (None, [600.0])
    assert counted(most_kg=1200.0)[0]["bought"].count == 3


@pytest.mark.parametrize(("start_kg_dm", "gone"), [(0.0, True), (5e-8, True), (0.05, False)])
def test_a_lot_of_which_nothing_stands_has_no_bales(start_kg_dm: float, gone: bool) -> None:
    bales = counted(start_kg_dm)[0]["lot"]
    assert (bales == Bales(0, [500.0, 500.0])) == gone


def load(day: int, bales: float | None, kg: float, source: str = "a", **more: Any) -> Any:
    usual = {"group_id": "g", "for_days": 7, **more}
    return one(source_id=source, day=DAYS[day], bales=bales, mass_kg=kg, **usual)


def test_what_is_weighed_out_counts_as_bales_of_its_week() -> None:
    bales = {"a": Bales(9, [400.0, 200.0])}
    program: Any = one(periods=WEEKS, deliveries=[])
    late = one(source_id="a", day=DAYS[13] + timedelta(days=1), bales=1, mass_kg=1.0)
    given = [load(3, 2, 800.0), load(6, None, 100.0), load(13, None, 100.0), late]
    program.deliveries = [*given, load(0, 5, 1.0, "other")]
    assert bales_taken(program, bales) == {"a": pytest.approx(2.75)}


# --- one group ---------------------------------------------------------------------------------


def check(kg: float = 200.0, *loads: Any, **what: Any) -> Any:
    """Return the check of a group with hay in bales of 400 kg, then of 200 kg."""
    made: Any = object.__new__(_GroupCheck)
    made.days = DAYS
    made.period_of = {day: number // 7 for number, day in enumerate(DAYS)}
    made.asked = {"a": dict.fromkeys(DAYS, kg)}
    made.bales = made.all_bales = {"a": one(count=99, weight_kg=[400.0, 200.0])}
    made.dry = {"a": 0.8, "b": 0.8}
    made.spoken_for, made.mixed = {}, set()
    made.given, made.wanted = {"a": 0.0}, {"a": 0.0}
    made.farm = one(lots=[one(lot_id="a", package="round")], feeds=[])
    made.group = one(name="Cows", group_id="g", feeder=None, feed_every_days=None)
    made.program = one(delivery_totals=[], feeding=[])
    made.hay = made.mine = list(loads)
    made.dates = {"a": (None, None)}
    for name, value in what.items():
        setattr(made, name, value)
    return made


def grazed(made: Any) -> Any:
    pasture = Feed("p", "Pasture", FeedKind.GRAZING, 0.02)
    made.farm.feeds = [Feed("q", "Other", FeedKind.GRAZING, 0.02), pasture]
    made.asked["p"], made.dry["p"] = dict.fromkeys(DAYS[:7], 1.0), 0.2
    return made


FOUR, SEVEN = load(0, 4, 1600.0), load(7, 7, 1400.0)


@each_row(
    ("kg", "loads", "found"),
    [
        # Three bales and a half are wanted, and seven of the lighter ones.
        (200.0, [FOUR, SEVEN], []),
        (200.0, [FOUR, load(7, 6, 1200.0)], []),
        (200.0, [load(0, 3, 1200.0), load(0, None, 200.0), SEVEN], []),
        (200.0, [load(0, 3, 1200.0), SEVEN], [("hay until the next visit", 960.0, 1040.0)]),
        (
            *(200.0, [FOUR, load(0, None, 200.0), load(7, 6, 1200.0)]),
            [("bales ahead of the program", 1.0, 0.5)],
        ),
        (200.0, [load(0, 5, 2000.0), load(7, 6, 1200.0)], [(..., 1.5, 0.0)]),
        # Half a day's hay may be missing: without the fourth there are 960 kg of dry matter.
        (184.5, [FOUR, load(7, 6, 1200.0)], [(..., 4.0 - 184.5 * 7.0 / 400.0, 0.5)]),
        (184.7, [FOUR, load(7, 6, 1200.0)], []),
        # Other hay lies there too: what is not half a bale early is not needless.
        (200.0, [FOUR, load(0, None, 500.0, "b"), SEVEN], []),
        (198.0, [FOUR, load(0, None, 500.0, "b"), load(7, 6, 1200.0)], [(..., 0.535, 0.5)]),
    ],
)
def test_bales_are_followed_from_visit_to_visit(kg: float, loads: Any, found: Any) -> None:
    whats = [what if what is not ... else "bales ahead of the program" for what, *_ in found]
    got = said(check(kg, *loads)._followed(VISITS))
    assert [each[0] for each in got] == whats
    assert [each[1:] for each in got] == [pytest.approx(tuple(each[1:])) for each in found]


def test_hay_may_run_low_where_they_graze() -> None:
    made = grazed(check(200.0, load(0, 3, 1200.0), SEVEN))
    assert made._grazes(DAYS[6:8])
    assert not made._grazes(DAYS[7:])
    assert said(made._followed(VISITS)) == []
    # In the second week they do not graze.
    made = grazed(check(200.0, FOUR, load(7, 5, 1000.0)))
    assert len(said(made._followed(VISITS))) == 2


@each_row(
    ("given", "opens", "asked_from", "found"),
    [
        (load(0, 1, 400.0), None, 0, []),
        (load(0, 1, 400.0, for_days=6), None, 0, [(6, 7)]),
        (load(1, 1, 400.0, for_days=6), None, 0, [(6, 0)]),
        (load(1, 1, 400.0, for_days=6), 1, 1, []),
        (load(0, 1, 400.0), 0, 2, []),
        (load(2, 1, 400.0, for_days=5), 2, 2, []),
        (load(0, 1, 400.0), 2, 14, []),
    ],
)
def test_a_load_is_for_the_days_until_the_next_visit(
    given: Any, opens: int | None, asked_from: int, found: Any
) -> None:
    made = check(200.0, given, dates={"a": (None if opens is None else DAYS[opens], None)})
    made.asked["a"] = dict.fromkeys(DAYS[asked_from:], 200.0)
    assert [(each.claimed, each.found) for each in made._rhythm(VISITS)] == found


def test_bales_are_due_from_half_of_one() -> None:
    made = check(200.0)
    assert made.due() == {"a": 11}
    assert check(199.3).due() == {"a": 10}, "10.46 of them"
    made.asked["a"] = {DAYS[0]: 200.0}
    assert made._in_bales("a", DAYS) == 0.5


def test_a_trifle_behind_is_not_late() -> None:
    for behind, late in ((0.95e-6, 0), (1.05e-6, 1)):
        made = check(given={"a": 1.0}, wanted={"a": 1.0 + behind})
        assert len(list(made._forgotten({"a": 0.0}, DAYS[0], 10.0, (20.0, 20.0)))) == late


@pytest.mark.parametrize(("lying", "late"), [(149.0, 1), (151.0, 0)])
def test_no_more_than_half_a_bale_is_missing_of_those_that_are_late(
    lying: float, late: int
) -> None:
    made = check(given={"a": 1.0}, wanted={"a": 1.4})
    assert len(list(made._forgotten({"a": 300.0}, DAYS[0], lying, (100.0, 300.0)))) == late


def test_what_a_day_lacks_of_the_mean_of_its_week_is_eaten_of_what_lies() -> None:
    made = check(200.0)
    fed = {"group_id": "g", "period": 0, "source_id": "a"}
    made.program.feeding = [one(**fed, offered_kg=7.0 * kg) for kg in (200.0, 50.0)]
    made.program.feeding.append(one(**{**fed, "group_id": "h"}, offered_kg=999.0))
    assert made._hunger(DAYS[0]) == pytest.approx(0.8 * 50.0)
    assert made._hunger(DAYS[7]) == 0.0


@each_row(
    ("given", "found"),
    [
        (load(0, 1.5, 600.0), [("whole bales", 1.5, 2)]),
        (load(0, 2.6, 1040.0), [("whole bales", 2.6, 3)]),
        (load(0, 0, 0.0), [("whole bales", 0, 1)]),
        (load(0, 2, 799.0), [("weight", 799.0, 800.0)]),
        (load(8, 2, 400.0), []),
        (load(0, 1, 400.0, "b"), [("delivered at all", 400.0, 0)]),
        (load(0, None, 2800.0), []),
        (load(0, None, 0.0), [("mass", 0.0, 0)]),
        (load(0, None, 2801.0), [("by the bale or not", 0, 0)]),
        (load(7, None, 1400.0), []),
        (load(7, None, 1400.0, for_days=6), [("by the bale or not", 0, 0)]),
    ],
)
def test_each_load_is_by_whole_bales_or_part_of_an_opened_one(given: Any, found: Any) -> None:
    assert said(check()._one(given)) == found


def test_only_hay_in_bales_is_opened() -> None:
    part = load(0, None, 100.0)
    assert check()._is_part(part)
    assert not check()._is_part(load(0, 1, 100.0))
    assert not check(bales={})._is_part(part)
    assert not check(given={})._is_part(part)


def test_a_load_outside_its_dates_is_told_with_its_mass() -> None:
    early = check(dates={"a": (DAYS[1], None)})
    assert said(early._one(load(0, 1, 400.0))) == [("delivered outside its dates", 400.0, 0)]


def total(mass: float = 1600.0, planned: float = 2800.0, bales: int | None = 4, **who: Any) -> Any:
    usual = {"group_id": "g", "source_id": "a", **who}
    return one(mass_kg=mass, planned_kg=planned, bales=bales, **usual)


@each_row(
    ("rows", "found"),
    [
        ([total()], []),
        ([total(1601.0)], [("mass", 1601.0, 1600.0)]),
        ([total(planned=2801.0)], [("asked for", 2801.0, 2800.0)]),
        ([total(bales=5)], [("bales", 5, 4)]),
        ([total(bales=None)], [("bales", 0, 4)]),
        ([], [("row", 0, 2800.0)]),
        ([total(group_id="h")], [("row", 0, 2800.0)]),
        ([total(source_id="b")], [("row", 0, 2800.0)]),
    ],
)
def test_totals_are_those_of_the_loads_and_of_what_is_asked_for(rows: Any, found: Any) -> None:
    made = check(200.0, FOUR, load(0, 9, 1.0, "b"))
    made.program.delivery_totals = rows
    assert said(made._totals()) == found


@pytest.mark.parametrize(("off", "held"), [(0.95e-6, True), (1.05e-6, False)])
def test_less_than_a_kilogram_is_held_to_a_milligram(off: float, held: bool) -> None:
    made = check(0.0, load(0, None, 0.5))
    made.program.delivery_totals = [total(0.5 + off, 0.0, None)]
    assert (said(made._totals()) == []) == held


@pytest.mark.parametrize(
    ("kg", "feeder", "more", "every"),
    [
        (200.0, None, {}, 2),
        (200.0, Feeder.OPEN_RING, {}, 2),
        (200.0, Feeder.BUNK, {}, 1),
        (200.0, None, {"b": 0.0}, 1),
    ],
)
def test_hay_comes_daily_where_it_is_put_out_by_hand(
    kg: float, feeder: Feeder | None, more: dict[str, float], every: int
) -> None:
    made = check(kg, given={"a": 0.0, **more})
    made.bales["a"].weight_kg = [400.0, 400.0]
    made.group.feeder = feeder
    assert made._usual_interval() == every
    assert [len(days) for _, days in made._visits()] == [every] * (14 // every)


# --- what is weighed out -----------------------------------------------------------------------


@each_row(
    ("kind", "starch", "loads", "found"),
    [
        (FeedKind.SUPPLEMENT, 29.9, [14.0], 0),
        (FeedKind.SUPPLEMENT, 29.9, [14.1], 1),
        (FeedKind.MINERAL, 72.0, [14.0], 0),
        (FeedKind.SUPPLEMENT, 30.0, [14.0], 14),
        (FeedKind.SUPPLEMENT, 30.0, [1.0] * 14, 0),
        (FeedKind.GRAIN, None, [1.0] * 13, 1),
        (FeedKind.GRAIN, None, [1.0] * 13 + [1.1], 1),
    ],
)
def test_feed_is_all_put_out_and_starch_day_by_day(
    kind: FeedKind, starch: float | None, loads: Any, found: int
) -> None:
    feed = Feed("f", "Feed", kind, 0.2, starch_pct=starch)
    made = check(asked={"f": dict.fromkeys(DAYS, 1.0)})
    made.mine = [load(day, None, kg, "f", for_days=1) for day, kg in enumerate(loads)]
    made.mine += [load(0, None, 5.0, "other", for_days=1)]
    assert len(list(made._feed(feed))) == found
    made.mine = [load(day, None, 1.0, "f", for_days=1 + (day == 2)) for day in range(14)]
    at_once = [each for each in made._feed(feed) if "at once" in each.what]
    slowly = kind is FeedKind.GRAIN or (starch or 0.0) == 30.0
    assert [(each.claimed, each.found) for each in at_once] == ([(2, 1)] if slowly else [])


def test_grain_on_a_day_without_any_is_told_as_none() -> None:
    corn = Feed("f", "Corn", FeedKind.GRAIN, 0.2)
    made = check(asked={"f": {DAYS[0]: 1.0}}, days=DAYS[:3])
    made.mine = [load(1, None, 2.0, "f", for_days=1)]
    assert [(each.claimed, each.found) for each in made._feed(corn)] == [(0.0, 1.0), (2.0, 0.0)]


@each_row(
    ("feed", "slowly"),
    [
        (Feed("f", "Feed", FeedKind.SUPPLEMENT, 0.2), False),
        (Feed("f", "Feed", FeedKind.SUPPLEMENT, 0.2, npn_cp_pct=5.0), True),
        (Feed("f", "Feed", FeedKind.SUPPLEMENT, 0.2, table_id="urea"), True),
        (Feed("f", "Feed", FeedKind.SUPPLEMENT, 0.2, table_id="urea", npn_cp_pct=0.0), False),
        (Feed("f", "Feed", FeedKind.SUPPLEMENT, 0.2, table_id="corn_grain_dry_rolled"), True),
        (
            Feed(
                "f", "F", FeedKind.SUPPLEMENT, 1.0, table_id="corn_grain_dry_rolled", starch_pct=9
            ),
            False,
        ),
    ],
)
def test_a_feed_is_raised_slowly_by_what_its_tag_or_its_row_says(feed: Feed, slowly: bool) -> None:
    assert _starch_or_npn(feed) == slowly


def test_hay_beside_what_is_mixed_is_weighed_out_too(monkeypatch: pytest.MonkeyPatch) -> None:
    bound = [
        one(group_id="g", source_id="a", rule=one(mixed=True)),
        one(group_id="g", source_id="c", rule=one(mixed=False)),
        one(group_id="h", source_id="d", rule=one(mixed=True)),
    ]
    monkeypatch.setattr(deliveries, "bindings", lambda farm: bound)
    feeds = [Feed("corn", "Corn", FeedKind.GRAIN, 0.2)]
    rows = [(0, "a", 9.0), (0, "b", 9.0), (0, "corn", 9.0), (1, "c", 9.0), (1, "a", 0.0)]
    program: Any = one(
        feeding=[one(group_id="g", period=t, source_id=name, offered_kg=kg) for t, name, kg in rows]
    )
    program.feeding += [one(group_id="h", period=0, source_id="d", offered_kg=9.0)]
    farm: Any = one(feeds=feeds)
    assert _mixed(program, farm, one(group_id="g", feeder=None)) == {"a", "b"}
    assert _mixed(program, farm, one(group_id="g", feeder="mixed_ration")) == {"a", "b", "c"}


def test_bales_are_spoken_for_by_all_groups_and_strangers_get_none(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Check:
        def __init__(self, *what: Any) -> None:
            self.spoken_for = what[4][0]

        def due(self) -> dict[str, float]:
            return {"a": 2.5}

        def breaches(self) -> Iterator[Breach]:
            yield Breach(str(dict(self.spoken_for)), 0, 0)

    monkeypatch.setattr(deliveries, "_GroupCheck", Check)
    monkeypatch.setattr(deliveries, "count_bales", lambda program, farm: {})
    monkeypatch.setattr(deliveries, "hay_over", lambda program, farm: {})
    program: Any = one(deliveries=[load(0, 1, 1.0, group_id="x")], periods=[])
    farm: Any = one(groups=[one(group_id="g"), one(group_id="h")])
    stranger, *others = delivery_breaches(program, farm)
    assert (stranger.what, stranger.claimed) == ("deliveries to x, no group of the farm", 1)
    assert stranger.found == 0
    assert [each.what for each in others] == ["{'a': 5.0}"] * 2


def test_a_group_is_checked_by_its_own_loads_and_dates(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = {"a": {DAYS[0]: 1.0}, "corn": {DAYS[0]: 1.0}}
    monkeypatch.setattr(deliveries, "asked_by_day", lambda *what: asked)
    monkeypatch.setattr(deliveries, "_mixed", lambda *what: {"c"})
    monkeypatch.setattr(_GroupCheck, "_forked", lambda check: set())
    group: Any = one(group_id="g", from_on=None, to_on=None)
    mine = [load(0, 1, 400.0), load(0, None, 9.0, "corn")]
    program: Any = one(
        feeding=[one(group_id=who, source_id=what) for who, what in (("g", "a"), ("h", "corn"))],
        deliveries=[*mine, load(0, 1, 400.0, group_id="h")],
        sources=[one(source_id="a", dm_pct=80.0)],
        periods=WEEKS,
    )
    farm: Any = one(
        lots=[one(lot_id="a", feed_from=DAYS[1], feed_by=DAYS[9])],
        feeds=[
            Feed("b", "Bought", FeedKind.FORAGE, 0.1, from_on=DAYS[2], to_on=DAYS[5]),
            Feed("corn", "Corn", FeedKind.GRAIN, 0.2),
        ],
    )
    bales: Any = {"a": one(), "c": one(), "corn": one()}
    made = _GroupCheck(program, farm, group, bales, ({}, {}))
    dates = {"a": (DAYS[1], DAYS[9]), "b": (DAYS[2], DAYS[4]), "corn": (None, None)}
    assert made.dates == dates
    assert (made.mine, made.hay, made.dry) == (mine, mine[:1], {"a": 0.8})
    assert (made.given, made.wanted, list(made.bales)) == ({"a": 0.0}, {"a": 0.0}, ["a"])
