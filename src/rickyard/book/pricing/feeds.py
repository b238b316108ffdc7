"""What feeds cost on each farm, since when, what before; and a new price for several farms."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any, Final
from uuid import UUID, uuid5

from django.db import transaction

from rickyard.book import records
from rickyard.book.acting import (
    ChangedMeanwhile,
    NotTaken,
    NotThere,
    allow,
    day_at,
    farms_where,
    held_or_read,
)
from rickyard.book.services import FarmThere, list_farms, read_things, season_there, write_thing
from rickyard.service import Held

#: What a price is set beside: the one of so long before. [days]
MONTH: Final = timedelta(days=30)


@dataclass(frozen=True, slots=True)
class PriceThere:
    """What a feed costs at a farm. ``since`` is the day from which the price holds.

    ``before_usd_per_kg`` is what it cost a month before, ``None`` where nothing was written by
    then. ``thing`` and ``revision`` say which feed was looked at, ``feed_id`` what it is called in
    the tables of the farm.
    """

    there: FarmThere
    thing: UUID
    revision: int
    name: str
    usd_per_kg: float
    since: date
    before_usd_per_kg: float | None
    feed_id: str


def read_prices(person: Any, day: date) -> tuple[PriceThere, ...]:
    """Return what feeds cost on the farms of which a person may read costs.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    day : date
        The day a month before which prices are compared with.

    Returns
    -------
    tuple of PriceThere
        By farm, in few queries however many there are.

    Raises
    ------
    NotThere
        If there is no farm of which the person may read costs.
    """
    farms = priced_farms(person)
    # States are only added, so as long as there are as many nothing was written.
    key = (farms, records.FeedState.objects.count(), day)
    return held_or_read(_held, key, lambda: _read_prices(farms, day))


#: Prices of many farms by the farms, how many states of feeds the book has, and the day.
_held: Final = Held[tuple[tuple[FarmThere, ...], int, date], tuple[PriceThere, ...]](8)


def _read_prices(there: Sequence[FarmThere], day: date) -> tuple[PriceThere, ...]:
    farms = {one.season: one for one in there}
    rows = records.FeedState.objects.filter(season_id__in=list(farms)).order_by("revision")
    states: dict[tuple[UUID, UUID], list[_State]] = defaultdict(list)
    for season, thing, *said, written in rows.values_list(
        "season_id", "thing_id", "revision", "name", "price_usd_per_kg", "day", "counts",
        "feed_id", "written_by__at",
    ):  # fmt: skip
        revision, name, price, on, counts, feed_id = said
        since = on or day_at(farms[season].time_zone, written)
        states[season, thing].append(
            _State(revision, name, price, since, on is not None, counts, feed_id)
        )
    return tuple(
        _price_there(farms[season], thing, told, day)
        for (season, thing), told in states.items()
        if told[-1].counts
    )


@dataclass(frozen=True, slots=True)
class _State:
    """A feed as it was written once; ``agreed`` where a day was named."""

    revision: int
    name: str
    price: float
    since: date
    agreed: bool
    counts: bool
    feed_id: str


def _price_there(there: FarmThere, thing: UUID, states: Sequence[_State], day: date) -> PriceThere:
    held = [states[0]]
    for one in states[1:]:
        # What was written of something else than the price leaves the price its day.
        if one.price != held[-1].price or one.agreed:
            held.append(one)
    now, then = states[-1], [one for one in held if one.since <= day - MONTH]
    before = then[-1].price if then else None
    since = held[-1].since
    return PriceThere(there, thing, now.revision, now.name, now.price, since, before, now.feed_id)


@dataclass(frozen=True, slots=True)
class FeedSeen:
    """A feed of a season as somebody looked at it."""

    season: UUID
    thing: UUID
    revision: int


def write_price(
    person: Any, feeds: Sequence[FeedSeen], usd_per_kg: float, day: date, fact: UUID
) -> int:
    """Write what a feed costs to several farms at once: to all of them or to none.

    Parameters
    ----------
    person : records.Person or None
        Who writes.
    feeds : sequence of FeedSeen
        The feed on each farm, as it was looked at.
    usd_per_kg : float
        The price as fed, delivered. [US dollars per kg]
    day : date
        The day on which it was agreed or seen.
    fact : UUID
        An id of this act, so that it counts once however often it is sent.

    Returns
    -------
    int
        On how many farms it stands now.

    Raises
    ------
    NotTaken
        If it breaks a rule of a farm's folder, or a farm's price was changed meanwhile; the message
        names the farm.
    """
    with transaction.atomic():
        for one in sorted(feeds, key=lambda feed: feed.season):
            season = season_there(person, one.season)
            allow("write prices", person, season.farm_id)
            things = read_things(person, one.season, "feed")
            item = next((it for thing, _, it in things if thing == one.thing), None)
            if item is None:
                raise NotThere
            try:
                write_thing(
                    person,
                    one.season,
                    "feed",
                    replace(item, price_usd_per_kg=usd_per_kg),
                    thing=one.thing,
                    seen=one.revision,
                    day=day,
                    fact=uuid5(fact, str(one.season)),
                    service="write prices",
                )
            except (ChangedMeanwhile, NotTaken) as problem:
                raise NotTaken(f"{name_of(one.season)}: {problem}") from problem
    return len(feeds)


def priced_farms(person: Any) -> tuple[FarmThere, ...]:
    """Return the farms of which a person may read costs.

    Parameters
    ----------
    person : records.Person or None
        Who asks.

    Returns
    -------
    tuple of FarmThere
        In the order of `list_farms`; at least one.

    Raises
    ------
    NotThere
        If there is none.
    """
    every = list_farms(person)
    priced = farms_where("read costs", person, (one.farm for one in every))
    if not priced:
        raise NotThere
    return tuple(one for one in every if one.farm in priced)


def name_of(season: UUID) -> str:
    """Return what the farm of a season is called, for a sentence.

    Parameters
    ----------
    season : UUID
        The season.

    Returns
    -------
    str
        The name.
    """
    rows = records.FarmState.objects.filter(thing__seasons=season).order_by("-revision")
    return str(rows.values_list("name", flat=True).first())
