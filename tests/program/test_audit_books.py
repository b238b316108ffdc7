"""The second look at hay, money and assured supplies, each balance worked out by hand."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from datetime import date
from statistics import NormalDist
from typing import Any

import numpy as np
import pytest

from rickyard.program.audit import assured, books
from rickyard.program.audit.assured import _judge, _per_kg, _promised, _Spread, _spread, _Work
from rickyard.program.audit.books import (
    _cash,
    _cost,
    _farm_limit,
    _lot,
    _purchase,
    _purchases,
    _reserve,
    _sales,
    _stocks,
)
from support.by_hand import one
from support.rows import each_row

START = date(2027, 1, 4)


def said(found: Iterator[Any]) -> list[tuple[str, float, float]]:
    return [
        (each.what.rpartition(", ")[2], pytest.approx(each.claimed), pytest.approx(each.found))
        for each in found
    ]


def whats(found: Iterator[Any]) -> list[str]:
    return [each.what.rpartition(", ")[2] for each in found]


def look(season: dict[str, Any] | None = None, **program: Any) -> Any:
    """Return a program of two weeks beside a farm of one lot and one feed."""
    usual = {"feeding": [], "sales": [], "purchases": [], "lots": [], "groups": []}
    usual |= {"farm_limits": [], "shortages": []}
    periods = [one(index=0, start=START), one(index=1, start=START)]
    feed = one(feed_id="f", name="Feed", load_kg=None, most_kg=None, price_usd_per_kg=0.5)
    lot = one(lot_id="l", name="Lot", sale_usd_per_kg=0.1)
    values = {"l": one(dm_pct=80.0, usd_per_kg_dm=0.2), "f": one(dm_pct=90.0)}
    return one(
        program=one(**{**usual, "periods": periods, **program}),
        farm=one(lots=[lot], feeds=[feed], season=one(**(season or {}))),
        sources=values,
        lots={"l": lot},
        feeds={"f": feed},
        cells={("g", 0): one(head=10, days=7)},
    )


# --- hay ---------------------------------------------------------------------------------------

RIGHT = {
    "start_t": 10.0,
    "eaten_t": 2.5,
    "feeding_loss_t": 0.5,
    "storage_loss_t": 2.12,
    "left_t": 3.88,
    "sold_t": 1.0,
}


def walked(
    drawn: list[float],
    eaten: float = 2500.0,
    *,
    start: float = 10_000.0,
    kept: tuple[float, float] = (0.9, 0.8),
    sold: float = 1000.0,
    **balance: float,
) -> list[Any]:
    with pytest.MonkeyPatch.context() as patch:
        yard = one(start_kg_dm=start, kept=np.array(kept))
        patch.setattr(books, "yard_lot", lambda *what: yard)
        seen = look(sales=[one(lot_id="l", dm_kg=sold), one(lot_id="other", dm_kg=9e9)])
        lot: Any = seen.lots["l"]
        return list(_lot(seen, lot, one(**{**RIGHT, **balance}), drawn, eaten))


@each_row(
    ("name", "what", "found"),
    [
        ("start_t", "start", 10.0),
        ("eaten_t", "eaten", 2.5),
        ("feeding_loss_t", "wasted", 0.5),
        ("storage_loss_t", "lost", 2.12),
        ("left_t", "left", 3.88),
        ("sold_t", "sold", 1.0),
    ],
)
def test_a_lot_is_walked_from_sale_to_what_is_left(name: str, what: str, found: float) -> None:
    # 9 t lose a tenth, give 2 t, lose a fifth and give one more.
    assert walked([2000.0, 1000.0]) == []
    for off, told in ((0.9e-5, False), (1.2e-5, True)):
        breaches = walked([2000.0, 1000.0], **{name: RIGHT[name] + off})
        assert (what in whats(iter(breaches))) == told
    both = said(iter(walked([2000.0, 1000.0], **{name: RIGHT[name] + 0.1})))
    assert both[0] == (what, RIGHT[name] + 0.1, found)
    assert [each[0] for each in both] == [what, "whole"]


def test_no_more_is_sold_or_fed_than_stands() -> None:
    (first, *_) = said(iter(walked([0.0, 0.0], sold=11_000.0)))
    assert first == ("stock after the sale", 0.0, -1000.0)
    found = [each for each in walked([8200.0, 0.0], 8200.0) if "stock on" in each.what]
    assert [(each.claimed, each.found) for each in found] == [
        (0.0, pytest.approx(-100.0)),
        (0.0, pytest.approx(-80.0)),
    ]
    assert not [each for each in walked([8100.0, 0.0], 8100.0) if "stock" in each.what]
    for over, told in ((0.95e-6, 0), (1.05e-6, 1)):
        found = walked([0.0, 0.5 + over], start=0.5, kept=(1.0, 1.0), sold=0.0)
        assert len([each for each in found if "stock" in each.what]) == told
        found = walked([0.0, 0.0], start=0.5, kept=(1.0, 1.0), sold=0.5 + over)
        assert ("stock after the sale" in whats(iter(found))) == bool(told)


def test_what_is_drawn_and_eaten_is_added_up_by_lot(monkeypatch: pytest.MonkeyPatch) -> None:
    def row(source: str, period: int, offered: float, eaten: float, group: str = "g") -> Any:
        return one(
            source_id=source,
            period=period,
            group_id=group,
            offered_kg=offered,
            eaten_kg_dm_per_head_day=eaten,
        )

    rows = [row("l", 0, 1000.0, 8.0), row("l", 0, 500.0, 4.0), row("f", 0, 9.0, 9.0)]
    rows += [row("l", 1, 500.0, 4.0), row("l", 0, 9.0, 9.0, "stranger")]
    seen = look(feeding=rows, lots=[one(lot_id="l")])
    seen.cells["g", 1] = one(head=10, days=5)
    monkeypatch.setattr(books, "_lot", lambda look, lot, balance, *what: iter([what]))
    ((drawn, eaten),) = list(_stocks(seen))  # type: ignore[misc]
    assert drawn == pytest.approx([1200.0, 400.0])
    assert eaten == pytest.approx(12.0 * 70.0 + 4.0 * 50.0)


# --- money -------------------------------------------------------------------------------------


def sale(kg: float = 1000.0, usd: float = 100.0, dm: float = 800.0) -> Any:
    return one(lot_id="l", as_fed_kg=kg, revenue_usd=usd, dm_kg=dm)


def test_a_sale_brings_its_price() -> None:
    assert said(_sales(look(sales=[sale()]))) == []
    assert said(_sales(look(sales=[sale(usd=101.0)]))) == [("revenue", 101.0, 100.0)]
    assert said(_sales(look(sales=[sale(dm=801.0)]))) == [("dry matter sold", 801.0, 800.0)]
    less = [("sold less than nothing", 0.0, 1.0)]
    assert said(_sales(look(sales=[sale(-1.0, -0.1, -0.8)]))) == less
    seen = look(sales=[sale()])
    seen.lots["l"].sale_usd_per_kg = None
    assert said(_sales(seen)) == [("sold without a buyer", 1000.0, 0.0)]


def bought(kg: float = 1000.0, loads: float | None = None, **what: Any) -> Any:
    usual = {"left_kg": 0.0, "dm_kg": 0.9 * kg, "cost_usd": 0.5 * kg}
    return one(**{"feed_id": "f", "as_fed_kg": kg, "loads": loads, **usual, **what})


@each_row(
    ("purchase", "fed", "load_kg", "most_kg", "found"),
    [
        (bought(), 1000.0, None, None, []),
        (bought(), 990.0, None, None, [("bought", 1000.0, 990.0), ("left", 0.0, 10.0)]),
        (bought(dm_kg=901.0), 1000.0, None, None, [("dry matter bought", 901.0, 900.0)]),
        (bought(cost_usd=501.0), 1000.0, None, None, [("cost", 501.0, 500.0)]),
        (bought(), 1000.0, None, 1000.0, []),
        (bought(), 1000.0, None, 999.0, [("most", 999.0, 1000.0)]),
        (bought(1000.0, 2, left_kg=100.0), 900.0, 500.0, None, []),
        (bought(1000.0, 3), 1000.0, 500.0, None, [("loads", 1500.0, 1000.0)]),
        (
            *(bought(1000.0, None), 1000.0, 400.0, None),
            [("whole loads", 0.0, 2.5), ("loads", 0.0, 1000.0)],
        ),
        (bought(1000.0, 2.5), 1000.0, 400.0, None, [("whole loads", 2.5, 2.5)]),
        (bought(2.0, 1), 2.0 + 0.95e-5, 2.0, None, []),
        (
            *(bought(2.0, 1), 2.0 + 1.05e-5, 2.0, None),
            [("fed of what is bought", 2.0, 2.0 + 1.05e-5), ("left", 0.0, -1.05e-5)],
        ),
    ],
)
def test_feed_is_bought_as_it_is_fed_or_in_loads(
    purchase: Any, fed: float, load_kg: float | None, most_kg: float | None, found: Any
) -> None:
    seen = look()
    feed = seen.farm.feeds[0]
    feed.load_kg, feed.most_kg = load_kg, most_kg
    assert said(_purchase(seen, feed, purchase, fed)) == found


def test_feed_that_is_fed_must_be_bought() -> None:
    rows = [one(kind="feed", source_id="f", offered_kg=kg) for kg in (600.0, 400.0)]
    rows += [one(kind="lot", source_id="f", offered_kg=9.0)]
    assert said(_purchases(look(feeding=rows))) == [("bought", 0.0, 1000.0)]
    assert said(_purchases(look(feeding=rows, purchases=[bought()]))) == []
    assert said(_purchases(look())) == []


@pytest.mark.parametrize(
    ("carry_pct", "total"),
    [
        # Hay of 200 a ton, 200 for feed, 30 from sales and two changes of 5 each.
        (0.0, 2000.0 + 200.0 - 30.0 + 10.0),
        (50.0, 1600.0 + 175.0 - 30.0 + 10.0),
        (120.0, 1040.0 + 150.0 - 30.0 + 10.0),
    ],
)
def test_the_season_costs_what_is_gone_and_paid_less_what_is_left(
    carry_pct: float, total: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(books, "changes", lambda look: 2)

    def found(cost: float = total, changes: float = 10.0, by_kind: float = total) -> Any:
        return said(
            _cost(
                look(
                    {"carry_over_value_pct": carry_pct, "change_usd": 5.0},
                    lots=[one(lot_id="l", start_t=10.0, left_t=4.0)],
                    purchases=[one(feed_id="f", cost_usd=200.0, left_kg=100.0)],
                    sales=[one(revenue_usd=30.0)],
                    costs=one(changes=changes, total=by_kind),
                    cost=cost,
                )
            )
        )

    assert found() == []
    assert found(changes=11.0) == [("cost of changing hay", 11.0, 10.0)]
    assert found(by_kind=total + 1.0) == [("cost by kind", total + 1.0, total)]
    wrong = [("cost of the season", total + 1.0, total), ("cost by kind", total, total + 1.0)]
    assert found(total + 1.0) == wrong


def limit(name: str, need: float, supplied: float, shortage: float = 0.0) -> Any:
    return one(nutrient=name, need=need, supplied=supplied, shortage=shortage)


NAMED = one(nutrient="cash", group_id="")


def test_money_is_what_is_paid_less_what_sales_bring() -> None:
    paid = {"purchases": [one(cost_usd=700.0)], "sales": [one(revenue_usd=100.0)]}

    def found(row: Any, *named: Any, usd: float | None = 500.0) -> Any:
        rows = [limit("reserve", 1.0, 1.0), *([row] if row else [])]
        program = {**paid, "farm_limits": rows, "shortages": named}
        return said(_cash(look({"cash_limit_usd": usd}, **program)))

    assert found(limit("cash", 500.0, 600.0, 100.0), NAMED) == []
    assert found(None, usd=None) == []
    assert found(None) == [("row", 0.0, 500.0)]
    assert found(limit("cash", 501.0, 600.0, 100.0), NAMED) == [("limit", 501.0, 500.0)]
    assert found(limit("cash", 500.0, 601.0, 100.0), NAMED) == [("supplied", 601.0, 600.0)]
    assert found(limit("cash", 500.0, 600.0, 99.0), NAMED) == [("shortage", 99.0, 100.0)]
    unnamed = [("shortage that is not named", 0.0, 100.0)]
    for other in (one(nutrient="cash", group_id="g"), one(nutrient="reserve", group_id="")):
        assert found(limit("cash", 500.0, 600.0, 100.0), other) == unnamed
    assert found(limit("cash", 600.0, 600.0), usd=600.0) == []


@pytest.mark.parametrize(("over", "told"), [(0.95e-6, False), (1.05e-6, True)])
def test_a_limit_on_nothing_paid_holds_to_a_millionth_of_a_dollar(over: float, told: bool) -> None:
    seen = look({"cash_limit_usd": -over}, farm_limits=[limit("cash", -over, 0.0)])
    assert ("shortage" in whats(_cash(seen))) == told


def test_a_reserve_is_hay_for_days_of_those_who_are_there_at_the_end() -> None:
    def found(row: Any, days: int | None = 10, kg: float = 500.0) -> Any:
        cells = [one(period=1, head=20, full_weight_kg=kg), one(period=0, head=99)]
        hay = [one(left_t=1.0), one(left_t=1.5)]
        rows = {"groups": cells, "lots": hay, "farm_limits": [row] if row else []}
        return said(_reserve(look({"reserve_days": days}, **rows)))

    wanted = 10 * 20 * 500.0 * books.RESERVE_PCT_BW / 100.0 / 1000.0
    assert wanted == pytest.approx(2.5)
    assert found(limit("reserve", wanted, 2.5)) == []
    assert found(None) == [("row", 0.0, 2.5)]
    assert found(None, None) == found(None, 0) == found(None, 10, 0.0) == []
    assert found(limit("reserve", 5.0, 2.5, 2.4), 20) == [
        ("shortage", 2.4, 2.5),
        ("shortage that is not named", 0.0, 2.4),
    ]


def test_limits_are_told_apart_by_their_name() -> None:
    seen = look(farm_limits=[limit("cash", 9.0, 9.0)])
    assert said(_farm_limit(seen, "reserve", 3.0, 3.0, 0.0, 1.0)) == [("row", 0.0, 3.0)]


# --- assured supplies --------------------------------------------------------------------------


@each_row(
    ("of_season", "of_group", "found"),
    [
        (None, None, None),
        (80.0, None, 80.0),
        (80.0, 60.0, 60.0),
        (None, 60.0, 60.0),
        (80.0, 50.0, None),
        (51.0, None, 51.0),
    ],
)
def test_more_than_an_even_chance_is_promised(
    of_season: float | None, of_group: float | None, found: float | None
) -> None:
    farm: Any = one(season=one(assurance_pct=of_season))
    assert _promised(one(assurance_pct=of_group), farm) == found  # type: ignore[arg-type]


def need(**what: Any) -> Any:
    usual = {"need": 10.0, "supplied": 12.0, "shortage": 0.0, "assured": 10.5}
    usual |= {"group_id": "g", "period": 0, "nutrient": "cp", "start": START}
    return one(**{**usual, **what})


@each_row(
    ("row", "assured_kg", "least", "may_lack", "found"),
    [
        (need(), 10.5, 10.5, 0.0, []),
        (need(assured=None), 10.5, 10.5, 0.0, [("assured", 0.0, 10.5)]),
        (need(assured=10.6), 10.5, 10.5, 0.0, [("assured", 10.6, 10.5)]),
        (need(assured=9.9), 9.9, 10.0, 0.0, []),
        (need(assured=9.8), 9.8, 9.9, 0.0, [("promise kept", 10.0, 9.8)]),
        (need(assured=9.8), 9.8, 9.8, 0.03, []),
        (need(assured=9.6), 9.6, 9.6, 0.03, [("promise kept", 10.0, 9.6)]),
        (need(assured=9.0, shortage=1.0), 9.0, 9.0, 0.0, []),
        (need(assured=9.0, shortage=0.9), 9.0, 9.0, 0.0, [("short of the promise", 0.9, 1.0)]),
        (need(assured=9.0, shortage=1.1), 9.0, 9.0, 0.0, [("short of the promise", 1.1, 1.0)]),
        (need(assured=9.0, shortage=0.8), 9.0, 9.0, 0.03, []),
        (need(assured=9.0, shortage=0.6), 9.0, 9.0, 0.03, [("short of the promise", 0.6, 1.0)]),
        (need(assured=9.0, shortage=1.1), 9.0, 9.0, 0.03, []),
    ],
)
def test_a_promise_is_kept_but_for_what_a_week_may_lack(
    row: Any, assured_kg: float, least: float, may_lack: float, found: Any
) -> None:
    assert said(_judge("what", row, assured_kg, least, may_lack)) == found


def work(**what: Any) -> Any:
    made: Any = object.__new__(_Work)
    value = one(cp_pct=10.0, tdn_pct=60.0, nem_mcal_per_kg=1.2, neg_mcal_per_kg=0.6)
    made.sources = {"a": value, "b": one(**{**vars(value), "cp_pct": 20.0})}
    made.spread = {"a": _Spread(0.01, 0.02, 0.05, 0.04), "b": _Spread(0.02, 0.02, 0.1, 0.04)}
    made.eaten = defaultdict(dict, {("g", 0): {"a": 3.0, "b": 2.0}})
    made.program, made.farm = one(periods=[]), one()
    for name, value in what.items():
        setattr(made, name, value)
    return made


def test_assured_is_the_mean_less_so_many_deviations() -> None:
    made = work()
    assert made._low(need(), "cp", 0.0) == pytest.approx(0.7)
    assert made._low(need(), "cp", 2.0) == pytest.approx(0.7 - 2.0 * 0.05)
    # Maintenance of 3 Mcal and 1 Mcal of gain of a diet of 1.2 and 0.6 Mcal a kilogram.
    assert made._gain(need(), (3.0, 1.0), 0.0) == pytest.approx(10.0 / (3.0 / 6.0 + 1.0 / 3.0))
    assert made._gain(need(), (3.0, 1.0), 99.0) == 0.0
    poor = work()
    poor.spread["a"] = _Spread(0.0, 0.0, 0.0, 2.0)
    assert poor._gain(need(), (3.0, 1.0), 1.0) == 0.0, "of gain nothing is sure"
    poor.spread["a"] = _Spread(0.0, 0.0, 4.0, 0.0)
    assert poor._gain(need(), (3.0, 1.0), 1.0) == 0.0, "of maintenance nothing is sure"
    kinds = ("cp", "tdn", "nem", "neg")
    assert [_per_kg(made.sources["a"], what) for what in kinds] == [0.1, 0.6, 1.2, 0.6]


def test_rows_are_judged_at_their_chance_and_a_little_less(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    judged: list[Any] = []
    monkeypatch.setattr(assured, "_judge", lambda *what: judged.append(what) or iter(()))
    monkeypatch.setattr(assured, "week_may_lack", lambda *what: what[-1])
    made = work(_low=lambda row, part, z: (part, z), _gain=lambda row, need, z: (need, z))
    made._for_gain = lambda group, rows: {0: "of week 0"}
    rows = [need(nutrient=name) for name in ("cp", "cp_floor", "tdn", "gain_energy", "ca")]
    list(made.group(one(name="Cows"), 80.0, rows))
    parts = [(found[2][0], found[3][0]) for found in judged]
    assert parts == [(part, part) for part in ("cp", "cp", "tdn", "of week 0")]
    normal: Callable[[float], float] = NormalDist().inv_cdf
    assert [(found[2][1], found[3][1], found[4]) for found in judged] == [
        (pytest.approx(normal(0.8)), pytest.approx(normal(0.794)), 0.0)
    ] * 4
    judged.clear()
    list(made.group(one(name="Cows"), 50.3, rows[:1]))
    assert judged[0][3][1] == 0.0, "no less than even"


def test_what_is_promised_to_nobody_must_not_be_claimed() -> None:
    farm: Any = one(groups=[one(group_id="g", assurance_pct=None)], season=one(assurance_pct=None))
    rows = [need(assured=None), need(assured=7.0)]
    found = list(assured.assured_breaches(one(needs=rows), farm))  # type: ignore[arg-type]
    assert [(each.claimed, each.found) for each in found] == [(7.0, 0.0)]


def test_untested_feed_is_known_least_and_what_is_eaten_is_added_up() -> None:
    feeding = [
        one(group_id="g", period=0, source_id="a", eaten_kg_dm_per_head_day=kg) for kg in (2, 3)
    ]
    value = one(source_id="a", cp_pct=10.0, tdn_pct=60.0)
    made = _Work(one(sources=[value], feeding=feeding), one(lots=[]))  # type: ignore[arg-type]
    assert made.eaten == {("g", 0): {"a": 5.0}}
    # Half of 15 % of the protein, and half of a tenth of the energy.
    assert made.spread["a"].cp == pytest.approx(0.0075)
    assert made.spread["a"].tdn == pytest.approx(0.03)


def test_spread_of_energy_follows_the_slope_of_its_equation() -> None:
    found = _spread(0.8, 2.0, 60.0)
    assert (found.cp, found.tdn) == (0.008, 0.02)
    # NRC: the cubic of NEm and of NEg in ME of 0.82 times 4.409 Mcal for a kilogram of TDN.
    me, slope = 0.6 * 4.409 * 0.82, 4.409 * 0.82 / 100.0
    nem = (1.37 - 0.276 * me + 0.0315 * me**2) * slope
    neg = (1.42 - 0.348 * me + 0.0366 * me**2) * slope
    assert (found.nem, found.neg) == (
        pytest.approx(2 * nem, rel=1e-3),
        pytest.approx(2 * neg, rel=1e-3),
    )
    assert _spread(0.8, 2.0, 0.0) == _Spread(0.008, 0.02, 0.0, 0.0)
