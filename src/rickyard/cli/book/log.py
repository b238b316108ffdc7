"""``rickyard log``: what was fed, as a helper would write it, into the record book after a look."""

from __future__ import annotations

import sys
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli import shared
from rickyard.cli.book.place import data_option, open_at, season_named

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rickyard.book.noting import Understood
    from rickyard.farm import Farm


@click.command()
@click.argument("farm")
@click.argument("lines", metavar="[LINE...]", nargs=-1)
@click.option("--on", "day", type=shared.DayOption(), help="What today is; else the farm's day.")
@click.option("--yes", is_flag=True, help="Write what was understood without asking.")
@data_option
@click.pass_context
@shared.answering
def log(
    context: click.Context,
    farm: str,
    lines: tuple[str, ...],
    day: date | None,
    yes: bool,
    data: Path | None,
) -> None:
    """Note what was fed or sold, in lines such as "Dec 4 cows 2 hill, corn 74 lb".

    A line names the day (today where none is said), the group, and amounts with the lot or feed of
    each; "sold 12 tarp", "bought 20 ton grass", "lost 2 hill" and "count hill 34" are about hay
    itself. Without LINE the lines are read from standard input, so that several can be pasted. What
    was understood is shown first; nothing is written where a line is not clear. A line that comes
    twice counts once.
    FARM is a farm's name, or a part of it that no other farm has.
    """
    from rickyard.book.acting import day_at
    from rickyard.book.noting import doubts, look, note
    from rickyard.book.services import list_farms, read_farm

    text = "\n".join(lines) if lines else sys.stdin.read()
    with open_at(data):
        season, _ = season_named(farm)
        zone = next(one.time_zone for one in list_farms(None) if one.farm == season.farm_id)
        today = day or day_at(zone, datetime.now(UTC))
        found = look(None, season.id, text, today)
        if not found:
            shared.fail('Write what was fed, as: "Dec 4 cows 2 hill, corn 74 lb".', 2)
        if not _shown(found, read_farm(None, season.id)):
            shared.fail("Nothing was written. Put the lines right and send them again.", 2)
        for question in doubts(None, season.id, found):
            shared.aside(question)
        if not yes and not _is_wanted(lines):
            shared.say("Nothing was written.")
            context.exit(1)
        noted = note(None, season.id, found)
    for question in dict.fromkeys(one for row in noted for one in row.questions):
        shared.aside(question)
    new = sum(one.is_new for one in noted)
    before = len(noted) - new
    stood = f" {before} stood there already." if before else ""
    shared.say(f"{new} of {len(noted)} entries were written.{stood}")


def _shown(found: Sequence[Understood], farm: Farm) -> bool:
    """Show what each line was understood as; return whether all are clear."""
    from rickyard.book.noting import told_row

    for line in found:
        if line.fault:
            shared.aside(f"{line.line}\n  not clear: {line.fault}")
            continue
        shared.say(line.line)
        for row in line.rows:
            shared.say(f"  {told_row(row, farm)}")
    return not any(line.fault for line in found)


def _is_wanted(lines: Sequence[str]) -> bool:
    """Ask whether to write; who pastes the lines into standard input cannot be asked there."""
    if not lines:
        shared.fail("Add --yes to write lines that are read from standard input.", 2)
    return click.confirm("Write these?", default=False)
