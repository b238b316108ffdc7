"""``rickyard plan``: from a farm folder to a season program in the terminal, JSON and PDF."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from rickyard.cli import shared

if TYPE_CHECKING:
    from rickyard.program.compare import Facts
    from rickyard.program.result import WinterPrograms
    from rickyard.service import FarmPlace, OpenedFarm, Planned, PlanRequest


@click.command()
@shared.farm_folders_argument
@shared.json_option(
    "Write the whole program as JSON (docs/plan-json.md); - writes it to standard output "
    "and nothing else there."
)
@shared.file_option("--pdf", "pdf_file", "Write the season sheet for the barn wall.")
@shared.file_option(
    "--assurance-chart",
    "curve_file",
    "Draw what more assurance would cost, 50 to 97.5%, as SVG, or write it as JSON, by the "
    "end of the name, and print it before the program.",
)
@shared.file_option(
    "--winters-json",
    "winters_file",
    "Write what --winter all says of fall, the reserve and each winter as JSON (docs/commands.md).",
)
@shared.plan_options
@shared.yes_option
@click.option(
    "--compare",
    "earlier",
    metavar="FILE",
    multiple=True,
    type=click.Path(path_type=Path),
    help="Compare with a program written earlier with --json. May be repeated.",
)
@shared.file_option(
    "--comparison", "comparison", "Write the comparison as JSON (docs/commands.md)."
)
@shared.answering
def plan(
    folders: tuple[Path, ...],
    json_file: str | None,
    pdf_file: Path | None,
    curve_file: Path | None,
    winters_file: Path | None,
    earlier: tuple[Path, ...],
    comparison: Path | None,
    yes: bool,
    **how: Any,
) -> None:
    """Make the least-cost season program of the farm in FOLDER.

    What the farm cannot supply is listed as a shortage; there is always a program. Ctrl-C ends the
    search and shows the best program so far. FOLDER may be several farms, or a folder of farms:
    each is shown in a few lines, --pdf is one file with the sheets of all, --json one file, and
    either of them a folder for a file of each.
    """
    from rickyard.program.ask import LEVELS_PCT
    from rickyard.service import ALL_WINTERS, earlier_plans, farm_asked_for
    from rickyard.sheets.data_files import plan_json

    _check_files(how["winter"] == ALL_WINTERS, winters_file, earlier, comparison)
    shared.check_chart(curve_file)
    farms = shared.Farms(folders)
    farms.only_one(
        compare=earlier,
        comparison=comparison,
        assurance_chart=curve_file,
        winters_json=winters_file,
        pin=how["pins"],
    )
    answer = shared.AnswerFile(farms, json_file)
    sheet = shared.AnswerFile(farms, pdf_file, shared.PDF)
    farms.check((answer, sheet, curve_file, winters_file, comparison))
    levels = len(LEVELS_PCT) if curve_file else 0
    farms.weigh(shared.request_of(how), yes=yes, levels=levels)
    before, quiet = earlier_plans(earlier), answer.on_stdout

    def show_one(place: FarmPlace, opened: OpenedFarm) -> None:
        request = shared.request_of(how)
        farm_asked_for(opened, request)
        shared.draw_assurance(opened, request, curve_file, quiet=quiet)
        planned, together = _plan(opened, request, winters_file, quiet=quiet)
        sheet.add(place, lambda: _pdf(planned))
        _write_comparison(planned, before, comparison)
        answer.add(place, lambda: plan_json(planned.program))
        if not quiet:
            _show(planned, together, before, request, in_full=not farms.several)

    farms.each(show_one, quiet=quiet)
    answer.finish()
    sheet.finish()
    farms.finish()


def _plan(
    opened: OpenedFarm, request: PlanRequest, winters_file: Path | None, *, quiet: bool
) -> tuple[Planned, WinterPrograms | None]:
    """Return the program, and every winter planned together where that is asked for."""
    from rickyard.service import ALL_WINTERS, plan_all_winters, plan_farm
    from rickyard.sheets.data_files import winters_json

    together: WinterPrograms | None = None
    if request.winter == ALL_WINTERS:
        with shared.line_of_work(quiet, "All winters") as say:
            together = plan_all_winters(opened, request, progress=say)
        if winters_file is not None:
            shared.write_text("Winters", winters_file, winters_json(together))
    with shared.working(quiet) as (say, stop):
        planned = plan_farm(opened, request, progress=say, stop=stop, together=together)
    return planned, together


def _show(
    planned: Planned,
    together: WinterPrograms | None,
    before: Sequence[Facts],
    request: PlanRequest,
    *,
    in_full: bool,
) -> None:
    """Print a program, or of one among many what answers first."""
    from rickyard.cli import show
    from rickyard.service import beside_earlier, fed_until

    program, farm, console = planned.program, planned.farm, shared.terminal()
    if together is not None:
        show.print_winters(together, console)
    if not in_full:
        show.print_short_program(program, farm, console)
        return
    show.print_program(program, farm, console)
    if request.from_on is not None:
        fed, followed = fed_until(farm, before, program.start)
        show.print_fed(fed, followed, farm, console)
    if before:
        show.print_comparison(beside_earlier(program, before), farm, console)


def _check_files(
    every_winter: bool, winters_file: Path | None, earlier: Sequence[Path], comparison: Path | None
) -> None:
    """Leave with code 2 where a file is asked for that nothing would be written to."""
    if comparison is not None and not earlier:
        shared.fail(
            "--comparison needs a program to compare with; name one with --compare.",
            shared.EXIT_USAGE,
        )
    if winters_file is not None and not every_winter:
        shared.fail(
            "--winters-json tells of every winter; plan them with --winter all.", shared.EXIT_USAGE
        )


def _write_comparison(planned: Planned, before: Sequence[Facts], comparison: Path | None) -> None:
    if comparison is None:
        return
    from rickyard.service import beside_earlier
    from rickyard.sheets.data_files import document

    found = beside_earlier(planned.program, before)
    text = document("comparison", farm=planned.farm.name, comparison=found)
    shared.write_text("Comparison", comparison, text)


def _pdf(planned: Planned) -> bytes:
    from rickyard.sheets.paper import season_pdf

    return season_pdf(planned.program, planned.farm)
