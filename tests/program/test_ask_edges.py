"""Longer answers at their edges: what counts as nothing, what is tried, and how it is told."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.farm import Basis, Lot, Package, Storage
from rickyard.program.ask import hay_lacking, wish_outcomes, without_hay
from rickyard.program.ask.assurance_curve import (
    AssuranceCurve,
    AssurancePoint,
    assurance_answer,
    assurance_lines,
)
from rickyard.program.ask.avoid_shortage import _change, _found, _helpful, _more_money
from rickyard.program.ask.hay_lacking import _Lacking, _rounded_up, hay_like, hay_usd, with_hay
from rickyard.program.ask.on_request import Question
from rickyard.program.ask.price_ranges import _sale_sentence, holds_for_t, leaving_price
from rickyard.program.ask.wish_outcomes import _how_far, _price, _when
from rickyard.program.ask.wish_prices import WishCost
from rickyard.program.ask.without_hay import _Instead, _instead, _instead_of, _told
from rickyard.program.ask.worth_by_planning import saved_by_knowing
from rickyard.program.problem.wishes import WishScope
from rickyard.program.result import PlanOptions
from rickyard.program.result.options import Wish
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on

US = display_for("us")
METRIC = display_for("metric")
KG_PER_SHORT_TON = 907.18474


def one(**what: Any) -> Any:
    return SimpleNamespace(**what)


# --- without a hay -----------------------------------------------------------------------------


def told(usd: float, days: int = 7, feed_usd: float = 0.0) -> str:
    inquiry = one(problem=one(sources=one(values=[one(name="Hill"), one(name="Corn")])))
    instead = _Instead({}, {1: feed_usd})
    return _told("Hill", usd, days, instead, inquiry, METRIC)


@pytest.mark.parametrize(
    ("usd", "said"),
    [
        (-0.51, "may save about $0.51"),
        (-0.5, "next to nothing"),
        (0.0, "next to nothing"),
        (0.5, "next to nothing"),
        (0.51, "would cost $0.51"),
    ],
)
def test_half_a_dollar_is_next_to_nothing(usd: float, said: str) -> None:
    assert said in told(usd)


def test_a_cost_is_told_by_the_week_where_the_run_is_longer() -> None:
    assert told(700.0, 7) == "Leaving out Hill then would cost $700."
    assert told(700.0, 8) == "Leaving out Hill then would cost $700 ($612 a week)."
    assert told(700.0, 14) == "Leaving out Hill then would cost $700 ($350 a week)."


def test_feed_bought_instead_is_told_above_half_a_dollar() -> None:
    assert "spent on feed" not in told(10.0, feed_usd=0.5)
    assert "$0.51 more spent on feed, mostly Corn" in told(10.0, feed_usd=0.51)


def instead_of(more: list[float], in_run: list[bool]) -> _Instead:
    """Two hays and a feed, each fed in two periods, with a tenth of the feed lost."""
    at = one(
        group=np.zeros(6, dtype=int),
        source=np.array([0, 0, 1, 1, 2, 2]),
        period=np.array([0, 1, 0, 1, 0, 1]),
    )
    values = [
        one(usd_per_kg_dm=0.1, is_forage=True),
        one(usd_per_kg_dm=0.1, is_forage=True),
        one(usd_per_kg_dm=0.5, is_forage=False),
    ]
    problem = one(
        shape=(1, 3, 2),
        needs=one(head_days=np.array([[70.0, 140.0]])),
        sources=one(lot_count=2, values=values, feeding_loss_frac=np.array([[0.0, 0.2, 0.1]])),
    )
    inquiry = one(model=one(columns=at), problem=problem, base=one(optimum=one(x=np.ones(6))))
    answer = one(optimum=one(x=np.ones(6) + np.array(more)))
    return _instead(inquiry, answer, np.array(in_run))


def test_hay_fed_instead_is_that_of_the_run_and_more_than_fifty_kilograms() -> None:
    found = instead_of([-1.0, 0.0, 0.6, 0.0, 0.9, 0.9], [True, False] * 3)
    assert found.hay_kg == {1: pytest.approx(0.6 * 70.0 / 0.8)}
    assert found.feed_usd == {2: pytest.approx(0.5 * (0.9 * 70.0 + 0.9 * 140.0) / 0.9)}
    edge = 50.0 * 0.8 / 70.0
    assert instead_of([0.0, 0.0, edge * 0.999, 5.0, 0.0, 0.0], [True, False] * 3).hay_kg == {}
    assert set(instead_of([0.0, 0.0, edge * 1.02, 5.0, 0.0, 0.0], [True, False] * 3).hay_kg) == {1}


def test_the_next_best_is_let_in_first_and_then_those_that_would_cost_least() -> None:
    source = np.array([0, 1, 2, 3, 4, 5, 6])
    columns = one(group=np.zeros(7, dtype=int), source=source)
    upper = np.array([9.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0])
    most = np.array([9.0, 9.0, 9.0, 9.0, 9.0, 9.0, 0.0])
    reduced = np.array([0.0, 5.0, 4.0, 3.0, 2.0, 1.0, -9.0])
    inquiry = one(
        model=one(columns=columns, upper=most),
        upper=upper,
        base=one(optimum=one(reduced_cost=reduced)),
    )
    run = np.ones(7, dtype=bool)
    assert _instead_of(inquiry, run, 0, 2) == [2, 5, 4, 3]
    assert _instead_of(inquiry, run, 5, -1) == [4, 3, 2, 1], "not the one that is left out"
    run[1:] = False
    assert _instead_of(inquiry, run, 0, 2) == [-1], "outside of the run nothing is let in"


# --- hay that is lacking -----------------------------------------------------------------------


@each_row(
    ("units", "kg", "rounded"),
    [
        ("metric", 9990.0, 10_000.0),
        ("metric", 9910.0, 10_000.0),
        ("metric", 9890.0, 9900.0),
        ("metric", 10_000.0, 10_000.0),
        ("metric", 10_001.0, 11_000.0),
        ("metric", 0.0, 0.0),
        ("us", 10.0 * KG_PER_SHORT_TON, 10.0 * KG_PER_SHORT_TON),
        ("us", 10.05 * KG_PER_SHORT_TON, 11.0 * KG_PER_SHORT_TON),
        ("us", 9.85 * KG_PER_SHORT_TON, 9.9 * KG_PER_SHORT_TON),
    ],
)
def test_hay_to_buy_is_rounded_up_to_tons_and_tenths_below_ten(
    units: Any, kg: float, rounded: float
) -> None:
    assert _rounded_up(one(units=units), kg) == pytest.approx(rounded)


def hays(*what: tuple[str, float, float, bool]) -> Any:
    """Return a program of lots and feeds: name, tonnes at the start, price, whether it is hay."""
    return one(
        lots=[one(lot_id=name, start_t=t) for name, t, _, _ in what if t >= 0.0],
        sources=[
            one(source_id=name, is_hay=is_hay, usd_per_kg_dm=usd, tdn_pct=50.0 + t, cp_pct=t)
            for name, t, usd, is_hay in what
        ],
    )


def test_hay_is_priced_as_that_in_the_yard_then_as_the_cheapest_for_sale() -> None:
    assert hay_usd(hays(("a", 10.0, 0.1, True), ("b", 30.0, 0.2, True))) == pytest.approx(0.175)
    gone = ("a", 0.0, 0.1, True)
    assert hay_usd(hays(gone, ("b", 30.0, 0.2, True))) == pytest.approx(0.2)
    bought = (("h", -1.0, 0.3, True), ("i", -1.0, 0.25, True), ("corn", -1.0, 0.01, False))
    assert hay_usd(hays(gone, *bought)) == 0.1, "there is none of it, but it has a price"
    assert hay_usd(hays(*bought)) == 0.25
    free = ("a", 10.0, 0.0, True)
    assert hay_usd(hays(free, *bought)) == 0.25, "hay without a price tells nothing"
    assert hay_usd(hays(free)) == 0.12


def test_hay_to_buy_is_like_that_in_the_yard_or_like_usual_hay() -> None:
    yard = hays(("a", 4.0, 0.1, True), ("b", 12.0, 0.1, True))
    assert hay_like(None, yard) == {"tdn": 60.0, "cp": 10.0}  # type: ignore[arg-type]
    small = hays(("a", 0.05, 0.1, True))
    assert hay_like(None, small) == {"tdn": 50.0, "cp": 0.1}  # type: ignore[arg-type]
    usual = {"tdn": 55.0, "cp": 10.0}
    assert hay_like(None, hays(("a", 0.0, 0.1, True))) == usual  # type: ignore[arg-type]


def a_farm() -> Any:
    lot = hay("lot", 55.0, 9.0, 50.0, 60.0)
    return farm_of([(lot, report_on(lot, 55.0, 9.0))], [cows()], [])


def test_hay_that_is_bought_stands_in_the_yard_tested_and_dry() -> None:
    farm = a_farm()
    more = with_hay(farm, {"tdn": 56.5, "cp": 9.5}, 2000.0)
    lot, report = more.lots[-1], more.reports[-1]
    assert more.lots[:-1] == farm.lots
    start = farm.season.start
    assert (lot.bales, lot.bale_weight_kg, lot.dm_pct) == (4.0, 500.0, 88.0)
    assert (lot.baled_on, lot.counted_on) == (start - timedelta(days=120), start)
    assert lot.storage is farm.lots[0].storage
    told = {value.name: (value.value, value.unit, value.basis) for value in report.analytes}
    assert told == {
        "dm": (88.0, "pct", Basis.AS_RECEIVED),
        "tdn": (56.5, "pct", Basis.DRY_MATTER),
        "cp": (9.5, "pct", Basis.DRY_MATTER),
        "nitrate_no3n": (0.0, "ppm", Basis.DRY_MATTER),
    }
    loose = replace(farm, lots=tuple(replace(x, package=Package.LOOSE) for x in farm.lots))
    assert (
        with_hay(loose, {"tdn": 56.5, "cp": 9.5}, 1.0).lots[-1].storage is Storage.COVERED_ELEVATED
    )


def to_buy(
    monkeypatch: pytest.MonkeyPatch,
    tonnes: float,
    shorts: list[float],
    *,
    before: float = 1000.0,
    left: float = 0.0,
    each: bool = True,
) -> Any:
    """Return what is to buy where so much helps, and what is still short in each try."""
    found = _Lacking(tonnes, each, before, left)
    monkeypatch.setattr(hay_lacking, "Inquiry", lambda problem: None)
    monkeypatch.setattr(hay_lacking, "_lacking", lambda inquiry, lot, usd: found)
    asked: list[float] = []

    def without(farm: Any) -> Any:
        assert farm.lots[-1].bales == 0.0, "at first there is none of it"

    def short(farm: Any) -> float:
        bought: Lot = farm.lots[-1]
        asked.append(bought.bales * 500.0)
        return shorts[len(asked) - 1]

    program = one(
        shortages=[one(nutrient="nem", proven=True)],
        lots=[one(lot_id="lot", start_t=0.0)],
        sources=[],
    )
    answer = hay_lacking.lacking_hay(replace(a_farm(), units="metric"), program, without, short)
    return answer, asked


def test_less_than_twenty_kilograms_of_hay_are_none(monkeypatch: pytest.MonkeyPatch) -> None:
    assert to_buy(monkeypatch, 0.0199, [])[0] is None
    assert to_buy(monkeypatch, 0.02, [0.0])[0].as_fed_kg == pytest.approx(100.0)


def test_more_hay_is_tried_until_the_rules_leave_no_more_short(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    answer, asked = to_buy(monkeypatch, 88.0, [1.0])
    assert asked == [pytest.approx(100_000.0)]
    assert (answer.checked, answer.gives_all) == (True, True)
    answer, asked = to_buy(monkeypatch, 88.0, [1.01, 1.01, 1.0])
    assert asked == pytest.approx([100_000.0, 105_000.0, 115_000.0])
    assert answer.checked
    assert answer.as_fed_kg == pytest.approx(115_000.0)
    answer, asked = to_buy(monkeypatch, 88.0, [1.01, 1.01, 1.01])
    assert not answer.checked
    # What no hay makes up is still short, but for a ten thousandth of it and a dollar.
    assert to_buy(monkeypatch, 88.0, [501.05], left=500.0)[0].checked
    assert not to_buy(monkeypatch, 88.0, [501.06] * 3, left=500.0)[0].checked


@pytest.mark.parametrize(
    ("before", "left", "each", "gives_all"),
    [
        (1000.0, 11.0, True, True),
        (1000.0, 11.01, True, False),
        (1000.0, 0.0, False, False),
    ],
)
def test_hay_gives_all_where_a_hundredth_is_left(
    before: float, left: float, each: bool, gives_all: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    answer, _ = to_buy(monkeypatch, 88.0, [0.0], before=before, left=left, each=each)
    assert answer.gives_all == gives_all


def test_hay_that_saves_no_more_than_rounding_is_not_bought(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for before, bought in ((501.05, False), (501.06, True)):
        answer, _ = to_buy(monkeypatch, 88.0, [0.0], before=before, left=500.0)
        assert (answer is not None) == bought


# --- prices ------------------------------------------------------------------------------------


class Market:
    """A season that buys of one feed what its price says, and pays for it."""

    def __init__(self, steps: list[tuple[float, float]], price: float, without: float) -> None:
        self.steps, self.dear, self.shut, self.without = steps, 0.0, False, without
        self.price, self.asked = price, 0
        self.upper = self.cost = np.zeros(2)
        self.model = one(
            lower=np.zeros(2),
            columns=one(
                group=np.zeros(2, dtype=int),
                source=np.zeros(2, dtype=int),
                period=np.arange(2),
            ),
        )
        self.problem = one(
            sources=one(values=[one(usd_per_kg_dm=price)], feeding_loss_frac=np.array([[0.2]])),
            needs=one(head_days=np.array([[8.0, 4.0]])),
        )
        self.base = self.ask()
        self.asked = 0

    def columns_of(self, source: int) -> Any:
        return np.arange(2)

    def ask(self) -> Any:
        """Return the cheapest of the amounts that might be bought, each with another cost."""
        self.asked += 1
        price = self.price + self.cost[0] / 10.0
        ways = [] if self.shut else [(other + kg * price, kg) for kg, other in self.steps]
        usd, kg = min([*ways, (self.without, 0.0)])
        # Eight head days are ten kilograms with a fifth of it lost, and four are five.
        x = np.array([kg / 20.0, kg / 10.0])
        return one(whole_usd=usd, optimum=one(x=x), is_shorter_than=lambda _: False)

    @contextmanager
    def at_most(self, columns: Any, upper: Any) -> Iterator[None]:
        assert upper.tolist() == [0.0, 0.0]
        self.shut = True
        yield
        self.shut = False

    @contextmanager
    def costing(self, cost: Any) -> Iterator[Any]:
        def charge(other: Any) -> None:
            assert other[0] == pytest.approx(2.0 * other[1])
            self.cost = other.copy()

        charge(cost)
        yield charge
        self.cost = np.zeros(2)


@pytest.mark.parametrize(
    ("steps", "price"),
    [
        # 100 kg save 50 dollars, so they are bought up to half a dollar.
        ([(100.0, 50.0)], 0.5),
        # From 0.4 on only 40 kg are worth it, which save 28 dollars: up to 0.7.
        ([(100.0, 48.0), (40.0, 72.0)], 0.7),
        # Of what is not bought at all it is the price as it stands.
        ([(100.0, 150.0)], 0.2),
    ],
)
def test_a_feed_leaves_at_the_price_at_which_nothing_of_it_is_bought(
    steps: list[tuple[float, float]], price: float
) -> None:
    market = Market(steps, 0.2, 100.0)
    assert leaving_price(market, 0) == pytest.approx(price, rel=1e-4)  # type: ignore[arg-type]


def test_a_feed_that_must_be_on_offer_or_cannot_be_spared_has_no_leaving_price() -> None:
    market = Market([(100.0, 50.0)], 0.2, 100.0)
    market.model.lower[1] = 0.01
    assert leaving_price(market, 0) is None  # type: ignore[arg-type]
    market = Market([(100.0, 50.0)], 0.2, 100.0)
    market.columns_of = lambda source: np.zeros(0, dtype=int)  # type: ignore[method-assign]
    assert leaving_price(market, 0) is None  # type: ignore[arg-type]


def saving(first: float, until_t: float, after: float, start_kg: float = 40_000.0) -> Any:
    """Return an inquiry in which a tonne saves so much, and after some tonnes another sum."""

    def ask(*, settle: bool) -> Any:
        more = inquiry.more / 1000.0
        saved = first * min(more, until_t) + after * max(0.0, more - until_t)
        slope = first if more < until_t else after
        return one(whole_usd=-saved, optimum=one(row_dual=np.array([-slope])))

    @contextmanager
    def stocked(source: int, kg: float) -> Iterator[None]:
        inquiry.more = kg
        yield

    inquiry = one(
        model=one(stock_row=np.array([0])),
        base=one(whole_usd=0.0, optimum=one(row_dual=np.array([-first]))),
        problem=one(sources=one(start_kg_dm=np.array([start_kg]))),
        ask=ask,
        stocked=stocked,
        more=0.0,
    )
    return inquiry


def test_a_worth_holds_as_far_as_nearly_all_of_it_is_saved() -> None:
    # 20 tonnes at 50 dollars and then at 10: 99 % of 50 each is saved by 40 / 39.5 times as many.
    assert holds_for_t(saving(50.0, 20.0, 10.0), 0) == pytest.approx(20.0 * 40.0 / 39.5, rel=0.011)
    assert holds_for_t(saving(50.0, 5.0, 0.0), 0) == pytest.approx(5.0 / 0.99, rel=0.011)
    assert holds_for_t(saving(50.0, 100.0, 0.0), 0) == 40.0, "a doubling of the lot"
    assert holds_for_t(saving(50.0, 100.0, 0.0, 4000.0), 0) == 10.0, "or ten tonnes"
    assert holds_for_t(saving(0.001, 5.0, 0.0), 0) == 40.0, "a lot that saves nothing"
    assert holds_for_t(saving(0.0011, 5.0, 0.0), 0) == pytest.approx(5.0 / 0.99, rel=0.011)
    # All of it saves 99 % just so.
    edge = saving(100.0, 20.0, 98.0)
    assert holds_for_t(edge, 0) == 40.0


def test_two_prices_that_read_the_same_are_told_once() -> None:
    same = _sale_sentence(0.1, 0.1 + 1e-9, METRIC)
    assert same == f"Sell it rather than feed it above {METRIC.price_a_ton(0.1)}."
    two = _sale_sentence(0.1, 0.15, METRIC)
    assert two.endswith(f"and all of it above {METRIC.price_a_ton(0.15)}.")
    assert "would run short" in _sale_sentence(0.1, None, METRIC)


# --- shortages ---------------------------------------------------------------------------------


def test_a_change_of_nothing_is_no_less() -> None:
    assert (_change(0.0), _change(12.0), _change(-12.0)) == (
        "about the same",
        "$12 more",
        "$12 less",
    )


def test_the_sources_that_help_most_are_tried_two_hays_and_three_feeds() -> None:
    rows = np.array([0, 1, 2, 3])
    dual = np.array([-1.0, -3.0, -2.0, 0.0, -5.0, -9.0, -7.0, -8.0])
    inquiry = one(
        problem=one(sources=one(lot_count=4)),
        model=one(stock_row=rows, buy_row=np.array([4, 5, -1, 6, 7])),
        base=one(optimum=one(row_dual=dual)),
    )
    assert _helpful(inquiry) == [1, 2, 5, 8, 7]


def test_a_shortage_is_that_of_its_days_from_the_first_to_before_the_end() -> None:
    start = date(2027, 1, 4)
    periods = [one(index=t, start=start + timedelta(days=7 * t)) for t in range(4)]
    index = np.array([-1, -1, -1, -1, 3, -1, 1, 2])
    inquiry = one(
        problem=one(needs=one(groups=[one(group_id="a"), one(group_id="b")], periods=periods)),
        model=one(columns=one(shortage={"nem": index}), cost=np.array([9.0, 2.0, 4.0, 8.0])),
        base=one(optimum=one(x=np.array([9.0, 3.0, 5.0, 7.0]))),
    )
    short = one(group_id="b", nutrient="nem", start=periods[1].start, end=periods[3].start)
    found = _found(inquiry, short)
    assert (found.columns.tolist(), found.usd) == ([1], 6.0)
    whole = _found(inquiry, one(**{**vars(short), "start": start, "end": date(2027, 2, 1)}))
    assert (whole.columns.tolist(), whole.usd) == ([3, 1, 2], 6.0 + 20.0 + 56.0)
    assert _found(inquiry, one(**{**vars(short), "nutrient": "cp"})).usd == 0.0


@pytest.mark.parametrize(
    ("left", "spent", "usd"),
    [
        (0.0, 3.0, 1000.0),
        (0.01, 3.0, 1000.0),
        (0.02, 3.0, None),
        (0.0, 2.0, None),
        (0.0, 1.0, None),
    ],
)
def test_money_helps_where_it_takes_the_shortage_away_and_is_spent(
    left: float, spent: float, usd: float | None
) -> None:
    @contextmanager
    def unlimited(row: int) -> Iterator[None]:
        assert row == 1
        yield

    answer = one(optimum=one(x=np.array([left, spent])))
    inquiry = one(
        model=one(
            farm_row={"cash": 1},
            rows=one(
                upper=np.array([0.0, 2.0]),
                row=np.array([0, 1]),
                column=np.array([0, 1]),
                value=np.array([5.0, 1.0]),
            ),
        ),
        cost=np.array([1.0, 1.0]),
        problem=one(needs=one(groups=[one(group_id="b", name="Cows")])),
        unlimited=unlimited,
        ask=lambda: answer,
    )
    shortage = one(group_id="b", nutrient="nem", start=date(2027, 1, 4), end=date(2027, 1, 11))
    short = one(shortage=shortage, columns=np.array([0]), usd=1000.0)
    found = list(_more_money(inquiry, short, US))
    assert [each.usd for each in found] == ([] if usd is None else [usd])


# --- wishes ------------------------------------------------------------------------------------


def price_of(money: float, short: float = 0.0, *, mixed: bool = False) -> str:
    program = one(cost=1000.0, bound=1000.0, penalty=0.0, gap_usd=0.0)
    return _price(WishCost(money, short), program, mixed=mixed)


@pytest.mark.parametrize(
    ("money", "said"),
    [(0.5, "It costs nothing"), (-0.5, "It costs nothing"), (0.0, "It costs nothing")],
)
def test_a_wish_of_half_a_dollar_costs_nothing(money: float, said: str) -> None:
    assert price_of(money) == f"{said}."


def test_a_wish_that_costs_or_saves_says_which(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(wish_outcomes, "is_clear", lambda money, program: True)
    assert price_of(0.51) == "It costs $0.51."
    assert price_of(-0.51) == "It saves $0.51."
    assert price_of(30.0, mixed=True) == "It costs $30, counted with hays mixed freely."


@pytest.mark.parametrize(("short", "more"), [(10.0, False), (10.01, True), (-20.0, False)])
def test_more_is_short_above_ten_dollars_of_its_price(short: float, more: bool) -> None:
    assert ("more is short with it" in price_of(0.0, short)) == more


def test_how_far_a_wish_is_kept_is_told_in_days_or_percent() -> None:
    mine = one(wish=Wish("feed", "hill", group_id="cows"))
    every = one(wish=Wish("feed", "hill", group_id=""))
    assert _how_far(mine, "part", 7.0, 28.0, ()) == "kept on 7 of 28 days only."
    assert _how_far(every, "part", 7.0, 28.0, ["so"]) == (
        "kept only in part, 25% of it, because so."
    )
    assert _how_far(every, "not", 0.0, 28.0, ["so", "and"]) == "not kept, because so; and."
    assert _how_far(every, "kept", 28.0, 28.0, ["so"]) == "kept."


def test_the_days_of_a_wish_are_told_as_far_as_they_are_given() -> None:
    first, last = date(2027, 1, 4), date(2027, 1, 18)
    wish = Wish("feed", "hill", group_id="cows")
    assert _when(wish, US) == "all season"
    assert _when(replace(wish, start=first), US) == f"from {US.day_text(first)} on"
    assert _when(replace(wish, end=last), US) == f"until the day before {US.day_text(last)}"
    assert _when(replace(wish, start=first, end=last), US) == US.during_text(first, last)


# --- assurance and tests -----------------------------------------------------------------------


def curve(*points: tuple[float, float, float, bool]) -> AssuranceCurve:
    made = tuple(
        AssurancePoint(chance_pct=chance, cost_usd=cost, more_usd=more, penalty_usd=0.0, kept=kept)
        for chance, cost, more, kept in points
    )
    return AssuranceCurve("Farm", made, ())


def test_the_surest_promise_that_is_kept_is_priced_and_the_others_named() -> None:
    means = (50.0, 1000.0, 0.0, True)
    assert assurance_answer(curve(means)) == "Only average values were asked for."
    assert assurance_answer(curve(means, (51.0, 1010.0, 10.0, True))) == (
        "51% assurance costs $10 more than counting on averages, 1.0% of the season."
    )
    said = assurance_answer(
        curve(means, (80.0, 1100.0, 100.0, True), (90.0, 1.0, 1.0, False), (95.0, 1.0, 1.0, False))
    )
    assert said == (
        "80% assurance costs $100 more than counting on averages, 10.0% of the season. "
        "No mix on this farm can promise 90% or 95% everywhere."
    )
    # A season that costs nothing has no share that could be told.
    assert assurance_answer(curve((90.0, 5.0, 5.0, True))) == (
        "90% assurance costs $5.00 more than counting on averages."
    )
    assert "% of the season" in assurance_answer(curve((90.0, 5.05, 5.0, True)))


def test_bars_are_parts_of_the_longest_of_what_is_kept() -> None:
    lines = assurance_lines(
        curve(
            (50.0, 1000.0, -0.4, True),
            (70.0, 1050.0, 50.0, True),
            (90.0, 1100.0, 100.0, True),
            (95.0, 1.0, 900.0, False),
        )
    )
    assert [line.count("=") for line in lines] == [0, 0, 12, 24, 0]
    assert lines[1].endswith("$0")
    assert lines[4].endswith("cannot be promised everywhere")
    flat = assurance_lines(curve((50.0, 1000.0, 0.0, True), (60.0, 1000.0, 0.0, True)))
    assert [line.count("=") for line in flat] == [0, 0, 0]


def test_a_question_is_about_days_from_the_first_to_before_the_end() -> None:
    first, end = date(2027, 1, 4), date(2027, 1, 11)
    assert Question().is_about("cows", first, end)
    assert Question("cows", first).is_about("cows", first, end)
    assert not Question("cows", end).is_about("cows", first, end)
    assert not Question("ewes").is_about("cows", first, end)


def test_a_test_saves_nothing_where_nothing_is_unsure_or_nothing_depends_on_it() -> None:
    percent = np.array([4.0, 6.0, 8.0])
    falling = np.array([400.0, 200.0, 0.0])
    assert saved_by_knowing(percent, falling, 6.0, 0.0, 0.0) == 0.0
    assert saved_by_knowing(percent, np.full(3, 70.0), 6.0, 0.5, 0.1) == 0.0
    exact = saved_by_knowing(percent, falling, 6.0, 0.5, 0.0)
    rough = saved_by_knowing(percent, falling, 6.0, 0.5, 0.5)
    # Who must plan without knowing plans for the fifth of the hays that is poorest: the loss is
    # the height of the normal density there, times what four parts under and one over differ by.
    density = np.exp(-0.5 * 0.8416212**2) / np.sqrt(2.0 * np.pi)
    assert exact == pytest.approx(100.0 * 0.5 * 5.0 * density, rel=0.02)
    assert 0.0 < rough < exact
    # Where better hay costs more, it saves as much: who does not know plans for the best fifth.
    for error in (0.0, 0.5):
        fell = saved_by_knowing(percent, falling, 6.0, 0.5, error)
        assert saved_by_knowing(percent, falling[::-1], 6.0, 0.5, error) == pytest.approx(
            fell, rel=1e-9
        )


def test_the_usual_answer_takes_the_effort_of_one_search_of_that_kind() -> None:
    assert Question().effort == 1.0
    assert PlanOptions(weekly=True).effort == 5.0
    assert without_hay.MOST_TRIED == 4


@pytest.mark.parametrize(
    ("kind", "eaten", "met"),
    [
        ("feed", [0.0, 1e-6, 1.1e-6, 4.0], [False, False, True, True]),
        ("keep_off", [0.0, 1e-6, 1.1e-6, 4.0], [True, True, False, False]),
        ("amount", [4.0, 4.0004, 4.00042, 3.9996], [True, True, False, True]),
        ("amount", [0.0, 3.9995, 4.1, 4.0], [False, False, False, True]),
    ],
)
def test_a_wish_is_met_where_something_nothing_or_its_amount_is_fed(
    kind: Any, eaten: list[float], met: list[bool]
) -> None:
    wish = Wish(kind, "hill", "cows", kg_dm_per_head_day=4.0 if kind == "amount" else None)
    asked = np.ones((1, 4), dtype=bool)
    claim = WishScope(wish, 0, asked, asked, ())
    found = wish_outcomes._met(None, claim, np.array([[eaten]]))  # type: ignore[arg-type]
    assert found.tolist() == [met]
    asked = np.array([[True, True, False, False]])
    less = wish_outcomes._met(None, replace(claim, asked=asked), np.array([[eaten]]))  # type: ignore[arg-type]
    assert less.tolist() == [[met[0], met[1], False, False]]
    nowhere = replace(claim, source=-1)
    assert not wish_outcomes._met(None, nowhere, np.array([[eaten]])).any()  # type: ignore[arg-type]


def test_an_amount_is_told_as_it_is_put_out_where_one_group_gets_it() -> None:
    problem = one(
        needs=one(groups=[one(group_id="ewes"), one(group_id="cows")]),
        sources=one(feeding_loss_frac=np.array([[0.5], [0.2]]), values=[one(dm_pct=80.0)]),
    )
    farm = one(units="metric")
    asked = np.ones((2, 1), dtype=bool)
    wish = Wish("amount", "hill", "cows", kg_dm_per_head_day=4.0)
    claim = WishScope(wish, 0, asked, asked, ())
    told = wish_outcomes._amount_of(farm, problem, claim)
    assert told == METRIC.mass_text(6.25)
    for other in (replace(claim, wish=replace(wish, group_id="")), replace(claim, source=-1)):
        told = wish_outcomes._amount_of(farm, problem, other)
        assert told == f"{METRIC.mass_text(4.0)} dry matter"


@pytest.mark.parametrize(
    ("left", "met", "slow", "counted", "kept", "why"),
    [
        ([True, True], 2, False, False, "kept", ""),
        ([True, True], 1, False, False, "part", wish_outcomes.NO_ROOM),
        ([True, True], 0, False, True, "not", wish_outcomes.NO_ROOM_IN_USE),
        ([True, False], 1, False, False, "part", "a rule"),
        ([True, True], 1, True, False, "part", f"{wish_outcomes.RAISED_SLOWLY}; "),
    ],
)
def test_what_became_of_a_wish_is_told_with_its_days_and_why_not_more(
    left: list[bool], met: int, slow: bool, counted: bool, kept: str, why: str,
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    days = np.array([[7.0, 5.0]])
    weeks = np.array([[met > 0, met > 1]])
    monkeypatch.setattr(wish_outcomes, "_met", lambda *_: weeks)
    monkeypatch.setattr(wish_outcomes, "_what", lambda *_: "Hill to Cows")
    monkeypatch.setattr(wish_outcomes, "_is_raised_slowly", lambda *_: slow)
    monkeypatch.setattr(wish_outcomes, "counts_hays", lambda farm: counted)
    monkeypatch.setattr(wish_outcomes, "_price", lambda *_, mixed: f"Price, {mixed}.")
    claim = WishScope(
        Wish("feed", "hill", "cows"), 0, np.ones((1, 2), dtype=bool), np.array([left]),
        () if all(left) else ("a rule",),
    )  # fmt: skip
    problem = one(needs=one(days=days))
    found = wish_outcomes._outcome(None, problem, claim, None, None, None)  # type: ignore[arg-type]
    assert found.kept == kept
    assert why in found.sentence
    assert ("kept on 7 of 12 days only" in found.sentence) == (kept == "part")
    assert (f"Price, {counted}." in found.sentence) == (kept != "not")
    only_the_rule = not all(left)
    assert (wish_outcomes.NO_ROOM in found.sentence) == (
        met < 2 and not only_the_rule and not counted
    )


@pytest.mark.parametrize(
    ("kind", "source", "group", "slow"),
    [
        ("amount", 1, 0, True),
        ("feed", 1, 0, False),
        ("keep_off", 1, 0, False),
        ("amount", 0, 0, False),
        ("amount", 1, 1, False),
    ],
)
def test_an_amount_is_raised_slowly_where_its_feed_is_for_a_group_that_is_asked_for(
    kind: Any, source: int, group: int, slow: bool
) -> None:
    problem: Any = one(needs=one(groups=[None, None]), steps=[one(sources=(1, 2), group=0)])
    asked = np.array([[False, group == 0], [False, group == 1]])
    claim = WishScope(Wish(kind, "corn", ""), source, asked, asked, ())
    assert wish_outcomes._is_raised_slowly(problem, claim) is slow


@pytest.mark.parametrize(
    ("before", "after", "each"),
    [
        ((10.0, 40.0), (0.0, 0.0), True),
        # A twentieth and a dollar of each may be left: 1.50 dollars of ten and 3 of forty.
        ((10.0, 40.0), (1.5, 3.0), True),
        ((10.0, 40.0), (1.51, 0.0), False),
        ((10.0, 40.0), (0.0, 3.01), False),
    ],
)
def test_hay_that_is_lacking_is_what_the_cheapest_season_would_buy(
    before: tuple[float, float], after: tuple[float, float], each: bool, monkeypatch: Any
) -> None:
    """What is missing costs half a dollar a kilogram of the first and four of the second."""
    noted: list[Any] = []

    @contextmanager
    def set_to(*what: Any) -> Iterator[None]:
        noted.append([np.asarray(part).tolist() for part in what])
        yield

    def amounts(missing: tuple[float, float], hay: float) -> Any:
        return one(optimum=one(x=np.array([3.0, hay, missing[0] / 0.5, missing[1] / 4.0])))

    monkeypatch.setattr(hay_lacking, "short_of_hay", lambda *what: np.array([2, 3]))
    inquiry: Any = one(
        base=amounts(before, 0.0), extra=np.array([7, 1]), cost=np.array([1.0, 0.0, 0.5, 4.0]),
        problem=None, model=one(columns=one(shortage=None)),
        at_most=set_to, costing=set_to, ask=lambda: amounts(after, 12.5),
    )  # fmt: skip
    found = hay_lacking._lacking(inquiry, 1, 0.15)
    assert found is not None
    assert (found.tonnes, found.helps_each, found.before_usd) == (12.5, each, 50.0)
    assert found.left_usd == pytest.approx(sum(after))
    # As much as it takes, 150 dollars a tonne dearer than what it costs as it is fed.
    assert noted == [[[1], [np.inf]], [[1.0, 150.0, 0.5, 4.0]]]
    inquiry.base = amounts((0.5, 0.5), 0.0)
    assert hay_lacking._lacking(inquiry, 1, 0.15) is None, "a dollar is nothing"
    inquiry.base = amounts((0.5, 0.6), 0.0)
    assert hay_lacking._lacking(inquiry, 1, 0.15) is not None
