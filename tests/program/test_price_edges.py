"""At which price a feed leaves and a lot is sold, and what a test saves, in exact figures."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.program.ask import price_ranges, worth_by_planning
from rickyard.program.ask.price_ranges import (
    holds_for_t,
    leaving_price,
    with_leaving_price,
    with_sale_prices,
)
from rickyard.program.ask.worth_by_planning import with_planned_worth
from rickyard.program.result import FeedWorth, LotTestWorth, LotWorth
from support.by_hand import one

METRIC = display_for("metric")


# --- prices of feeds ---------------------------------------------------------------------------


class _Market(SimpleNamespace):
    @property
    def cost(self) -> Any:
        return np.zeros(1)


def market(*ways: tuple[float, float], without: float = 100.0, price: float = 0.2) -> Any:
    """Return a season that buys some kilograms of a feed beside other costs, or none of it."""
    found = _Market(dearer=0.0, shut=False, asked=[])

    def ask() -> Any:
        now = price + found.dearer
        open_ways = [] if found.shut else [(other + kg * now, kg) for other, kg in ways]
        usd, kg = min([*open_ways, (without, 0.0)])
        if not found.shut:
            found.asked.append(now)
        return one(whole_usd=usd, optimum=one(x=np.array([kg])), is_shorter_than=lambda _: False)

    @contextmanager
    def at_most(columns: Any, upper: Any) -> Iterator[None]:
        found.shut = True
        yield
        found.shut = False

    @contextmanager
    def costing(cost: Any) -> Iterator[Any]:
        def charge(other: Any) -> None:
            found.dearer = float(other[0])

        charge(cost)
        yield charge
        found.dearer = 0.0

    columns = one(group=np.zeros(1, int), source=np.zeros(1, int), period=np.zeros(1, int))
    found.model = one(lower=np.zeros(1), columns=columns)
    found.problem = one(
        sources=one(
            values=[one(usd_per_kg_dm=price, name="Corn", dm_pct=80.0)],
            feeding_loss_frac=np.zeros((1, 1)),
        ),
        needs=one(head_days=np.ones((1, 1))),
    )
    found.ask, found.at_most, found.costing = ask, at_most, costing
    found.columns_of = lambda source: np.arange(1)
    found.base = ask()
    found.asked.clear()
    return found


@pytest.mark.parametrize(("share", "climbs"), [(0.98e-4, False), (1.02e-4, True)])
def test_a_leaving_price_is_found_to_a_ten_thousandth(share: float, climbs: bool) -> None:
    # At half a dollar 100 kg are not worth it anymore; 40 kg are, by so little.
    more = share * 0.5
    season = market((50.0, 100.0), (80.0 - 40.0 * more, 40.0))
    price = leaving_price(season, 0)
    assert price == pytest.approx(0.5 + (more if climbs else 0.0), rel=1e-9)


def test_a_millionth_of_what_was_bought_is_nothing_bought() -> None:
    for kg, asked in ((0.9e-4, 1), (1.1e-4, 2)):
        season = market((50.0, 100.0), (99.0, kg))
        assert leaving_price(season, 0) is not None
        assert len(season.asked) == asked


def test_a_season_that_comes_out_cheaper_without_the_feed_is_the_one_to_reach() -> None:
    # Without the feed at all it was found at 100 dollars, and at a high price at 99.
    season = market((50.0, 100.0), without=99.0)
    at_most = season.at_most

    @contextmanager
    def dearer_alone(columns: Any, upper: Any) -> Iterator[None]:
        with at_most(columns, upper):
            ask = season.ask
            season.ask = lambda: one(**{**vars(ask()), "whole_usd": 100.0})
            yield
            season.ask = ask

    season.at_most = dearer_alone
    assert leaving_price(season, 0) == pytest.approx(0.49, rel=1e-9)


def worth(*, bought: bool = True) -> FeedWorth:
    return FeedWorth("corn", bought, 0.16, None, "as it was")


def test_the_price_at_which_a_feed_leaves_is_told_as_fed(monkeypatch: pytest.MonkeyPatch) -> None:
    season = market((50.0, 100.0))
    told = with_leaving_price(season, 0, worth(), METRIC)
    assert told.leave_usd_per_kg == pytest.approx(0.5 * 0.8)
    at, up_to = METRIC.price_a_ton(0.16), METRIC.price_a_ton(0.4)
    assert told.sentence == f"Corn: worth buying at {at}, and up to {up_to}."
    assert with_leaving_price(season, 0, worth(bought=False), METRIC) == worth(bought=False)
    monkeypatch.setattr(price_ranges, "leaving_price", lambda inquiry, source: None)
    told = with_leaving_price(season, 0, worth(), METRIC)
    assert told.sentence.endswith("at any price: something would be short without it.")
    season.model.lower[0] = 0.1
    told = with_leaving_price(season, 0, worth(), METRIC)
    assert told.sentence.endswith("at any price: it is always offered.")


# --- prices of lots ----------------------------------------------------------------------------


def yard(stock_kg: float = 8000.0, *, without: float = 1000.0, short: bool = False) -> Any:
    """Return a season that costs so much without a lot of hay, and 200 dollars with it."""
    found = one(taken=[])

    @contextmanager
    def stocked(source: int, kg: float) -> Iterator[None]:
        found.taken.append((source, kg))
        yield

    found.problem = one(
        sources=one(
            values=[one(name="Hill", usd_per_kg_dm=0.1, dm_pct=80.0)],
            start_kg_dm=np.array([stock_kg]),
        ),
        keep=np.array([[0.95, 0.9]]),
    )
    found.stocked, found.base = stocked, one(whole_usd=200.0)
    found.ask = lambda: one(whole_usd=without, is_shorter_than=lambda other: short)
    return found


def sold(season: Any, usd_per_t: float | None = 40.0, carried: float = 50.0) -> LotWorth:
    farm: Any = one(season=one(carry_over_value_pct=carried))
    return with_sale_prices(farm, season, 0, LotWorth("hill", usd_per_t, "As it was."), METRIC)


def test_hay_is_sold_for_its_value_and_what_it_would_save(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(price_ranges, "holds_for_t", lambda inquiry, source: 6.0)
    season = yard()
    found = sold(season)
    assert season.taken == [(0, -8000.0)]
    # A tenth of a dollar and forty dollars a tonne, and eight tenths of it is dry.
    assert found.sell_first_usd_per_kg == pytest.approx((0.1 + 0.04) * 0.8)
    # 800 dollars for 8 tonnes, and half of the value of the nine tenths that storage leaves.
    assert found.sell_all_usd_per_kg == pytest.approx((0.1 + 0.1 * 0.5 * 0.9) * 0.8)
    assert found.holds_for_t_dm == 6.0
    assert f" That holds for {METRIC.amount_text(7500.0)} more. Sell" in found.sentence


def test_hay_that_saves_nothing_or_cannot_be_spared_is_told_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(price_ranges, "holds_for_t", lambda inquiry, source: 6.0)
    assert "That holds" not in sold(yard(), 0.001).sentence
    assert "That holds" in sold(yard(), 0.00105).sentence
    assert sold(yard(), -200.0).sell_first_usd_per_kg == 0.0
    assert sold(yard(without=-2000.0)).sell_all_usd_per_kg == 0.0
    kept = sold(yard(short=True))
    assert kept.sell_all_usd_per_kg is None
    assert "stock would run short" in kept.sentence
    for unknown in (sold(yard(), None), sold(yard(0.0))):
        assert unknown.sentence == "As it was."


def saving(*pieces: tuple[float, float], stock_kg: float = 40_000.0) -> Any:
    """Return a season in which tonnes save so much each, up to so many; and what was asked."""
    found = one(asked=[], more=0.0)

    def ask(*, settle: bool) -> Any:
        assert not settle, "prices hold for the rows as they are"
        found.asked.append(found.more)
        saved, last, slope = 0.0, 0.0, 0.0
        for until, usd in pieces:
            if found.more > last:
                saved, slope = saved + usd * (min(found.more, until) - last), usd
            last = until
        return one(whole_usd=-saved, optimum=one(row_dual=np.array([-slope])))

    @contextmanager
    def stocked(source: int, kg: float) -> Iterator[None]:
        found.more = kg / 1000.0
        yield

    found.model, found.stocked, found.ask = one(stock_row=np.array([0])), stocked, ask
    found.base = one(whole_usd=0.0, optimum=one(row_dual=np.array([-pieces[0][1]])))
    found.problem = one(sources=one(start_kg_dm=np.array([stock_kg])))
    return found


def test_tries_keep_a_hundredth_away_from_what_is_known_on_either_side() -> None:
    # Nearly all of a doubling saves 50 dollars a tonne: the next try is not nearer than that.
    season = saving((39.58, 50.0), (99.0, 0.0))
    assert holds_for_t(season, 0) == pytest.approx(39.6)
    assert season.asked == pytest.approx([40.0, 39.6])
    # Only the first hundred kilograms save anything.
    season = saving((0.1, 50.0), (99.0, 0.0))
    found = holds_for_t(season, 0)
    assert season.asked[:3] == pytest.approx([40.0, 0.4, 0.1 / 0.99])
    assert 0.099 <= found <= 0.1 / 0.99 + 1e-9


# --- tests -------------------------------------------------------------------------------------


def test_a_test_is_weighed_for_hay_up_to_three_deviations_poorer_and_better(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Book values are off by 7.5 % of protein and 5 % of energy (Preston, feed composition)."""
    asked: list[tuple[str, float]] = []
    weighed: list[Any] = []

    @contextmanager
    def other_hay(source: int) -> Iterator[Callable[[Any], Any]]:
        assert source == 1
        yield lambda season: one(whole_usd=season)

    def other(season: Any, source: int, name: str, percent: float) -> float:
        asked.append((name, percent))
        return 100.0 + percent

    def saved(percent: Any, usd: Any, mean: float, spread: float, error: float) -> float:
        weighed.append((usd.tolist(), mean, spread, error))
        return 20.0 if mean == 8.0 else 15.0

    monkeypatch.setattr(worth_by_planning, "_other_hay", other)
    monkeypatch.setattr(worth_by_planning, "saved_by_knowing", saved)
    monkeypatch.setattr(
        worth_by_planning, "errors_of_test", lambda farm, lot: one(protein=0.3, energy=0.7)
    )
    values = [one(source_id="a"), one(source_id="b", name="Hill", cp_pct=8.0, tdn_pct=60.0)]
    inquiry: Any = one(
        problem=one(sources=one(values=values)), other_hay=other_hay, base=one(whole_usd=77.0)
    )
    program: Any = one(feeding=[one(source_id="b")])
    farm: Any = one(lot=lambda lot_id: None)
    worth = LotTestWorth("b", 0.0, 30.0, "", "As it was.")
    found = with_planned_worth(farm, inquiry, program, worth)
    protein, energy = ([mean + k * sd for k in (-3, -2, -1, 1, 2, 3)]
                       for mean, sd in ((8.0, 0.6), (60.0, 3.0)))  # fmt: skip
    assert [name for name, _ in asked] == ["cp"] * 6 + ["tdn"] * 6
    assert [percent for _, percent in asked] == pytest.approx([*protein, *energy])
    assert [told[1:] for told in weighed] == [
        (8.0, pytest.approx(0.6), 0.3),
        (60.0, pytest.approx(3.0), 0.7),
    ]
    # The season as it is stands for hay as it is thought to be.
    assert weighed[0][0] == pytest.approx([100.0 + p for p in protein[:3]] + [77.0]
                                          + [100.0 + p for p in protein[3:]])  # fmt: skip
    assert found.saved_usd == 35.0
    assert found.sentence.startswith("Hill is untested. ")
    program.feeding = [one(source_id="a")]
    assert with_planned_worth(farm, inquiry, program, worth) is worth


def test_hay_of_other_energy_has_the_net_energy_that_goes_with_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """NEm and NEg by the cubic equations of NRC 1996 from TDN of 60 %: 1.31 and 0.75 Mcal/kg."""
    per_kg = {name: np.array([0.5, 0.5]) for name in ("tdn", "cp", "nem", "neg")}
    made: list[Any] = []
    monkeypatch.setattr(worth_by_planning, "replace", lambda problem, per_kg: made.append(per_kg))
    worth_by_planning._other_hay(one(per_kg=per_kg), 1, "tdn", 60.0)
    worth_by_planning._other_hay(one(per_kg=per_kg), 1, "cp", 12.0)
    energy, protein = made
    assert energy["tdn"].tolist() == [0.5, 0.6]
    assert energy["nem"].tolist() == [0.5, pytest.approx(1.31, abs=0.02)]
    assert energy["neg"].tolist() == [0.5, pytest.approx(0.75, abs=0.02)]
    assert protein["cp"].tolist() == [0.5, 0.12]
    assert protein["nem"].tolist() == protein["tdn"].tolist() == [0.5, 0.5]
    assert per_kg["tdn"].tolist() == [0.5, 0.5]
