"""``rickyard yard``: what stands today or on any day, and what becomes of it."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import click

from rickyard.cli.common import (
    EXIT_USAGE,
    fail,
    farm_folder_argument,
    load_farm,
    terminal,
    write_whole,
)
from rickyard.cli.days import DayOption, dry_matter_of, write_stdout

STDOUT = "-"


@click.command()
@farm_folder_argument
@click.option("--on", "day", type=DayOption(), help="The day asked about; today if left out.")
@click.option(
    "--drought", is_flag=True, help="Drought is frequent here: hold a quarter in reserve."
)
@click.option("--book", is_flag=True, help="Print the book of every lot, line by line, in bales.")
@click.option(
    "--json",
    "json_file",
    metavar="FILE",
    help="Write the page as JSON (docs/sampling.md); - writes it to standard output.",
)
@click.option(
    "--ics",
    "ics_file",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write the days to probe hot hay and to have fed risky lots by as an iCalendar file.",
)
def yard(
    folder: Path,
    day: date | None,
    drought: bool,
    book: bool,
    json_file: str | None,
    ics_file: Path | None,
) -> None:
    """Show what stands in the yard of the farm in FOLDER, what it lost and will lose."""
    from rickyard.cli.show_yard import print_yard
    from rickyard.hay.yard_page import yard_page
    from rickyard.quantities import OutOfRange
    from rickyard.sheets.plain_json import document

    farm = load_farm(folder)
    when = day or date.today()
    try:
        page = yard_page(farm, when, dry_matter_of(farm), drought_often=drought)
    except OutOfRange as error:
        fail(f"The yard cannot be told: {error}", EXIT_USAGE)
    if json_file == STDOUT:
        write_stdout(document("yard", farm=farm.name, yard=page))
    else:
        print_yard(page, farm, terminal(), with_book=book)
        if json_file is not None:
            text = document("yard", farm=farm.name, yard=page)
            write_whole(Path(json_file), text.encode("utf-8"))
            click.echo(f"JSON: {json_file}", err=True)
    if ics_file is not None:
        from rickyard.sheets.calendar import calendar_bytes, feed_by_events, heat_events

        events = (*heat_events(farm, when), *feed_by_events(farm, when))
        write_whole(ics_file, calendar_bytes(farm, events, datetime.now(UTC)))
        click.echo(f"Calendar: {ics_file}", err=True)
