"""Changes of hay and feeds that are raised, day by day, with amounts laid down by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.farm import AnimalClass, FedRow, Feed, FeedKind, Group
from rickyard.program.days import day_amounts, safe_days, step_up
from rickyard.program.days.day_amounts import GroupDays
from rickyard.program.days.making_up import room_kg_dm
from rickyard.program.days.safe_days import SafeDays
from rickyard.program.days.step_up import Pace, asked_by_day, paces_of
from rickyard.program.feedout import transitions
from rickyard.program.feedout.transitions import _Changes, _raises
from rickyard.safety import Binding, rule_of
from support.by_hand import one
from support.rows import each_row

START = date(2027, 1, 4)


def herd(head: int = 10, kind: AnimalClass = AnimalClass.COW, **what: Any) -> Group:
    return Group("g", "Cows", kind, head, 500.0, **what)


def days_of(
    asked: dict[str, list[float]], period: list[int] | None = None, group: Any = None, **what: Any
) -> GroupDays:
    count = len(next(iter(asked.values())))
    return GroupDays(
        **{
            "group": group or herd(),
            "first": START,
            "period": np.array(period or [0] * count),
            "weight_kg": np.full(count, 500.0),
            "asked": {name: np.array(kg) for name, kg in asked.items()},
            "weighed": frozenset(),
            **what,
        }
    )


# --- changes of hay ------------------------------------------------------------------------------


def changes(asked: dict[str, list[float]], period: list[int], **of_days: Any) -> Any:
    made: Any = object.__new__(_Changes)
    made.days = days_of(asked, period, **of_days)
    made.asked = made.days.asked
    made.farm = one(units="us")
    made.value = {
        name: one(
            name=name.title(),
            tdn_pct=50.0 + 10.0 * at,
            cp_pct=9.0,
            dm_pct=80.0,
            bale_weight_kg=None,
        )
        for at, name in enumerate(asked)
    }
    made.baleage = set()
    made.limited = frozenset("a")
    return made


@each_row(
    ("period", "a", "b", "found"),
    [
        ([0, 0, 1, 1], [10, 10, 0, 0], [0, 0, 10, 10], [("b", {"a": 20}, {"a": 0, "b": 20}, 2)]),
        # A tenth of the day's hay changes nothing worth a list.
        ([0, 0, 1, 1], [10, 10, 9, 9], [0, 0, 1, 1], []),
        ([0, 0, 1, 1], [10, 10, 9, 9], [0, 0, 1, 1.1], [("b", {"a": 20}, {"a": 18, "b": 2.1}, 2)]),
        # Who comes, or comes back, knows no hay.
        ([0, 0, 1, 1], [0, 0, 0, 0], [0, 0, 10, 10], []),
        ([0, 0, 2, 2], [10, 10, 0, 0], [0, 0, 10, 10], []),
        ([0, 1, 2, 2], [10, 10, 0, 0], [0, 0, 10, 10], [("b", {"a": 10}, {"a": 0, "b": 20}, 2)]),
        ([0, 0, 1, 1], [10, 10, 10, 10], [5, 5, 9, 9], []),
    ],
)
def test_a_hay_is_new_where_it_was_not_fed_the_week_before(
    period: list[int], a: list[float], b: list[float], found: Any
) -> None:
    made = changes({"a": a, "b": b}, period)
    made._change = lambda *what: what
    assert list(made.hays()) == found


@pytest.mark.parametrize(
    ("over", "of_farm", "mixed", "planned"),
    [(4, None, False, False), (4, 4, False, True), (4, None, True, True)],
)
def test_a_change_is_told_as_planned_or_as_it_should_be(
    over: int, of_farm: int | None, mixed: bool, planned: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(transitions, "days_of_change", lambda farm, group: of_farm)
    made = changes({"a": [9, 9, 5, 4, 0, 0], "b": [0, 0, 5, 6, 0, 8]}, [0, 0, 1, 1, 1, 1])
    made._days = lambda new, old: (over, "source")
    made._is_in_a_mix = lambda new, here: mixed
    found = made._change("b", {"a": 18.0}, {"a": 9.0, "b": 27.0}, 2)
    assert (found.start, found.days) == (START + timedelta(days=2), over)
    assert (found.in_program, found.from_sources, found.to_source) == (planned, ("a",), "b")
    # Three quarters of the hay are new: a fourth of that more every day.
    shares = [0.5, 0.6, 0.0, 1.0] if planned else [0.75 / 4, 0.75 / 2, 0.75 * 3 / 4, 0.75]
    assert found.shares == pytest.approx(shares)
    made._days = lambda new, old: (None, "source")
    assert made._change("b", {"a": 18.0}, {"a": 9.0, "b": 27.0}, 2) is None


@each_row(
    ("bars", "feed_from", "feed_by", "told"),
    [
        ([], None, None, "from Jan 5 to Jan 11: about 2 of B before Jan 8 in place of A, and of"),
        (["a"], None, None, "from Jan 5: about 4 of B before Jan 8, and none of A from then on"),
        (["b"], None, None, "until Jan 11: keep about 4 of A for it"),
        ([], 2, None, "until Jan 11: keep about 4 of A for it"),
        ([], None, 5, "from Jan 5: about 4 of B before Jan 8, and none of A from then on"),
        (["a", "b"], None, None, "The program does not plan that: hold old hay back"),
    ],
)
def test_a_change_of_bales_says_how_both_lie_side_by_side(
    bars: list[str], feed_from: int | None, feed_by: int | None, told: str
) -> None:
    """It said to mix them by degrees, and not how that is done with bales in a ring."""
    made = changes({"a": [800.0] * 4 + [0.0] * 4, "b": [0.0] * 4 + [800.0] * 4}, [0] * 4 + [1] * 4)
    for value in made.value.values():
        value.bale_weight_kg = 438.0
    days = [None if at is None else START + timedelta(days=at) for at in (feed_from, feed_by)]
    made.farm.lots = [one(lot_id="a", feed_from=None, feed_by=days[1]),
                      one(lot_id="b", feed_from=days[0], feed_by=None)]  # fmt: skip
    when = {"a": START + timedelta(days=4), "b": START}
    bound = [Binding(rule_of("fescue-unknown-mares"), "g", name, one(), ((when[name], when[name]
             + timedelta(days=4)),)) for name in bars]  # fmt: skip
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(transitions, "bindings", lambda farm: bound)
        patch.setattr(transitions, "days_of_change", lambda farm, group: None)
        start, both = START + timedelta(days=4), {"a": 3200.0, "b": 3200.0}
        assert told in made._sentence("b", {"a": 3200.0}, 7, start, both)
        made.days = replace(made.days, weighed=frozenset("b"))
        assert "does not plan that" in made._sentence("b", {"a": 3200.0}, 7, start, both)


@pytest.mark.parametrize(
    ("kind", "here", "weighed", "mixed"),
    [
        (AnimalClass.COW, {"a": 1.0, "b": 1.0}, "b", True),
        (AnimalClass.COW, {"a": 0.0, "b": 1.0}, "b", False),
        # What was mixed with it is gone: it takes the place of that, and thins nothing.
        (AnimalClass.EWE, {"a": 0.0, "b": 1.0, "c": 1.0}, "b", False),
        (AnimalClass.COW, {"a": 1.0, "b": 1.0}, "a", False),
        (AnimalClass.HORSE, {"a": 1.0, "b": 1.0}, "b", False),
    ],
)
def test_a_hay_that_thins_others_is_part_of_a_mix(
    kind: AnimalClass, here: dict[str, float], weighed: str, mixed: bool
) -> None:
    made = changes({"a": [1]}, [0], group=herd(kind=kind), weighed=frozenset({weighed}))
    assert made._is_in_a_mix("b", here) == mixed


# --- feeds that are raised -----------------------------------------------------------------------


def raised(
    kg: list[float],
    before: float = 0.0,
    weight: float = 500.0,
    *,
    head: int = 10,
    npn: float | None = None,
) -> list[Any]:
    corn = Feed("corn", "Corn", FeedKind.GRAIN, 0.2, npn_cp_pct=npn)
    days = days_of({"corn": kg}, group=herd(head), weight_kg=np.full(len(kg), weight))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(transitions, "daily_before_kg", lambda *what: before)
        same = one(together=lambda asked: asked)
        patch.setattr(transitions, "OneFeed", one(of=lambda farm: same))
        farm: Any = one(units="metric")
        return list(_raises(farm, corn, days))


def test_a_rise_lasts_from_its_first_day_to_its_top() -> None:
    (found,) = raised([5.0, 10.0, 15.0, 15.0], 0.5)
    assert (found.start, found.days) == (START + timedelta(days=1), 2)
    assert found.shares == pytest.approx([1.0 / 1.5, 1.0])
    assert "over 2 days" in found.sentence
    assert "0.5 to 1.5 kg" in found.sentence
    (found,) = raised([5.0, 10.0, 15.0])
    assert (found.start, found.days) == (START, 3)
    (found,) = raised([5.0, 10.0, 15.0], 0.5)
    assert found.days == 2
    first, second = raised([5.0, 5.0, 2.0, 9.0, 9.0])
    assert (first.days, second.days) == (1, 1)
    assert second.start == START + timedelta(days=3)
    assert raised([5.0, 5.0], 0.5) == raised([5.0, 5.0], 0.5 - 1e-10) == []
    (slow,) = raised([21.0, 22.0, 23.0], 2.0)
    assert slow.days == 3
    (alone,) = raised([2.0, 2.0], head=1)
    assert alone.shares == (1.0,)
    assert "2 kg" in alone.sentence


@pytest.mark.parametrize(
    ("kg", "weight", "npn", "told"),
    [
        # Half a pound a head, or a two-thousandth of weight, needs no days; of urea nothing.
        (2.2679, 500.0, None, 0),
        (2.2680, 500.0, None, 1),
        (2.0, 400.0, None, 0),
        (2.01, 400.0, None, 1),
        (0.5, 500.0, 30.0, 1),
    ],
)
def test_a_small_rise_needs_no_days(kg: float, weight: float, npn: Any, told: int) -> None:
    assert len(raised([kg, kg], weight=weight, npn=npn)) == told
    assert len(raised([kg + 20.0, kg + 20.0], 2.0, weight, npn=npn)) == told


# --- amounts by day ------------------------------------------------------------------------------


def row(source: str, period: int, kg: float) -> Any:
    return one(source_id=source, period=period, offered_kg=kg)


def test_what_is_asked_for_is_even_over_the_days_of_its_week(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rows = [row("a", 0, 20.0), row("a", 0, 10.0), row("a", 1, 5.0), row("corn", 1, 4.0)]
    rows += [row("a", 7, 99.0)]
    noted: list[Any] = []

    def new_hay(period: Any, only_hay: Any, dry: Any, over: int) -> Any:
        noted.append((sorted(only_hay), over))
        return {"a": "new"}

    monkeypatch.setattr(step_up, "new_hay_by_day", new_hay)
    period = np.array([0, 0, 1])
    for over in (None, 1):
        found = asked_by_day(herd(change_over_days=over), period, rows, frozenset("a"), {})
        assert {name: kg.tolist() for name, kg in found.items()} == {
            "a": [15.0, 15.0, 5.0],
            "corn": [0.0, 0.0, 4.0],
        }
    assert noted == []
    found = asked_by_day(herd(change_over_days=2), period, rows, frozenset("a"), {})
    assert (found["a"], noted) == ("new", [(["a"], 2)])


def rule(source: str, demand: str, amount: float | None = None, finding: str = "") -> Any:
    binds = one(demand=demand, amount=amount, finding=finding, mixed=False)
    return one(source_id=source, rule=binds)


def safe(*rules: Any, counted: bool = True, head: int = 10, fed: Any = (), **what: Any) -> Any:
    farm: Any = one(season=one(start=START), fed=fed, lots=(), feeds=())
    usual = {"period": np.zeros(2, dtype=int), "weight_kg": np.full(2, 500.0), "room": {}, **what}
    first = START
    return SafeDays(farm, herd(head), first, rules=list(rules), counted=counted, **usual)


def test_days_of_a_group_are_those_on_which_it_is_here(monkeypatch: pytest.MonkeyPatch) -> None:
    class Same:
        def __call__(self, source: str) -> str:
            return source

        def together(self, asked: Any) -> Any:
            return asked

        def parted(self, moved: Any, asked: Any) -> Any:
            return moved

    dries: list[Any] = []

    def amounts(self: Any, asked: Any, fill: Any, dry: Any) -> Any:
        dries.append((sorted(fill), dry, [each.group_id for each in self.rules]))
        return asked, frozenset({"corn"})

    bound = [one(group_id=name, source_id="a", rule=one(demand="none")) for name in "gh"]
    monkeypatch.setattr(day_amounts, "bindings", lambda farm: bound)
    monkeypatch.setattr(day_amounts, "replace", lambda each, **_: each)
    monkeypatch.setattr(day_amounts, "OneFeed", one(of=lambda farm: Same()))
    monkeypatch.setattr(day_amounts, "weighed_out", lambda program, group: frozenset({"w"}))
    monkeypatch.setattr(day_amounts, "only_mixed", lambda *what: frozenset())
    monkeypatch.setattr(SafeDays, "amounts", amounts)
    program: Any = one(
        sources=[one(source_id="a", dm_pct=80.0, bale_weight_kg=500.0)],
        groups=[one(group_id="g", period=t, full_weight_kg=510.0 + t) for t in range(2)],
        periods=[one(index=t, start=START + timedelta(days=7 * t), days=7) for t in range(2)],
        feeding=[one(group_id="g", source_id="a", period=0, offered_kg=28.0)],
        lots=[],
    )
    here = {"from_on": START + timedelta(days=3), "to_on": START + timedelta(days=9)}
    away = herd(from_on=START + timedelta(days=14))
    farm: Any = one(groups=[away, herd(**here), herd()], lots=[one(lot_id="a")], feeds=[])
    some, every = day_amounts.group_days(program, farm)
    assert (some.first, some.period.tolist()) == (here["from_on"], [0, 0, 0, 0, 1, 1])
    assert some.weight_kg.tolist() == [510.0] * 4 + [511.0] * 2
    assert some.asked["a"].tolist() == [7.0] * 4 + [0.0] * 2
    assert (some.count, every.count, some.raised) == (6, 14, {"corn"})
    assert some.day(2) == START + timedelta(days=5)
    assert dries == [(["a"], {"a": 0.8}, ["g"])] * 2
    bales: Any = {"a": 1, "w": 2, "other": 3}
    assert some.by_bale(bales) == {"a": 1}
    mixed = days_of({"a": [1], "w": [1]}, weighed=frozenset({"w"}))
    assert mixed.by_bale(bales) == {"a": 1}
    made = _Changes(
        one(sources=[one(source_id="a", dm_pct=80.0)], rules=[]),  # type: ignore[arg-type]
        one(lots=[one(lot_id="a", package=None)], feeds=[]),  # type: ignore[arg-type]
        some,
    )
    assert made.asked["a"][0] == pytest.approx(5.6)


def test_what_was_fed_in_the_week_before_is_known() -> None:
    fed = [FedRow(START - timedelta(days=back), str(back), "g", 1.0) for back in (0, 1, 7, 8)]
    fed.append(FedRow(START - timedelta(days=1), "other", "h", 1.0))
    assert safe(fed=fed)._known() == {"1", "7"}


def test_grains_share_what_one_may_rise_and_urea_has_no_free_rise() -> None:
    rules = [rule("corn", "step", 14.0), rule("oats", "step"), rule("cake", "step", 5.0)]
    rules += [rule(name, "rise", 0.5) for name in ("corn", "oats", "gone")]
    rules += [rule("block", "step", 7.0, "begin_npn"), rule("lot", "begin")]
    asked = {"corn": np.array([0.0, 30.0]), "oats": np.array([10.0, 5.0]), "cake": np.ones(2)}
    assert paces_of(rules, asked) == {
        "corn": Pace(14, 0.375, 0.75),
        "oats": Pace(1, 0.125, 0.25),
        "cake": Pace(5, np.inf, 1.0),
        "block": Pace(7, np.inf, 0.0),
    }
    none = {"corn": np.zeros(2), "oats": np.zeros(2)}
    assert paces_of(rules, none)["corn"] == Pace(14, 0.5, 1.0)
    assert paces_of([rule("corn", "step", 2.0), rule("corn", "rise")], asked)["corn"].most_kg == 0


@pytest.mark.parametrize("counted", [True, False])
@pytest.mark.parametrize("head", [1, 10])
def test_a_feed_climbs_by_the_head(
    counted: bool, head: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(safe_days, "daily_before_kg", lambda *what: 0.25)
    known = []

    def climb(wanted: Any, *what: Any) -> Any:
        known.append((wanted.tolist(), what[-1]))
        return wanted - 0.5

    name = "raised_slowly" if counted else "held_back"
    monkeypatch.setattr(safe_days, name, climb)
    found = safe(counted=counted, head=head)._climbing("corn", np.array([20.0, 40.0]), None)
    assert known == [([20.0 / head, 40.0 / head], 0.25)]
    assert found.tolist() == [20.0 - 0.5 * head, 40.0 - 0.5 * head]


def moved(
    monkeypatch: pytest.MonkeyPatch, corn: list[float], *, counted: bool, closed: Any = None
) -> tuple[dict[str, list[float]], Any, list[list[float]]]:
    """Return what is put out of corn that climbs so, and of hay beside it."""
    wanted: list[list[float]] = []
    waits = {} if closed is None else {"corn": np.array(closed)}
    monkeypatch.setattr(safe_days, "waiting", lambda *what: waits)
    monkeypatch.setattr(safe_days, "paces_of", lambda *_: {"corn": 1, "gone": 1})

    def climbs(self: Any, source: str, kg: Any, pace: Any) -> Any:
        wanted.append(kg.tolist())
        return np.array(corn)

    monkeypatch.setattr(SafeDays, "_climbing", climbs)
    made = safe(counted=counted, room={"hay": 100.0})
    asked = {"corn": np.array([10.0, 10.0]), "hay": np.array([20.0, 20.0])}
    found, up = made.amounts(asked, frozenset({"hay"}), {"corn": 0.5, "hay": 0.5})
    assert up == {"corn"}
    return {name: kg.tolist() for name, kg in found.items()}, made.room["hay"], wanted


def test_hay_makes_up_within_the_week_and_then_from_what_is_over(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # Three kilograms of dry matter are held back and one is given later: one is moved, two are new.
    found = moved(monkeypatch, [4.0, 12.0], counted=True)
    assert found[:2] == ({"corn": [4.0, 12.0], "hay": [26.0, 18.0]}, 98.0)
    found = moved(monkeypatch, [4.0, 12.0], counted=False)
    assert found[:2] == ({"corn": [4.0, 12.0], "hay": [26.0, 20.0]}, 97.0)
    found = moved(monkeypatch, [10.0, 10.0], counted=True)
    assert found[:2] == ({"corn": [10.0, 10.0], "hay": [20.0, 20.0]}, 100.0)
    found = moved(monkeypatch, [0.0, 10.0], counted=False, closed=[True, False])
    assert (found[0]["hay"], found[2]) == ([30.0, 20.0], [[0.0, 10.0]])


def test_hay_with_nitrate_begins_where_its_rule_says(monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[Any] = []
    monkeypatch.setattr(safe_days, "waiting", lambda *what: {"a": np.array([True, False])})
    monkeypatch.setattr(
        SafeDays, "_begun", lambda self, one, kg: begun.append((one, kg.tolist())) or kg
    )
    made = safe(rule("a", "begin"), rule("b", "begin"), rule("c", "share"), rule("z", "begin"))
    asked = {name: np.array([10.0, 10.0]) for name in "abc"}
    made.amounts(asked, frozenset(), dict.fromkeys("abc", 1.0))
    assert begun == [("a", [0.0, 10.0]), ("b", [10.0, 10.0])]


def test_hay_with_nitrate_leaves_a_third_of_the_forage_to_other_hay_on_each_day() -> None:
    """Of 10 kg of forage 6 may have nitrate on the mean: 6 and two thirds, and never more.

    The week begins low and would end at 10: half of that is over what is left of the way.
    """
    kinds = [one(source_id=name, rule=one(mixed=name in "ab")) for name in "abc"]
    made = safe(*kinds, period=np.zeros(3, dtype=int), room={"c": 9.0})
    asked = {name: np.full(3, kg) for name, kg in (("a", 8.0), ("b", 4.0), ("c", 8.0))}
    asked["corn"] = np.full(3, 50.0)
    dry = {"a": 0.5, "b": 0.5, "c": 0.5, "corn": 1.0}
    moved = asked | {"a": np.array([4.0, 8.0, 12.0]), "b": np.array([2.0, 4.0, 6.0])}
    found = made._beside_safe(asked, moved, frozenset({"c"}), dry)
    # On the last day 9 kg of 10 are cut to two thirds of 10: two ninths of the rise of 3.
    part = (20.0 / 3.0 - 6.0) / 3.0
    assert found["a"].tolist() == pytest.approx([4.0, 8.0, 8.0 + 4.0 * part])
    assert found["b"].tolist() == pytest.approx([2.0, 4.0, 4.0 + 2.0 * part])
    # What the program itself asks for is not cut, and what is as it was asked for stays.
    asked["c"] = np.full(3, 4.0)
    moved["b"] = asked["b"]
    found = made._beside_safe(asked, moved, frozenset({"c"}), dry)
    assert found.keys() == {"a"}
    assert found["a"].tolist() == pytest.approx([4.0, 8.0, 8.0])


def test_hay_with_nitrate_is_cut_as_far_as_other_hay_makes_up_for_it() -> None:
    """Of 10 kg with nitrate 14 come on the last days of both weeks, 4 above their 10.

    A tenth of the 18 kg of each of two low days may be missing: 3.6 of the 8. The 3 kg that are
    over are gone after the first week.
    """
    kinds = [one(source_id="a", rule=one(mixed=True))]
    period = np.array([0] * 4 + [1] * 4)
    now = np.array([6.0, 6.0, 14.0, 14.0] * 2)
    asked = {"a": np.full(8, 10.0), "c": np.full(8, 5.0), "corn": np.full(8, 3.0)}
    dry = dict.fromkeys(asked, 1.0)
    made = safe(*kinds, period=period, room={"c": 3.0})
    found = made._beside_safe(asked, asked | {"a": now}, frozenset({"c"}), dry)
    first, second = (8.0 - 3.6 - 3.0) / 2.0, (8.0 - 3.6) / 2.0
    assert found["a"].tolist() == pytest.approx(
        [6.0, 6.0, 10.0 + first, 10.0 + first, 6.0, 6.0, 10.0 + second, 10.0 + second]
    )
    assert made.bare == [0, 1]
    made = safe(*kinds, period=period, room={"c": 8.0 + 8.0})
    found = made._beside_safe(asked, asked | {"a": now}, frozenset({"c"}), dry)
    assert found["a"].tolist() == pytest.approx([6.0, 6.0, 10.0, 10.0] * 2)
    assert made.bare == []


def test_what_may_still_be_bought_is_room() -> None:
    feeds = [
        Feed(name, name, kind, 0.1, most_kg=most)
        for name, kind, most in (
            ("a", FeedKind.FORAGE, 5000.0),
            ("b", FeedKind.FORAGE, None),
            ("c", FeedKind.FORAGE, 100.0),
            ("corn", FeedKind.GRAIN, 900.0),
        )
    ]
    program: Any = one(
        lots=[one(lot_id="lot", left_t=2.0)],
        sources=[one(source_id=feed.feed_id, dm_pct=80.0) for feed in feeds],
        feeding=[row("a", 0, 700.0), row("a", 1, 300.0), row("c", 0, 200.0), row("x", 0, 9.0)],
    )
    assert room_kg_dm(program, one(feeds=feeds)) == {  # type: ignore[arg-type]
        "lot": 2000.0,
        "b": np.inf,
        "c": 0.0,
        "a": pytest.approx(3200.0),
    }
