"""``rickyard plan``: from a farm folder to a season program in the terminal, JSON and PDF."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from rickyard.cli.shared import (
    EXIT_FOLDER,
    EXIT_USAGE,
    DayOption,
    check_day,
    checked_program,
    draw_assurance,
    fail,
    farm_folder_argument,
    load_farm,
    seconds_option,
    terminal,
    winters_of,
    write_whole,
)

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.program.compare import Facts
    from rickyard.program.result import PlanOptions, SeasonProgram, WinterPrograms

STDOUT: Final = "-"

#: What this program is called beside earlier ones.
NOW: Final = "this plan"

#: Every winter at once.
ALL: Final = "all"

_FILE: Final = click.Path(path_type=Path, dir_okay=False)


@dataclass(frozen=True, slots=True)
class _Asked:
    """What was typed beside the folder, as far as it changes the program."""

    assure: float | None
    winter: str | None
    seconds: float | None
    pins: Path | None
    from_on: date | None


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
    type=_FILE,
    help="Write the season sheet for the barn wall.",
)
@click.option(
    "--assure",
    metavar="PCT",
    type=click.FloatRange(50.0, 99.0),
    help="Plan so that protein and energy are enough this often, given how exactly lots are "
    "known; 50 counts on averages. Groups with a figure of their own keep it.",
)
@click.option(
    "--assurance-chart",
    "curve_file",
    metavar="FILE",
    type=_FILE,
    help="Draw what more assurance would cost, 50 to 97.5%, as SVG, or write it as JSON, by the "
    "end of the name, and print it before the program.",
)
@click.option(
    "--winter",
    type=click.Choice(["as_given", "mild", "normal", "severe", ALL]),
    help="Plan for another winter than farm.toml does, built from weather.csv; all plans mild, "
    "normal and severe together, with one fall plan, and then the normal one with hay held back.",
)
@click.option(
    "--winters-json",
    "winters_file",
    metavar="FILE",
    type=_FILE,
    help="Write what --winter all says of fall, the reserve and each winter as JSON "
    "(docs/commands.md).",
)
@seconds_option
@click.option(
    "--pin",
    "pins",
    metavar="FILE",
    type=_FILE,
    help="Keep the wishes in this file, written like wishes.csv: hay to feed, to keep off or to "
    "feed in an amount. They go before those of the folder; each is listed with its cost.",
)
@click.option(
    "--compare",
    "earlier",
    metavar="FILE",
    multiple=True,
    type=_FILE,
    help="Compare with a program written earlier with --json. May be repeated.",
)
@click.option(
    "--comparison",
    metavar="FILE",
    type=_FILE,
    help="Write the comparison as JSON (docs/commands.md).",
)
@click.option(
    "--from-date",
    "from_on",
    metavar="DAY",
    type=DayOption(),
    help="Plan the rest of the season from this day, with the hay that counts, moves.csv and "
    "fed.csv leave in the yard.",
)
def plan(
    folder: Path,
    json_file: str | None,
    pdf_file: Path | None,
    assure: float | None,
    curve_file: Path | None,
    winter: str | None,
    winters_file: Path | None,
    seconds: float | None,
    pins: Path | None,
    earlier: tuple[Path, ...],
    comparison: Path | None,
    from_on: date | None,
) -> None:
    """Make the least-cost season program of the farm in FOLDER.

    What the farm cannot supply is listed as a shortage; there is always a program. Ctrl-C ends the
    search and shows the best program so far.
    """
    _check_files(winter, winters_file, earlier, comparison)
    before = [_earlier(path) for path in earlier]
    asked = _Asked(assure, winter, seconds, pins, from_on)
    farm = _with_asked(load_farm(folder), asked)
    check_day(farm, from_on)
    quiet, options = json_file == STDOUT, _options(asked)
    draw_assurance(farm, curve_file, quiet=quiet, options=options)
    winters = winters_of(farm, quiet=quiet, options=options) if winter == ALL else None
    if winters is not None:
        _write_winters(winters, winters_file)
        farm = _for_the_normal_one(farm, winters)
    program = checked_program(farm, quiet=quiet, options=options)
    if pdf_file is not None:
        write_pdf(program, farm, pdf_file)
        click.echo(f"PDF:  {pdf_file}", err=True)
    if comparison is not None:
        _write_comparison(program, farm, before, comparison)
    if json_file == STDOUT:
        # Bytes, so that it is UTF-8 whatever the terminal speaks.
        sys.stdout.buffer.write(_json(program).encode("utf-8"))
        return
    if json_file is not None:
        write_whole(Path(json_file), _json(program).encode("utf-8"))
        click.echo(f"JSON: {json_file}", err=True)
    if winters is not None:
        _show_winters(winters)
    show(program, farm)
    if from_on is not None:
        _show_fed(farm, before, from_on)
    if before:
        _show_comparison(program, farm, before)


def _check_files(
    winter: str | None, winters_file: Path | None, earlier: Sequence[Path], comparison: Path | None
) -> None:
    """Leave with code 2 where a file is asked for that nothing would be written to."""
    if comparison is not None and not earlier:
        fail("--comparison needs a program to compare with; name one with --compare.", EXIT_USAGE)
    if winters_file is not None and winter != ALL:
        fail("--winters-json tells of every winter; plan them with --winter all.", EXIT_USAGE)


def _with_asked(farm: Farm, asked: _Asked) -> Farm:
    """Return the farm with what was asked for in place of what its folder says."""
    from rickyard.farm import Winter

    season = farm.season
    if asked.assure is not None:
        season = replace(season, assurance_pct=asked.assure)
    if asked.winter not in (None, ALL):
        season = replace(season, winter=Winter(asked.winter))
    farm = replace(farm, season=season)
    if asked.pins is None:
        return farm
    from rickyard.folder.io import read_wishes
    from rickyard.folder.tables import FolderFaults

    try:
        # What is wished now goes before what the folder has wished all along.
        return replace(farm, wishes=(*read_wishes(asked.pins, farm), *farm.wishes))
    except FolderFaults as faults:
        fail(str(faults), EXIT_FOLDER)


def _for_the_normal_one(farm: Farm, winters: WinterPrograms) -> Farm:
    """Return the farm fed for a normal winter, with hay held back for a severe one."""
    from rickyard.farm import Winter
    from rickyard.program.winters import farm_for_winter

    return farm_for_winter(farm, winters, Winter.NORMAL)


def _options(asked: _Asked) -> PlanOptions:
    from rickyard.program.result import USUAL_SECONDS, PlanOptions

    seconds = USUAL_SECONDS if asked.seconds is None else asked.seconds
    return PlanOptions(seconds=seconds, from_on=asked.from_on)


def _earlier(path: Path) -> Facts:
    from rickyard.sheets.data_files import NotAPlan, read_plan

    try:
        return read_plan(path)
    except NotAPlan as problem:
        fail(f"--compare: {problem}", EXIT_USAGE)


def show(program: SeasonProgram, farm: Farm) -> None:
    """Print a program in the terminal."""
    from rickyard.cli.show import print_program

    print_program(program, farm, terminal())


def _show_winters(winters: WinterPrograms) -> None:
    from rickyard.cli.show import print_winters

    print_winters(winters, terminal())


def _write_winters(winters: WinterPrograms, path: Path | None) -> None:
    if path is None:
        return
    from rickyard.sheets.data_files import winters_json

    write_whole(path, winters_json(winters).encode("utf-8"))
    click.echo(f"Winters: {path}", err=True)


def _show_fed(farm: Farm, before: Sequence[Facts], from_on: date) -> None:
    from rickyard.cli.show import print_fed
    from rickyard.program.compare import fed_against

    start = farm.season.start
    followed = next((one for one in before if one.start <= start), None)
    print_fed(fed_against(farm, followed, start, from_on), followed, farm, terminal())


def _show_comparison(program: SeasonProgram, farm: Farm, before: Sequence[Facts]) -> None:
    from rickyard.cli.show import print_comparison
    from rickyard.program.compare import compare_facts, facts_of

    found = compare_facts([facts_of(NOW, program), *before])
    print_comparison(found, farm, terminal())


def _write_comparison(
    program: SeasonProgram, farm: Farm, before: Sequence[Facts], path: Path
) -> None:
    from rickyard.program.compare import compare_facts, facts_of
    from rickyard.sheets.data_files import document

    found = compare_facts([facts_of(NOW, program), *before])
    text = document("comparison", farm=farm.name, comparison=found)
    write_whole(path, text.encode("utf-8"))
    click.echo(f"Comparison: {path}", err=True)


def write_pdf(program: SeasonProgram, farm: Farm, path: Path) -> None:
    """Write a program as PDF."""
    from rickyard.sheets.paper import season_pdf

    write_whole(path, season_pdf(program, farm))


def _json(program: SeasonProgram) -> str:
    from rickyard.sheets.data_files import plan_json

    return plan_json(program)
