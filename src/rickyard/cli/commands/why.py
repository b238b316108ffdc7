"""``rickyard why``: why the season program is as it is, and what would change it."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli.shared import (
    EXIT_RECHECK,
    EXIT_USAGE,
    checked_program,
    fail,
    farm_folder_argument,
    load_farm,
    terminal,
    write_whole,
)

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.program.ask import Question
    from rickyard.program.result import SeasonProgram

STDOUT = "-"


@click.command()
@farm_folder_argument
@click.option("--group", "group_id", metavar="GROUP", help="Only this group, by its short name.")
@click.option(
    "--week",
    "period",
    metavar="N",
    type=click.IntRange(min=1),
    help="Only the week of the season (the period, where periods have another length) of this "
    "number, the first being 1.",
)
@click.option(
    "--seconds",
    metavar="N",
    type=click.FloatRange(min=0.0),
    help="Time limit for each kind of answer.",
)
@click.option(
    "--json",
    "json_file",
    metavar="FILE",
    help="Write the program with its answers as JSON (docs/plan-json.md); - writes it to standard "
    "output and nothing else there.",
)
def why(
    folder: Path,
    group_id: str | None,
    period: int | None,
    seconds: float | None,
    json_file: str | None,
) -> None:
    """Explain the season program of the farm in FOLDER.

    What limits each group's ration, why it gets each hay, what leaving that hay out would cost,
    what would remove each shortage, and the prices at which feeds pay.
    """
    from rickyard.program.ask import with_answers
    from rickyard.program.solver import SolveError

    farm = load_farm(folder)
    known = [group.group_id for group in farm.groups]
    if group_id is not None and group_id not in known:
        names = ", ".join(known) or "none"
        fail(
            f'No group of this farm is called "{group_id}".\n  Its groups are {names}.', EXIT_USAGE
        )
    program = checked_program(farm, quiet=json_file == STDOUT)
    question = _question(program, group_id, period, seconds)
    try:
        program = with_answers(farm, program, question)
    except SolveError as error:
        fail(str(error), EXIT_RECHECK)
    _show(program, farm, question, json_file)


def _question(
    program: SeasonProgram, group_id: str | None, period: int | None, seconds: float | None
) -> Question:
    from rickyard.program.ask import USUAL_SECONDS, Question

    if period is not None and period > len(program.periods):
        fail(
            f"The season has {len(program.periods)} weeks (or periods); there is no {period}.\n"
            "  Give --week a number among them.",
            EXIT_USAGE,
        )
    on = None if period is None else program.periods[period - 1].start
    return Question(group_id or "", on, USUAL_SECONDS if seconds is None else seconds)


def _show(program: SeasonProgram, farm: Farm, question: Question, json_file: str | None) -> None:
    from rickyard.cli.show import print_why
    from rickyard.sheets.data_files import plan_json

    if json_file == STDOUT:
        sys.stdout.buffer.write(plan_json(program).encode("utf-8"))
        return
    if json_file is not None:
        write_whole(Path(json_file), plan_json(program).encode("utf-8"))
        click.echo(f"JSON: {json_file}", err=True)
    print_why(program, farm, question, terminal())
