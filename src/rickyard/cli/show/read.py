"""Each lot read in plain sentences, in the terminal: hazards first, numbers last."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rich.console import Console
from rich.table import Table
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.display import Display, display_for
from rickyard.farm import Farm
from rickyard.forage.reading import LotReading, ReadNumber
from rickyard.match import WORTH_SOURCE, NutrientPrices
from rickyard.program.result import STANDING_NOTE

_PER_KG: Final = "Mcal/kg"
RANGE_NOTE: Final = (
    "The range beside a value holds the truth about nine times in ten, counting the error of "
    "sampling and laboratory, or for a book value how far one lot may lie from the book. What two "
    "equations for TDN differ by is not in it: compare lots by TDN of one method only."
)


def print_readings(
    readings: Sequence[LotReading],
    farm: Farm,
    console: Console,
    prices: NutrientPrices | None = None,
    rankings: Sequence[str] = (),
) -> None:
    """Print what each lot is: answer, hazards, whom it suits, what it lacks, why, numbers.

    Parameters
    ----------
    readings : sequence of LotReading
        One for each lot.
    farm : Farm
        Gives names and display units.
    console : rich.console.Console
        Where to print.
    prices : NutrientPrices, optional
        What energy and protein were valued at, told once at the end.
    rankings : sequence of str
        Sentences that compare lots with each other.
    """
    display = display_for(farm.units)
    if not readings:
        console.print(Text("The farm has no lots of hay."))
        return
    for index, reading in enumerate(readings):
        if index:
            console.print()
        _print_reading(reading, farm, display, console)
    width = min(console.width, parts.MOST_COLUMNS)
    console.print()
    for sentence in rankings:
        console.print(parts.plain(sentence), width=width)
        console.print()
    if prices is not None:
        console.print(parts.plain(f"Worth: {prices.sentence()}. {WORTH_SOURCE}."), width=width)
        console.print()
    console.print(Text(RANGE_NOTE), width=width)
    console.print()
    console.print(Text(STANDING_NOTE), width=width)


def _print_reading(reading: LotReading, farm: Farm, display: Display, console: Console) -> None:
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
    for place, reason in enumerate(reading.reasons):
        grid.add_row(Text("" if place else "Why", style="bold"), parts.plain(reason))
    for label, sentence in (
        ("Suits", reading.suits),
        ("Lacks", reading.lacks),
        ("Sure?", reading.certainty),
        ("Tests", reading.repeat),
        ("Other", reading.other_stock),
        ("Grade", reading.grade),
        ("Worth", reading.value),
    ):
        if sentence:
            grid.add_row(Text(label, style="bold"), parts.plain(sentence))
    console.print(grid, width=width)
    if reading.numbers:
        _print_numbers(reading.numbers, display, console)


def _print_numbers(numbers: Sequence[ReadNumber], display: Display, console: Console) -> None:
    heads = (("", False), ("", True), ("9 in 10 within", False), ("", False), ("from", False))
    table = parts.columns(heads)
    for one in numbers:
        per_kg = one.unit.startswith(_PER_KG)
        unit = one.unit.replace("/kg", f"/{display.mass_unit}", 1) if per_kg else one.unit
        ends = [
            display.energy_density(value) if per_kg else value
            for value in (one.value, one.low, one.high)
            if value is not None
        ]
        value, *interval = (f"{end:,.{one.decimals}f}" for end in ends)
        table.add_row(
            parts.plain(one.words),
            Text(value),
            Text(" to ".join(interval)),
            parts.plain(unit),
            parts.plain(one.origin),
        )
    console.print(table)
