"""What the terminal pages share: headings, tables without frames, wrapped sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from rich.console import Console
from rich.table import Table
from rich.text import Text

from rickyard.display import clean
from rickyard.farm import Caution, Farm
from rickyard.sheets.wording import about_name, words

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


def columns(heads: Sequence[tuple[str, bool]], *, expand_first: bool = False) -> Table:
    """Return an empty table; each head says whether its figures stand to the right."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
    for index, (name, right) in enumerate(heads):
        table.add_column(
            Text(name),
            justify="right" if right else "left",
            overflow="fold",
            no_wrap=right,
            ratio=1 if expand_first and index == 0 else None,
        )
    return table


def sentences(console: Console, title: str, lines: Iterable[str]) -> None:
    """Print a heading and a list of sentences, or nothing when there is none."""
    unique = list(dict.fromkeys(lines))
    if not unique:
        return
    heading(console, title)
    grid = Table.grid(padding=(0, 1, 0, 0))
    grid.add_column(width=1)
    grid.add_column(overflow="fold")
    for line in unique:
        grid.add_row(Text("-"), plain(line))
    console.print(grid, width=min(console.width, MOST_COLUMNS))


def cautions(console: Console, found: Sequence[Caution], farm: Farm, title: str = "") -> None:
    """Print cautions gravest first, each with its word; the mark alone never carries meaning."""
    if not found:
        return
    if title:
        heading(console, title)
    grid = Table.grid(padding=(0, 1, 0, 0))
    grid.add_column(no_wrap=True)
    grid.add_column(overflow="fold")
    for one in sorted(found, key=lambda one: words.LEVEL_ORDER[one.level]):
        label = Text(words.LEVEL_WORDS[one.level], style=_STYLES[one.level])
        name = clean(about_name(farm, one.about))
        says = clean(one.sentence)
        body = Text(says)
        if name and name not in says:
            body = Text.assemble((f"{name}: ", "bold"), says)
        grid.add_row(label, body)
    console.print(grid, width=min(console.width, MOST_COLUMNS))


def blocks(console: Console) -> tuple[str, str, str, str]:
    """Return the letters a bar is drawn with: eaten, lost, left, missing."""
    if console.encoding.lower().replace("-", "").startswith("utf"):
        return ("█", "▒", "░", "×")
    return ("#", "=", ".", "x")
