"""Each lot read in plain sentences, in the terminal: hazards first, numbers last."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rich.console import Console
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
        parts.say(console, "The farm has no lots of hay.")
        return
    for index, reading in enumerate(readings):
        if index:
            console.print()
        if brief:
            _print_brief(reading, farm, display, console)
        else:
            _print_reading(reading, farm, display, console)
    console.print()
    for sentence in rankings:
        parts.say(console, sentence)
        console.print()
    if prices is not None:
        parts.say(console, f"Worth: {prices.sentence()}. {WORTH_SOURCE}.")
        console.print()
    parts.say(console, display.local(RANGE_NOTE))
    if brief:
        parts.say(console, MORE_NOTE)
    console.print()
    parts.say(console, STANDING_NOTE)


def _print_brief(reading: LotReading, farm: Farm, display: Display, console: Console) -> None:
    parts.say(console, reading.headline, "bold")
    grave = [one for one in reading.cautions if one.level != "note"]
    parts.cautions(console, grave, farm)
    notes = len(reading.cautions) - len(grave)
    more = f" {count_text(notes, 'more note')}: --lot {reading.lot_id}." if notes else ""
    for sentence in (f"{reading.lacks}{more}", reading.value):
        if sentence:
            parts.say(console, sentence)
    if reading.numbers:
        parts.say(console, _line(reading.numbers, display), "dim")


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
        if name in _WITH_RANGE and one.low is not None and one.high is not None and one.high > 0.0:
            figures += f" ({one.low:,.{one.decimals}f}-{one.high:,.{one.decimals}f})"
        said.append(f"{word} {figures}")
    return display.local(", ".join(said))


def _print_reading(reading: LotReading, farm: Farm, display: Display, console: Console) -> None:
    name = next((lot.name for lot in farm.lots if lot.lot_id == reading.lot_id), reading.lot_id)
    headline = parts.plain(reading.headline, "bold")
    if not reading.headline.startswith(name):
        headline = Text.assemble((parts.plain(name).plain, "bold"), ": ", headline)
    parts.say(console, headline)
    parts.cautions(console, reading.cautions, farm)
    grid = parts.labelled()
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
    parts.say(console, grid)
    if reading.numbers:
        _print_numbers(reading.numbers, display, console)


def _print_numbers(numbers: Sequence[ReadNumber], display: Display, console: Console) -> None:
    table = parts.columns("", ">", "90% range", "", "from")
    for one in numbers:
        per_kg = one.unit.startswith(_PER_KG)
        unit = one.unit.replace("/kg", f"/{display.mass_unit}", 1) if per_kg else one.unit
        ends = [
            display.energy_density(value) if per_kg else value
            for value in (one.value, one.low, one.high)
            if value is not None
        ]
        value, *interval = (f"{end:,.{one.decimals}f}" for end in ends)
        table.add_row(one.words, value, " to ".join(interval), unit, one.origin)
    console.print(table)
