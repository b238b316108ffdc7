"""What the commands that plan share: their options, the line while they work, and Ctrl-C."""

from __future__ import annotations

import signal
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from math import inf
from types import FrameType
from typing import TYPE_CHECKING, Any, Final

import click

from rickyard.cli.shared.common import (
    EXIT_FOLDER,
    EXIT_RECHECK,
    EXIT_USAGE,
    fail,
    terminal,
    within_range,
)
from rickyard.cli.shared.numbers import Number

if TYPE_CHECKING:
    from datetime import date

    from rich.text import Text

    from rickyard.farm import Farm
    from rickyard.program.result import PlanOptions, SeasonProgram, WinterPrograms

#: Nobody waits longer than a day, and a unit of work takes about a second.
MOST_SECONDS: Final = 86_400.0

#: So many things that do not add up are shown of a program that fails its re-check.
MOST_BREACHES: Final = 20

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


def search_options(
    effort: float | None, seconds: float | None, from_on: date | None = None
) -> PlanOptions:
    """Return how to plan, from what was typed."""
    from rickyard.program.result import USUAL_EFFORT, PlanOptions

    return PlanOptions(
        effort=USUAL_EFFORT if effort is None else effort,
        seconds=inf if seconds is None else seconds,
        from_on=from_on,
    )


@dataclass(slots=True)
class Stopper:
    """Whether a person has asked to stop."""

    asked: bool = False

    def __call__(self) -> bool:
        """Return whether to stop."""
        return self.asked


class Line:
    """One line on a terminal while the work goes on: since when, and what is done."""

    def __init__(self, before: str = "") -> None:
        self.before, self.says = before, "Planning the season"
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
        lead = f"{self.before}: " if self.before else ""
        says = "stopping; Ctrl-C leaves at once" if self.stopping else self.says
        return Text(f"{seconds}  {lead}{says}", overflow="ellipsis", no_wrap=True)


def checked_program(
    farm: Farm,
    *,
    quiet: bool,
    options: PlanOptions | None = None,
    before: str = "",
    stopper: Stopper | None = None,
) -> SeasonProgram:
    """Plan a farm, re-check the program on its own, and leave with code 4 if it fails.

    Ctrl-C ends the search and takes the best program so far; pressed again it leaves at once.

    Parameters
    ----------
    farm : Farm
        The farm as its folder says.
    quiet : bool
        Whether to show nothing while working, as when the answer is for a machine.
    options : PlanOptions, optional
        How to make the program.
    before : str
        What this program is, where several are made.
    stopper : Stopper, optional
        What several programs share: once a person has asked to stop, each further one is the
        first that is found.
    """
    from rickyard.program.problem import farm_from
    from rickyard.program.result import PlanOptions
    from rickyard.program.solver import SolveError

    chosen = options or PlanOptions()
    try:
        with within_range(), _line(quiet, before) as line, stopping(line, stopper) as stop:
            program = _planned(farm, chosen, stop, None if line is None else line.say)
    except SolveError as error:
        fail(str(error), EXIT_RECHECK)
    _hold_sound(program, farm_from(farm, chosen.from_on).farm)
    return program


def winters_of(farm: Farm, *, quiet: bool, options: PlanOptions) -> WinterPrograms:
    """Plan the winters of a farm together, and re-check each winter's program on its own.

    Leaves with code 3 where the folder tells of no winters, with 4 where a program fails.
    """
    from rickyard.program.solver import SolveError
    from rickyard.program.winters import NoWinters, plan_winters

    try:
        with within_range(), _line(quiet, "All winters") as line:
            found = plan_winters(farm, options, None if line is None else line.say)
    except NoWinters as missing:
        fail(str(missing), EXIT_FOLDER)
    except SolveError as error:
        fail(str(error), EXIT_RECHECK)
    for one in found.winters:
        _hold_sound(one.program, one.farm)
    return found


def _hold_sound(program: SeasonProgram, farm: Farm) -> None:
    """Leave with code 4 where a program does not pass its re-check."""
    from rickyard.program.audit import recheck

    breaches = recheck(program, farm)
    if breaches:
        lines = "\n".join(f"  {breach}" for breach in breaches[:MOST_BREACHES])
        fail(
            f"The program does not pass its own re-check in {len(breaches)} places and is not "
            f"shown. Please report this with the farm folder.\n{lines}",
            EXIT_RECHECK,
        )


def check_day(farm: Farm, from_on: date | None) -> None:
    """Leave with code 2 when the rest of the season cannot be planned from a day."""
    from rickyard.program.problem import farm_from
    from rickyard.quantities import OutOfRange

    try:
        farm_from(farm, from_on)
    except OutOfRange as problem:
        fail(f"--from-date: {problem}", EXIT_USAGE)


def _planned(
    farm: Farm, options: PlanOptions, stop: Callable[[], bool], say: Callable[[str], None] | None
) -> SeasonProgram:
    from dataclasses import replace

    from rickyard.program.planning import plan_season

    return plan_season(farm, say, options=replace(options, stop=options.stop or stop))


@contextmanager
def stopping(line: Line | None = None, shared: Stopper | None = None) -> Iterator[Stopper]:
    """Turn the first Ctrl-C into a wish to stop; the second one leaves as always."""
    stopper = shared or Stopper()
    if stopper.asked:
        if line is not None:
            line.stop()
        yield stopper
        return

    def asked(_number: int, _frame: FrameType | None) -> None:
        stopper.asked = True
        signal.signal(signal.SIGINT, before)
        if line is None:
            click.echo(STOPPING, err=True)
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
def _line(quiet: bool, before: str) -> Iterator[Line | None]:
    console = terminal(err=True)
    if quiet or not console.is_terminal:
        yield None
        return
    line = Line(before)
    with console.status(line, refresh_per_second=4.0):
        yield line
