"""``rickyard years``: the seasons of a farm side by side, and what its hay tested."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli import shared
from rickyard.cli.book.place import data_option, open_at, season_named

if TYPE_CHECKING:
    from rich.console import Console

    from rickyard.book.years import YearsTold


@click.command()
@click.argument("farm")
@click.option("--on", "day", type=shared.DayOption(), help="The last day looked at; else today.")
@data_option
@shared.answering
def years(farm: str, day: date | None, data: Path | None) -> None:
    """Set the seasons of FARM side by side: hay put up, bought, fed, sold and left, cost, quality.

    FARM is its name, or a part of it that no other farm has. What nobody noted is in no sum.
    """
    from rickyard.book.acting import day_at
    from rickyard.book.services import list_farms
    from rickyard.book.years import told_of_years, years_of

    with open_at(data):
        season, _ = season_named(farm)
        zone = next(one.time_zone for one in list_farms(None) if one.farm == season.farm_id)
        found = years_of(None, season.farm_id, day or day_at(zone, datetime.now(UTC)))
    _print(told_of_years(found), shared.terminal())


def _print(told: YearsTold, console: Console) -> None:
    from rickyard.cli.show import parts

    parts.say(console, told.answer, "bold")
    parts.say(console, told.lede)
    parts.heading(console, "Hay by season, as fed")
    heads = ("Season", ">Left over", ">Put up", ">Bought", ">Fed", ">Sold", ">Lost or found",
             ">Storage took", ">Left")  # fmt: skip
    table = parts.columns(*heads)
    for one in told.seasons:
        went = (one.fed, one.sold, one.odd, one.storage, one.left)
        season = f"{one.season} so far" if one.is_open else one.season
        table.add_row(season, one.over, one.put_up, one.bought, *went)
    parts.say(console, table)
    parts.heading(console, "Feed, cost and quality of new hay")
    table = parts.columns("Season", ">Feed noted", ">Cost", ">A ton as fed", ">Protein", ">TDN",
                          ">Of it tested")  # fmt: skip
    for one in told.seasons:
        good = (one.protein, one.tdn, one.tested)
        table.add_row(one.season, one.feed, one.cost or "none noted", one.a_ton, *good)
    parts.say(console, table)
    if not told.quality:
        return
    parts.heading(console, "What hay tested, in the dry matter")
    heads = ("Forage", ">Year", "Field", ">Cut", ">Lots tested", ">Dry matter", ">Protein", ">TDN",
             ">Fiber (NDF)")  # fmt: skip
    table = parts.columns(*heads)
    for hay in told.quality:
        where = (hay.forage, hay.year, hay.field, hay.cutting, hay.lots, hay.dry)
        table.add_row(*where, hay.protein, hay.tdn, hay.ndf)
    parts.say(console, table)
