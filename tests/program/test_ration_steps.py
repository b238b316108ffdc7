"""The steps of a program of rations one at a time: cuts, leasts, steps of a scale, and words."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from importlib import import_module
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.farm import FeedKind
from rickyard.kinds import Offered
from rickyard.program.rations import plan, told
from rickyard.program.rations.few_things import (
    Yard,
    _largest,
    _within,
    ration_of,
    too_many,
)
from rickyard.program.rations.practical import Measured, eaters, steps_of
from rickyard.program.rations.told import _measured_out, _thing, _unlike, _why
from rickyard.program.result import Ration, RationThing
from rickyard.program.runs.spans import (
    SpanRules,
    Spans,
    allowed_cut,
    cut_finely,
    other_cuts,
    span_rules,
)
from rickyard.program.solver import SolveError
from support.by_hand import one
from support.rows import each_row

START = date(2027, 1, 4)


#: A group that leaves its rations to the season.
UNSAID = dict.fromkeys(
    ("rations_at_most", "least_ration_days", "things_in_ration", "week_may_lack_pct")
)


def module_of(name: str) -> Any:
    """Return a module that shares its name with what it gives the room."""
    return import_module(f"rickyard.program.rations.{name}")


# --- cuts --------------------------------------------------------------------------------------

RULES = SpanRules(most=(3, 1, 1), least=(3, 3, 3), first=(2, 0, -1), last=(11, 1, -1))


@each_row(
    ("group", "starts", "allowed"),
    [
        (0, (2,), True),
        (0, (2, 5), True),
        (0, (2, 4), False),
        (0, (2, 9), True),
        (0, (2, 10), False),
        (0, (2, 5, 8), True),
        (0, (2, 5, 9), True),
        (0, (3, 6), False),
        (0, (), False),
        # Two weeks are all there are of the second group, and the third is never here.
        (1, (0,), True),
        (1, (0, 1), False),
        (2, (), True),
    ],
)
def test_a_cut_begins_with_the_group_and_leaves_no_ration_shorter_than_the_least(
    group: int, starts: tuple[int, ...], allowed: bool
) -> None:
    assert allowed_cut(RULES, group, starts) == allowed


def test_groups_that_go_through_their_lots_are_cut_as_finely_as_may_be() -> None:
    spans = Spans(((2,), (0,), ()), RULES.last)
    everybody = np.ones(3, dtype=bool)
    assert cut_finely(RULES, spans, everybody).starts == ((2, 5, 9), (0,), ())
    assert cut_finely(RULES, spans, ~everybody) == spans
    few = replace(RULES, most=(2, 1, 1))
    assert cut_finely(few, spans, everybody).starts == ((2, 7), (0,), ())


def test_no_more_cuts_than_are_allowed() -> None:
    assert allowed_cut(replace(RULES, most=(2, 1, 1)), 0, (2, 5))
    assert not allowed_cut(replace(RULES, most=(2, 1, 1)), 0, (2, 5, 8))


def test_other_cuts_move_take_away_and_add_a_border() -> None:
    spans = Spans(((2, 6), (0,), ()), RULES.last)
    found = set(other_cuts(RULES, spans, 0))
    moved = {(2, 5), (2, 7), (2, 8)}
    added = {(2, 6, 9)}
    assert found == moved | added | {(2,)} | {(2, other) for other in ()}
    assert set(other_cuts(RULES, Spans(((2,), (0,), ()), RULES.last), 0)) == {
        (2, at) for at in range(5, 10)
    }
    assert list(other_cuts(RULES, spans, 1)) == []


def test_rations_run_to_the_next_and_the_last_to_the_end_of_the_group() -> None:
    spans = Spans(((2, 5), (0,), ()), (7, 1, -1))
    assert spans.of_group(0) == [range(2, 5), range(5, 8)]
    assert spans.of_group(2) == []
    assert spans.numbers(9).tolist() == [
        [-1, -1, 0, 0, 0, 1, 1, 1, -1],
        [0, 0, -1, -1, -1, -1, -1, -1, -1],
        [-1] * 9,
    ]
    assert spans.with_group(1, (0, 1)).starts == ((2, 5), (0, 1), ())


@each_row(("days", "least"), [(1, 1), (7, 1), (8, 2), (21, 3), (22, 4), (0, 1)])
def test_the_least_is_counted_in_whole_periods(days: int, least: int) -> None:
    here = np.array([[False, True, True, False], [False] * 4])
    periods = [one(days=7), one(days=7), one(days=7), one(days=3)]
    rules = span_rules(one(needs=one(here=here, periods=periods)), (2, 2), (days, 1))
    assert (rules.least, rules.first, rules.last) == ((least, 1), (1, -1), (2, -1))


# --- few things --------------------------------------------------------------------------------


def test_hay_goes_to_the_largest_until_a_lot_cannot_give_another_least() -> None:
    yard = Yard(
        lot=np.array([0, 0, 0, 1, -1]),
        takes=np.array([10.0, 10.0, 10.0, 1.0, 0.0]),
        there=np.array([35.0, 0.5]),
    )
    least, size = np.full(5, 1.5), np.array([0.2, 0.9, 0.5, 0.8, 0.1])
    none = np.zeros(5, dtype=bool)
    every = np.ones(5, dtype=bool)
    assert yard.enough_for(least, none, every, size).tolist() == [False, True, True, False, True]
    used = np.array([True, False, False, False, False])
    # What is in use has its own already, and what is wanted of it stays.
    assert yard.enough_for(least, used, every, size).tolist() == [True, True, False, False, True]
    just = replace(yard, there=np.array([45.0, 1.5]))
    assert yard.enough_for(least, none, none, size).tolist() == [False] * 5
    assert just.enough_for(least, none, every, size).tolist() == [True] * 5


def rations(**what: Any) -> Any:
    """Return four amounts of the first ration of a group, and two of its second."""
    given = {
        "group": np.zeros(6, dtype=int),
        "span": np.array([0, 0, 0, 0, 1, 1]),
        "source": np.array([0, 1, 2, 3, 0, 1]),
        "must": np.zeros(6, dtype=bool),
        "limits": one(
            is_hay=np.array([True, True, False, False]), hays=np.array([1]), things=np.array([3])
        ),
        **what,
    }
    return one(**given)


SIZE = np.array([0.5, 0.4, 0.9, 0.1, 0.7, 0.8])


def test_the_least_of_too_many_hays_and_then_of_too_many_things_goes() -> None:
    def out(held: Any, fed: Any, kept: Any = None) -> list[bool]:
        return too_many(held, fed, SIZE, held.must if kept is None else kept).tolist()

    every = np.ones(6, dtype=bool)
    # The lesser hay of each ration goes, and three things are left of the first.
    assert out(rations(), every) == [False, True, False, False, True, False]
    few = rations(limits=one(is_hay=np.array([True, True, False, False]), hays=[1], things=[2]))
    assert out(few, every) == [False, True, False, True, True, False]
    kept = np.array([False, True, False, False, True, True])
    assert out(rations(must=kept), every) == [True, False, False, False, False, False]
    assert out(rations(), every, kept) == out(rations(must=kept), every)
    fed = np.array([True, False, True, True, False, False])
    assert not any(out(rations(), fed))


class Holding:
    """Four things of one ration, of which some go only together."""

    must = np.zeros(4, dtype=bool)
    group, span, source = np.zeros(4, dtype=int), np.zeros(4, dtype=int), np.arange(4)
    least = np.ones(4)
    limits = one(is_hay=np.zeros(4, dtype=bool), hays=[9], things=[3])
    at = np.arange(4)

    def __init__(self, needed: set[int]) -> None:
        self.needed, self.used = needed, np.zeros(4, dtype=bool)

    def hold(self, used: Any) -> None:
        self.used = used

    def tied_answer(self, **_: Any) -> Any:
        if not self.needed <= set(np.flatnonzero(self.used).tolist()):
            raise SolveError("They do not go without.")
        return one(x=np.array([0.2, 0.1, 0.4, 0.3]))


@pytest.mark.parametrize(
    ("needed", "left"),
    [(set(), [0, 2, 3]), ({1}, [1, 2, 3]), ({0, 1}, [0, 1, 2]), ({0, 1, 2, 3}, [0, 1, 2, 3])],
)
def test_of_too_many_the_least_goes_without_which_the_rest_can_be_fed(
    needed: set[int], left: list[int]
) -> None:
    held: Any = Holding(needed)
    found = _within(held, np.ones(4, dtype=bool))
    assert np.flatnonzero(found).tolist() == left
    assert (held.used == found).all()


@each_row(
    ("sizes", "beside", "kept"),
    [
        # Two thirds make up one more, of the larger; together they would be 1.3 leasts.
        ([0.7, 0.6], True, [True, False]),
        ([0.3, 0.29], True, [False, False]),
        ([0.3, 0.31], True, [False, True]),
        ([0.8, 0.81], True, [True, True]),
        ([0.8, 0.79], True, [True, False]),
        ([0.1, 0.2], False, [False, True]),
        ([0.1, 0.2], True, [False, False]),
    ],
)
def test_small_amounts_are_raised_as_far_as_they_make_up_leasts_together(
    sizes: list[float], beside: bool, kept: list[bool]
) -> None:
    held = rations()
    small = np.array([True, True, False, False, False, False])
    size = np.array([*sizes, 1.5, 1.5, 1.5, 1.5])
    there = np.array([False, False, beside, False, True, True])
    assert _largest(held, small, size, there).tolist() == [*kept, False, False, False, False]


def test_rations_are_numbered_apart() -> None:
    held = rations(group=np.array([0, 0, 0, 1, 1, 1]), span=np.array([0, 1, 2, 0, 1, 2]))
    assert ration_of(held).tolist() == [0, 1, 2, 3, 4, 5]


# --- steps of a scale --------------------------------------------------------------------------


def test_leasts_are_raised_to_whole_steps() -> None:
    measured = Measured(np.array([0.1, 0.1, 0.25, 0.0]))
    assert measured.least(np.array([0.3, 0.31, 0.2, 0.123])) == pytest.approx(
        [0.3, 0.4, 0.25, 0.123]
    )


@pytest.mark.parametrize(
    ("units", "usual", "small"),
    [("metric", 0.1, 0.05), ("us", 0.25 * 0.45359237, 0.1 * 0.45359237)],
)
def test_steps_are_of_the_scale_as_fed_for_what_is_put_out_by_hand(
    units: str, usual: float, small: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    offered = {"cows": Offered.HAND_FED, "ewes": Offered.FREE_CHOICE}
    monkeypatch.setattr(module_of("practical"), "offered_to", lambda group: offered[group.group_id])
    feeds = [
        one(kind=kind, measure_kg=None)
        for kind in (FeedKind.GRAIN, FeedKind.MINERAL, FeedKind.GRAZING)
    ]
    values = [one(dm_pct=dm) for dm in (80.0, 90.0, 95.0, 25.0)]
    farm = one(units=units, feeds=feeds, groups=[one(group_id=name, head=8) for name in offered])
    problem = one(
        sources=one(
            values=values,
            lot_count=1,
            is_hay=np.array([True, False, False, False]),
            feeding_loss_frac=np.array([[0.1, 0.0, 0.0, 0.0]] * 2),
        ),
        needs=one(full_weight_kg=np.array([[100.0, 113.398], [113.39, 20.0]])),
    )
    found = steps_of(farm, problem)
    assert found[0] == pytest.approx([usual * 0.8 * 0.9, usual * 0.9, 0.0, 0.0])
    assert found[1] == pytest.approx([0.0, small * 0.9, 0.0, 0.0])


@pytest.mark.parametrize(
    ("units", "head", "weight", "step"),
    [
        ("metric", 10, 500.0, 0.1),
        ("metric", 20, 500.0, 0.05),
        ("metric", 20, 50.0, 0.05),
        ("metric", 39, 50.0, 1 / 39),
        ("metric", 40, 500.0, 0.05),
        ("us", 8, 500.0, 0.25 * 0.45359237),
        ("us", 25, 500.0, 0.08 * 0.45359237),
        ("us", 100, 500.0, 0.05 * 0.45359237),
    ],
)
def test_a_large_group_is_measured_for_as_a_whole(
    units: str, head: int, weight: float, step: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module_of("practical"), "offered_to", lambda group: Offered.LIMITED)
    feeds = [one(kind=FeedKind.GRAIN, measure_kg=None)]
    farm = one(units=units, feeds=feeds, groups=[one(group_id="cows", head=head)])
    sources = one(
        values=[one(dm_pct=100.0)] * 2,
        lot_count=1,
        is_hay=np.array([True, False]),
        feeding_loss_frac=np.zeros((1, 2)),
    )
    needs = one(full_weight_kg=np.array([[weight]]))
    assert steps_of(farm, one(sources=sources, needs=needs)) == pytest.approx(
        np.array([[step, step]])
    )


@pytest.mark.parametrize(
    ("head", "holds", "step"),
    [
        (40, 2.0, 0.05),
        (10, 2.0, 0.2),
        (8, 2.0, 0.125),
        (4, 2.0, 0.125),
        (2, 2.0, 0.1),
        (40, 50.0, 0.05),
    ],
)
def test_a_measure_of_the_farm_is_filled_or_halved_and_never_coarse(
    head: int, holds: float, step: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module_of("practical"), "offered_to", lambda group: Offered.FREE_CHOICE)
    farm = one(
        units="metric",
        feeds=[one(kind=FeedKind.GRAIN, measure_kg=holds)],
        groups=[one(group_id="cows", head=head)],
    )
    sources = one(
        values=[one(dm_pct=80.0)],
        lot_count=0,
        is_hay=np.array([False]),
        feeding_loss_frac=np.array([[0.1]]),
    )
    found = steps_of(farm, one(sources=sources, needs=one(full_weight_kg=np.array([[500.0]]))))
    assert found == pytest.approx(np.array([[step * 0.8 * 0.9]]))


def test_a_ration_tells_how_many_measures_it_takes() -> None:
    said = {"eaten_kg_dm_per_head_day": 1.0, "put_out_kg_per_head_day": 1.2}
    things = tuple(
        RationThing(name, **said, put_out_kg_per_day=30.0, bales_per_feeding=None)
        for name in ("corn", "meal")
    )
    start = Ration("cows", 1, START, START, Offered.LIMITED, things, "")
    corn: Any = one(measure="bucket", measure_kg=8.0)
    told = _measured_out(start, {"corn": corn}, ()).things
    assert [(one.measure, one.measures_per_day) for one in told] == [("bucket", 3.75), ("", None)]


def test_those_who_eat_most_are_rounded_first() -> None:
    needs = one(
        head_days=np.array([[70.0, 0.0], [70.0, 70.0], [0.0, 0.0], [1.0, 0.0]]),
        full_weight_kg=np.array([[500.0, 500.0], [300.0, 300.0], [9.0, 9.0], [0.05, 0.05]]),
    )
    assert eaters(one(needs=needs)) == [1, 0, 3]


# --- what is told ------------------------------------------------------------------------------


def test_neighbours_that_are_fed_the_same_are_one() -> None:
    eaten = np.array([[5.0, 5.0, 5.0 + 0.9e-6, 6.0, 6.0, 5.0], [0.0, 9.0, 0.0, 0.0, 0.0, 0.0]])
    spans = [range(2), range(2, 3), range(3, 5), range(5, 6)]
    assert _unlike(spans, eaten) == [range(3), range(3, 5), range(5, 6)]
    eaten[0, 2] = 5.0 + 1.1e-6
    assert _unlike(spans, eaten) == spans
    assert _unlike([], eaten) == []
    assert _unlike(spans, np.zeros((2, 6))) == [range(6)]


def test_a_thing_is_put_out_with_its_water_and_its_loss() -> None:
    value = one(source_id="hay", dm_pct=80.0, bale_weight_kg=400.0, is_hay=True)
    group = one(head=50, feed_every_days=None)
    problem = one(
        sources=one(values=[value], feeding_loss_frac=np.array([[0.2]])),
        needs=one(groups=[group]),
    )
    eaten = np.full((1, 1, 3), 6.4)
    found = _thing(problem, 0, 0, range(1, 3), eaten)
    assert found == RationThing("hay", 6.4, pytest.approx(10.0), pytest.approx(500.0), 1.25)
    group.feed_every_days = 2
    assert _thing(problem, 0, 0, range(1, 3), eaten).bales_per_feeding == pytest.approx(2.5)
    value.is_hay = False
    assert _thing(problem, 0, 0, range(1, 3), eaten).bales_per_feeding is None


def why(mine: dict[str, float], other: dict[str, float] | None, into: str = "") -> str:
    names = {"a": "Hill", "b": "Flat", "c": "Corn"}
    problem = one(
        sources=one(values=[one(source_id=key, name=name) for key, name in names.items()])
    )

    def things(what: dict[str, float]) -> tuple[RationThing, ...]:
        return tuple(RationThing(key, kg, kg, kg, None) for key, kg in what.items())

    before: Any = None if other is None else one(things=things(other))
    return _why(problem, things(mine), before, into)


def test_a_ration_says_why_it_begins() -> None:
    assert why({"a": 5.0}, None) == "The first ration."
    assert why({"b": 5.0}, {"a": 5.0}) == "Flat in place of Hill."
    assert why({"a": 5.0, "c": 1.0}, {"a": 5.0}) == "Corn beside the rest."
    assert why({"a": 5.0}, {"a": 5.0, "c": 1.0}) == "No more Corn."
    assert why({"a": 6.0}, {"a": 5.0}) == "They need more by now."
    assert why({"a": 4.0}, {"a": 5.0}) == "They need less by now."
    assert why({"a": 5.0}, {"a": 5.0}) == "They need more by now."
    assert why({"a": 5.0, "c": 1.0}, {"a": 5.5, "c": 0.4}) == "They need more by now."
    assert why({"a": 6.0}, {"a": 5.0}, "nursing") == "By then they are nursing."
    said = why({"b": 6.0}, {"a": 5.0}, "dry")
    assert said == "By then they are dry; Flat in place of Hill."


@pytest.mark.parametrize(
    ("from_on", "to_on", "first", "last"),
    [(None, None, 7, 21), (9, 20, 9, 20), (3, 25, 7, 21), (7, 21, 7, 21)],
)
def test_a_ration_lasts_no_longer_than_its_group_is_here(
    from_on: int | None, to_on: int | None, first: int, last: int
) -> None:
    def day(number: int | None) -> date | None:
        return None if number is None else START + timedelta(days=number)

    group = one(
        group_id="cows",
        from_on=day(from_on),
        to_on=day(to_on),
        head=1,
        feed_every_days=None,
        feeder=None,
        offered=Offered.FREE_CHOICE,
        limit_fed=False,
    )
    periods = [one(start=START + timedelta(days=7 * t), days=7) for t in range(4)]
    problem = one(
        needs=one(groups=[group], periods=periods, stage=[["dry", "dry", "dry", "wet"]]),
        sources=one(values=[]),
        fill=None,
    )
    saved = told.offered_to
    try:
        told.offered_to = lambda _: Offered.FREE_CHOICE
        found = told._ration(problem, np.zeros((1, 0, 4)), (0, 1, range(1, 3)), None)
    finally:
        told.offered_to = saved
    assert isinstance(found, Ration)
    assert (found.start, found.end) == (day(first), day(last))
    assert found.appetite_pct is None


# --- filling -----------------------------------------------------------------------------------


@dataclass(frozen=True)
class Fill:
    """A stand-in for appetite: what share of it is filled, and who has free access."""

    share: Any
    free: Any
    per_kg: Any = None

    def shares(self, eaten: Any) -> Any:
        return self.share


def off(monkeypatch: pytest.MonkeyPatch, planned: list[float], filled: list[float]) -> float:
    free = np.array([[True, True, False]])
    monkeypatch.setattr(plan, "_steady", lambda held, problem: problem)
    before = one(fill=Fill(np.array([planned]), free))
    after: Any = one(fill=Fill(np.array([filled]), free))
    return plan._off(one(model=one(problem=before)), after, None)  # type: ignore[arg-type]


def test_who_has_free_access_is_filled_unless_there_is_not_enough(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert off(monkeypatch, [1.0, 1.0, 1.0], [0.97, 1.02, 0.2]) == pytest.approx(0.03)
    assert off(monkeypatch, [1.0, 1.0, 1.0], [1.0, 1.05, 0.2]) == pytest.approx(0.05)
    # The first is short of feed as planned: it need not be filled, but not be given too much.
    assert off(monkeypatch, [0.9, 1.0, 1.0], [0.8, 1.0, 1.0]) == 0.0
    assert off(monkeypatch, [0.9, 1.0, 1.0], [1.1, 1.0, 1.0]) == pytest.approx(0.1)
    assert off(monkeypatch, [0.98, 1.0, 1.0], [0.9, 1.0, 1.0]) == pytest.approx(0.1)
    assert off(monkeypatch, [0.98 - 2e-6, 1.0, 1.0], [0.9, 1.0, 1.0]) == 0.0


def test_what_is_set_aside_is_taken_from_what_there_is() -> None:
    @dataclass(frozen=True)
    class Rows:
        upper: Any

    @dataclass(frozen=True)
    class Weekly:
        stock_row: Any
        buy_row: Any
        rows: Any

    rows = Rows(np.array([5.0, 2.0, 9.0, 4.0]))
    weekly: Any = Weekly(np.array([0, -1, 1]), np.array([3, -1]), rows)
    found = plan._keeping(weekly, np.array([1500.0, 700.0, 2500.0, 1000.0, 50.0]))
    assert found.rows.upper.tolist() == [3.5, 0.0, 9.0, 3.0]
    assert rows.upper.tolist() == [5.0, 2.0, 9.0, 4.0]


def test_what_a_program_leaves_of_each_source() -> None:
    rows = one(
        row=np.array([0, 0, 1, 2]),
        column=np.array([0, 1, 1, 2]),
        value=np.array([2.0, 1.0, 5.0, 3.0]),
        lower=np.zeros(3),
        upper=np.array([10.0, 99.0, 4.0]),
    )
    weekly: Any = one(
        columns=one(count=3), rows=rows, stock_row=np.array([0, -1]), buy_row=np.array([2, -1])
    )
    # Four tonnes are taken of ten, and more than there is of four.
    found = plan._left_kg(weekly, np.array([1.0, 2.0, 3.0, 9.0, 9.0]))
    assert found.tolist() == [6000.0, np.inf, 0.0, np.inf]


@pytest.mark.parametrize(
    ("short", "before", "kept"), [(5.0, 4.0, True), (5.1, 4.0, False), (None, 4.0, False)]
)
def test_hay_is_kept_where_nobody_is_shorter_for_it(
    short: float | None, before: float, kept: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Now:
        counts = np.array([True, False])

        def __init__(self, *what: Any) -> None:
            self.near = what[-1].tolist()

        def used_of(self, used: Any) -> Any:
            return np.array([True, True])

        def program(self, used: Any) -> Any:
            assert used.tolist() == [True, False]
            if short is None:
                raise SolveError("none")
            return one(x="other")

        def short_usd(self, x: str) -> float | None:
            return short if x == "other" else None

    monkeypatch.setattr(plan, "HeldRations", Now)
    monkeypatch.setattr(plan, "_keeping", lambda plain, kg: plain)
    held: Any = one(short_usd=lambda x: before, uses=0, limits=0, session=one(meter=0))
    before_it: Any = one(x=np.array([1.0, 2.0, 3.0]), used=0, spans=0)
    found = plan._with_kept(one(columns=one(count=2)), np.zeros(1), before_it, held)  # type: ignore[arg-type]
    assert (found is not None) == kept
    if found is not None:
        assert (found[0].x, found[1].near) == ("other", [1.0, 2.0])  # type: ignore[attr-defined]


def test_leasts_of_rations_are_those_of_hay_and_a_share_of_the_weight_for_feeds() -> None:
    problem: Any = one(
        shape=(2, 2, 3),
        needs=one(full_weight_kg=np.array([[400.0, 500.0, 450.0], [60.0, 60.0, 50.0]])),
        sources=one(is_hay=np.array([True, False]), is_mineral=np.array([False, True])),
    )
    rules: Any = one(
        least_kg=np.array([[1.0, 2.0, 1.5], [0.3, 0.2, 0.1]]),
        hays_at_once=np.array([2, 1]),
        change_usd=12.0,
    )
    season = one(things_in_ration=None, week_may_lack_pct=3.0)
    groups = [one(**UNSAID), one(**{**UNSAID, "things_in_ration": 2, "week_may_lack_pct": 0.0})]
    farm: Any = one(season=season, groups=groups)
    measured, full = Measured(np.zeros((2, 2))), np.array([False, False])
    found = plan._limits(farm, problem, rules, measured, full)
    assert found.least_kg == pytest.approx(np.array([[2.0, 0.25], [0.3, 0.03]]))
    assert (found.things.tolist(), found.leeway.tolist()) == ([4, 2], [0.03, 0.0])
    assert (found.margin, found.change_usd) == (0.005, 12.0)
    assert found.counts.tolist() == [True, False]
    hungry = plan._limits(farm, problem, rules, measured, np.array([True, False]))
    assert hungry.least_kg == pytest.approx(np.array([[0.25, 0.25], [0.3, 0.03]]))


@pytest.mark.parametrize(
    ("days", "asked", "most"),
    [(30, None, 1), (31, None, 2), (91, None, 3), (92, None, 4), (31, 5, 5)],
)
def test_a_ration_a_month_is_usual(days: int, asked: int | None, most: int) -> None:
    periods = [one(days=7)] * (days // 7) + ([one(days=days % 7)] if days % 7 else [])
    here = np.ones((1, len(periods)), dtype=bool)
    sources = one(start_kg_dm=np.zeros(0))
    problem: Any = one(shape=(1, 0, 0), needs=one(periods=periods, here=here), sources=sources)
    season, groups = one(**{**UNSAID, "rations_at_most": asked}), [one(**UNSAID)]
    farm: Any = one(season=season, groups=groups)
    rules: Any = one(least_run=1, hays_at_once=np.array([2]))
    found = plan._cuts(farm, problem, rules)
    assert (found.most, found.least) == ((most,), (3,))
    farm.season.least_ration_days = 14
    assert plan._cuts(farm, problem, rules).least == (2,)
    rules.least_run = 5
    assert plan._cuts(farm, problem, rules).least == (5,)
    rules.least_run = 1
    groups[0].least_ration_days, groups[0].rations_at_most = 28, 7
    found = plan._cuts(farm, problem, rules)
    assert (found.most, found.least) == ((7,), (4,))


# Cows of 500 kg eat 10 kg a day each: two lots of 60 t last 200 of them 60 days.
@pytest.mark.parametrize(
    ("head", "hays", "lots", "own", "most", "least"),
    [
        (200, 2, 16, None, 4, 3),
        (201, 2, 16, None, 8, 2),
        (201, 2, 15, None, 4, 3),
        (101, 1, 8, None, 8, 2),
        (101, 2, 16, None, 4, 3),
        (999, 9, 32, None, 8, 2),
        (201, 2, 16, 5, 5, 3),
    ],
)
def test_a_herd_that_goes_through_its_lots_has_more_rations(
    head: int, hays: int, lots: int, own: int | None, most: int, least: int
) -> None:
    periods = [one(days=7)] * 16
    needs = one(
        periods=periods,
        here=np.ones((1, 16), dtype=bool),
        head=np.full((1, 16), float(head)),
        full_weight_kg=np.full((1, 16), 500.0),
    )
    sources = one(start_kg_dm=np.append(np.zeros(3), np.full(lots, 60_000.0)))
    problem: Any = one(shape=(1, lots + 3, 16), needs=needs, sources=sources)
    season = one(rations_at_most=own, least_ration_days=None, things_in_ration=None)
    farm: Any = one(season=season, groups=[one(**UNSAID)])
    rules: Any = one(least_run=1, hays_at_once=np.array([hays]))
    found = plan._cuts(farm, problem, rules)
    assert (found.most, found.least) == ((most,), (least,))


def test_rates_come_to_rest_half_way() -> None:
    before: Any = one(fill=Fill(None, None, 0.2))
    filled = Fill(None, None, 0.6)

    @dataclass(frozen=True)
    class Season:
        fill: Any

    assert plan._half_way(before, Season(filled)).fill.per_kg == pytest.approx(0.4)  # type: ignore[arg-type]
    none: Any = Season(None)
    assert plan._half_way(before, none) is none


@pytest.mark.parametrize(
    ("number", "start", "into"),
    [(1, 0, ""), (1, 2, ""), (2, 1, ""), (2, 2, "late"), (3, 2, "late")],
)
def test_a_ration_after_the_first_is_told_with_the_time_that_begins(
    number: int, start: int, into: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    group = SimpleNamespace(group_id="cows", from_on=None, to_on=None)
    weeks = [SimpleNamespace(start=START + timedelta(days=7 * t), days=7) for t in range(4)]
    stage = ["early", "early", "late", "late"]
    needs = SimpleNamespace(groups=[group], periods=weeks, stage=[stage])
    problem = SimpleNamespace(needs=needs, fill=None)
    monkeypatch.setattr(told, "_why", lambda problem, things, before, into: into)
    monkeypatch.setattr(told, "offered_to", lambda group: "all")
    found = told._ration(problem, np.zeros((1, 2, 4)), (0, number, range(start, 4)), None)
    assert (found.why, found.things) == (into, ())
    assert (found.start, found.end) == (weeks[start].start, START + timedelta(days=28))


@pytest.mark.parametrize(
    ("offs", "costs", "taken", "fixed"),
    [
        # Near at once.
        ((0.02,), (10.0,), 0, 0),
        # They come nearer by themselves, and one that fills them well is not left for a dearer one.
        ((0.056, 0.045, 0.03), (10.0, 11.0, 20.0), 1, 0),
        # Those that come no nearer are held.
        ((0.06, 0.058, 0.03), (10.0, 10.0, 20.0), 2, 1),
        # None fills them well: the nearest.
        ((0.09, 0.08, 0.07, 0.06, 0.05), (1.0, 2.0, 3.0, 4.0, 5.0), 4, 3),
    ],
)
def test_amounts_are_rounded_until_stock_are_filled_by_them(
    offs: Any, costs: Any, taken: int, fixed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    far, rounded, held_at = iter(offs), iter(enumerate(costs)), []

    def practical(*_: Any) -> Any:
        number, usd = next(rounded)
        return one(x=number, cost=usd)

    session = one(meter=None, fix=lambda *_: held_at.append(0))
    amounts = {"at": np.array([0]), "group": np.array([0]), "week": np.array([0])}
    held: Any = one(
        weekly=None,
        model=one(eaten=lambda x: x),
        uses=None,
        limits=None,
        session=session,
        **amounts,
    )
    held.weekly = one(problem=None)
    monkeypatch.setattr(plan, "practical", practical)
    monkeypatch.setattr(plan, "with_free_choice", lambda *_: None)
    monkeypatch.setattr(plan, "_how_far", lambda *_: np.array([[next(far)]]))
    monkeypatch.setattr(plan, "_half_way", lambda *_: None)
    monkeypatch.setattr(plan, "_puts_aside", lambda _: np.array([True]))
    monkeypatch.setattr(plan, "replace", lambda weekly, **_: weekly)
    monkeypatch.setattr(plan, "HeldRations", lambda *_: held)
    nothing: Any = None
    program: Any = one(spans=None)
    found, _ = plan._rounded(nothing, held, program, nothing)
    assert (found.x, len(held_at)) == (taken, fixed)
