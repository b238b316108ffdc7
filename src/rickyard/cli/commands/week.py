"""``rickyard week``: what a helper puts out this week, in the terminal and on paper."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from rickyard.cli import shared

if TYPE_CHECKING:
    from rickyard.service import FarmPlace, OpenedFarm


@click.command()
@shared.farm_folders_argument
@click.option(
    "--on",
    "--date",
    "day",
    type=shared.DayOption(),
    help="A day in the week wanted, as 2026-11-16; today if left out, or the first week before the "
    "season.",
)
@shared.file_option(
    "--pdf", "pdf_file", "Write the list as PDF, with room to write what was actually fed."
)
@click.option("--all", "every_week", is_flag=True, help="Write every week of the season as PDF.")
@shared.plan_file_option
@shared.plan_options
@shared.yes_option
@shared.answering
def week(
    folders: tuple[Path, ...],
    day: date | None,
    pdf_file: Path | None,
    every_week: bool,
    plan_file: Path | None,
    yes: bool,
    **how: Any,
) -> None:
    """Show what to put out this week at the farm in FOLDER: whole bales, feeds, hay changes.

    With --plan it is the list of the program that was adopted, the one on the wall; without it a
    program is made first, which may differ from that one. FOLDER may be several farms, or a folder
    of farms: then --pdf is one file with the lists of all, or a folder for a file of each.
    """
    from rickyard.cli.show import print_week
    from rickyard.service import week_start
    from rickyard.sheets.paper import week_list, week_pdf, weeks_pdf

    if every_week and pdf_file is None:
        shared.fail("--all writes a file.\n  Add --pdf and the name of a file.", shared.EXIT_USAGE)
    farms = shared.Farms(folders)
    farms.only_one(pin=how["pins"])
    paper = shared.AnswerFile(farms, pdf_file, shared.PDF)
    farms.check([paper])
    farms.weigh(shared.request_of(how), yes=yes, programs=0 if plan_file else 1)

    def show(place: FarmPlace, opened: OpenedFarm) -> None:
        adopted = farms.plan_of(place, plan_file)
        planned = shared.program_for(opened, adopted, how, quiet=False)
        program, farm = planned.program, planned.farm
        start = week_start(program, farm, day, date.today())
        paper.add(
            place,
            lambda: weeks_pdf(program, farm) if every_week else week_pdf(program, farm, start),
        )
        print_week(week_list(program, farm, start), farm, shared.terminal())

    farms.each(show)
    paper.finish()
    farms.finish()
