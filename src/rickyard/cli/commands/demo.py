"""``rickyard demo``: the whole job on an invented farm, in one command."""

from __future__ import annotations

import shutil
from importlib.resources import as_file, files
from pathlib import Path
from typing import Final

import click

from rickyard.cli.commands.plan import show, write_pdf
from rickyard.cli.shared import EXIT_USAGE, checked_program, fail, load_farm, write_whole

FOLDER: Final = "larkmoor"

#: How long to look for a better program: who sees it for the first time should not wait. [s]
SECONDS: Final = 3.0


@click.command()
@click.option(
    "--out",
    metavar="FOLDER",
    default="rickyard-demo",
    show_default=True,
    type=click.Path(path_type=Path, file_okay=False),
    help="Where to put the farm folder, the PDF and the JSON.",
)
def demo(out: Path) -> None:
    """Plan the winter of an invented farm and show where the files are.

    The farm folder is copied so that you can change it and plan it again; a folder that
    already exists is kept as you left it.
    """
    from rickyard.program.result import PlanOptions
    from rickyard.sheets.data_files import plan_json

    folder = out / FOLDER
    if not folder.exists():
        _copy_farm(folder)
    farm = load_farm(folder)
    program = checked_program(farm, quiet=False, options=PlanOptions(seconds=SECONDS))
    show(program, farm)
    pdf, document = out / "season-program.pdf", out / "season-program.json"
    write_pdf(program, farm, pdf)
    write_whole(document, plan_json(program).encode("utf-8"))
    click.echo()
    click.echo(f"The farm folder:    {folder}")
    click.echo(f"The sheet to print: {pdf}")
    click.echo(f"The whole program:  {document}")
    click.echo("Change a table in the farm folder and run the same command again.")


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
        fail(
            f"{folder}: cannot be made ({error.strerror}). Name another place with --out.",
            EXIT_USAGE,
        )
