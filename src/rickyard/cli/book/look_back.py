"""``rickyard look-back``: what was fed against the program, and what became of the hay."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli import shared
from rickyard.cli.book.place import data_option, open_at, season_named

if TYPE_CHECKING:
    from rich.console import Console

    from rickyard.book.looking import CostsTold, LookBack, Told


@click.command("look-back")
@click.argument("farm")
@click.option("--on", "day", type=shared.DayOption(), help="The last day looked at; else today.")
@click.option(
    "--season", "start", type=shared.DayOption(), help="First day of the season; else the newest."
)
@click.option(
    "--take-intake", "take", is_flag=True, help="Count with what the log says that stock eat."
)
@click.option(
    "--give-back-intake", "give_back", is_flag=True, help="Count again as before that was taken."
)
@data_option
@shared.answering
def look_back(
    farm: str,
    day: date | None,
    start: date | None,
    take: bool,
    give_back: bool,
    data: Path | None,
) -> None:
    """Look back: what was fed against the program, and hay that no line explains.

    FARM is its name, or a part of it that no other farm has. What nobody noted is not known, and
    is never taken for nothing. Nothing is changed but by --take-intake, which writes what the log
    says of appetite into the season, and --give-back-intake, which takes that out again.
    """
    from rickyard.book.acting import day_at
    from rickyard.book.looking import give_back_intake, take_intake, told_of_look
    from rickyard.book.looking import look_back as look_at
    from rickyard.book.services import list_farms

    if take and give_back:
        shared.fail("Take it or give it back, not both.", shared.EXIT_USAGE)
    with open_at(data):
        season, _ = season_named(farm, start)
        zone = next(one.time_zone for one in list_farms(None) if one.farm == season.farm_id)
        on = day or day_at(zone, datetime.now(UTC))
        if give_back:
            give_back_intake(None, season.id)
        found = look_at(None, season.id, on)
        if take:
            offered = None if found.appetite is None else found.appetite.offered_pct
            take_intake(None, season.id, on, offered or 0.0)
            found = look_at(None, season.id, on)
    _print(found, told_of_look(found), shared.terminal())


def _print(found: LookBack, told: Told, console: Console) -> None:
    from rickyard.cli.show import parts

    parts.say(console, told.answer, "bold")
    parts.say(console, told.lede)
    parts.cautions(console, found.cautions, found.farm, "Fed, and not by the program")
    if found.cautions:
        parts.say(console, "Before more is fed, ask your extension office or a veterinarian.")
    if told.fed:
        parts.heading(console, "Fed against the program")
        table = parts.columns("Group", "What", ">Planned", ">Fed", ">Difference")
        for row in told.fed:
            table.add_row(row.group, row.what, row.planned, row.fed, row.differs)
        parts.say(console, table)
        parts.sentences(console, "Group by group", told.groups)
    parts.heading(console, "What became of the hay")
    heads = ("Lot", ">Came", ">Fed", ">Sold", ">Other", ">Unexplained", ">Left", ">Storage took")
    table = parts.columns(*heads)
    for one in told.hay:
        ends = (one.fed, one.sold, one.other, one.odd, one.left, one.storage)
        table.add_row(one.lot, one.came, *ends)
    parts.say(console, table)
    parts.sentences(console, "What the book cannot explain", told.odd)
    parts.sentences(console, "What weigh tickets say", told.weights)
    parts.sentences(console, "What repeat tests say of dry matter", told.dry_matter)
    parts.sentences(console, "What the stock ate", (*told.ate, *told.appetite))
    if told.costs is not None:
        _print_costs(told.costs, console)


def _print_costs(told: CostsTold, console: Console) -> None:
    from rickyard.cli.show import parts

    parts.heading(console, "What it cost")
    parts.say(console, told.answer)
    table = parts.columns("Group", ">Cost", ">A head", ">A head and day", ">A ton as fed")
    for group in told.groups:
        table.add_row(group.group, group.cost, group.a_head, group.a_day, group.a_ton)
    parts.say(console, table)
    table = parts.columns("Group", "What", ">Put out", ">Cost", ">A ton as fed")
    for one in told.lines:
        table.add_row(one.who, one.what, one.put_out, one.cost, one.a_ton)
    parts.say(console, table)
    parts.sentences(console, "", told.remarks)
