"""At which price a feed leaves the program, a lot is better sold, and how far a price holds.

All of it is found by solving again. The least cost as a function of one price is concave, so
Newton's method on it climbs to the price at which the feed is dropped without ever passing it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from rickyard.display import Display
from rickyard.farm import Farm
from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.result import FeedWorth, LotWorth
from rickyard.quantities import is_some
from rickyard.types import FloatArray, IntArray

#: A leaving price is found to this share, in at most so many steps.
PRICE_SHARE: Final = 1e-4
MOST_STEPS: Final = 40

#: Less than this share of what was bought is nothing bought.
NOTHING_SHARE: Final = 1e-6

#: What one more tonne saves is said to hold for as many as save this share of it each.
HOLDS_SHARE: Final = 0.99

#: It is looked at for so many tonnes of dry matter at least, or a doubling of the lot.
FAR_T: Final = 10.0

#: Where the lines meet, what is saved may be just what is asked for: so much of it will do.
KNOWN_SHARE: Final = 1.0 - 1e-9

#: Below this many US dollars per tonne a lot saves nothing.
NOTHING_USD_PER_T: Final = 1e-3


def leaving_price(inquiry: Inquiry, source: int) -> float | None:
    """Return the price above which a feed that is bought would no longer be.

    ``inquiry``: the solved season. ``source``: the feed's number among the sources. Returns US
    dollars per kilogram of dry matter; ``None`` where something would be short without the feed, or
    it has to be on offer whatever it costs.
    """
    columns = inquiry.columns_of(source)
    if not len(columns) or np.any(is_some(inquiry.model.lower[columns])):
        return None
    with inquiry.at_most(columns, np.zeros(len(columns))):
        without = inquiry.ask()
    if without.is_shorter_than(inquiry.base):
        return None
    kg = _kg_dm(inquiry, columns)
    first = price = inquiry.problem.sources.values[source].usd_per_kg_dm
    bought = whole_bought = float(kg @ inquiry.base.optimum.x[columns])
    usd, least = inquiry.base.whole_usd, without.whole_usd
    last = price, usd, bought
    with inquiry.costing(inquiry.cost) as charge:
        for _ in range(MOST_STEPS):
            if bought <= NOTHING_SHARE * whole_bought:
                if is_some(bought) or usd >= least:
                    break
                # Where curved rows hold, the season without the feed may come out a little cheaper.
                least = usd
                price, usd, bought = last
            step = (least - usd) / bought
            if step <= PRICE_SHARE * max(price, NOTHING_SHARE):
                break
            last = price, usd, bought
            price += step
            cost = inquiry.cost
            cost[columns] += (price - first) * kg
            charge(cost)
            answer = inquiry.ask()
            usd, bought = answer.whole_usd, float(kg @ answer.optimum.x[columns])
    return price


def _kg_dm(inquiry: Inquiry, columns: IntArray) -> FloatArray:
    """Return the dry matter taken for each unit of an amount. [kg]."""
    at = inquiry.model.columns
    group, source, period = at.group[columns], at.source[columns], at.period[columns]
    loss = inquiry.problem.sources.feeding_loss_frac[group, source]
    return np.asarray(inquiry.problem.needs.head_days[group, period] / (1.0 - loss))


def with_leaving_price(
    inquiry: Inquiry, source: int, worth: FeedWorth, display: Display
) -> FeedWorth:
    """Return a feed's worth with the price at which it leaves the program, in its sentence too."""
    value = inquiry.problem.sources.values[source]
    if not worth.bought:
        return worth
    per_dm = leaving_price(inquiry, source)
    price = display.price_a_ton(worth.price_usd_per_kg)
    if per_dm is None:
        on_offer = np.any(is_some(inquiry.model.lower[inquiry.columns_of(source)]))
        why = "it is always offered" if on_offer else "something would be short without it"
        sentence = f"{value.name}: bought at {price}, and at any price: {why}."
        return replace(worth, sentence=sentence)
    leave = per_dm * value.dm_pct / 100.0
    sentence = f"{value.name}: worth buying at {price}, and up to {display.price_a_ton(leave)}."
    return replace(worth, leave_usd_per_kg=leave, sentence=sentence)


def with_sale_prices(
    farm: Farm, inquiry: Inquiry, source: int, worth: LotWorth, display: Display
) -> LotWorth:
    """Return a lot's worth with how far it holds and the prices above which it is better sold.

    ``farm``: says what hay left at the end is worth. ``inquiry``: the solved season. ``source``:
    the lot's number among the sources. ``worth``: what one more tonne of it is worth. ``display``:
    units of the sentence.

    Hay that is sold is no longer in the yard: its price must pay for its own value and for what
    it would save as feed beyond that. For the first of it that is ``usd_per_t_dm``; for all of it
    at once what the season would cost more without the lot.
    """
    value = inquiry.problem.sources.values[source]
    stock_kg = float(inquiry.problem.sources.start_kg_dm[source])
    if worth.usd_per_t_dm is None or not is_some(stock_kg):
        return worth
    dm = value.dm_pct / 100.0
    first = max(0.0, value.usd_per_kg_dm + worth.usd_per_t_dm / 1000.0) * dm
    with inquiry.stocked(source, -stock_kg):
        without = inquiry.ask()
    every = None
    if not without.is_shorter_than(inquiry.base):
        end_worth = farm.season.carry_over_value_pct / 100.0
        kept = end_worth * float(inquiry.problem.keep[source, -1])
        dearer = (without.whole_usd - inquiry.base.whole_usd) / stock_kg
        every = max(0.0, dearer + value.usd_per_kg_dm * kept) * dm
    holds = holds_for_t(inquiry, source)
    as_fed = 1000.0 * holds / dm
    reach = ""
    if worth.usd_per_t_dm > NOTHING_USD_PER_T:
        reach = f" That holds for {display.amount_text(as_fed)} more."
    sentence = f"{worth.sentence}{reach} {_sale_sentence(first, every, display)}"
    return replace(
        worth,
        sentence=sentence,
        holds_for_t_dm=holds,
        sell_first_usd_per_kg=first,
        sell_all_usd_per_kg=every,
    )


def _sale_sentence(first: float, every: float | None, display: Display) -> str:
    price = display.price_a_ton(first)
    if every is not None and display.price_a_ton(every) == price:
        return f"Sell it rather than feed it above {price}."
    opening = f"Sell the first of it rather than feed it above {price}"
    if every is None:
        return f"{opening}; don't sell all of it: stock would run short."
    return f"{opening}, and all of it above {display.price_a_ton(every)}."


def holds_for_t(inquiry: Inquiry, source: int) -> float:
    """Return for how many more tonnes of dry matter of a lot each saves about as much.

    As many as save 99 % of what the first does, at most a doubling of the lot or ten tonnes.
    """
    row = int(inquiry.model.stock_row[source])
    first = -float(inquiry.base.optimum.row_dual[row])
    most = max(float(inquiry.problem.sources.start_kg_dm[source]) / 1000.0, FAR_T)
    if first <= NOTHING_USD_PER_T:
        return most
    low, high = 0.0, most
    far, slope = _saved(inquiry, source, row, most)
    if far >= HOLDS_SHARE * first * most:
        return most
    for _ in range(MOST_STEPS):
        # Where the straight lines of what is saved below and above meet what is still said.
        reach = (far - slope * high) / (HOLDS_SHARE * first - slope)
        at = min(max(reach, low + 0.01 * (high - low)), low + 0.99 * (high - low))
        saved, here = _saved(inquiry, source, row, at)
        if saved >= KNOWN_SHARE * HOLDS_SHARE * first * at:
            low = at
        else:
            high, far, slope = at, saved, here
        if high - low <= 0.01 * high:
            break
    return low


def _saved(inquiry: Inquiry, source: int, row: int, more_t: float) -> tuple[float, float]:
    """Return what more tonnes save, and what one more saves then. [US dollars]."""
    with inquiry.stocked(source, 1000.0 * more_t):
        answer = inquiry.ask(settle=False)
    saved = inquiry.base.whole_usd - answer.whole_usd
    return saved, -float(answer.optimum.row_dual[row])
