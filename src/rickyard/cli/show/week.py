"""The weekly list in the terminal: a table for each group, what changes, what to watch for."""

from __future__ import annotations

import re
from typing import Final

from rich.console import Console
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.farm import Farm
from rickyard.program.result import STANDING_NOTE
from rickyard.sheets.paper import WeekGroup, WeekLine, WeekList
from rickyard.sheets.wording import LEVEL_MARKS, words

_DAY_OF_MONTH: Final = re.compile(r"\d+")


def print_week(week: WeekList, farm: Farm, console: Console) -> None:
    """Print what to put out in one week."""
    parts.say(console, week.farm)
    parts.say(console, week.title, "bold")
    if week.never:
        console.print()
        parts.say(console, week.never, "bold")
    dangers = [one for one in week.cautions if one.level == "danger"]
    parts.cautions(console, dangers, farm)
    for group in week.groups:
        _print_group(week, group, farm, console)
    others = [one for one in week.cautions if one not in dangers]
    parts.cautions(console, others, farm, words.FOR_ALL)
    console.print()
    parts.say(console, STANDING_NOTE)


def _print_group(week: WeekList, group: WeekGroup, farm: Farm, console: Console) -> None:
    parts.heading(console, f"{group.name}, {group.head:,} head")
    if group.lines:
        heads = [_head(day) for day in week.days]
        table = parts.columns("", *(f">{head}" for head in heads))
        table.padding = (0, 1, 0, 0)
        for line in group.lines:
            table.add_row(_name(line), *(cell for cell in line.cells))
        console.print(table)
    if group.never:
        parts.say(console, group.never, "bold")
    for sentence in group.says:
        parts.say(console, sentence)
    parts.cautions(console, group.cautions, farm)


def _head(day: str) -> str:
    """Return the weekday and the day of the month: what fits above a figure."""
    found = _DAY_OF_MONTH.search(day)
    return f"{day[:3]} {found.group()}" if found else day


def _name(line: WeekLine) -> Text:
    """Return a lot's name and flag, or a feed's name, over what its figures count."""
    what = line.unit if line.is_bought else f"{line.flag}, {line.unit}"
    told = Text.assemble(parts.plain(line.name, "bold"), "\n", parts.plain(what, "dim"))
    if line.mark == LEVEL_MARKS["danger"]:
        told.append(f"\n{words.DANGER}", style="bold red")
    return told
