"""``rickyard why``: why the season program is as it is, and what would change it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from rickyard.cli import shared

if TYPE_CHECKING:
    from rickyard.service import FarmPlace, OpenedFarm


@click.command()
@shared.farm_folders_argument
@click.option("--group", "group_id", metavar="GROUP", help="Only this group, by its short name.")
@click.option(
    "--week",
    metavar="N",
    type=click.IntRange(min=1),
    help="Only the week of the season (the period, where periods have another length) of this "
    "number, the first being 1.",
)
@click.option(
    "--answers",
    metavar="N",
    type=shared.Number(0.0, 86_400.0, "10"),
    help="Work limit for each kind of answer; a unit takes about a second, 1 is usual.",
)
@shared.json_option(
    "Write the program with its answers as JSON (docs/plan-json.md); - writes it to standard "
    "output and nothing else there."
)
@shared.plan_file_option
@shared.plan_options
@shared.yes_option
@shared.answering
def why(
    folders: tuple[Path, ...],
    group_id: str | None,
    week: int | None,
    answers: float | None,
    json_file: str | None,
    plan_file: Path | None,
    yes: bool,
    **how: Any,
) -> None:
    """Explain the season program of the farm in FOLDER.

    What limits each group's ration, why it gets each hay, what leaving that hay out would cost,
    what would remove each shortage, and the prices at which feeds pay. With --plan it is the
    program that was adopted; without it one is made first.
    """
    from rickyard.cli.show import print_why
    from rickyard.program.ask import ANSWER_EFFORT, KINDS_OF_ANSWERS
    from rickyard.service import explain, groups_named
    from rickyard.sheets.data_files import plan_json

    farms = shared.Farms(folders)
    farms.only_one(group=group_id, pin=how["pins"])
    answer = shared.AnswerFile(farms, json_file)
    farms.check([answer])
    effort = ANSWER_EFFORT if answers is None else answers
    farms.weigh(
        shared.request_of(how),
        yes=yes,
        programs=0 if plan_file else 1,
        answers=KINDS_OF_ANSWERS * effort,
    )

    def show(place: FarmPlace, opened: OpenedFarm) -> None:
        groups_named(opened.farm, group_id)
        adopted = farms.plan_of(place, plan_file)
        planned = shared.program_for(opened, adopted, how, quiet=answer.on_stdout)
        with shared.line_of_work(answer.on_stdout, "Reasons") as told:
            program, question = explain(planned, group_id, week, effort=effort, progress=told)
        answer.add(place, lambda: plan_json(program))
        if not answer.on_stdout:
            print_why(program, planned.farm, question, shared.terminal())

    farms.each(show, quiet=answer.on_stdout)
    answer.finish()
    farms.finish()
