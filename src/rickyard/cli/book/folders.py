"""``rickyard import`` and ``rickyard export``: farm folders into the record book and out again."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import click

from rickyard.cli import shared
from rickyard.cli.book.place import data_option, open_at


@click.command("import")
@click.argument(
    "folders", metavar="FOLDER...", nargs=-1, required=True, type=click.Path(path_type=Path)
)
@data_option
@click.pass_context
@shared.answering
def import_(context: click.Context, folders: tuple[Path, ...], data: Path | None) -> None:
    """Take farm folders into the record book.

    FOLDER is a farm folder, or a folder that holds farm folders. Each comes in whole or not at all,
    and once however often it is named. Exit code 3 says that a folder has errors; the others are
    in the book.
    """
    from rickyard.book.folders import take_in
    from rickyard.service import ServiceError, find_farms

    code = 0
    with open_at(data, create=True) as place:
        for farm in find_farms(folders):
            try:
                taken = take_in(farm.folder)
            except ServiceError as problem:
                shared.aside(str(problem))
                code = max(code, shared.exit_code(problem))
                continue
            for question in taken.questions:
                shared.aside(question)
            how = "is in the record book" if taken.is_new else "stood in the record book already"
            shared.say(f"{taken.farm_name} {how}: {place}")
    context.exit(code)


@click.command()
@click.argument("farm")
@click.option("--out", "folder", metavar="FOLDER", required=True, type=click.Path(path_type=Path))
@click.option(
    "--season", "start", type=shared.DayOption(), help="First day of the season; else the newest."
)
@click.option("--replace", is_flag=True, help="Replace the farm that is in FOLDER.")
@data_option
@shared.answering
def export(farm: str, folder: Path, start: date | None, replace: bool, data: Path | None) -> None:
    """Write a farm of the record book as a farm folder.

    FARM is its name. The newest season is written, in the columns and units of the folder that it
    came from.
    """
    from rickyard.book.services import export_farm

    with open_at(data):
        season = _season(farm, start)
        export_farm(None, season.id, folder, replace_old=replace)
    shared.say(f"{farm}: {folder}")


def _season(farm: str, start: date | None) -> Any:
    """Return the season that is meant; leave with a sentence where that is not clear."""
    from rickyard.book.folders import seasons_of
    from rickyard.book.services import read_farm

    found = seasons_of(farm)
    if not found:
        known = ", ".join(sorted({name for _, name in seasons_of("")})) or "none"
        shared.fail(f'The record book has no farm "{farm}". Its farms: {known}.', shared.EXIT_USAGE)
    days = [(read_farm(None, season.id).season.start, season) for season, _ in found]
    wanted = start or days[0][0]
    meant = [season for day, season in days if day == wanted]
    if len(meant) != 1:
        starts = ", ".join(str(day) for day, _ in days)
        shared.fail(
            f'"{farm}" has {len(meant)} seasons from {wanted}. Its seasons begin on {starts}; name '
            "one with --season. Of two farms of one name give one another name first.",
            shared.EXIT_USAGE,
        )
    return meant[0]
