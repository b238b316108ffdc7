"""``rickyard import`` and ``rickyard export``: farm folders into the record book and out again."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from rickyard.cli import shared
from rickyard.cli.book.place import data_option, open_at, season_named


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
@shared.file_option(
    "--program",
    "program_file",
    "Write the program that was adopted as JSON, for week, why and farms with --plan.",
)
@data_option
@shared.answering
def export(
    farm: str,
    folder: Path,
    start: date | None,
    replace: bool,
    program_file: Path | None,
    data: Path | None,
) -> None:
    """Write a farm of the record book as a farm folder.

    FARM is its name, or a part of it that no other farm has. The newest season is written, in the
    columns and units of the folder that it came from.
    """
    from rickyard.book.services import export_farm, read_program
    from rickyard.sheets.data_files import plan_json

    with open_at(data):
        season, name = season_named(farm, start)
        wanted = program_file is not None
        kept = read_program(None, season.id, only_adopted=True) if wanted else None
        if wanted and kept is None:
            shared.fail(
                f"{name} feeds by no program of the record book yet. Adopt one on its season's "
                "page (rickyard serve), or leave --program out.",
                shared.EXIT_USAGE,
            )
        export_farm(None, season.id, folder, replace_old=replace)
    shared.say(f"{name}: {folder}")
    if kept is not None:
        shared.write_text("Program", program_file, plan_json(kept.planned.program))
