"""Results of many lots in the terminal: a line each, dangers first, and what is dangerous."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console

from rickyard.cli.show import parts
from rickyard.display import count_text
from rickyard.program.result import STANDING_NOTE
from rickyard.service import ResultLine, gravest_first
from rickyard.sheets.wording import words

_BASIS = (
    "Percent is of dry matter; a value from a book has no day beside it. The whole page of a "
    "lot: rickyard read FOLDER --lot LOT."
)


def print_results(lines: Sequence[ResultLine], console: Console, *, several: bool) -> None:
    """Print a line for each lot.

    Parameters
    ----------
    lines : sequence of ResultLine
        The lots.
    console : rich.console.Console
        Where to print.
    several : bool
        Whether they are of more than one farm.
    """
    if not lines:
        parts.say(console, "No lot has a result of those days.")
        return
    ordered = gravest_first(lines)
    grave = [one for one in ordered if one.level == "danger"]
    farms = len({one.folder for one in lines})
    told = f"{count_text(len(lines), 'lot')} of {count_text(farms, 'farm')}"
    danger = f"{len(grave)} with a danger" if grave else "none with a danger"
    parts.say(console, f"{told}, {danger}", "bold")
    console.print()
    heads = ("", *(("farm",) if several else ()), "lot")
    table = parts.columns(*heads, "tested", ">protein", ">TDN", ">NDF", ">RFV", ">NO3-N ppm")
    for one in ordered:
        level = words.LEVEL_WORDS[one.level] if one.level else ""
        table.add_row(
            level,
            *((parts.plain(one.farm_name),) if several else ()),
            one.name,
            "" if one.tested_on is None else one.tested_on.isoformat(),
            *(_figure(value, 1) for value in (one.cp_pct, one.tdn_pct, one.ndf_pct)),
            _figure(one.rfv, 0),
            _nitrate(one),
        )
    console.print(table)
    for one in grave:
        console.print()
        where = f"{one.farm_name}, {one.name}" if several else one.name
        parts.say(console, where, "bold red")
        for caution in one.cautions:
            if caution.level == "danger":
                parts.say(console, f"- {caution.sentence}")
    console.print()
    parts.say(console, _BASIS)
    parts.say(console, STANDING_NOTE)


def _nitrate(one: ResultLine) -> str:
    if one.nitrate_sign in ("", "<", ">"):
        return f"{one.nitrate_sign}{_figure(one.nitrate_no3n_ppm, 0)}"
    return one.nitrate_sign


def _figure(value: float | None, decimals: int) -> str:
    return "" if value is None else f"{value:,.{decimals}f}"
