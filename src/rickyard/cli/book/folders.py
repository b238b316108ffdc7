"""``rickyard import`` and ``rickyard export``: farm folders into the record book and out again."""

from __future__ import annotations

import zipfile
from contextlib import ExitStack
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

    FOLDER is a farm folder, a folder that holds farm folders, or a zip of them. Each comes in whole
    or not at all, and once however often it is named. Exit code 3 says that a folder has errors;
    the others are in the book.
    """
    from rickyard.book.folders import take_in
    from rickyard.book.keeping import office_folders
    from rickyard.service import ServiceError, find_farms

    code = 0
    with open_at(data, create=True) as place, ExitStack() as open_zips:
        named = [
            open_zips.enter_context(office_folders(one)) if zipfile.is_zipfile(one) else one
            for one in folders
        ]
        for farm in find_farms(named):
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
@click.argument("farm", required=False)
@click.option("--out", "folder", metavar="FOLDER", type=click.Path(path_type=Path))
@shared.file_option("--office", "office", "Write every season into one zip instead.")
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
    farm: str | None,
    folder: Path | None,
    office: Path | None,
    start: date | None,
    replace: bool,
    program_file: Path | None,
    data: Path | None,
) -> None:
    """Write a farm of the record book as a farm folder.

    FARM is its name, or a part of it that no other farm has. The newest season is written, in the
    columns and units of the folder that it came from. With --office every season goes into one zip,
    which rickyard import takes: those of FARM, or of every farm where none is named.
    """
    if office is not None and folder is None:
        _write_office(office, farm, data)
        return
    if farm is None or folder is None or office is not None:
        shared.fail("Name FARM and --out FOLDER, or --office FILE.", shared.EXIT_USAGE)
    from rickyard.book.base import BookProblem
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
        try:
            export_farm(None, season.id, folder, replace_old=replace)
        except BookProblem as problem:
            hint = "" if replace or not folder.exists() else "\n  --replace replaces it."
            shared.fail(f"{problem}{hint}", shared.EXIT_USAGE)
    shared.say(f"{name}: {folder}")
    if kept is not None:
        shared.write_text("Program", program_file, plan_json(kept.planned.program))


def _write_office(file: Path, farm: str | None, data: Path | None) -> None:
    """Write every season of a farm, or of every farm, into one zip."""
    from rickyard.book.keeping import write_office, write_seasons

    with open_at(data):
        if farm is None:
            count = write_office(file)
        else:
            count = write_seasons(None, season_named(farm)[0].farm_id, file)
    shared.say(f"{file}: {count:,} farm folder{'s' if count != 1 else ''}.")
