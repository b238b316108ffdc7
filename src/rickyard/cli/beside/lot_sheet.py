"""``rickyard lot-sheet``: a sheet about a lot, to hand to whoever may buy it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli.shared import (
    PDF,
    AnswerFile,
    DayOption,
    Farms,
    answering,
    farm_folders_argument,
    file_option,
    terminal,
)

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.service import FarmPlace, OpenedFarm
    from rickyard.sheets.paper import LotSheet


@click.command("lot-sheet")
@farm_folders_argument
@click.option(
    "--lot",
    "lot_ids",
    metavar="LOT",
    multiple=True,
    help="The lot to sell; may be repeated. Left out: every lot that lots.csv gives a sale price.",
)
@click.option("--on", "day", type=DayOption(), help="The day of the sheet; today if left out.")
@file_option("--pdf", "pdf_file", "Write the sheet as PDF, each lot on pages of its own.")
@answering
def lot_sheet(
    folders: tuple[Path, ...], lot_ids: tuple[str, ...], day: date | None, pdf_file: Path | None
) -> None:
    """Print a sheet of a lot of the farm in FOLDER for whoever may buy it.

    Bales and weight, how it was sampled and by whom it was tested, the analysis with its ranges,
    grade, storage, what is dangerous in it, and what is not known. Nothing of the stock, the feeds
    or the program of the farm stands on it, nor what the owner values the hay at.
    """
    from rickyard.service import lot_sheets
    from rickyard.sheets.paper import lot_pdf

    farms = Farms(folders)
    farms.only_one(lot=lot_ids)
    paper = AnswerFile(farms, pdf_file, PDF)
    farms.check([paper])

    def show(place: FarmPlace, opened: OpenedFarm) -> None:
        sheets = lot_sheets(opened.farm, lot_ids, day or date.today())
        paper.add(place, lambda: lot_pdf(sheets, opened.farm, day))
        for one in sheets:
            _print(one, opened.farm)

    farms.each(show)
    paper.finish()
    farms.finish()


def _print(sheet: LotSheet, farm: Farm) -> None:
    from rich.text import Text

    from rickyard.cli.show import parts

    console = terminal()
    place = f", {sheet.place}" if sheet.place else ""
    parts.say(console, f"{sheet.farm}{place}, {sheet.day}")
    parts.heading(console, sheet.title)
    grid = parts.labelled()
    for label, fact in sheet.facts:
        grid.add_row(Text(label, style="bold"), fact)
    parts.say(console, grid)
    parts.cautions(console, sheet.cautions, farm, "Read first")
    parts.sentences(console, "How it was sampled", sheet.sample)
    if sheet.values:
        parts.heading(console, "Analysis, in the dry matter")
        table = parts.columns("", ">", "90% range", "from")
        for one in sheet.values:
            table.add_row(one.words, one.value, one.between, one.origin)
        console.print(table)
        parts.say(console, sheet.ranges)
    parts.sentences(console, "Market grade", [sheet.grade] if sheet.grade else [])
    parts.sentences(console, "Not known", sheet.unknown)
    parts.sentences(console, "Before you buy it and before you feed it", sheet.buyers)
    console.print()
    parts.say(console, sheet.standing)
