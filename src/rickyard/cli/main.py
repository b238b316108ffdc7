"""The ``rickyard`` command: its subcommands, loaded only when they are called."""

from __future__ import annotations

import atexit
import errno
import gc
import io
import os
import sys
from contextlib import suppress
from importlib import import_module
from keyword import iskeyword
from typing import Any, Final, NoReturn

import click

from rickyard.cli.shared import EXIT_INTERRUPTED, EXIT_USAGE, fail, plain
from rickyard.version import __version__

#: Where each subcommand lives, and the sentence that stands beside it in the list. The modules
#: are imported when their command runs, so that help and errors come at once.
COMMANDS: Final = {
    "demo": (
        "rickyard.cli.commands.demo",
        "Plan the winter of an invented farm and show what comes out.",
    ),
    "new": (
        "rickyard.cli.beside.new",
        "Ask ten questions and write a first farm folder.",
    ),
    "feeds": (
        "rickyard.cli.beside.feeds",
        "Search the feed table by the names people use.",
    ),
    "read": (
        "rickyard.cli.commands.read",
        "Read each lot's test in plain sentences, hazards first.",
    ),
    "intake": (
        "rickyard.cli.beside.intake",
        "Read laboratory reports, and ask what is open.",
    ),
    "screens": ("rickyard.cli.commands.screens", "Turn past lab results into screening limits."),
    "needs": ("rickyard.cli.commands.needs", "Show what each group needs through the season."),
    "sampling": (
        "rickyard.cli.commands.sampling",
        "List which lots to sample, when, how and for what.",
    ),
    "yard": (
        "rickyard.cli.commands.yard",
        "Show the hay on hand on any day, and what it loses.",
    ),
    "lot-sheet": (
        "rickyard.cli.beside.lot_sheet",
        "Print a sheet of a lot for whoever may buy it.",
    ),
    "price": (
        "rickyard.cli.commands.price",
        "Compare hay prices, and price ways of storing hay.",
    ),
    "plan": ("rickyard.cli.commands.plan", "Make the season feeding program at the least cost."),
    "week": (
        "rickyard.cli.commands.week",
        "Show what to put out this week, and print the list.",
    ),
    "farms": (
        "rickyard.cli.commands.farms",
        "Show which farms are short, what is due and what is dangerous.",
    ),
    "cold": (
        "rickyard.cli.beside.cold",
        "Show what to feed in a cold spell that is forecast, and when to start.",
    ),
    "what-if": (
        "rickyard.cli.commands.what_if",
        "Show what a different head count, price, hay, weather or turnout would change.",
    ),
    "why": (
        "rickyard.cli.commands.why",
        "Explain the season program, and what would change it.",
    ),
    "serve": (
        "rickyard.cli.book.serve",
        "Show the record book as pages in a browser.",
    ),
    "log": (
        "rickyard.cli.book.log",
        "Note what was fed, in plain lines.",
    ),
    "look-back": (
        "rickyard.cli.book.look_back",
        "Show what was fed against the program, and what became of hay.",
    ),
    "years": (
        "rickyard.cli.book.years",
        "Set the seasons of a farm side by side.",
    ),
    "trail": (
        "rickyard.cli.book.trail",
        "Show what was done on a farm, by whom and when.",
    ),
    "next-season": (
        "rickyard.cli.book.next_season",
        "Begin a farm's season from its last.",
    ),
    "people": (
        "rickyard.cli.book.people",
        "Let people in on a shared record book, and end that.",
    ),
    "import": ("rickyard.cli.book.folders", "Take farm folders into the record book."),
    "export": (
        "rickyard.cli.book.folders",
        "Write a farm of the record book as a farm folder.",
    ),
    "delete-farm": (
        "rickyard.cli.book.delete_farm",
        "Delete a farm of the record book for good.",
    ),
    "backup": (
        "rickyard.cli.book.keeping",
        "Write the whole record book into one file.",
    ),
    "restore": (
        "rickyard.cli.book.keeping",
        "Put a backup into an empty record book.",
    ),
    "doctor": (
        "rickyard.cli.book.keeping",
        "Look at everything in the record book.",
    ),
    "verify": (
        "rickyard.cli.commands.verify",
        "Check the program's numbers against published ones.",
    ),
}

#: After so many new things, and so many times of that, memory is looked over for what may go.
LOOKED_OVER_AFTER: Final = (20_000, 50, 100)

# At the end all of it goes with the process: looking it over first takes longer than printing.
atexit.register(gc.freeze)

#: What a device says that takes no more.
FULL: Final = (errno.ENOSPC, errno.EIO, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC))


def _interrupted() -> NoReturn:
    fail("Stopped.", EXIT_INTERRUPTED)


def _throw_away_output() -> None:
    """Send what is still held back nowhere, so that it is not tried again on leaving."""
    with open(os.devnull, "wb") as nowhere, suppress(OSError, ValueError):
        os.dup2(nowhere.fileno(), sys.stdout.fileno())


class _LazyGroup(click.Group):
    """A command group whose commands are imported when they are used."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        module = import_module(COMMANDS[cmd_name][0])
        name = cmd_name.replace("-", "_")
        # A word of the language cannot be the name of a function.
        command: click.Command = getattr(module, f"{name}_" if iskeyword(name) else name)
        return command

    def main(self, *args: Any, **extra: Any) -> Any:
        """Run, and end an interrupt with the exit code that a shell expects, however early."""
        # A command makes much that it keeps until it ends: looking it over again and again for
        # what may go is a tenth of its time.
        gc.set_threshold(*LOOKED_OVER_AFTER)
        try:
            return super().main(*args, **extra)
        except KeyboardInterrupt:
            _interrupted()

    def make_context(self, *args: Any, **extra: Any) -> click.Context:
        """Read what was typed; what cannot be understood is quoted without its control signs."""
        try:
            return super().make_context(*args, **extra)
        except click.ClickException as error:
            error.message = plain(error.message)  # type: ignore[misc]
            raise
        except KeyboardInterrupt:
            _interrupted()

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; a full device and an interrupt end it with a sentence."""
        try:
            result = super().invoke(ctx)
            sys.stdout.flush()
        except click.ClickException as error:
            error.message = plain(error.message)  # type: ignore[misc]
            raise
        except KeyboardInterrupt:
            _interrupted()
        except OSError as error:
            if error.errno not in FULL:
                raise
            _throw_away_output()
            fail(f"The answer cannot be written ({error.strerror}). Make room.", EXIT_USAGE)
        return result

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, sentence) for name, (_, sentence) in COMMANDS.items()])


@click.group(
    cls=_LazyGroup,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="rickyard")
def main() -> None:
    """Know each lot of hay, and feed it to the stock it suits at the least cost.

    A farm is a folder of a few tables; docs/farm-folder.md lists what is in them. Exit codes:
    0 done, 1 a check failed, 2 the command was not understood or a file cannot be written, 3 the
    farm folder has errors (each is listed), 4 the program did not pass its own re-check, 130 Ctrl-C
    ended it.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal that cannot show a sign shows a question mark, not a traceback.
            stream.reconfigure(errors="replace")
