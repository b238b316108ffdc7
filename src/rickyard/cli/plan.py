"""``rickyard plan``: from a farm folder to a season program in the terminal, JSON and PDF."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli.common import (
    EXIT_RECHECK,
    fail,
    farm_folder_argument,
    load_farm,
    terminal,
    within_range,
    write_whole,
)

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.program.result import SeasonProgram

STDOUT = "-"


@click.command()
@farm_folder_argument
@click.option(
    "--json",
    "json_file",
    metavar="FILE",
    help="Write the whole program as JSON (docs/plan-json.md); - writes it to standard output "
    "and nothing else there.",
)
@click.option(
    "--pdf",
    "pdf_file",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write the sheet that hangs on the wall.",
)
def plan(folder: Path, json_file: str | None, pdf_file: Path | None) -> None:
    """Make the least-cost season program of the farm in FOLDER.

    What the farm cannot supply is named as a shortage; there is always a program.
    """
    farm = load_farm(folder)
    program = checked_program(farm, quiet=json_file == STDOUT)
    if pdf_file is not None:
        write_pdf(program, farm, pdf_file)
        click.echo(f"PDF:  {pdf_file}", err=True)
    if json_file == STDOUT:
        # Bytes, so that it is UTF-8 whatever the terminal speaks.
        sys.stdout.buffer.write(_json(program).encode("utf-8"))
        return
    if json_file is not None:
        write_whole(Path(json_file), _json(program).encode("utf-8"))
        click.echo(f"JSON: {json_file}", err=True)
    show(program, farm)


def checked_program(farm: Farm, *, quiet: bool) -> SeasonProgram:
    """Plan a farm, re-check the program on its own, and leave with code 4 if it fails."""
    from rickyard.program.recheck import recheck
    from rickyard.program.season import plan_season
    from rickyard.program.solve import SolveError

    console = terminal(err=True)
    try:
        with within_range():
            if quiet or not console.is_terminal:
                program = plan_season(farm)
            else:
                with console.status("Planning the season") as status:
                    program = plan_season(farm, status.update)
    except SolveError as error:
        fail(str(error), EXIT_RECHECK)
    breaches = recheck(program, farm)
    if breaches:
        lines = "\n".join(f"  {breach}" for breach in breaches[:20])
        fail(
            f"The program does not pass its own re-check in {len(breaches)} places and is not "
            f"shown. Please report this with the farm folder.\n{lines}",
            EXIT_RECHECK,
        )
    return program


def show(program: SeasonProgram, farm: Farm) -> None:
    """Print a program in the terminal."""
    from rickyard.cli.show_plan import print_program

    print_program(program, farm, terminal())


def write_pdf(program: SeasonProgram, farm: Farm, path: Path) -> None:
    """Write a program as PDF."""
    from rickyard.sheets.season_pdf import season_pdf

    write_whole(path, season_pdf(program, farm))


def _json(program: SeasonProgram) -> str:
    from rickyard.sheets.plan_json import plan_json

    return plan_json(program)
