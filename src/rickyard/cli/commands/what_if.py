"""``rickyard what-if``: what a different head count, price, hay, winter or turnout would change."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli import shared

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.program.planning import WhatIfAnswer
    from rickyard.program.result import SeasonProgram
    from rickyard.service import FarmPlace, OpenedFarm


@click.command("what-if")
@shared.farm_folders_argument
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
    type=shared.DayOption(),
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
    "--cash",
    metavar="DOLLARS",
    multiple=True,
    help="Another limit on what is spent on feed: 20000, +5000, -10% or none.",
)
@click.option(
    "--sale",
    metavar="LOT=PRICE",
    multiple=True,
    help='What a buyer pays for a lot: A1=140, "A1=140 $/ton", A1=+10% or A1=none.',
)
@click.option(
    "--buy",
    metavar="ID=AMOUNT",
    multiple=True,
    help='So much of a feed to be had in all, or hay like a lot bought beside it: "A1=20 ton".',
)
@click.option(
    "--condition",
    metavar="GROUP=SCORE",
    multiple=True,
    help="A different target condition score for cows, 1 to 9: cows=5.5.",
)
@click.option(
    "--together",
    is_flag=True,
    help="Run all changes at once, not each alone.",
)
@click.option("--full", is_flag=True, help="Also compare the programs side by side, lot by lot.")
@shared.effort_option
@shared.seconds_option
@shared.weekly_option
@shared.yes_option
@shared.json_option(
    "Write the answers as JSON (docs/commands.md); - writes them to standard output and "
    "nothing else there."
)
@shared.answering
def what_if(
    folders: tuple[Path, ...],
    head: tuple[str, ...],
    without: tuple[str, ...],
    price: tuple[str, ...],
    until: tuple[date, ...],
    winter: tuple[str, ...],
    intake: tuple[str, ...],
    cash: tuple[str, ...],
    sale: tuple[str, ...],
    buy: tuple[str, ...],
    condition: tuple[str, ...],
    together: bool,
    full: bool,
    effort: float | None,
    seconds: float | None,
    weekly: bool | None,
    yes: bool,
    json_file: str | None,
) -> None:
    """Show what would change in the program of the farm in FOLDER.

    Options may be repeated. Each change is run alone and compared with the program as it is;
    with --together all of them are run at once.
    """
    from rickyard import service

    farms = shared.Farms(folders)
    answer = shared.AnswerFile(farms, json_file)
    farms.check([answer])
    asked = service.Asked(head, price, without, until, intake, winter, cash, sale, buy, condition)
    request = shared.request_of({"effort": effort, "seconds": seconds, "weekly": weekly})
    kinds = (head, without, price, until, winter, intake, cash, sale, buy, condition)
    changes = sum(len(one) for one in kinds)
    farms.weigh(request, yes=yes, programs=2 if together else 1 + changes)

    def show(place: FarmPlace, opened: OpenedFarm) -> None:
        changes = service.changes_of(opened.farm, asked)
        with shared.working(answer.on_stdout) as (say, stop):
            base, answers = service.what_if(
                opened, changes, request, together=together, progress=say, stop=stop
            )
        answer.add(place, lambda: _json(opened.farm, base, answers))
        if not answer.on_stdout:
            _show(opened.farm, base, answers, full=full)

    farms.each(show, quiet=answer.on_stdout)
    answer.finish()
    farms.finish()


def _show(farm: Farm, base: SeasonProgram, answers: Sequence[WhatIfAnswer], *, full: bool) -> None:
    from rickyard.cli.show import print_answers, print_comparison
    from rickyard.service import side_by_side

    console = shared.terminal()
    print_answers(base, answers, farm, console)
    if full:
        print_comparison(side_by_side(base, answers), farm, console, "Side by side")


def _json(farm: Farm, base: SeasonProgram, answers: Sequence[WhatIfAnswer]) -> str:
    from rickyard.program.planning import short_weeks
    from rickyard.service import side_by_side
    from rickyard.sheets.data_files import document

    told = [
        {
            "label": one.label,
            "cost_usd": one.cost_usd,
            "unclear": one.unclear,
            "sentence": one.sentence,
            "short_weeks": short_weeks(one.program),
        }
        for one in answers
    ]
    found = side_by_side(base, answers)
    return document(
        "what_if",
        farm=farm.name,
        answers=told,
        short_weeks_as_it_is=short_weeks(base),
        comparison=found,
    )
