"""``rickyard week``: what a helper puts out this week, in the terminal and on paper."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli.shared import (
    EXIT_USAGE,
    DayOption,
    check_day,
    checked_program,
    fail,
    farm_folder_argument,
    load_farm,
    seconds_option,
    terminal,
    write_whole,
)

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.program.result import SeasonProgram


@click.command()
@farm_folder_argument
@click.option(
    "--date",
    "day",
    type=DayOption(),
    help="A day in the week wanted; today if left out, or the first week before the season.",
)
@click.option(
    "--pdf",
    "pdf_file",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write the list as PDF, with room to write what was actually fed.",
)
@click.option("--all", "every_week", is_flag=True, help="Write every week of the season as PDF.")
@click.option(
    "--from-date",
    "from_on",
    type=DayOption(),
    help="Plan again from this day on, from the feeding log and what is left.",
)
@seconds_option
def week(
    folder: Path,
    day: date | None,
    pdf_file: Path | None,
    every_week: bool,
    from_on: date | None,
    seconds: float | None,
) -> None:
    """Show what to put out this week at the farm in FOLDER: whole bales, feeds, hay changes."""
    from rickyard.program.result import USUAL_SECONDS, PlanOptions

    if every_week and pdf_file is None:
        fail("--all writes a file.\n  Add --pdf and the name of a file.", EXIT_USAGE)
    farm = load_farm(folder)
    check_day(farm, from_on)
    options = PlanOptions(seconds=USUAL_SECONDS if seconds is None else seconds, from_on=from_on)
    program = checked_program(farm, quiet=False, options=options)
    start = _start(program, farm, day)
    if pdf_file is not None:
        write_whole(pdf_file, _pdf(program, farm, None if every_week else start))
        click.echo(f"PDF:  {pdf_file}", err=True)
    _show(program, farm, start)


def _start(program: SeasonProgram, farm: Farm, day: date | None) -> date:
    """Return the first day of the week asked for; leave with code 2 outside the season."""
    from rickyard.display import display_for
    from rickyard.sheets.paper import last_day, week_start_of
    from rickyard.sheets.wording import words_week

    asked = day or max(date.today(), program.start)
    start = week_start_of(program, asked)
    if start is None and day is None:
        start = week_start_of(program, last_day(program))
    if start is None:
        display = display_for(farm.units)
        first, last = display.day_year_text(program.start), display.day_year_text(last_day(program))
        fail(words_week.outside(display.day_year_text(asked), first, last), EXIT_USAGE)
    return start


def _pdf(program: SeasonProgram, farm: Farm, start: date | None) -> bytes:
    from rickyard.sheets.paper import week_pdf, weeks_pdf

    return weeks_pdf(program, farm) if start is None else week_pdf(program, farm, start)


def _show(program: SeasonProgram, farm: Farm, start: date) -> None:
    from rickyard.cli.show import print_week
    from rickyard.sheets.paper import week_list

    print_week(week_list(program, farm, start), farm, terminal())
