"""``rickyard farms``: many farms on one page, who is short, what is due and what is dangerous."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from rickyard.cli import shared

if TYPE_CHECKING:
    from rickyard.service import OfficePage

_MOST_DAYS: Final = 366


@click.command()
@shared.farm_folders_argument
@click.option(
    "--on", "day", type=shared.DayOption(), help="The day of the page; today if left out."
)
@click.option(
    "--days",
    type=click.IntRange(1, _MOST_DAYS),
    default=14,
    show_default=True,
    help="Show what is due within this many days.",
)
@click.option(
    "--plan",
    "plans",
    metavar="FOLDER",
    type=click.Path(path_type=Path, exists=True, file_okay=False),
    help="A folder of adopted programs, as rickyard plan FOLDER... --json FOLDER writes it; farms "
    "without one in it are planned.",
)
@click.option(
    "--rough", is_flag=True, help="Plan nothing: judge by the hay in the yard, which takes no time."
)
@shared.json_option("Write the page as JSON (docs/commands.md); - writes it to standard output.")
@shared.file_option(
    "--ics", "ics_file", "Write all that is due, and not only soon, into one calendar."
)
@shared.plan_options
@shared.yes_option
@shared.answering
def farms(
    folders: tuple[Path, ...],
    day: date | None,
    days: int,
    plans: Path | None,
    rough: bool,
    json_file: str | None,
    ics_file: Path | None,
    yes: bool,
    **how: Any,
) -> None:
    """Show of the farms in FOLDER... who is short, what is due and what is dangerous.

    FOLDER is a farm, or a folder of farms. Each farm is planned, or taken from the programs that
    were adopted; a folder with errors does not hold up the others.
    """
    from rickyard.cli.show_many import print_office
    from rickyard.display import display_for
    from rickyard.service import OfficeRequest, office_json, office_page

    many = shared.Farms(folders)
    many.only_one(pin=how["pins"])
    answer, calendar = shared.AnswerFile(many, json_file), shared.CalendarFile(ics_file)
    many.check([answer.path, calendar])
    many.weigh(shared.request_of(how), yes=yes, programs=0 if rough or plans else 1)
    request = OfficeRequest(day or date.today(), days, shared.request_of(how), plans, rough)
    with shared.working(answer.on_stdout) as (say, stop):
        page = office_page(many.places, request, progress=say, stop=stop)
    answer.write(lambda: office_json(page))
    if not answer.on_stdout:
        print_office(page, shared.terminal(), display_for(page.units))
    _write_calendar(page, calendar)
    _tell_faults(page, many)


def _write_calendar(page: OfficePage, calendar: shared.CalendarFile) -> None:
    for name, events in page.events():
        calendar.add(name, events)
    calendar.finish()


def _tell_faults(page: OfficePage, many: shared.Farms) -> None:
    places = {place.label: place for place in many.places}
    for one in page.not_read:
        many.leave_out(places[one.folder], one.problem)
    sys.stdout.flush()
    many.finish()
