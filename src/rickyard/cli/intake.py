"""``rickyard intake``: reports of laboratories in, with every guess to be seen."""

from __future__ import annotations

import json
from pathlib import Path

import click

from rickyard.cli.common import write_whole


@click.command()
@click.argument(
    "files",
    metavar="FILE...",
    nargs=-1,
    required=True,
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
)
@click.option(
    "--json",
    "json_file",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Write what was read as JSON.",
)
def intake(files: tuple[Path, ...], json_file: Path | None) -> None:
    """Read the reports of laboratories in FILE..., and ask about what is not certain."""
    from rickyard.labs import read_file, reading_as_json

    readings = [read_file(path.name, path.read_bytes()) for path in files]
    for reading in readings:
        if reading.refused:
            click.echo(f"{reading.file}: not read. {reading.refused}")
            continue
        values = [value for sample in reading.samples for value in sample.values]
        sure = sum(value.status == "sure" for value in values)
        click.echo(f"{reading.file}: {len(reading.samples)} samples, {sure} values sure.")
        for question in reading.open_questions():
            click.echo(f"  ? {question.text}")
    if json_file is not None:
        told = [reading_as_json(reading) for reading in readings]
        write_whole(json_file, (json.dumps(told, indent=1) + "\n").encode("utf-8"))
