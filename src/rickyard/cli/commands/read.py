"""``rickyard read``: each lot in plain sentences, hazards first."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from rickyard.cli.shared import EXIT_USAGE, fail, farm_folder_argument, load_farm, terminal

if TYPE_CHECKING:
    from rickyard.farm import Farm, Lot
    from rickyard.forage.reading import LotReading
    from rickyard.match import NutrientPrices

_PRICE_DEFAULT_UNIT: Final = {"us": "usd_per_lb", "metric": "usd_per_kg"}


@click.command()
@farm_folder_argument
@click.option(
    "--tdn-price",
    metavar="PRICE",
    help="What energy costs, per mass of TDN: 0.07 $/lb or 0.16 $/kg. With --cp-price; else the "
    "prices of the farm's feeds are used.",
)
@click.option("--cp-price", metavar="PRICE", help="What crude protein costs: 0.30 $/lb.")
@click.option(
    "--one-lab",
    is_flag=True,
    help="Count only the error within one laboratory, to compare lots that it tested. Else the "
    "error against the truth is counted, which is larger.",
)
@click.option(
    "--screens",
    "screens_file",
    metavar="TABLE.csv",
    type=click.Path(path_type=Path),
    help="A district's own screening limits, as rickyard screens makes them.",
)
@click.option(
    "--all",
    "everything",
    is_flag=True,
    help="Show every value of the report and everything computed from it, each by its method.",
)
def read(
    folder: Path,
    tdn_price: str | None,
    cp_price: str | None,
    one_lab: bool,
    screens_file: Path | None,
    everything: bool,
) -> None:
    """Read each lot of the farm in FOLDER: what the hay is, whom it suits, what is dangerous."""
    from rickyard.cli.commands.screens import load_screens
    from rickyard.cli.show import print_readings
    from rickyard.forage.reading import read_lot
    from rickyard.forage.uncertainty import Labs
    from rickyard.match import prices_of_feeds

    farm = load_farm(folder)
    prices = _stated_prices(tdn_price, cp_price, farm.units) or prices_of_feeds(farm.feeds)
    labs = Labs.ONE if one_lab else Labs.ANY
    screens = None if screens_file is None else load_screens(screens_file)
    readings = [
        _valued(read_lot(lot, farm.reports_of(lot.lot_id), None, labs, screens), lot, farm, prices)
        for lot in farm.lots
    ]
    readings = [_with_care(one, farm) for one in readings]
    if everything:
        from rickyard.forage.reading import every_number

        readings = [
            replace(
                one,
                numbers=(*one.numbers, *every_number(lot, farm.reports_of(lot.lot_id), labs)),
            )
            for one, lot in zip(readings, farm.lots, strict=True)
        ]
    print_readings(readings, farm, terminal(), prices, _ranked(farm))


def _with_care(reading: LotReading, farm: Farm) -> LotReading:
    """Put what a lot means to horses that need more care before all else that is said of it."""
    from rickyard.farm import Caution
    from rickyard.stock.herd import care_against_lot, care_cautions

    found = [
        caution
        for group in farm.groups
        if group.care is not None
        for caution in care_cautions(group, farm)
        if caution.about == reading.lot_id
    ]
    lot = farm.lot(reading.lot_id)
    kept = [
        Caution("danger", lot.lot_id, sentence, source)
        for group in farm.groups
        for sentence, source in care_against_lot(group, lot, farm)
    ]
    return replace(reading, cautions=(*kept, *found, *reading.cautions))


def _ranked(farm: Farm) -> list[str]:
    from rickyard.forage.energy import rank_by_tdn
    from rickyard.forage.plausibility import lot_profile

    measured = [
        (lot.name, lot.forage, lot_profile(lot, farm.reports_of(lot.lot_id)).measured)
        for lot in farm.lots
    ]
    return [group.sentence for group in rank_by_tdn(measured)]


def _stated_prices(tdn: str | None, cp: str | None, units: str) -> NutrientPrices | None:
    from rickyard.match import NutrientPrices
    from rickyard.quantities import QuantityError, parse_quantity

    if tdn is None and cp is None:
        return None
    if tdn is None or cp is None:
        fail("Give both --tdn-price and --cp-price, or neither.", EXIT_USAGE)
    unit = _PRICE_DEFAULT_UNIT.get(units, "usd_per_lb")
    try:
        energy, protein = (parse_quantity(text, "price", unit) for text in (tdn, cp))
    except QuantityError as problem:
        fail(f"{problem} Write a price such as 0.07 $/lb.", EXIT_USAGE)
    if energy < 0.0 or protein < 0.0:
        fail("A price must not be negative.", EXIT_USAGE)
    return NutrientPrices(energy, protein, "as stated")


def _valued(reading: LotReading, lot: Lot, farm: Farm, prices: NutrientPrices | None) -> LotReading:
    from rickyard.match import lot_worth, worth_sentence

    if prices is None:
        return reading
    worth = lot_worth(reading.measured, prices)
    sentence = worth_sentence(worth, farm.units, lot.value_usd_per_kg)
    if any(one.level == "danger" for one in reading.cautions):
        sentence = f"Only if the danger is settled: {sentence[0].lower()}{sentence[1:]}"
    return replace(reading, value=sentence)
