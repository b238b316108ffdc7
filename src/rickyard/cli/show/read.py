"""Each lot read in plain sentences, in the terminal: hazards first, numbers last."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rich.console import Console
from rich.table import Table
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.display import Display, count_text, display_for
from rickyard.farm import Farm
from rickyard.forage.reading import LotReading, ReadNumber
from rickyard.match import WORTH_SOURCE, NutrientPrices
from rickyard.program.result import STANDING_NOTE

_PER_KG: Final = "Mcal/kg"
#: Values of a lot that stand in its one line, by the field of the profile, with their words.
_IN_LINE: Final = {
    "tdn_pct": "TDN",
    "crude_cp_pct": "protein",
    "ndf_pct": "NDF",
    "ca_pct": "Ca",
    "p_pct": "P",
    "rfv": "RFV",
    "nitrate_no3n_ppm": "NO3-N",
}
#: Those of them whose range is shown.
_WITH_RANGE: Final = ("tdn_pct", "crude_cp_pct", "nitrate_no3n_ppm")

RANGE_NOTE: Final = (
    "90% range: the true value is within it 9 times out of 10, given sampling and lab error, or "
    "for a book value how far one lot can be from the book. It leaves out what two equations for "
    "TDN differ by: compare lots by TDN of one method only."
)
MORE_NOTE: Final = (
    "Percent is of dry matter. For the reasons, other stock, grade and every number of a lot: "
    "--lot LOT; of all lots: --all."
)


def print_readings(
    readings: Sequence[LotReading],
    farm: Farm,
    console: Console,
    prices: NutrientPrices | None = None,
    rankings: Sequence[str] = (),
    *,
    brief: bool = False,
) -> None:
    """Print what each lot is: answer, hazards, whom it suits, what it lacks, why, numbers.

    ``brief`` leaves its answer, dangers and warnings, what it lacks, its worth and one line of
    numbers; ``prices`` and ``rankings`` are told once at the end.
    """
    display = display_for(farm.units)
    if not readings:
        console.print(Text("The farm has no lots of hay."))
        return
    for index, reading in enumerate(readings):
        if index:
            console.print()
        if brief:
            _print_brief(reading, farm, display, console)
        else:
            _print_reading(reading, farm, display, console)
    width = min(console.width, parts.MOST_COLUMNS)
    console.print()
    for sentence in rankings:
        console.print(parts.plain(sentence), width=width)
        console.print()
    if prices is not None:
        console.print(parts.plain(f"Worth: {prices.sentence()}. {WORTH_SOURCE}."), width=width)
        console.print()
    console.print(parts.plain(display.local(RANGE_NOTE)), width=width)
    if brief:
        console.print(Text(MORE_NOTE), width=width)
    console.print()
    console.print(Text(STANDING_NOTE), width=width)


def _print_brief(reading: LotReading, farm: Farm, display: Display, console: Console) -> None:
    width = min(console.width, parts.MOST_COLUMNS)
    console.print(parts.plain(reading.headline, "bold"), width=width)
    grave = [one for one in reading.cautions if one.level != "note"]
    parts.cautions(console, grave, farm)
    notes = len(reading.cautions) - len(grave)
    more = f" {count_text(notes, 'more note')}: --lot {reading.lot_id}." if notes else ""
    for sentence in (f"{reading.lacks}{more}", reading.value):
        if sentence:
            console.print(parts.plain(sentence), width=width)
    if reading.numbers:
        console.print(parts.plain(_line(reading.numbers, display), "dim"), width=width)


def _line(numbers: Sequence[ReadNumber], display: Display) -> str:
    """Return the numbers a ration needs in one line, in percent where nothing else is said."""
    there = {one.name: one for one in numbers}
    said = []
    for name, word in _IN_LINE.items():
        one = there.get(name)
        if one is None:
            continue
        unit = "%" if one.unit.startswith("%") else f" {one.unit.split()[0]}"
        figures = f"{one.value:,.{one.decimals}f}{'' if unit == ' index' else unit}"
        if name in _WITH_RANGE and one.low is not None and one.high is not None:
            figures += f" ({one.low:,.{one.decimals}f}-{one.high:,.{one.decimals}f})"
        said.append(f"{word} {figures}")
    return display.local(", ".join(said))


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
        ("Fits", reading.suits),
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
    heads = (("", False), ("", True), ("90% range", False), ("", False), ("from", False))
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
