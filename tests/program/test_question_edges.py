"""What a question may cost, what is asked of the season, and how its answers are read."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.farm import Farm
from rickyard.program.ask import assurance_curve, sensitivity, wish_prices, without_hay
from rickyard.program.ask.allowance import Allowance
from rickyard.program.ask.assurance_curve import _Season, price_of_assurance
from rickyard.program.ask.hay_to_buy import with_hay_to_look_for
from rickyard.program.ask.on_request import Question
from rickyard.program.ask.sensitivity import Inquiry, Sensitivity
from rickyard.program.ask.wish_prices import wish_costs
from rickyard.program.ask.without_hay import _Instead, weeks_of, with_swap
from rickyard.program.model.row_builder import GivenRows
from rickyard.program.planning.season import solve_season
from rickyard.program.problem.problem import problem_of
from rickyard.program.problem.use_rules import NO_LIMIT, use_rules_of
from rickyard.program.result import LotReason
from rickyard.program.solver.points import Meter
from support.by_hand import one
from support.season_farms import cows, farm_of, hay, report_on, steers

START = date(2027, 1, 4)
WEEK = timedelta(days=7)
METRIC = display_for("metric")


def a_farm(**season: Any) -> Farm:
    lots = [(one := hay(name, 55.0, 9.0, 50.0, 60.0), report_on(one, 55.0, 9.0)) for name in "ab"]
    farm = farm_of(lots, [cows(), steers()], [])
    return replace(farm, season=replace(farm.season, **season))


# --- what may be spent -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("work", "seconds", "stopped", "spent"),
    [
        (2.99, 1000.0, False, False),
        (3.0, 1000.0, False, True),
        (2.0, -1.0, False, True),
        (2.0, 1000.0, True, True),
    ],
)
def test_no_more_is_begun_when_work_or_time_is_up_or_a_person_had_enough(
    work: float, seconds: float, stopped: bool, spent: bool
) -> None:
    meter = Meter(1.0)
    allowance = Allowance(meter, 2.0, seconds, lambda: stopped)
    meter.work = work
    assert allowance.spent() == spent
    asked = Question(effort=2.0, seconds=seconds).allowance(one(meter=Meter(1.0)))
    assert asked.spent() == (seconds < 0.0)


@pytest.mark.parametrize(("effort", "allowed"), [(0.0, 3.0), (5.0, 3.0), (5.5, 3.5), (9.0, 7.0)])
def test_wishes_are_priced_as_long_as_a_search_took_more_than_usual(
    effort: float, allowed: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    given: list[Any] = []

    def allowance(meter: Any, work: float, seconds: float, stop: Any) -> Any:
        given.append((work, seconds))
        return one(spent=None)

    def asked(problem: Any, **_: Any) -> Any:
        raise wish_prices.QuestionTimeout("no more")

    monkeypatch.setattr(wish_prices, "Allowance", allowance)
    monkeypatch.setattr(wish_prices, "Inquiry", asked)
    monkeypatch.setattr(wish_prices, "_with_every_amount", lambda free, wished: wished)
    for count, priced in ((40, True), (41, False)):
        wished: Any = one(claims=[one(wish=None)] * count, problem=None)
        given.clear()
        found = wish_costs(None, None, wished, None, effort, 20.0)  # type: ignore[arg-type]
        assert found == [None] * count
        assert given == ([(allowed, 23.0)] if priced else [])


# --- rules about hays --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("season", "ruled", "run"),
    [
        ({}, False, 1),
        ({"hays_at_once": 2}, True, 1),
        ({"least_run_days": 7}, True, 1),
        ({"least_run_days": 8}, True, 2),
        ({"least_run_days": 14}, True, 2),
        ({"change_usd": 1.0}, True, 1),
    ],
)
def test_a_farm_has_rules_about_hays_where_it_asks_for_one(
    season: dict[str, Any], ruled: bool, run: int
) -> None:
    farm = a_farm(hays_at_once=None, least_run_days=None, change_usd=0.0, period_days=7)
    farm = replace(farm, season=replace(farm.season, **season))
    rules = use_rules_of(farm, problem_of(farm))
    assert (rules.any, rules.least_run) == (ruled, run)
    limit = season.get("hays_at_once", NO_LIMIT)
    assert rules.hays_at_once.tolist() == [limit] * 2
    own = replace(farm, groups=(farm.groups[0], replace(farm.groups[1], hays_at_once=1)))
    rules = use_rules_of(own, problem_of(own))
    assert rules.any
    assert rules.hays_at_once.tolist() == [limit, 1]


def test_a_hay_in_use_is_a_ten_thousandth_of_live_weight_at_least() -> None:
    for asked, least in ((0.0, 0.0001), (0.2, 0.002)):
        farm = a_farm(least_serving_pct_bw=asked)
        problem = problem_of(farm)
        weight = problem.needs.full_weight_kg
        assert use_rules_of(farm, problem).least_kg == pytest.approx(least * weight)


# --- without a hay -----------------------------------------------------------------------------


def season(short: float = 0.0) -> Any:
    """Return a season of two groups, three hays and four weeks that tells what it was asked."""
    every = [(g, i, t) for g in (0, 1) for i in (0, 1, 2) for t in range(4)]
    group, source, period = np.array(every).T
    found = one(asked=[])

    @contextmanager
    def at_most(columns: Any, upper: Any) -> Iterator[None]:
        found.asked.append(dict(zip(columns.tolist(), upper.tolist(), strict=True)))
        yield

    def ask() -> Any:
        # With the last hay it is dear, with the first one cheap.
        usd = 1700.0 if 12 + 4 * 0 + 1 in found.asked[-1] else 2400.0
        return one(
            usd=usd, whole_usd=usd + short, optimum=None, is_shorter_than=lambda base: short > 0.0
        )

    found.problem = one(
        needs=one(
            groups=[one(group_id="a"), one(group_id="b")],
            periods=[one(index=t, start=START + t * WEEK) for t in range(4)],
            head_days=np.zeros((2, 4)),
        ),
        sources=one(values=[one(source_id=name, name=name.upper()) for name in ("x", "y", "z")]),
    )
    found.model = one(columns=one(group=group, source=source, period=period), upper=np.arange(24.0))
    found.base = one(usd=1000.0, short_usd=0.0)
    found.at_most, found.ask = at_most, ask
    return found


def reason() -> LotReason:
    start, end = START + WEEK, START + 3 * WEEK
    return LotReason("b", "y", start, end, "z", None, "", "Because.")


def test_a_hay_is_shut_over_its_run_with_each_of_some_others_let_in(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(without_hay, "_instead", lambda *_: _Instead({}, {}))
    monkeypatch.setattr(without_hay, "_instead_of", lambda inquiry, run, source, best: [best, 0])
    inquiry = season()
    found = with_swap(inquiry, reason(), METRIC)
    # The second group's second hay in the second and third week, and then the third or the first.
    shut = {17: 0.0, 18: 0.0}
    assert inquiry.asked == [{**shut, 21: 21.0, 22: 22.0}, {**shut, 13: 13.0, 14: 14.0}]
    assert found.usd_over_run == 700.0
    assert found.next_best_id == "x"
    assert found.sentence == "Because. Leaving out Y then would cost $700 ($350 a week)."
    monkeypatch.setattr(without_hay, "_instead_of", lambda inquiry, run, source, best: [-1])
    assert with_swap(season(), reason(), METRIC).next_best_id == "z"
    weeks = weeks_of(season().problem, reason())
    assert weeks.tolist() == [[False] * 4, [False, True, True, False]]


@pytest.mark.parametrize(("before", "what"), [(0.01, "something"), (0.011, "more")])
def test_what_would_be_short_without_a_hay_is_told_and_not_priced(
    before: float, what: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(without_hay, "_instead_of", lambda *_: [0])
    inquiry = season(short=5.0)
    inquiry.base.short_usd = before
    found = with_swap(inquiry, reason(), METRIC)
    assert found.sentence == f"Because. Without Y then, {what} would be short."
    assert found.usd_over_run == reason().usd_over_run


# --- another analysis --------------------------------------------------------------------------


@dataclass(frozen=True)
class Rows:
    """A model as far as its coefficients are written anew."""

    columns: Any
    given: Any
    problem: Any


def test_coefficients_move_with_what_a_hay_gives_and_come_back() -> None:
    def problem(cp: float, assurance: Any = None) -> Any:
        return one(per_kg={"cp": np.array([0.5, cp])}, assurance=assurance)

    given = GivenRows(
        "cp", np.array([0, 1, 1]), np.array([0, 1, 2]), np.array([0.1, 0.5, 0.3]),
        np.array([1.0, 1.0, -0.5]),
    )  # fmt: skip
    inquiry: Any = object.__new__(Inquiry)
    inquiry.problem = problem(0.1)
    inquiry.model = Rows(one(source=np.array([1, 0, 1]), count=5), (given,), inquiry.problem)
    changes: list[Any] = []
    inquiry.session = one(
        change=lambda row, column, value: changes.append(
            (row.tolist(), column.tolist(), value.round(9).tolist())
        )
    )
    inquiry.tangents = one(over=lambda model: None)
    inquiry.back = lambda: changes.append("back")
    inquiry.ask = lambda: inquiry.problem.per_kg["cp"][1]
    with inquiry.other_hay(1) as ask:
        assert (ask(problem(0.15)), ask(problem(0.15)), ask(problem(0.05))) == (0.15, 0.15, 0.05)
    assert changes == [
        ([0, 1], [0, 2], [0.15, 0.275]),
        ([0, 1], [0, 2], [0.05, 0.325]),
        ([0, 1], [0, 2], [0.1, 0.3]),
        "back",
    ]
    assert inquiry.model.problem is inquiry.problem
    inquiry.like = lambda other: one(base="anew")
    inquiry.problem = problem(0.1, "promised")
    with inquiry.other_hay(1) as ask:
        assert ask(problem(0.2)) == "anew"


def test_a_part_stands_for_seasons_of_the_same_amounts_alone(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def whole(count: int = 9, period: int = 1) -> Any:
        columns = one(group=np.zeros(2), source=np.ones(2), period=np.array([0, period]))
        columns.count = count
        return one(columns=columns)

    monkeypatch.setattr(sensitivity, "build_model", lambda other: other)
    monkeypatch.setattr(sensitivity, "narrowed", lambda model, kept: (("part of", model), None))
    inquiry: Any = object.__new__(Inquiry)
    inquiry._whole, inquiry._kept = whole(), np.array([True, False])
    same, longer, later = whole(), whole(count=10), whole(period=2)
    assert inquiry._model_of(same) == ("part of", same)
    assert inquiry._model_of(longer) is None
    assert inquiry._model_of(later) is None
    inquiry._kept = np.array([True, True])
    assert inquiry._model_of(longer) is longer


def test_the_time_of_a_plan_is_what_has_gone_by() -> None:
    assert 0.0 < solve_season(problem_of(a_farm()), lambda _: None).seconds < 3600.0


# --- assurance ---------------------------------------------------------------------------------


def test_a_promise_is_kept_where_a_dollar_more_is_short_at_most(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    farm = a_farm()
    fixed = problem_of(farm).fixed_usd

    def seasons(problem: Any, even: Any, levels: Any, told: Any) -> list[_Season]:
        for level in levels:
            told.done(level)
        return [_Season(level, 900.0 + level, 4.0 + (level - 80.0) / 5.0, 940.0, 4.0)
                for level in levels]  # fmt: skip

    monkeypatch.setattr(assurance_curve, "_season_at", seasons)
    said: list[str] = []
    curve = price_of_assurance(farm, (90.0, 50.0, 85.0), progress=said.append)
    assert [point.chance_pct for point in curve.points] == [50.0, 85.0, 90.0]
    assert [point.kept for point in curve.points] == [True, True, False]
    assert [point.more_usd for point in curve.points] == [10.0, 45.0, 50.0]
    assert [point.cost_usd for point in curve.points] == pytest.approx(
        [950.0 + fixed, 985.0 + fixed, 990.0 + fixed]
    )
    assert "Planning at 3 levels of assurance" in said
    assert said[-1].endswith("3 of 3")


def test_a_cent_of_what_is_short_is_as_short() -> None:
    for usd, shorter in ((0.01, False), (0.0105, True)):
        assert (
            Sensitivity(5.0, usd, None).is_shorter_than(  # type: ignore[arg-type]
                Sensitivity(9.0, 0.0, None)  # type: ignore[arg-type]
            )
            == shorter
        )
    assert Sensitivity(5.0, 2.5, None).whole_usd == 7.5  # type: ignore[arg-type]


def test_the_hay_that_is_looked_for_is_dry_and_of_middling_fiber_and_minerals() -> None:
    """Common practice, no published source."""
    farm = a_farm()
    more = with_hay_to_look_for(farm)
    (looked,) = more.feeds[len(farm.feeds) :]
    assert (looked.dm_pct, looked.tdn_pct, looked.cp_pct) == (88.0, 66.0, 20.0)
    assert (looked.ndf_pct, looked.ca_pct, looked.p_pct) == (50.0, 0.6, 0.25)
    assert (looked.most_kg, looked.price_usd_per_kg) == (0.0, 0.0)
