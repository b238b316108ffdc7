"""The ``rickyard`` command: its subcommands, loaded only when they are called."""

from __future__ import annotations

import io
import sys
from importlib import import_module
from typing import Final

import click

from rickyard import __version__

#: Where each subcommand lives, and the sentence that stands beside it in the list. The modules
#: are imported when their command runs, so that help and errors come at once.
COMMANDS: Final = {
    "demo": ("rickyard.cli.demo", "Plan the winter of an invented farm and show what comes out."),
    "read": ("rickyard.cli.read", "Read each lot's test in plain sentences, hazards first."),
    "intake": ("rickyard.cli.intake", "Read the reports of laboratories, and ask what is open."),
    "screens": ("rickyard.cli.screens", "Turn past lab results into screening limits."),
    "needs": ("rickyard.cli.needs", "Show what each group needs through the season."),
    "sampling": ("rickyard.cli.sampling", "Say which lots to sample, when, how and what for."),
    "yard": ("rickyard.cli.yard", "Show what stands in the yard on any day, and what it loses."),
    "price": ("rickyard.cli.price", "Make prices of hay compare, and price ways of storing it."),
    "plan": ("rickyard.cli.plan", "Make the season feeding program at the least cost."),
    "week": ("rickyard.cli.week", "Show what a helper puts out this week, and print the list."),
    "what-if": (
        "rickyard.cli.what_if",
        "Say what other heads, prices, hay, winters or late grass would change.",
    ),
    "why": (
        "rickyard.cli.why",
        "Say why the season program is as it is, and what would change it.",
    ),
    "verify": ("rickyard.cli.verify", "Check the program's numbers against published ones."),
}


class _LazyGroup(click.Group):
    """A command group whose commands are imported when they are used."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        module = import_module(COMMANDS[cmd_name][0])
        command: click.Command = getattr(module, cmd_name.replace("-", "_"))
        return command

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

    A farm is a folder of a few tables; docs/farm-folder.md says what stands in them. Exit codes:
    0 done, 1 a check failed, 2 the command was not understood or a file cannot be written, 3 the
    farm folder has faults (each is named), 4 the program did not pass its own re-check.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal that cannot show a sign shows a question mark, not a traceback.
            stream.reconfigure(errors="replace")
