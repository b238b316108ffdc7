"""``rickyard yard``: what stands today or on any day, and what becomes of it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli.shared import (
    EXIT_USAGE,
    DayOption,
    dry_matter_of,
    fail,
    farm_folder_argument,
    load_farm,
    terminal,
    write_calendar,
    write_stdout,
    write_whole,
)

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.hay.yard import YardPage

STDOUT = "-"


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
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write days to probe hot hay and feed-by days of risky lots as an iCalendar file.",
)
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
    from rickyard.hay.yard import yard_page
    from rickyard.quantities import OutOfRange
    from rickyard.sheets.data_files import document

    farm = load_farm(folder)
    when = day or date.today()
    try:
        page = yard_page(farm, when, dry_matter_of(farm), drought_often=drought)
    except OutOfRange as error:
        fail(f"The yard cannot be worked out: {error}", EXIT_USAGE)
    if split is not None:
        _print_split(farm, page, when, split)
        return
    if json_file == STDOUT:
        write_stdout(document("yard", farm=farm.name, yard=page))
    else:
        print_yard(page, farm, terminal(), with_book=book)
        if json_file is not None:
            text = document("yard", farm=farm.name, yard=page)
            write_whole(Path(json_file), text.encode("utf-8"))
            click.echo(f"JSON: {json_file}", err=True)
    if ics_file is not None:
        from rickyard.sheets.paper import feed_by_events, heat_events

        write_calendar(farm, (*heat_events(farm, when), *feed_by_events(farm, when)), ics_file)


def _print_split(farm: Farm, page: YardPage, day: date, split: tuple[str, str, str]) -> None:
    """Print the rows of lots.csv and moves.csv that make a part of a lot a lot of its own."""
    from rickyard.farm import Storage
    from rickyard.hay.sampling import split_lot
    from rickyard.quantities import OutOfRange

    lot_id, bales, where = split
    line = next((one for one in page.lines if one.lot_id == lot_id), None)
    if line is None:
        known = ", ".join(lot.lot_id for lot in farm.lots)
        fail(f'"{lot_id}" is no lot of this farm; its lots are {known}.', EXIT_USAGE)
    if where not in list(Storage):
        fail(f'"{where}" is no way of storing; write one of {", ".join(Storage)}.', EXIT_USAGE)
    try:
        parts = split_lot(
            farm.lot(lot_id),
            float(bales),
            Storage(where),
            day,
            standing=line.standing.bales,
            bale_kg=line.standing.bale_kg,
            taken=[lot.lot_id for lot in farm.lots],
        )
    except OutOfRange as error:
        fail(f"{lot_id} cannot be split that way: {error}", EXIT_USAGE)
    except ValueError:
        fail(f'"{bales}" is not a number of bales.', EXIT_USAGE)
    part = parts.part
    click.echo(
        f"Copy the row of {lot_id} in lots.csv, change in the copy these columns, and leave the "
        "rest:"
    )
    click.echo(f"  lot = {part.lot_id}, storage = {part.storage}, bales = {part.bales:g}")
    click.echo(f"  counted_on = {day.isoformat()}, bale_weight = {part.bale_weight_kg:.1f} kg")
    click.echo("Add to moves.csv:")
    click.echo("  day,lot,kind,bales,to")
    click.echo(f"  {day.isoformat()},{lot_id},moved,{part.bales:g},{part.lot_id}")
    click.echo("From now on the two age separately: test and flag each on its own.")
