"""What the terminal pages share: headings, tables without frames, wrapped sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, Final, Literal

from rich.console import Console, RenderableType
from rich.table import Table
from rich.text import Text

from rickyard.display import clean
from rickyard.farm import Caution, Farm
from rickyard.sheets.wording import about_name, said_once, words

#: Beyond this width lines are no easier to read.
MOST_COLUMNS: Final = 120

_STYLES: Final = {"danger": "bold red", "warning": "bold yellow", "note": "bold"}


def heading(console: Console, words_: str) -> None:
    """Print a heading with a line of room above."""
    console.print()
    console.print(Text(clean(words_), style="bold"))


def plain(text: str, style: str = "") -> Text:
    """Return text that is printed as it is: brackets in a name are no markup."""
    return Text(clean(text), style=style)


def say(console: Console, told: str | Text | Table, style: str = "") -> None:
    """Print text or a table, no wider than is easy to read."""
    shown = plain(told, style) if isinstance(told, str) else told
    console.print(shown, width=min(console.width, MOST_COLUMNS))


class Columns(Table):
    """A table without frame; text in its cells is printed as it is."""

    def add_row(self, *cells: RenderableType | None, **how: Any) -> None:
        """Add a row of text, or of what Rich can draw."""
        drawn = (plain(cell) if isinstance(cell, str) else cell for cell in cells)
        super().add_row(*drawn, **how)


def columns(*heads: str) -> Columns:
    """Return an empty table; under a head that begins with ``>`` figures stand to the right."""
    table = Columns(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
    for head in heads:
        right = head.startswith(">")
        justify: Literal["left", "right"] = "right" if right else "left"
        name = Text(head.removeprefix(">"))
        table.add_column(name, justify=justify, overflow="fold", no_wrap=right)
    return table


def labelled() -> Columns:
    """Return an empty grid: a word, and what is to be said of it."""
    grid = Columns(box=None, show_header=False, pad_edge=False, padding=(0, 1, 0, 0))
    grid.collapse_padding = True
    grid.add_column(no_wrap=True)
    grid.add_column(overflow="fold")
    return grid


def sentences(console: Console, title: str, lines: Iterable[str]) -> None:
    """Print a heading and a list of sentences, or nothing when there is none."""
    unique = list(dict.fromkeys(lines))
    if not unique:
        return
    heading(console, title)
    grid = labelled()
    for line in unique:
        grid.add_row("-", line)
    say(console, grid)


def cautions(console: Console, found: Sequence[Caution], farm: Farm, title: str = "") -> None:
    """Print cautions gravest first, each with its word; the mark alone never carries meaning."""
    if not found:
        return
    if title:
        heading(console, title)
    grid = labelled()
    for one in sorted(said_once(found, farm), key=lambda one: words.LEVEL_ORDER[one.level]):
        label = Text(words.LEVEL_WORDS[one.level], style=_STYLES[one.level])
        name = clean(about_name(farm, one.about))
        says = clean(one.sentence)
        body = Text(says)
        if name and name not in says:
            body = Text.assemble((f"{name}: ", "bold"), says)
        grid.add_row(label, body)
    say(console, grid)


def blocks(console: Console) -> tuple[str, str, str, str]:
    """Return the letters a bar is drawn with: eaten, lost, left, missing."""
    if console.encoding.lower().replace("-", "").startswith("utf"):
        return ("█", "▒", "░", "×")
    return ("#", "=", ".", "x")
