"""``rickyard read``: each lot in plain sentences, hazards first."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli import shared

if TYPE_CHECKING:
    from rickyard.service import FarmPlace, OpenedFarm, ReadLots, ResultLine


@click.command()
@shared.farm_folders_argument
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
@click.option(
    "--since",
    type=shared.DayOption(),
    help="Only lots whose report was printed, or whose sample was taken, on this day or later.",
)
@click.option(
    "--table",
    is_flag=True,
    help="One line for each lot, dangers first, and below it what is dangerous; so it is anyway "
    "where there are several farms.",
)
@shared.json_option("Write the lines of the table as JSON; - writes them to standard output.")
@shared.answering
def read(
    folders: tuple[Path, ...],
    tdn_price: str | None,
    cp_price: str | None,
    one_lab: bool,
    screens_file: Path | None,
    lot_ids: tuple[str, ...],
    everything: bool,
    since: date | None,
    table: bool,
    json_file: str | None,
) -> None:
    """Read each lot of the farm in FOLDER: what the hay is, what it fits, what is dangerous.

    Each lot gets a few lines: the answer, dangers and warnings, what it lacks, its worth and
    the numbers of a ration. --lot or --all give the rest. FOLDER may be several farms, or a folder
    of farms: then each lot is one line, dangers first.
    """
    from rickyard.cli.commands.screens import load_screens
    from rickyard.cli.show import print_readings
    from rickyard.cli.show_many import print_results
    from rickyard.service import read_lots, result_lines, stated_prices
    from rickyard.sheets.data_files import document

    farms = shared.Farms(folders)
    farms.only_one(lot=lot_ids)
    answer = shared.AnswerFile(farms, json_file)
    farms.check([answer])
    screens = None if screens_file is None else load_screens(screens_file)
    in_lines = (table or farms.several) and not everything
    lines: list[ResultLine] = []

    def read_one(opened: OpenedFarm) -> ReadLots:
        return read_lots(
            opened.farm,
            stated_prices(tdn_price, cp_price, opened.farm.units),
            one_lab=one_lab,
            screens=screens,
            lot_ids=lot_ids,
            everything=everything,
        )

    def show(place: FarmPlace, opened: OpenedFarm) -> None:
        found = read_one(opened)
        mine = result_lines(place, opened.farm, found.readings, since)
        lines.extend(mine)
        answer.add(place, lambda: document("read", farm=opened.farm.name, lots=mine))
        if answer.on_stdout or in_lines:
            return
        print_readings(
            found.readings,
            opened.farm,
            shared.terminal(),
            found.prices,
            found.ranked,
            brief=not everything and not lot_ids,
        )

    farms.each(show, quiet=answer.on_stdout or in_lines)
    if in_lines and not answer.on_stdout:
        print_results(lines, shared.terminal(), several=farms.several)
    answer.finish()
    farms.finish()
