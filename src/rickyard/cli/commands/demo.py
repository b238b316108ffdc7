"""``rickyard demo``: the whole job on an invented farm, in one command."""

from __future__ import annotations

import shutil
import webbrowser
from importlib.resources import as_file, files
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from rickyard.cli import shared

if TYPE_CHECKING:
    from rickyard.service import OpenedFarm, Planned

FOLDER: Final = "larkmoor"


@click.command()
@click.option(
    "--out",
    metavar="FOLDER",
    default="rickyard-demo",
    show_default=True,
    type=click.Path(path_type=Path, file_okay=False),
    help="Where to put the farm folder, the PDF and the JSON.",
)
@click.option("--serve", "is_served", is_flag=True, help="Show it in a browser then, until Ctrl-C.")
@shared.answering
def demo(out: Path, is_served: bool) -> None:
    """Plan the winter of an invented farm and show where the files are.

    The farm folder is copied so that you can change it and plan it again; a folder that
    already exists is kept as you left it.
    """
    from rickyard.cli.show import print_program
    from rickyard.service import FolderFaulty, PlanRequest, check_outputs
    from rickyard.sheets.data_files import plan_json
    from rickyard.sheets.paper import season_pdf

    folder = out / FOLDER
    was_there = folder.exists()
    if not was_there:
        _copy_farm(folder)
    pdf, document = out / "season-program.pdf", out / "season-program.json"
    check_outputs([pdf, document], folder)
    try:
        opened = shared.open_folder(folder)
    except FolderFaulty as faults:
        hint = (
            f"\n{folder} was there before and was kept as it is. Put right what is named, remove "
            "the folder to have a fresh copy, or name another place with --out."
        )
        shared.fail(f"{faults}{hint if was_there else ''}", shared.EXIT_FOLDER)
    planned = _standing(opened, document) or shared.new_program(opened, PlanRequest(), quiet=False)
    program, farm = planned.program, planned.farm
    print_program(program, farm, shared.terminal())
    shared.write_text("PDF", pdf, season_pdf(program, farm))
    shared.write_text("JSON", document, plan_json(program))
    shared.say()
    shared.say(f"The farm folder:    {folder}")
    shared.say(f"The sheet to print: {pdf}")
    shared.say(f"The whole program:  {document}")
    shared.say("Change a table in the farm folder and run the same command again.")
    if is_served:
        _serve(folder, out / "book")
    else:
        shared.say(f'To see it in a browser: rickyard import "{folder}", then rickyard serve.')


def _standing(opened: OpenedFarm, document: Path) -> Planned | None:
    """Return the program written before where the folder is as it was then, and else nothing."""
    from rickyard.service import NotUnderstood, PlanRequest, adopted_plan, request_of

    if not document.exists():
        return None
    try:
        planned = adopted_plan(opened, document)
    except NotUnderstood:
        # What was written there is of another farm or another version: it is written anew.
        return None
    if planned.warnings or request_of(planned.program) != PlanRequest():
        return None
    shared.say(f"{opened.farm.name} is as it was: this is the program of {document}.")
    return planned


def _serve(folder: Path, data: Path) -> None:
    """Show the farm as pages until Ctrl-C, out of a record book of its own beside the folder."""
    from rickyard.book.base import opened_book, place_of
    from rickyard.book.folders import take_in
    from rickyard.web.serving import serve

    def ready(address: str) -> None:
        shared.say(f"In a browser, until Ctrl-C: {address}")
        webbrowser.open(address)

    place = place_of(data)
    with opened_book(place):
        take_in(folder)
    serve(place, 0, ready)


def _copy_farm(folder: Path) -> None:
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        with as_file(files("rickyard") / "demo_farm") as shipped:
            # Copied beside and moved into place: a broken copy never looks like a farm.
            partial = folder.with_name(f".{folder.name}.partial")
            shutil.rmtree(partial, ignore_errors=True)
            shutil.copytree(shipped, partial, ignore=shutil.ignore_patterns("__pycache__"))
            partial.rename(folder)
    except OSError as error:
        shared.fail(
            f"{folder}: cannot be made ({error.strerror}). Name another place with --out.",
            shared.EXIT_USAGE,
        )
