"""``rickyard yard``: what stands today or on any day, and what becomes of it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli.shared import (
    STDOUT,
    DayOption,
    answering,
    farm_folder_argument,
    open_folder,
    say,
    terminal,
    to_file,
    write_calendar,
    write_stdout,
    write_text,
)

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.hay.yard import YardPage


@click.command()
@farm_folder_argument
@click.option("--on", "day", type=DayOption(), help="The day to show; today if left out.")
@click.option("--drought", is_flag=True, help="Drought is common here: keep a quarter in reserve.")
@click.option("--book", is_flag=True, help="Print every lot's book, line by line, in bales.")
@click.option(
    "--split",
    nargs=3,
    metavar="LOT BALES STORAGE",
    help="Print the rows that split off bales to be stored another way as a lot of their own.",
)
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
    type=click.Path(path_type=Path),
    help="Write days to probe hot hay and feed-by days of risky lots as an iCalendar file.",
)
@answering
def yard(
    folder: Path,
    day: date | None,
    drought: bool,
    book: bool,
    split: tuple[str, str, str] | None,
    json_file: str | None,
    ics_file: Path | None,
) -> None:
    """Show the hay on hand at the farm in FOLDER, what it lost and will lose."""
    from rickyard.cli.show import print_yard
    from rickyard.service import check_outputs, yard_on
    from rickyard.sheets.data_files import document

    file = to_file(json_file)
    check_outputs([file, ics_file], folder)
    farm = open_folder(folder).farm
    when = day or date.today()
    page = yard_on(farm, when, drought_often=drought)
    if split is not None:
        _print_split(farm, page, when, split)
        return
    text = document("yard", farm=farm.name, yard=page)
    if json_file == STDOUT:
        write_stdout(text)
    else:
        print_yard(page, farm, terminal(), with_book=book)
        write_text("JSON", file, text)
    if ics_file is not None:
        from rickyard.sheets.paper import feed_by_events, heat_events

        write_calendar(farm, (*heat_events(farm, when), *feed_by_events(farm, when)), ics_file)


def _print_split(farm: Farm, page: YardPage, day: date, split: tuple[str, str, str]) -> None:
    """Print the rows of lots.csv and moves.csv that make a part of a lot a lot of its own."""
    from rickyard.service import lot_split

    lot_id = split[0]
    part = lot_split(farm, page, day, *split).part
    say(
        f"Copy the row of {lot_id} in lots.csv, change in the copy these columns, and leave the "
        "rest:"
    )
    say(f"  lot = {part.lot_id}, storage = {part.storage}, bales = {part.bales:g}")
    say(f"  counted_on = {day.isoformat()}, bale_weight = {part.bale_weight_kg:.1f} kg")
    say("Add to moves.csv:")
    say("  day,lot,kind,bales,to")
    say(f"  {day.isoformat()},{lot_id},moved,{part.bales:g},{part.lot_id}")
    say("From now on the two age separately: test and flag each on its own.")
