"""What the commands that plan share: their options, the line while they work, and Ctrl-C."""

from __future__ import annotations

import signal
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, Any, Final

import click

from rickyard.cli.shared.common import EXIT_USAGE, aside, fail, terminal, write_text
from rickyard.cli.shared.days import DayOption, Number
from rickyard.cli.shared.plain import plain

if TYPE_CHECKING:
    from rich.text import Text

    from rickyard.service import OpenedFarm, Planned, PlanRequest

#: Nobody waits longer than a day, and a unit of work takes about a second.
MOST_SECONDS: Final = 86_400.0

STOPPING: Final = "Stopping: the best program so far follows. Press Ctrl-C again to leave at once."

seconds_option = click.option(
    "--seconds",
    metavar="N",
    type=Number(0.0, MOST_SECONDS, "30"),
    help="Stop looking for a better program after so long by the clock, whatever the effort; 0 "
    "takes the first one. Two runs that the clock ends may differ.",
)

effort_option = click.option(
    "--effort",
    metavar="N",
    type=Number(0.0, MOST_SECONDS, "20"),
    help="How much work to spend on looking for a better program; a unit takes about a second, 5 "
    "is usual. The same effort gives the same program on every run.",
)

weekly_option = click.option(
    "--weekly",
    is_flag=True,
    default=None,
    help="Let amounts change every week, in place of a few rations a group that stay the same "
    "every day from one date to another.",
)

yes_option = click.option(
    "--yes", is_flag=True, help="Begin without asking, however long it will take."
)


def plan_options(function: click.decorators.FC) -> click.decorators.FC:
    """Add the options that say how a program is made, the same for every command that plans."""
    for option in reversed(_PLAN_OPTIONS):
        function = option(function)
    return function


_PLAN_OPTIONS: Final = (
    click.option(
        "--assure",
        "assure_pct",
        metavar="PCT",
        type=Number(50.0, 99.0, "80"),
        help="Plan so that protein and energy are enough this often, given how exactly lots are "
        "known; 50 counts on averages. Groups with a figure of their own keep it.",
    ),
    click.option(
        "--winter",
        type=click.Choice(["as_given", "mild", "normal", "severe", "all"]),
        help="Plan for another winter than farm.toml does, built from weather.csv; all plans "
        "mild, normal and severe together, with one fall plan, and then the normal one with hay "
        "held back.",
    ),
    effort_option,
    seconds_option,
    click.option(
        "--pin",
        "pins",
        metavar="FILE",
        type=click.Path(path_type=Path, dir_okay=False),
        help="Keep the wishes in this file, written like wishes.csv: hay to feed, to keep off or "
        "to feed in an amount. They go before those of the folder; each is listed with its cost.",
    ),
    click.option(
        "--from-date",
        "from_on",
        metavar="DAY",
        type=DayOption(),
        help="Plan the rest of the season from this day, with the hay that counts, moves.csv "
        "and fed.csv leave in the yard.",
    ),
    weekly_option,
)

plan_file_option = click.option(
    "--plan",
    "plan_file",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Take the program that was adopted, as rickyard plan --json wrote it, and plan nothing "
    "anew.",
)


def request_of(how: Mapping[str, Any]) -> PlanRequest:
    """Return what is asked of a program, from the options of ``plan_options``."""
    from rickyard.service import PlanRequest

    given = {name: value for name, value in how.items() if value is not None}
    return PlanRequest(**given)


def program_for(
    opened: OpenedFarm, plan_file: Path | None, how: Mapping[str, Any], *, quiet: bool
) -> Planned:
    """Return the program that was adopted, or else a new one, with its warnings shown.

    Leaves with code 2 where a program is given and options that would make another one are too.
    """
    from rickyard.service import adopted_plan

    if plan_file is None:
        return new_program(opened, request_of(how), quiet=quiet)
    changing = [name for name, value in how.items() if value is not None and name != "pins"]
    if changing:
        fail(
            "--plan takes a program as it was made, so nothing else can be asked of it. Leave out "
            "the options that plan anew, or leave out --plan.",
            EXIT_USAGE,
        )
    planned = adopted_plan(opened, plan_file, how.get("pins"))
    for warning in planned.warnings:
        aside(warning)
    return planned


def new_program(opened: OpenedFarm, request: PlanRequest, *, quiet: bool) -> Planned:
    """Plan a farm, with a line while the work goes on; Ctrl-C takes the best so far."""
    from rickyard.service import ALL_WINTERS, plan_all_winters, plan_farm

    together = None
    if request.winter == ALL_WINTERS:
        with line_of_work(quiet, "All winters") as say:
            together = plan_all_winters(opened, request, progress=say)
    with working(quiet) as (say, stop):
        return plan_farm(opened, request, progress=say, stop=stop, together=together)


@contextmanager
def working(quiet: bool) -> Iterator[tuple[Callable[[str], None] | None, Stopper]]:
    """Show a line while the work goes on, and let the first Ctrl-C ask it to end."""
    with _line(quiet) as line, stopping(line) as stopper:
        yield None if line is None else line.say, stopper


@contextmanager
def line_of_work(quiet: bool, before: str) -> Iterator[Callable[[str], None] | None]:
    """Show a line while work goes on that cannot end with less: Ctrl-C leaves."""
    with _line(quiet) as line:
        yield None if line is None else lambda says: line.say(f"{before}: {says}")


@dataclass(slots=True)
class Stopper:
    """Whether a person has asked to stop."""

    asked: bool = False

    def __call__(self) -> bool:
        """Return whether to stop."""
        return self.asked


class Line:
    """One line on a terminal while the work goes on: since when, and what is done."""

    def __init__(self) -> None:
        self.says = "Planning the season"
        self.stopping = False
        self.started = time.monotonic()

    def say(self, says: str) -> None:
        """Show another sentence."""
        self.says = says

    def stop(self) -> None:
        """Show that the work is ending."""
        self.stopping = True

    def __rich__(self) -> Text:
        """Return the line as it stands now."""
        from rich.text import Text

        seconds = f"{time.monotonic() - self.started:.0f} s"
        says = "stopping; Ctrl-C leaves at once" if self.stopping else self.says
        return Text(plain(f"{seconds}  {says}"), overflow="ellipsis", no_wrap=True)


@contextmanager
def stopping(line: Line | None = None) -> Iterator[Stopper]:
    """Turn the first Ctrl-C into a wish to stop; the second one leaves as always."""
    stopper = Stopper()

    def asked(_number: int, _frame: FrameType | None) -> None:
        stopper.asked = True
        signal.signal(signal.SIGINT, before)
        if line is None:
            aside(STOPPING)
        else:
            line.stop()

    try:
        before: Any = signal.getsignal(signal.SIGINT)
        signal.signal(signal.SIGINT, asked)
    except ValueError:
        # Signals belong to the main thread; elsewhere there is nobody to press a key.
        yield stopper
        return
    try:
        yield stopper
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _line(quiet: bool) -> Iterator[Line | None]:
    console = terminal(err=True)
    if quiet or not console.is_terminal:
        yield None
        return
    line = Line()
    with console.status(line, refresh_per_second=4.0):
        yield line


TITLE: Final = "What a surer supply of protein and energy costs"
SVG: Final = ".svg"
JSON: Final = ".json"
BELOW: Final = (
    "With hays mixed at will, so that nothing but the assurance differs. --assure plans with one."
)


def check_chart(chart: Path | None) -> None:
    """Leave with code 2 where the file is named neither as an SVG nor as JSON."""
    if chart is not None and chart.suffix.lower() not in (SVG, JSON):
        fail(
            f"{chart}: the chart is an SVG, or JSON.\n"
            f"  Give it a name that ends in {SVG} or {JSON}.",
            EXIT_USAGE,
        )


def draw_assurance(
    opened: OpenedFarm, request: PlanRequest, chart: Path | None, *, quiet: bool
) -> None:
    """Write what a surer supply costs, and print it unless quiet; do nothing without a file."""
    if chart is None:
        return
    from rich.text import Text

    from rickyard.cli.shared.planning import line_of_work
    from rickyard.program.ask import assurance_answer, assurance_lines
    from rickyard.service import assurance
    from rickyard.sheets.charts import assurance_chart_svg
    from rickyard.sheets.data_files import document

    with line_of_work(quiet, "What a surer supply costs") as told:
        curve = assurance(opened, request, told)
    is_svg = chart.suffix.lower() == SVG
    write_text(
        "Chart", chart, assurance_chart_svg(curve) if is_svg else document("assurance", curve=curve)
    )
    if quiet:
        return
    console = terminal()
    console.print(Text(TITLE, style="bold"))
    for line in (*assurance_lines(curve), "", assurance_answer(curve), BELOW, ""):
        console.print(Text(line))
