"""What the commands share: reading a farm folder, writing a file, the terminal."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final, NoReturn

import click

if TYPE_CHECKING:
    from rich.console import Console

    from rickyard.farm import Farm

EXIT_USAGE: Final = 2
EXIT_FOLDER: Final = 3
EXIT_RECHECK: Final = 4


def load_farm(folder: Path) -> Farm:
    """Read a farm folder, or name every fault in it and leave with exit code 3."""
    from rickyard.folder.io import read_folder
    from rickyard.folder.tables import FolderFaults
    from rickyard.forage.values import feed_ids

    try:
        return read_folder(folder, known_table_ids=feed_ids()).farm
    except FolderFaults as faults:
        fail(str(faults), EXIT_FOLDER)


@contextmanager
def within_range() -> Iterator[None]:
    """Leave with exit code 3 when an equation meets a value it was not made for."""
    from rickyard.quantities import OutOfRange

    try:
        yield
    except OutOfRange as problem:
        fail(f"The farm cannot be worked out: {problem}", EXIT_FOLDER)


def fail(message: str, code: int) -> NoReturn:
    """Say what went wrong on standard error and leave."""
    click.echo(message, err=True)
    sys.exit(code)


def write_whole(path: Path, content: bytes) -> None:
    """Write a file whole or not at all, through a neighbour that is moved into place.

    Leaves with exit code 2 and a sentence when the place cannot be written.
    """
    partial = path.with_name(f".{path.name}.partial")
    try:
        partial.write_bytes(content)
        partial.replace(path)
    except OSError as error:
        partial.unlink(missing_ok=True)
        fail(
            f"{path}: cannot be written ({error.strerror}). Choose a folder that exists and that "
            "you may write to, and close the file where it is open.",
            EXIT_USAGE,
        )


def terminal(*, err: bool = False) -> Console:
    """Return the console to print on; plain and never folded when it is not a terminal."""
    from rich.console import Console

    console = Console(stderr=err, highlight=False)
    if not console.is_terminal:
        return Console(stderr=err, highlight=False, width=100, no_color=True)
    return console


def farm_folder_argument(function: click.decorators.FC) -> click.decorators.FC:
    """Add the FOLDER argument that most commands take."""
    return click.argument(
        "folder", metavar="FOLDER", type=click.Path(path_type=Path, file_okay=True)
    )(function)
