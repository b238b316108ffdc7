"""``rickyard next-season``: a season begun from the last, with what is left of its hay."""

from __future__ import annotations

import sys
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli import shared
from rickyard.cli.book.place import data_option, open_at, season_named

if TYPE_CHECKING:
    from rickyard.book.services import Next


@click.command("next-season")
@click.argument("farm")
@click.option("--start", type=shared.DayOption(), required=True, help="The first day fed.")
@click.option("--end", type=shared.DayOption(), required=True, help="The first day no longer fed.")
@click.option(
    "--counted",
    type=shared.DayOption(),
    help="The morning as of which hay is left over; else today.",
)
@click.option(
    "--price",
    "priced",
    metavar="FEED=PRICE",
    multiple=True,
    help='What a feed costs now, as "cubes=390" or "cubes=+5%".',
)
@click.option("--without", metavar="FEED", multiple=True, help="A feed that is offered no more.")
@click.option("--same-prices", is_flag=True, help="Other feeds cost what they did.")
@data_option
@shared.answering
def next_season(
    farm: str,
    start: date,
    end: date,
    counted: date | None,
    priced: tuple[str, ...],
    without: tuple[str, ...],
    same_prices: bool,
    data: Path | None,
) -> None:
    """Begin a season of FARM from its last one, which stays as it was.

    What the book says is left of each lot goes over, with its tests; stock is a year older; prices
    are asked again. What is to be looked at before the season is planned is listed then.
    """
    from rickyard.book.acting import day_at
    from rickyard.book.services import begin_season, list_farms
    from rickyard.book.services import next_season as look_ahead

    with open_at(data):
        last, name = season_named(farm)
        zone = next(one.time_zone for one in list_farms(None) if one.farm == last.farm_id)
        morning = counted or day_at(zone, datetime.now(UTC))
        found = look_ahead(None, last.id, start, end, morning)
        prices = _prices(found, priced, without, same_prices=same_prices)
        done = begin_season(None, last.id, start, end, morning, prices, without=without)
    shared.say(f"{name}: the season from {start} to {end} is begun.")
    for sentence in done.questions:
        shared.say(f"- {sentence}")


def _prices(
    found: Next, priced: tuple[str, ...], without: tuple[str, ...], *, same_prices: bool
) -> dict[str, float]:
    """Return what feeds cost now: as typed, as last time, or as somebody at the terminal says."""
    from rickyard.display import display_for
    from rickyard.service import prices_asked

    prices = dict(found.prices) if same_prices else {}
    prices |= prices_asked(found.farm, priced)
    display = display_for(found.farm.units)
    for feed in found.farm.feeds:
        open_still = feed.feed_id not in prices and feed.feed_id not in without
        if open_still and sys.stdin.isatty():
            said = click.prompt(
                f"{feed.name}: {display.price_per_ton_text(feed.price_usd_per_kg)} "
                "last time. A ton now costs $"
            )
            prices |= prices_asked(found.farm, [f"{feed.feed_id}={said}"])
    return {name: price for name, price in prices.items() if name not in without}
