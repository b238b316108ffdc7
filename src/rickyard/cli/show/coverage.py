"""Minerals and vitamins against need in the terminal: a line a group, and what is too much."""

from __future__ import annotations

from typing import Final

from rich.console import Console
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.farm import Farm
from rickyard.program.result import Coverage, SeasonProgram
from rickyard.sheets.wording import group_name

#: The columns: what each is called over its column.
HEADINGS: Final = {
    "cu": "copper",
    "se": "selenium",
    "mg": "magnesium",
    "vitamin_a": "vitamin A",
    "vitamin_e": "vitamin E",
}
_BELOW: Final = (
    "Of the highest need of the season, by the tags of minerals and feeds and the tests of hay; "
    "vitamins of hay are not counted. tag? means that what the tag says is not written in "
    "feeds.csv. Ask your veterinarian before you feed more selenium or copper."
)


def print_coverage(program: SeasonProgram, farm: Farm, console: Console) -> None:
    """Print whether trace minerals and vitamins are covered; nothing without animals."""
    if not program.coverage:
        return
    parts.heading(console, "Minerals and vitamins against need")
    table = parts.columns((("group", False), *((word, True) for word in HEADINGS.values())))
    by_group: dict[str, dict[str, Coverage]] = {}
    for one in program.coverage:
        by_group.setdefault(one.group_id, {})[one.nutrient] = one
    for group_id, found in by_group.items():
        cells = [Text(_cell(found[name])) for name in HEADINGS]
        table.add_row(parts.plain(group_name(farm, group_id)), *cells)
    console.print(table)
    width = min(console.width, parts.MOST_COLUMNS)
    for one in program.coverage:
        if one.verdict == "too_much":
            console.print(parts.plain(one.sentence, "bold red"), width=width)
    console.print(Text(_BELOW), width=width)


def _cell(one: Coverage) -> str:
    if one.verdict == "covered":
        return "covered"
    if one.verdict == "too_much":
        return "too much"
    if one.verdict == "unknown":
        return "tag?"
    share = 100.0 * (one.from_feeds + one.from_hay) / one.need if one.need > 0.0 else 100.0
    return f"{min(share, 99.0):.0f}%"
