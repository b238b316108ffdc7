"""``rickyard week``: what a helper puts out this week, in the terminal and on paper."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import click

from rickyard.cli.shared import (
    EXIT_USAGE,
    DayOption,
    answering,
    fail,
    farm_folder_argument,
    open_folder,
    plan_file_option,
    plan_options,
    program_for,
    terminal,
    write_text,
)


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
    type=click.Path(path_type=Path),
    help="Write the list as PDF, with room to write what was actually fed.",
)
@click.option("--all", "every_week", is_flag=True, help="Write every week of the season as PDF.")
@plan_file_option
@plan_options
@answering
def week(
    folder: Path,
    day: date | None,
    pdf_file: Path | None,
    every_week: bool,
    plan_file: Path | None,
    **how: Any,
) -> None:
    """Show what to put out this week at the farm in FOLDER: whole bales, feeds, hay changes.

    With --plan it is the list of the program that was adopted, the one on the wall; without it a
    program is made first, which may differ from that one.
    """
    from rickyard.cli.show import print_week
    from rickyard.service import check_outputs, list_week, week_start
    from rickyard.sheets.paper import week_pdf, weeks_pdf

    if every_week and pdf_file is None:
        fail("--all writes a file.\n  Add --pdf and the name of a file.", EXIT_USAGE)
    check_outputs([pdf_file], folder)
    opened = open_folder(folder)
    planned = program_for(opened, plan_file, how, quiet=False)
    program, farm = planned.program, planned.farm
    start = week_start(program, farm, day, date.today())
    if pdf_file is not None:
        paper = weeks_pdf(program, farm) if every_week else week_pdf(program, farm, start)
        write_text("PDF", pdf_file, paper)
    print_week(list_week(planned, start), farm, terminal())
