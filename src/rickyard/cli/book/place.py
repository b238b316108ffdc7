"""What the commands of the record book share: its place and the end of a command."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, TypeVar

import click

_Command = TypeVar("_Command", bound=Callable[..., Any])


def data_option(function: _Command) -> _Command:
    """Return the option that names the folder of the book."""
    return click.option(
        "--data",
        metavar="DIR",
        type=click.Path(path_type=Path, file_okay=False),
        help="The folder of the record book; the usual one of this computer if left out.",
    )(function)


@contextmanager
def open_at(data: Path | None, *, create: bool = False) -> Iterator[str]:
    """Open the book, and yield what its place is called."""
    from rickyard.book.base import opened_book, place_of

    with opened_book(place_of(data), create=create) as place:
        yield str(place)
