"""What the commands of the record book share: its place and the end of a command."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

import click

from rickyard.cli import shared

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


def season_named(farm: str, start: date | None = None) -> tuple[Any, str]:
    """Return the season that is meant, and its farm's name; leave with a sentence if unclear."""
    from rickyard.book.folders import seasons_of
    from rickyard.book.services import read_farm

    every = seasons_of("")
    name = _the_farm(farm, sorted({called for _, called in every}))
    found = [season for season, called in every if called == name]
    days = [(read_farm(None, season.id).season.start, season) for season in found]
    wanted = start or days[0][0]
    meant = [season for day, season in days if day == wanted]
    if len(meant) != 1:
        starts = ", ".join(str(day) for day, _ in days)
        shared.fail(
            f'"{name}" has {len(meant)} seasons from {wanted}. Its seasons begin on {starts}; name '
            "one with --season. Of two farms of one name give one another name first.",
            shared.EXIT_USAGE,
        )
    return meant[0], name


def _the_farm(said: str, names: list[str]) -> str:
    """Return the farm of that name, or the only one with that in its name."""
    asked = said.strip().casefold()
    same = [name for name in names if name.casefold() == asked]
    parts = same or [name for name in names if asked and asked in name.casefold()]
    if len(parts) == 1:
        return parts[0]
    if parts:
        told = f'"{said}" may be any of these farms: {", ".join(parts)}. Write more of the name.'
    else:
        known = ", ".join(names) or "none"
        told = f'The record book has no farm "{said}". Its farms: {known}.'
    return shared.fail(told, shared.EXIT_USAGE)
