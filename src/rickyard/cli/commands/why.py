"""``rickyard why``: why the season program is as it is, and what would change it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from rickyard.cli.shared import (
    STDOUT,
    Number,
    answering,
    farm_folder_argument,
    open_folder,
    plan_file_option,
    plan_options,
    program_for,
    terminal,
    to_file,
    write_stdout,
    write_text,
)


@click.command()
@farm_folder_argument
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
    type=Number(0.0, 86_400.0, "10"),
    help="Work limit for each kind of answer; a unit takes about a second, 2 is usual.",
)
@click.option(
    "--json",
    "json_file",
    metavar="FILE",
    help="Write the program with its answers as JSON (docs/plan-json.md); - writes it to standard "
    "output and nothing else there.",
)
@plan_file_option
@plan_options
@answering
def why(
    folder: Path,
    group_id: str | None,
    week: int | None,
    answers: float | None,
    json_file: str | None,
    plan_file: Path | None,
    **how: Any,
) -> None:
    """Explain the season program of the farm in FOLDER.

    What limits each group's ration, why it gets each hay, what leaving that hay out would cost,
    what would remove each shortage, and the prices at which feeds pay. With --plan it is the
    program that was adopted; without it one is made first.
    """
    from rickyard.cli.show import print_why
    from rickyard.program.ask import ANSWER_EFFORT
    from rickyard.service import check_outputs, explain, need_group
    from rickyard.sheets.data_files import plan_json

    document = to_file(json_file)
    check_outputs([document], folder)
    opened = open_folder(folder)
    if group_id is not None:
        need_group(opened.farm, group_id)
    planned = program_for(opened, plan_file, how, quiet=json_file == STDOUT)
    effort = ANSWER_EFFORT if answers is None else answers
    program, question = explain(planned, group_id, week, effort=effort)
    if json_file == STDOUT:
        write_stdout(plan_json(program))
        return
    if document is not None:
        write_text("JSON", document, plan_json(program))
    print_why(program, planned.farm, question, terminal())
