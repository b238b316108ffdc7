"""What feeds cost, farm beside farm: one row for each feed by its name."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import median_low
from typing import Final
from urllib.parse import urlencode

from rickyard.book.pricing import PriceThere
from rickyard.book.services import FarmThere
from rickyard.display import Display, clean, count_text, display_for, listed, money_text
from rickyard.web.drawn import mark

#: A price that was not seen for so long is marked. [days]
_OLD: Final = timedelta(days=45)

#: Less than this is no change of a price. [US dollars a ton]
_CENT: Final = 0.5


@dataclass(frozen=True, slots=True)
class FeedRow:
    """A feed: its usual price, what others pay, since when; ``at`` leads to where it is written."""

    at: str
    name: str
    price: str
    span: str
    seen: str
    mark: str
    change: str
    farms: str


@dataclass(frozen=True, slots=True)
class PricesShown:
    """All that stands on the page of prices."""

    answer: str
    lede: str
    rows: tuple[FeedRow, ...]
    where: str
    unit: str

    @property
    def is_many(self) -> bool:
        """Return whether farms are compared."""
        return any(one.farms != "1" for one in self.rows)

    @property
    def has_change(self) -> bool:
        """Return whether of any feed it is known what it cost a month ago."""
        return any(one.change for one in self.rows)


def feed_key(name: str) -> str:
    """Return a feed's name without capitals and spaces: feeds of one name are one row.

    Parameters
    ----------
    name : str
        What a farm calls it.

    Returns
    -------
    str
        To be compared.

    Examples
    --------
    >>> feed_key("Soybean  Hulls ") == feed_key("soybean hulls")
    True
    """
    return " ".join(name.casefold().split())


def prices_shown(prices: Sequence[PriceThere], day: date) -> PricesShown:
    """Return what stands on the page of prices.

    Parameters
    ----------
    prices : sequence of PriceThere
        What feeds cost on each farm.
    day : date
        The day on which it is asked.

    Returns
    -------
    PricesShown
        Words: what changed most within a month first.
    """
    display = _display(prices)
    feeds: dict[str, list[PriceThere]] = defaultdict(list)
    for one in prices:
        feeds[feed_key(one.name)].append(one)
    by_change = sorted(feeds.values(), key=lambda feed: (-abs(_change(feed, display)), _name(feed)))
    by_name = sorted(feeds.values(), key=lambda feed: _name(feed).casefold())
    farms = len({one.there.farm for one in prices})
    answer = "No feed has a price in this book."
    if feeds:
        answer = f"{count_text(len(feeds), 'feed')} on {count_text(farms, 'farm')}."
        if all(one.before_usd_per_kg is not None for one in prices):
            answer = f"{count_text(len(feeds), 'feed')}; no price changed in a month."
        most = by_change[0]
        if abs(change := _change(most, display)) >= _CENT:
            way = "up" if change > 0.0 else "down"
            answer = (
                f"{_name(most)}: {way} {money_text(abs(change))} a {display.ton_word} in a month."
            )
    old = [_name(one) for one in by_name if _seen(one) < day - _OLD]
    lede = "A price written here changes no program: the farm sees it when it plans again."
    if old:
        few = listed(old) if len(old) < 4 else f"{listed(old[:2])} and {len(old) - 2} more"
        lede += f" Not seen for {_OLD.days} days: {few}."
    return PricesShown(
        answer,
        lede,
        tuple(_row(one, display, day) for one in by_name),
        f"{count_text(farms, 'farm')}, {display.day_year_text(day)}",
        f"a {display.ton_word} as fed",
    )


@dataclass(frozen=True, slots=True)
class FarmPrice:
    """What a feed costs on one farm. ``value`` is what the form sends for it."""

    value: str
    name: str
    price: str
    since: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class WhatIf:
    """A farm, and what leads to what another price would make of its season."""

    address: str
    name: str
    dearer: str
    cheaper: str


#: By so much dearer or cheaper a price is asked of. [%]
_ASKED_PCT: Final = 10


@dataclass(frozen=True, slots=True)
class FeedPage:
    """All that stands on the page of one feed's price."""

    name: str
    answer: str
    where: str
    farms: tuple[FarmPrice, ...]
    what_if: tuple[WhatIf, ...]
    now: str
    units: tuple[tuple[str, str, bool], ...]
    others: str


def feed_page(prices: Sequence[PriceThere], at: Mapping[str, FarmThere]) -> FeedPage:
    """Return what stands on the page on which a feed's price is written.

    Parameters
    ----------
    prices : sequence of PriceThere
        What it costs on each farm that has it; at least one.
    at : mapping of str to FarmThere
        The farms by their addresses.

    Returns
    -------
    FeedPage
        Words. Ticked are the farms that have the usual price: another is a farm's own.
    """
    display, usual = _display(prices), _usual(prices)
    farms = tuple(
        FarmPrice(
            f"{one.there.season}.{one.thing}.{one.revision}",
            clean(one.there.name),
            display.price_a_ton(one.usd_per_kg),
            display.day_year_text(one.since),
            _same(one.usd_per_kg, usual, display),
        )
        for one in sorted(prices, key=lambda one: one.there.name.casefold())
    )
    own = sum(not one.chosen for one in farms)
    has = "has a price of its" if own == 1 else "have prices of their"
    others = ""
    if own:
        others = f"{count_text(own, 'farm')} {has} own. Tick it only where the farm agrees."
    return FeedPage(
        _name(prices),
        f"{_name(prices)}: {display.price_a_ton(usual)}.",
        f"On {count_text(len(farms), 'farm')}",
        farms,
        _what_if(prices, at),
        f"{usual * display.kg_per_ton:.0f}",
        tuple((one, word, one == _UNIT[display.system]) for one, word in _UNITS),
        others,
    )


def _what_if(prices: Sequence[PriceThere], at: Mapping[str, FarmThere]) -> tuple[WhatIf, ...]:
    """Return for each farm the questions of what a dearer and a cheaper feed would change."""
    address = {one.season: name for name, one in at.items()}
    # A feed is called alike on most farms: its questions are written once.
    asks = {feed_id: _asks(feed_id) for feed_id in {one.feed_id for one in prices}}
    return tuple(
        WhatIf(
            address[one.there.season],
            clean(one.there.name),
            *asks[one.feed_id],
        )
        for one in sorted(prices, key=lambda one: one.there.name.casefold())
        if one.there.season in address
    )


def _asks(feed_id: str) -> tuple[str, str]:
    """Return the questions of what a dearer and a cheaper feed would change."""
    dearer, cheaper = (
        urlencode({"of": "price", "source": feed_id, "more": pct})
        for pct in (_ASKED_PCT, -_ASKED_PCT)
    )
    return dearer, cheaper


_UNITS: Final = (("$/ton", "$ a ton"), ("$/t", "$ a tonne"), ("$/lb", "$ a pound"))
_UNIT: Final = {"us": "$/ton", "metric": "$/t"}


def address_of_feed(name: str) -> str:
    """Return the part of an address that names a feed.

    Parameters
    ----------
    name : str
        The feed.

    Returns
    -------
    str
        To be set after ``?``.
    """
    return urlencode({"feed": clean(name)})


def _row(feed: Sequence[PriceThere], display: Display, day: date) -> FeedRow:
    usual, change = _usual(feed), _change(feed, display)
    least, most = min(one.usd_per_kg for one in feed), max(one.usd_per_kg for one in feed)
    span = ""
    if not _same(least, most, display):
        low, high = (money_text(one * display.kg_per_ton) for one in (least, most))
        span = f"{low} to {high}"
    sign = "+" if change > 0.0 else "\u2212"
    told = f"{sign}{money_text(abs(change))}" if abs(change) >= _CENT else "0"
    known = any(one.before_usd_per_kg is not None for one in feed)
    is_old = _seen(feed) < day - _OLD
    return FeedRow(
        address_of_feed(_name(feed)),
        _name(feed),
        money_text(usual * display.kg_per_ton),
        span,
        display.day_year_text(_seen(feed)),
        mark("warning", "Old") if is_old else "",
        told if known else "",
        f"{len(feed)}",
    )


def _display(prices: Sequence[PriceThere]) -> Display:
    return display_for(prices[0].there.units if prices else "us")


def _name(feed: Sequence[PriceThere]) -> str:
    """Return the name by which most farms call a feed."""
    return clean(Counter(one.name for one in feed).most_common(1)[0][0])


def _usual(feed: Sequence[PriceThere]) -> float:
    """Return the price that most farms have, of as many the newest, in US dollars per kg."""
    many = Counter(round(one.usd_per_kg, 6) for one in feed)
    newest = sorted(feed, key=lambda one: one.since)[-1]
    most = max(many.values())
    if many[round(newest.usd_per_kg, 6)] == most:
        return newest.usd_per_kg
    return next(one.usd_per_kg for one in feed if many[round(one.usd_per_kg, 6)] == most)


def _same(one: float, other: float, display: Display) -> bool:
    return abs(one - other) * display.kg_per_ton < _CENT


def _seen(feed: Sequence[PriceThere]) -> date:
    return max(one.since for one in feed)


def _change(feed: Sequence[PriceThere], display: Display) -> float:
    """Return by how many US dollars a ton a feed rose within a month, on the middle farm."""
    rises = [
        one.usd_per_kg - one.before_usd_per_kg for one in feed if one.before_usd_per_kg is not None
    ]
    return median_low(rises) * display.kg_per_ton if rises else 0.0
