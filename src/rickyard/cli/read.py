"""``rickyard read``: each lot in plain sentences, hazards first."""

from __future__ import annotations

from pathlib import Path

import click

from rickyard.cli.common import farm_folder_argument, load_farm, terminal


@click.command()
@farm_folder_argument
def read(folder: Path) -> None:
    """Read each lot of the farm in FOLDER: what the hay is, whom it suits, what is dangerous."""
    from rickyard.cli.show_read import print_readings
    from rickyard.forage.reading import read_lot

    farm = load_farm(folder)
    readings = [read_lot(lot, farm.reports_of(lot.lot_id)) for lot in farm.lots]
    print_readings(readings, farm, terminal())
