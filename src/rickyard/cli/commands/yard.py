"""``rickyard yard``: what stands today or on any day, and what becomes of it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli import shared

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.hay.yard import YardPage
    from rickyard.service import FarmPlace, OpenedFarm


@click.command()
@shared.farm_folders_argument
@click.option("--on", "day", type=shared.DayOption(), help="The day to show; today if left out.")
@click.option("--drought", is_flag=True, help="Drought is common here: keep a quarter in reserve.")
@click.option("--book", is_flag=True, help="Print every lot's book, line by line, in bales.")
@click.option(
    "--split",
    nargs=3,
    metavar="LOT BALES STORAGE",
    help="Print the rows that split off bales to be stored another way as a lot of their own.",
)
@shared.json_option("Write the page as JSON (docs/sampling.md); - writes it to standard output.")
@shared.file_option(
    "--ics",
    "ics_file",
    "Write days to probe hot hay and feed-by days of risky lots as an iCalendar file.",
)
@shared.answering
def yard(
    folders: tuple[Path, ...],
    day: date | None,
    drought: bool,
    book: bool,
    split: tuple[str, str, str] | None,
    json_file: str | None,
    ics_file: Path | None,
) -> None:
    """Show the hay on hand at the farm in FOLDER, what it lost and will lose.

    FOLDER may be several farms, or a folder of farms: then --ics is one calendar for all.
    """
    from rickyard.cli.show import print_yard
    from rickyard.service import yard_on
    from rickyard.sheets.data_files import document
    from rickyard.sheets.paper import feed_by_events, heat_events

    farms, when = shared.Farms(folders), day or date.today()
    farms.only_one(split=split)
    answer, calendar = shared.AnswerFile(farms, json_file), shared.CalendarFile(ics_file)
    farms.check([answer, calendar])

    def show(place: FarmPlace, opened: OpenedFarm) -> None:
        farm = opened.farm
        page = yard_on(farm, when, drought_often=drought)
        if split is not None:
            _print_split(farm, page, when, split)
            return
        if not answer.on_stdout:
            print_yard(page, farm, shared.terminal(), with_book=book)
        answer.add(place, lambda: document("yard", farm=farm.name, yard=page))
        calendar.add(farm.name, (*heat_events(farm, when), *feed_by_events(farm, when)))

    farms.each(show, quiet=answer.on_stdout)
    answer.finish()
    if split is None:
        calendar.finish()
    farms.finish()


def _print_split(farm: Farm, page: YardPage, day: date, split: tuple[str, str, str]) -> None:
    """Print the rows of lots.csv and moves.csv that make a part of a lot a lot of its own."""
    from rickyard.service import lot_split

    lot_id = split[0]
    part = lot_split(farm, page, day, *split).part
    shared.say(
        f"Copy the row of {lot_id} in lots.csv, change in the copy these columns, and leave the "
        "rest:"
    )
    shared.say(f"  lot = {part.lot_id}, storage = {part.storage}, bales = {part.bales:g}")
    shared.say(f"  counted_on = {day.isoformat()}, bale_weight = {part.bale_weight_kg:.1f} kg")
    shared.say("Add to moves.csv:")
    shared.say("  day,lot,kind,bales,to")
    shared.say(f"  {day.isoformat()},{lot_id},moved,{part.bales:g},{part.lot_id}")
    shared.say("From now on the two age separately: test and flag each on its own.")
