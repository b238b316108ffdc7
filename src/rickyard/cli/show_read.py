"""Each lot read in plain sentences, in the terminal: hazards first, numbers last."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rich.console import Console
from rich.table import Table
from rich.text import Text

from rickyard.cli import show_parts as parts
from rickyard.farm import Farm
from rickyard.forage.reading import Reading, ReadNumber
from rickyard.program.words import STANDING_NOTE
from rickyard.sheets.units import Display, display_for

_PER_KG: Final = "Mcal/kg"


def print_readings(readings: Sequence[Reading], farm: Farm, console: Console) -> None:
    """Print what each lot is: answer, hazards, whom it suits, what it lacks, why, numbers.

    Parameters
    ----------
    readings : sequence of Reading
        One for each lot.
    farm : Farm
        Gives names and display units.
    console : rich.console.Console
        Where to print.
    """
    display = display_for(farm.units)
    if not readings:
        console.print(Text("The farm has no lots of hay."))
        return
    for index, reading in enumerate(readings):
        if index:
            console.print()
        _print_reading(reading, farm, display, console)
    console.print()
    console.print(Text(STANDING_NOTE), width=min(console.width, parts.MOST_COLUMNS))


def _print_reading(reading: Reading, farm: Farm, display: Display, console: Console) -> None:
    width = min(console.width, parts.MOST_COLUMNS)
    name = next((lot.name for lot in farm.lots if lot.lot_id == reading.lot_id), reading.lot_id)
    headline = parts.plain(reading.headline, "bold")
    if not reading.headline.startswith(name):
        headline = Text.assemble((parts.plain(name).plain, "bold"), ": ", headline)
    console.print(headline, width=width)
    parts.cautions(console, reading.cautions, farm)
    grid = Table.grid(padding=(0, 1, 0, 0))
    grid.add_column(no_wrap=True)
    grid.add_column(overflow="fold")
    for label, sentence in (("Suits", reading.suits), ("Lacks", reading.lacks)):
        if sentence:
            grid.add_row(Text(label, style="bold"), parts.plain(sentence))
    for reason in reading.reasons:
        grid.add_row(Text("-"), parts.plain(reason))
    console.print(grid, width=width)
    if reading.numbers:
        _print_numbers(reading.numbers, display, console)


def _print_numbers(numbers: Sequence[ReadNumber], display: Display, console: Console) -> None:
    table = parts.columns((("", False), ("", True), ("", False), ("from", False)))
    for one in numbers:
        value, unit = one.value, one.unit
        if unit.startswith(_PER_KG):
            value = display.energy_density(value)
            unit = unit.replace("/kg", f"/{display.mass_unit}", 1)
        table.add_row(
            parts.plain(one.words),
            Text(f"{value:,.{one.decimals}f}"),
            parts.plain(unit),
            parts.plain(one.origin),
        )
    console.print(table)
