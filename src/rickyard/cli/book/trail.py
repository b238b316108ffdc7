"""``rickyard trail``: what was done on a farm, by whom and when; farms that were deleted."""

from __future__ import annotations

from pathlib import Path

import click

from rickyard.cli import shared
from rickyard.cli.book.place import data_option, open_at, season_named


@click.command()
@click.argument("farm", required=False)
@click.option(
    "--last",
    type=click.IntRange(1, 1_000_000),
    default=50,
    show_default=True,
    help="So many lines.",
)
@click.option("--deleted", is_flag=True, help="List the farms that were deleted instead.")
@data_option
@shared.answering
def trail(farm: str | None, last: int, deleted: bool, data: Path | None) -> None:
    """Show what was done on FARM, by whom and when, the newest first.

    Every action leaves a line, by the farm's clock; none is ever changed. Of a farm that was
    deleted it is kept that it was, when and by whom.
    """
    from rickyard.book.keeping import read_gone
    from rickyard.book.services import list_farms
    from rickyard.book.trails import gone_text, line_text, read_trail_page
    from rickyard.display import display_for

    if (farm is None) != deleted:
        shared.fail("Name FARM, or --deleted for those that are gone.", shared.EXIT_USAGE)
    with open_at(data):
        if farm is None:
            lines = [gone_text(one, display_for("us")) for one in read_gone(None)[::-1]]
            shared.say("\n".join(lines) or "No farm was deleted.")
            return
        season, _ = season_named(farm)
        there = next(one for one in list_farms(None) if one.farm == season.farm_id)
        found = read_trail_page(None, there.farm, most=last)
    display = display_for(there.units)
    for entry in found.entries:
        shared.say(line_text(entry, there.time_zone, display))
    if found.before:
        shared.aside("Older lines are left out: --last reads more.")
