"""The limits of the whole farm: money for feed, hay to be left, and what each of them costs."""

from __future__ import annotations

from math import isnan
from typing import Final

from rickyard.display import Display, money_text
from rickyard.program.model import KG_PER_ROW_UNIT, USD_PER_ROW_UNIT, Model, Prices
from rickyard.program.problem import UNITS, Problem
from rickyard.program.result import FarmLimit, LotBalance, Purchase, Sale
from rickyard.quantities import KG_PER_TONNE

#: A limit of the whole farm missed by less than this share counts as kept.
MISSED_SHARE: Final = 1e-6

#: A limit that costs less than this, US dollars for a unit, costs nothing.
COST_DUST: Final = 1e-4

#: How many more dollars to spend are spoken of.
HUNDRED: Final = 100.0


def farm_limits(
    problem: Problem,
    model: Model,
    prices: Prices,
    lots: tuple[LotBalance, ...],
    bought: tuple[Purchase, ...],
    sold: tuple[Sale, ...],
    display: Display,
) -> tuple[FarmLimit, ...]:
    """Return the limits that hold for the whole farm, by how much each is missed and its price."""
    rows = []
    if problem.cash_limit_usd is not None:
        spent = sum(one.cost_usd for one in bought) - sum(one.revenue_usd for one in sold)
        most = problem.cash_limit_usd
        over = spent - most
        missed = over if over > MISSED_SHARE * max(abs(most), 1.0) else 0.0
        price = _price(model, prices, "cash", USD_PER_ROW_UNIT)
        sentence = _cash(most, spent, missed, price)
        rows.append(
            FarmLimit("cash", UNITS["cash"], "at_most", most, spent, missed, price, sentence)
        )
    if problem.reserve_kg_dm > 0.0:
        wanted = problem.reserve_kg_dm / KG_PER_TONNE
        left = sum(lot.left_t for lot in lots)
        lacks = wanted - left
        missed = lacks if lacks > MISSED_SHARE * wanted else 0.0
        price = _price(model, prices, "reserve", KG_PER_ROW_UNIT / KG_PER_TONNE)
        sentence = _reserve(wanted, left, missed, price, display)
        rows.append(
            FarmLimit(
                "reserve", UNITS["reserve"], "at_least", wanted, left, missed, price, sentence
            )
        )
    return tuple(rows)


def _price(model: Model, prices: Prices, name: str, unit: float) -> float | None:
    """Return what one unit of room more in the row of a limit saves, ``None`` if a shortage."""
    saved = -float(prices.row[model.farm_row[name]]) / unit
    if isnan(saved):
        return None
    return saved if saved > COST_DUST else 0.0


def _cash(most: float, spent: float, missed: float, price: float | None) -> str:
    opening = f"Feed costs {money_text(spent)} of the {money_text(most)} available"
    if missed > 0.0:
        return f"{opening}: over the limit."
    if price is None:
        return f"{opening}; more money would make up part of what is short."
    if price == 0.0:
        return f"{opening}."
    saves = money_text(HUNDRED * price)
    return f"{opening}; {money_text(HUNDRED)} more to spend would save {saves}."


def _reserve(
    wanted: float, left: float, missed: float, price: float | None, display: Display
) -> str:
    tons = (display.amount_text(one * KG_PER_TONNE) for one in (left, wanted))
    opening = "{} of hay left on the last day, {} needed in reserve".format(*tons)
    if missed > 0.0:
        return f"{opening}: the reserve falls short."
    if price is None:
        return f"{opening}; hay fed instead would make up part of what is short."
    if price == 0.0:
        return f"{opening}."
    a_ton = money_text(price * display.kg_per_ton / KG_PER_TONNE)
    return f"{opening}; a reserve one {display.ton_word} of dry matter smaller would save {a_ton}."
