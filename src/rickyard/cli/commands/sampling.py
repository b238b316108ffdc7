"""``rickyard sampling``: which lots to sample, when, how, and what for."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli.shared import (
    EXIT_RECHECK,
    EXIT_USAGE,
    DayOption,
    QuantityOption,
    checked_program,
    dry_matter_of,
    fail,
    farm_folder_argument,
    load_farm,
    terminal,
    write_calendar,
    write_stdout,
    write_whole,
)

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.hay.sampling import SamplePlan
    from rickyard.program.explain import WorthOfTest

STDOUT = "-"


@click.command()
@farm_folder_argument
@click.option("--on", "today", type=DayOption(), help="The day to show; today if left out.")
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
    type=QuantityOption("length", "in"),
    default="0.625 in",
    show_default=True,
    help="Inner diameter of the probe's cutting tip.",
)
@click.option(
    "--within",
    type=click.FloatRange(min=0.0, min_open=True),
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
@click.option(
    "--json",
    "json_file",
    metavar="FILE",
    help="Write the pages as JSON (docs/sampling.md); - writes them to standard output.",
)
@click.option(
    "--ics",
    "ics_file",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write the days as an iCalendar file.",
)
def sampling(
    folder: Path,
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
    """List which lots of the farm in FOLDER to sample, when, how, and for what."""
    from rickyard.cli.show import print_sampling
    from rickyard.hay.sampling import Options, farm_sample_plans
    from rickyard.program.solver import SolveError
    from rickyard.quantities import OutOfRange
    from rickyard.sheets.data_files import document

    farm = load_farm(folder)
    day = today or date.today()
    known = [lot.lot_id for lot in farm.lots]
    for name in (*only, *sale, *animals_off, *wetted, *heated):
        if name not in known:
            fail(f'"{name}" is no lot of this farm; its lots are {", ".join(known)}.', EXIT_USAGE)
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
    try:
        plans = farm_sample_plans(farm, day, dry_matter_of(farm), options)
    except OutOfRange as error:
        fail(f"The farm cannot be sampled as asked: {error}", EXIT_USAGE)
    if only:
        plans = tuple(plan for plan in plans if plan.lot_id in only)
    try:
        worths = _worths(farm, plans) if value and plans else ()
    except SolveError as error:
        fail(str(error), EXIT_RECHECK)
    if json_file == STDOUT:
        write_stdout(document("sampling", farm=farm.name, on=day, lots=plans, worth=worths))
    else:
        print_sampling(plans, farm, day, terminal(), worths)
        if json_file is not None:
            text = document("sampling", farm=farm.name, on=day, lots=plans, worth=worths)
            write_whole(Path(json_file), text.encode("utf-8"))
            click.echo(f"JSON: {json_file}", err=True)
    if ics_file is not None:
        from rickyard.sheets.paper import heat_events, sampling_events

        write_calendar(farm, (*sampling_events(plans), *heat_events(farm, day)), ics_file)


def _worths(farm: Farm, plans: Sequence[SamplePlan]) -> tuple[WorthOfTest, ...]:
    from rickyard.program.explain import worths_of_tests

    return worths_of_tests(farm, checked_program(farm, quiet=True), plans)
