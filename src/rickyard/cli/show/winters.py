"""Mild, normal and severe winters in the terminal: what to do in autumn, and what each costs."""

from __future__ import annotations

from typing import Final

from rich.console import Console
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.program.result import WinterPrograms
from rickyard.program.winters import winter_sentences

TITLE: Final = "One autumn for every winter"
BELOW: Final = (
    "The program below feeds for a normal winter and holds back what a severe one would take. Plan "
    "again with --from-date when the winter shows what it is."
)


def print_winters(programs: WinterPrograms, console: Console) -> None:
    """Print what planning several winters together says.

    Parameters
    ----------
    programs : WinterPrograms
        The winters planned together.
    console : rich.console.Console
        Where to print; 80 columns are enough.
    """
    width = min(console.width, parts.MOST_COLUMNS)
    parts.sentences(console, TITLE, winter_sentences(programs))
    parts.sentences(
        console, "Taken for granted of the winters", (one.sentence for one in programs.assumptions)
    )
    console.print()
    console.print(Text(BELOW), width=width)
    console.print()
