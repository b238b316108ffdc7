"""``rickyard read``: each lot in plain sentences, hazards first."""

from __future__ import annotations

from pathlib import Path

import click

from rickyard.cli.shared import answering, farm_folder_argument, open_folder, terminal


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
    "--lot",
    "lot_ids",
    metavar="LOT",
    multiple=True,
    help="Show the whole page of this lot only: reasons, other stock, grade, every number. May be "
    "repeated.",
)
@click.option(
    "--all",
    "everything",
    is_flag=True,
    help="Show the whole page of each lot, with every value of the report and everything computed "
    "from it, each by its method.",
)
@answering
def read(
    folder: Path,
    tdn_price: str | None,
    cp_price: str | None,
    one_lab: bool,
    screens_file: Path | None,
    lot_ids: tuple[str, ...],
    everything: bool,
) -> None:
    """Read each lot of the farm in FOLDER: what the hay is, what it fits, what is dangerous.

    Each lot gets a few lines: the answer, dangers and warnings, what it lacks, its worth and
    the numbers of a ration. --lot or --all give the rest.
    """
    from rickyard.cli.commands.screens import load_screens
    from rickyard.cli.show import print_readings
    from rickyard.service import read_lots, stated_prices

    farm = open_folder(folder).farm
    found = read_lots(
        farm,
        stated_prices(tdn_price, cp_price, farm.units),
        one_lab=one_lab,
        screens=None if screens_file is None else load_screens(screens_file),
        lot_ids=lot_ids,
        everything=everything,
    )
    brief = not everything and not lot_ids
    print_readings(found.readings, farm, terminal(), found.prices, found.ranked, brief=brief)
