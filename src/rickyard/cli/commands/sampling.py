"""``rickyard sampling``: which lots to sample, when, how, and what for."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli import shared

if TYPE_CHECKING:
    from rickyard.program.explain import WorthOfTest
    from rickyard.service import FarmPlace, OpenedFarm


@click.command()
@shared.farm_folders_argument
@click.option("--on", "today", type=shared.DayOption(), help="The day to show; today if left out.")
@click.option("--lot", "only", multiple=True, metavar="LOT", help="Show only this lot.")
@click.option(
    "--sale",
    multiple=True,
    metavar="LOT",
    help="This lot is for sale, so it needs a fresh test.",
)
@click.option(
    "--off",
    "animals_off",
    multiple=True,
    metavar="LOT",
    help="Animals on this lot are not eating or gaining as planned.",
)
@click.option(
    "--wetted", multiple=True, metavar="LOT", help="This lot got wet since it was tested."
)
@click.option("--heated", multiple=True, metavar="LOT", help="This lot heated since it was tested.")
@click.option(
    "--tip",
    "tip_m",
    type=shared.QuantityOption("length", "in"),
    default="0.625 in",
    show_default=True,
    help="Inner diameter of the probe's cutting tip.",
)
@click.option(
    "--within",
    type=shared.Number(0.01, 20.0, "0.5"),
    metavar="POINTS",
    help="Precision wanted for crude protein: half its 90% range, from sampling alone.",
)
@click.option(
    "--how",
    type=click.Choice(["random", "systematic"]),
    default="random",
    show_default=True,
    help="How the bales are picked.",
)
@click.option(
    "--seed", type=click.IntRange(min=0), help="Seed of the random draw; the lot has its own."
)
@click.option(
    "--value", is_flag=True, help="Say whether each test is worth its price; makes a plan first."
)
@shared.json_option("Write the pages as JSON (docs/sampling.md); - writes them to standard output.")
@shared.file_option("--ics", "ics_file", "Write the days as an iCalendar file.")
@shared.answering
def sampling(
    folders: tuple[Path, ...],
    today: date | None,
    only: tuple[str, ...],
    sale: tuple[str, ...],
    animals_off: tuple[str, ...],
    wetted: tuple[str, ...],
    heated: tuple[str, ...],
    tip_m: float,
    within: float | None,
    how: str,
    seed: int | None,
    value: bool,
    json_file: str | None,
    ics_file: Path | None,
) -> None:
    """List which lots of the farm in FOLDER to sample, when, how, and for what.

    FOLDER may be several farms, or a folder of farms: then --ics is one calendar for all.
    """
    from rickyard.cli.show import print_sampling
    from rickyard.hay.sampling import Options
    from rickyard.program.explain import worths_of_tests
    from rickyard.service import PlanRequest, sampling_plan, worked_out
    from rickyard.sheets.data_files import document
    from rickyard.sheets.paper import heat_events, sampling_events

    farms, day = shared.Farms(folders), today or date.today()
    farms.only_one(lot=only, sale=sale, off=animals_off, wetted=wetted, heated=heated)
    answer, calendar = shared.AnswerFile(farms, json_file), shared.CalendarFile(ics_file)
    farms.check([answer, calendar])
    options = Options(
        tip_m=tip_m,
        how="systematic" if how == "systematic" else "random",
        seed=seed,
        within=within,
        for_sale=frozenset(sale),
        animals_off=frozenset(animals_off),
        wetted=frozenset(wetted),
        heated=frozenset(heated),
    )

    def show(place: FarmPlace, opened: OpenedFarm) -> None:
        farm = opened.farm
        plans = sampling_plan(farm, day, options, only)
        worths: tuple[WorthOfTest, ...] = ()
        if value and plans:
            # A test changes what hay is worth, not how often a ration changes: weeks say it sooner.
            asked = PlanRequest(weekly=True)
            program = shared.new_program(opened, asked, quiet=answer.on_stdout).program
            with worked_out():
                worths = worths_of_tests(farm, program, plans)
        if not answer.on_stdout:
            print_sampling(plans, farm, day, shared.terminal(), worths)
        answer.add(
            place, lambda: document("sampling", farm=farm.name, on=day, lots=plans, worth=worths)
        )
        calendar.add(farm.name, (*sampling_events(plans), *heat_events(farm, day)))

    farms.each(show, quiet=answer.on_stdout)
    answer.finish()
    calendar.finish()
    farms.finish()
