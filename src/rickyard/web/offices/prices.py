"""The pages of feeds' prices: all feeds across the farms, and one of them to be written."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_safe

from rickyard.book.acting import NotTaken, NotThere
from rickyard.book.pricing import FeedSeen, PriceThere, read_prices, write_price
from rickyard.book.services import list_farms, read_farm
from rickyard.folder.tables import FEEDS, parse_date
from rickyard.web.asked import day_asked, fact_or_new, page, whole_asked
from rickyard.web.sections import feed_key, feed_page, prices_shown
from rickyard.web.shown import addresses
from rickyard.web.typed import faults_told, texts_of, typed

_LACKING = {"price_usd_per_kg": "Write what it costs."}


@require_safe
def prices(request: Any) -> HttpResponse:
    """Show what feeds cost on all farms, since when, and what changed within a month.

    Parameters
    ----------
    request : HttpRequest
        May name the day.

    Returns
    -------
    HttpResponse
        The page.
    """
    day = _day(request)
    shown = prices_shown(read_prices(request.person, day), day)
    return page(request, "prices.html", shown=shown, district=True, here="prices")


@require_http_methods(["GET", "HEAD", "POST"])
def price(request: Any) -> HttpResponse:
    """Show what a feed costs on each farm, and write a price to those that are ticked.

    Parameters
    ----------
    request : HttpRequest
        Names the feed; a form holds the price and the farms.

    Returns
    -------
    HttpResponse
        The page.
    """
    if "feed" not in request.GET:
        return redirect("prices")
    day, key = _day(request), feed_key(request.GET["feed"])
    found = [one for one in read_prices(request.person, day) if feed_key(one.name) == key]
    if not found:
        raise NotThere
    faults: Mapping[str, str] = {}
    elsewhere: tuple[str, ...] = ()
    if request.method == "POST":
        try:
            faults = _write(request, found, day)
        except NotTaken as problem:
            faults, elsewhere = faults_told(problem, FEEDS)
        if not faults and not elsewhere:
            return redirect("prices")
    return page(
        request,
        "price.html",
        422 if faults or elsewhere else 200,
        shown=feed_page(found, addresses(list_farms(request.person))),
        said=request.POST,
        ticked=request.POST.getlist("farm"),
        faults=faults,
        elsewhere=elsewhere,
        today=day,
        district=True,
        here="prices",
    )


def _day(request: Any) -> date:
    """Return the day that is asked for, or today on the first farm of the list."""
    farms = list_farms(request.person)
    if not farms:
        raise NotThere
    return day_asked(request, farms[0])


def _write(request: Any, found: list[PriceThere], today: date) -> Mapping[str, str]:
    """Write the price that was typed to the farms that are ticked; return what is at fault."""
    farm = read_farm(request.person, found[0].there.season)
    texts = texts_of(request.POST, ("price_usd_per_kg",))
    said = typed(FEEDS, texts, farm, _LACKING)
    day, on = today, request.POST.get("on", "").strip()
    try:
        day = parse_date(on) if on else today
    except ValueError as error:
        said.faults["on"] = f"{error}"
    if day > today:
        said.faults["on"] = f"{day} is after today, {today}. Write the day you saw the price."
    seen = [_seen(one) for one in request.POST.getlist("farm")]
    if not seen:
        said.faults["farm"] = "Tick the farms on which it is to count."
    if said.faults:
        return said.faults
    write_price(request.person, seen, said.values["price_usd_per_kg"], day, fact_or_new(request))
    return {}


def _seen(said: str) -> FeedSeen:
    """Return a feed of a season and its revision as the form holds them."""
    season, _, rest = said.partition(".")
    thing, _, revision = rest.partition(".")
    try:
        return FeedSeen(UUID(season), UUID(thing), whole_asked(revision) or 0)
    except ValueError as error:
        raise NotThere from error
