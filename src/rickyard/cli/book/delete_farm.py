"""``rickyard delete-farm``: a farm out of the record book, for good."""

from __future__ import annotations

from pathlib import Path

import click

from rickyard.cli import shared
from rickyard.cli.book.place import data_option, open_at, season_named


@click.command("delete-farm")
@click.argument("farm")
@click.option("--name", "typed", help="The whole name of the farm; asked for if left out.")
@data_option
@shared.answering
def delete_farm(farm: str, typed: str | None, data: Path | None) -> None:
    """Delete FARM with all its seasons, files, programs and its trail, for good.

    It is asked for by typing its whole name. Write it out first with rickyard export FARM
    --office FILE if any of it may be wanted. That it was deleted, when and by whom, is kept;
    backups made before hold the farm still.
    """
    from rickyard.book.keeping import delete_farm as delete

    with open_at(data):
        season, name = season_named(farm)
        said = typed or click.prompt(f'Type "{name}" to delete it for good', default="")
        went = delete(None, season.farm_id, said)
    shared.say(f"{name} is deleted: {went:,} rows. Backups made before hold it still.")
