"""What would remove a shortage, step by step: fewer head, leaving earlier, more of something."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.program.ask import avoid_shortage, hay_lacking, hay_to_buy
from rickyard.program.ask.avoid_shortage import (
    _bought,
    _earlier,
    _fewer,
    _Short,
    fewer_head,
    least_more,
    leave_earlier,
    remedies,
)
from rickyard.program.ask.hay_to_buy import better_hay
from rickyard.program.result import Remedy, Shortage
from support.by_hand import one
from support.rows import each_row

START = date(2027, 1, 4)
WEEK = timedelta(days=7)
METRIC = display_for("metric")
#: What counts as nothing short, per head and day.
GONE = 1e-5


@dataclass(frozen=True)
class Needs:
    groups: tuple[Any, ...]
    head: Any
    days: Any
    here: Any
    periods: tuple[Any, ...] = ()


@dataclass(frozen=True)
class Season:
    needs: Needs


class Herd:
    """A season with two groups, of which the second is short unless it is small or leaves early.

    It is short of nothing with so many head at most, or where it is gone from so many weeks on;
    each head costs ten dollars, and each week a dollar.
    """

    def __init__(self, head: Any, here: Any, room: int = 99, until: int = 99) -> None:
        weeks = len(head)
        self.problem = Season(
            Needs(
                (one(group_id="a", name="A"), one(group_id="b", name="B")),
                np.array([np.full(weeks, 50.0), head]),
                np.full((2, weeks), 7.0),
                np.array([np.ones(weeks, dtype=bool), here]),
            )
        )
        self.room, self.until, self.asked = room, until, 0
        self.base = one(usd=1000.0)

    @contextmanager
    def other_seasons(self) -> Iterator[Callable[[Any], Any]]:
        yield self.ask

    def ask(self, problem: Any) -> Any:
        self.asked += 1
        assert self.asked < 20, "each question halves what is open"
        assert problem.needs.head[0].tolist() == self.problem.needs.head[0].tolist()
        head = float(problem.needs.head[1].max())
        weeks = int((problem.needs.days[1] > 0.001).sum())
        return one(usd=10.0 * head + weeks, head=head, weeks=weeks)

    def short_of_group(self, answer: Any, group: int, before: int | None = None) -> float:
        assert group == 1
        assert before in (None, answer.weeks)
        kept = answer.head <= self.room and answer.weeks <= self.until
        return GONE if kept else 1.01 * GONE


@each_row(
    ("head", "room", "fewer"),
    [(20, 12, 8), (20, 19, 1), (20, 1, 19), (20, 0, None), (2, 1, 1), (1, 0, None), (1, 9, None)],
)
def test_the_fewest_head_are_taken_away_with_which_none_of_a_group_is_short(
    head: int, room: int, fewer: int | None
) -> None:
    herd: Any = Herd(np.array([head - 0.4, head, head, 1.0]), np.ones(4, dtype=bool), room)
    usd = 10.0 * room + 4.0 - 1000.0
    assert fewer_head(herd, "b") == (None if fewer is None else (fewer, usd))


@each_row(
    ("first", "weeks", "until", "leave"),
    [
        (2, 8, 6, 6),
        (2, 8, 5, None),
        (2, 8, 8, 8),
        (2, 8, 99, 9),
        (3, 2, 4, 4),
        (3, 1, 4, None),
        (0, 9, 4, 4),
        (0, 9, 3, None),
    ],
)
def test_a_group_leaves_as_late_as_none_of_it_is_short_and_after_half_of_its_time(
    first: int, weeks: int, until: int, leave: int | None
) -> None:
    here = np.zeros(10, dtype=bool)
    here[first : first + weeks] = True
    herd: Any = Herd(np.full(10, 5.0), here, until=until)
    found = leave_earlier(herd, "b")
    assert found == (None if leave is None else (leave, 50.0 + leave - 1000.0))


def short(usd: float = 100.0, nutrient: str = "cp", group: str = "b", week: int = 1) -> Shortage:
    first = START + week * WEEK
    return Shortage(group, first, first + WEEK, nutrient, "kg", usd, usd, "")


def told_farm() -> Any:
    values = [
        one(source_id="lot", name="Hill", dm_pct=80.0, usd_per_kg_dm=0.25),
        one(source_id="corn", name="Corn", dm_pct=90.0, usd_per_kg_dm=0.45),
    ]
    periods = [one(index=t, start=START + t * WEEK, days=7 - t) for t in range(3)]
    groups = [one(group_id="b", name="Cows", head=1200), one(group_id="c", name="Ewes", head=30)]
    needs = one(groups=groups, periods=periods)
    return one(problem=one(needs=needs, sources=one(values=values, lot_count=1)))


def open_end(left: int = 99) -> Any:
    tries = iter([False] * left)
    return one(spent=lambda: next(tries, True))


def test_hay_and_feed_that_remove_a_shortage_are_told_as_fed_with_their_price(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    amounts: dict[int, float | None] = {0: 2.0, 1: 3.6}
    monkeypatch.setattr(avoid_shortage, "_helpful", lambda inquiry: [1, 0])
    monkeypatch.setattr(avoid_shortage, "least_more", lambda inquiry, at, source: amounts[source])
    whole = _Short(short(), np.array([4]), 100.0)
    corn, hay = _bought(told_farm(), whole, METRIC, open_end())
    assert (corn.kind, corn.source_id, corn.amount_kg, corn.usd) == ("feed", "corn", 4000.0, 1620.0)
    assert (hay.kind, hay.source_id, hay.amount_kg, hay.usd) == ("hay", "lot", 2500.0, 500.0)
    what = f"{METRIC.amount_text(2500.0)} more of hay like Hill would remove it, $500 at "
    assert f"{what}{METRIC.price_a_ton(0.2)}." in hay.sentence
    assert "more of Corn would remove it" in corn.sentence
    # Less than a kilogram is none; and nothing more is tried when no more is allowed.
    amounts[1], amounts[0] = 0.00099, None
    assert list(_bought(told_farm(), whole, METRIC, open_end())) == []
    amounts[1] = 0.001
    assert len(list(_bought(told_farm(), whole, METRIC, open_end(1)))) == 1
    assert list(_bought(told_farm(), whole, METRIC, open_end(0))) == []


def test_head_and_days_are_told_in_full() -> None:
    (fewer,) = _fewer(told_farm(), short(), METRIC, (200, -5000.0))
    assert "with 200 fewer head, 1,000 instead of 1,200, none of the group" in fewer.sentence
    assert "the season then costs $5,000 less" in fewer.sentence
    (earlier,) = _earlier(told_farm(), short(), METRIC, (2, 40.0))
    assert earlier.on == START + 2 * WEEK
    assert f"on {METRIC.day_text(START + 2 * WEEK)}, none of the group" in earlier.sentence
    assert "the season then costs $40 more" in earlier.sentence


def asked_more(left: float, more: float) -> Any:
    """Ask for the least more of a source, with so much of a dollar still short; two others are."""

    @contextmanager
    def at_most(columns: Any, upper: Any) -> Iterator[None]:
        bounds = dict(zip(columns.tolist(), upper.tolist(), strict=True))
        assert bounds == {
            2: pytest.approx(3.0, abs=1e-5),
            3: pytest.approx(0.0, abs=1e-5),
            5: np.inf,
        }
        assert bounds[2] > 3.0
        yield

    @contextmanager
    def costing(cost: Any) -> Iterator[None]:
        assert cost.tolist() == [0.0, 100.0 * 0.5, 0.0, 0.0, 0.0, 1.0]
        yield

    x = np.array([7.0, 2.0 * left, 3.0, 0.0, 0.0, more])
    return one(
        base=one(optimum=one(x=np.array([7.0, 2.0, 3.0, 0.0, 0.0, 0.0]))),
        extra=np.array([4, 5]),
        penalties=np.array([1, 2, 3]),
        cost=np.array([0.1, 0.5, 4.0, 5.0, 0.0, 0.0]),
        at_most=at_most,
        costing=costing,
        ask=lambda: one(optimum=one(x=x)),
    )


def test_the_least_more_of_a_source_removes_a_shortage_and_makes_no_other_worse() -> None:
    assert least_more(asked_more(0.0, 2.5), np.array([1]), 1) == pytest.approx(2.5, rel=1e-5)
    assert least_more(asked_more(1e-5, 2.5), np.array([1]), 1) is not None
    assert least_more(asked_more(1.1e-5, 2.5), np.array([1]), 1) is None


class Looked:
    """What was looked for of each shortage, with an answer that is set."""

    def __init__(self, patch: pytest.MonkeyPatch, **answers: bool) -> None:
        self.asked: list[tuple[str, Any]] = []
        for name, kind in (("_bought", "feed"), ("_more_money", "cash"), ("_looked_for", "hay"),
                           ("_fewer", "fewer_head"), ("_earlier", "leave_earlier")):  # fmt: skip
            patch.setattr(avoid_shortage, name, self.answering(name, kind, answers.get(name)))
        for name in ("fewer_head", "leave_earlier"):
            patch.setattr(avoid_shortage, name, self.asking(name))
        patch.setattr(
            avoid_shortage, "_found",
            lambda inquiry, what: _Short(what, np.array([len(what.nutrient)]), what.total),
        )  # fmt: skip

    def answering(self, name: str, kind: Any, answers: bool | None) -> Any:
        def answer(inquiry: Any, what: Any, *_: Any) -> list[Remedy]:
            self.asked.append((name, what))
            where = getattr(what, "shortage", what)
            at = where.group_id, where.start, where.end, where.nutrient
            return [Remedy(*at, kind, "", None, None, 5.0, "")] if answers else []

        return answer

    def asking(self, name: str) -> Any:
        def ask(inquiry: Any, group_id: str) -> None:
            self.asked.append((name, group_id))

        return ask

    def times(self, name: str) -> list[Any]:
        return [what for asked, what in self.asked if asked == name]


def test_what_is_short_is_looked_into_together_and_then_ten_of_it_the_dearest_first(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    looked = Looked(monkeypatch, _bought=True)
    lacks = [short(float(usd), "cp", "bc"[usd % 2], usd % 3) for usd in range(13)]
    farm = replace(short(900.0), group_id="")
    found = remedies(told_farm(), [*lacks, farm], METRIC, open_end())
    whole, *each = looked.times("_bought")
    assert whole.usd == sum(range(13))
    assert whole.columns.tolist() == [2] * 12
    assert whole.shortage.group_id == whole.shortage.nutrient == ""
    assert (whole.shortage.start, whole.shortage.end) == (START, START + 2 * WEEK + WEEK * 5 / 7)
    assert [what.usd for what in each] == [float(usd) for usd in range(12, 2, -1)]
    # In the order in which they are told, after what removes all of them.
    assert [one.group_id for one in found] == ["", *("bc"[usd % 2] for usd in range(3, 13))]
    assert sorted(looked.times("fewer_head")) == sorted(looked.times("leave_earlier")) == ["b", "c"]
    looked.asked.clear()
    assert len(remedies(told_farm(), [short()], METRIC, open_end())) == 1
    assert len(looked.times("_bought")) == 1, "one alone is not tried together"


@pytest.mark.parametrize(
    ("nutrient", "answers", "offered", "kinds", "searched"),
    [
        ("cp", {}, True, ["none"], 1),
        ("cp", {}, False, ["none"], 0),
        ("ca", {}, True, ["none"], 0),
        ("sulfur", {}, True, ["none"], 0),
        ("cp", {"_more_money": True}, True, ["cash"], 0),
        ("cp", {"_looked_for": True}, True, ["hay"], 1),
        ("cp", {"_fewer": True, "_earlier": True}, True, ["fewer_head", "leave_earlier"], 0),
    ],
)
def test_better_hay_is_looked_for_where_nothing_else_helps(
    nutrient: str, answers: dict[str, bool], offered: bool, kinds: list[str], searched: int,
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    looked = Looked(monkeypatch, **answers)
    with_hay = (lambda: None) if offered else None
    found = remedies(told_farm(), [short(9.0, nutrient)], METRIC, open_end(), with_hay)  # type: ignore[arg-type]
    assert [one.kind for one in found] == kinds
    assert len(looked.times("_looked_for")) == searched


@pytest.mark.parametrize(("left", "found"), [(0, 0), (1, 1), (2, 2)])
def test_what_was_found_until_no_more_was_allowed_is_told(
    left: int, found: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    Looked(monkeypatch, _bought=True, _fewer=True)
    told = remedies(told_farm(), [short()], METRIC, open_end(left))
    assert len(told) == found


def lacking(before: float, left: tuple[float, float], base: tuple[float, float]) -> Any:
    """Ask what hay the cheapest season buys, with two needs of which so much stays short."""

    @contextmanager
    def at_most(columns: Any, upper: Any) -> Iterator[None]:
        assert (columns.tolist(), upper.tolist()) == ([5], [np.inf])
        yield

    @contextmanager
    def costing(cost: Any) -> Iterator[None]:
        assert cost.tolist() == [0.0, 2.0, 4.0, 9.0, 0.0, 250.0]
        yield

    index = {"cp": np.array([1, -1]), "nem": np.array([-1, 2]), "ca": np.array([3, 3])}
    x = np.array([0.0, left[0] / 2.0, left[1] / 4.0, 70.0, 0.0, 1.5])
    inquiry = one(
        base=one(optimum=one(x=np.array([0.0, base[0] / 2.0, base[1] / 4.0, 80.0, 0.0, 0.0]))),
        extra=np.array([4, 5]),
        cost=np.array([0.0, 2.0, 4.0, 9.0, 0.0, 0.0]),
        problem=one(needs=one(head_days=np.zeros(2))),
        model=one(columns=one(shortage=index)),
        at_most=at_most,
        costing=costing,
        ask=lambda: one(optimum=one(x=x)),
    )
    found = hay_lacking._lacking(inquiry, 1, 0.25)
    if found is not None:
        assert (found.tonnes, found.before_usd) == (1.5, before)
        assert found.left_usd == pytest.approx(sum(left))
    return found


def test_hay_helps_each_need_where_a_twentieth_and_a_dollar_are_left_of_it() -> None:
    assert lacking(1.0, (0.0, 0.0), (0.5, 0.5)) is None, "a dollar is nothing short"
    assert lacking(1.25, (0.0, 0.0), (0.5, 0.75)).helps_each
    assert lacking(300.0, (6.0, 11.0), (100.0, 200.0)).helps_each
    assert not lacking(300.0, (6.0, 11.1), (100.0, 200.0)).helps_each
    assert not lacking(300.0, (6.1, 0.0), (100.0, 200.0)).helps_each


@pytest.mark.parametrize(
    ("tdn", "cp", "found"),
    [(45, 5, (45, 5)), (60, 12, (60, 12)), (66, 20, (66, 20)), (67, 5, None), (45, 21, None)],
)
def test_the_poorest_hay_that_helps_is_found_between_poor_and_rich(
    tdn: int, cp: int, found: tuple[int, int] | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        hay_to_buy, "_of_analysis", lambda problem, last, energy, protein: (last, energy, protein)
    )
    asked: Any = one(with_source=lambda analysis: analysis)

    def enough(analysis: Any, source: int) -> float | None:
        last, energy, protein = analysis
        assert last == source == 3
        assert 45 <= energy <= 66
        assert 5 <= protein <= 20
        return 2.2 if energy >= tdn and protein >= cp else None

    hay = better_hay(asked, one(shape=(1, 4, 2)), enough)
    if found is None:
        assert hay is None
    else:
        assert hay is not None
        assert (hay.tdn_pct, hay.cp_pct) == found
        assert hay.as_fed_kg == pytest.approx(2500.0)
