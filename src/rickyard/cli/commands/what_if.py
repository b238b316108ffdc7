"""``rickyard what-if``: what other heads, prices, hay, winters or a late spring would change."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from rickyard.cli.shared import (
    EXIT_USAGE,
    Asked,
    DayOption,
    NotUnderstood,
    Stopper,
    changes_of,
    checked_program,
    fail,
    farm_folder_argument,
    load_farm,
    seconds_option,
    write_whole,
)
from rickyard.cli.shared import terminal as terminal_of

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.program.planning import Change, WhatIfAnswer
    from rickyard.program.result import SeasonProgram

STDOUT: Final = "-"
AS_IT_IS: Final = "as it is"

#: A better program is looked for so long for each question, when nobody says. [s]
USUAL_SECONDS: Final = 3.0


@click.command("what-if")
@farm_folder_argument
@click.option(
    "--head",
    metavar="GROUP=N",
    multiple=True,
    help="A different head count: cows=70, cows=+5 or cows=-10%.",
)
@click.option(
    "--without",
    metavar="LOT[=PCT]",
    multiple=True,
    help="A lot that is lost, or part of it: A1 or A1=40%.",
)
@click.option(
    "--price",
    metavar="ID=PRICE",
    multiple=True,
    help='A different price of a feed or value of a lot: cubes=+20%, or "cubes=480 $/ton".',
)
@click.option(
    "--until",
    metavar="DAY",
    type=DayOption(),
    multiple=True,
    help="A different first day without feeding: late turnout.",
)
@click.option(
    "--winter",
    type=click.Choice(["as_given", "mild", "normal", "severe", "all"]),
    multiple=True,
    help="A different winter, built from weather.csv; all runs mild, normal and severe.",
)
@click.option(
    "--intake",
    metavar="PCT",
    multiple=True,
    help="Stock eating more or less dry matter than expected: +10% or -10%.",
)
@click.option(
    "--together",
    is_flag=True,
    help="Run all changes at once, not each alone.",
)
@click.option("--full", is_flag=True, help="Also compare the programs side by side, lot by lot.")
@seconds_option
@click.option(
    "--json",
    "json_file",
    metavar="FILE",
    help="Write the answers as JSON (docs/commands.md); - writes them to standard output and "
    "nothing else there.",
)
def what_if(
    folder: Path,
    head: tuple[str, ...],
    without: tuple[str, ...],
    price: tuple[str, ...],
    until: tuple[date, ...],
    winter: tuple[str, ...],
    intake: tuple[str, ...],
    together: bool,
    full: bool,
    seconds: float | None,
    json_file: str | None,
) -> None:
    """Show what would change in the program of the farm in FOLDER.

    Options may be repeated. Each change is run alone and compared with the program as it is;
    with --together all of them are run at once.
    """
    asked = Asked(head, price, without, until, intake, winter)
    farm = load_farm(folder)
    try:
        changes = changes_of(farm, asked)
    except NotUnderstood as problem:
        fail(str(problem), EXIT_USAGE)
    if not changes:
        fail(
            "Nothing is asked. Say what would be different, as: rickyard what-if FOLDER "
            "--head cows=70 --price cubes=+20%.",
            EXIT_USAGE,
        )
    cases: list[list[Change]] = [changes] if together else [[change] for change in changes]
    base, answers = _answers(farm, cases, seconds, quiet=json_file == STDOUT)
    if json_file == STDOUT:
        sys.stdout.buffer.write(_json(farm, base, answers).encode("utf-8"))
        return
    _show(farm, base, answers, full=full)
    if json_file is not None:
        write_whole(Path(json_file), _json(farm, base, answers).encode("utf-8"))
        click.echo(f"JSON: {json_file}", err=True)


def _answers(
    farm: Farm, cases: Sequence[Sequence[Change]], seconds: float | None, *, quiet: bool
) -> tuple[SeasonProgram, list[WhatIfAnswer]]:
    from rickyard.program.planning import answer, changed, labels_of
    from rickyard.program.result import PlanOptions
    from rickyard.quantities import OutOfRange

    options = PlanOptions(seconds=USUAL_SECONDS if seconds is None else seconds)
    stopper = Stopper()
    base = checked_program(farm, quiet=quiet, options=options, before=AS_IT_IS, stopper=stopper)
    found = []
    for case in cases:
        try:
            other = changed(farm, case)
        except OutOfRange as problem:
            fail(str(problem), EXIT_USAGE)
        label = labels_of(farm, case)
        program = checked_program(
            other, quiet=quiet, options=options, before=label, stopper=stopper
        )
        found.append(answer(farm, base, case, program))
    return base, found


def _show(farm: Farm, base: SeasonProgram, answers: Sequence[WhatIfAnswer], *, full: bool) -> None:
    from rickyard.cli.show import print_answers, print_comparison
    from rickyard.program.compare import compare

    console = terminal_of()
    print_answers(base, answers, farm, console)
    if full:
        programs = [(AS_IT_IS, base), *((one.label, one.program) for one in answers)]
        print_comparison(compare(programs), farm, console, "Side by side")


def _json(farm: Farm, base: SeasonProgram, answers: Sequence[WhatIfAnswer]) -> str:
    from rickyard.program.compare import compare
    from rickyard.sheets.data_files import document

    programs = [(AS_IT_IS, base), *((one.label, one.program) for one in answers)]
    told = [
        {"label": one.label, "cost_usd": one.cost_usd, "sentence": one.sentence} for one in answers
    ]
    return document("what_if", farm=farm.name, answers=told, comparison=compare(programs))
