"""The tables that the forage science is shipped with, each a file of text in ``data``."""

from __future__ import annotations

import csv
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


def shipped_text(file: str) -> str:
    """Return the text of a shipped file.

    Parameters
    ----------
    file : str
        Its name in ``forage/data``.

    Returns
    -------
    str
        The whole text.

    Examples
    --------
    >>> shipped_text("book_values.csv")[:6]
    'forage'
    """
    return files("rickyard.forage").joinpath("data", file).read_text(encoding="utf-8")


@cache
def shipped_rows(file: str) -> tuple[dict[str, str], ...]:
    """Return the rows of a shipped CSV file, its cells by their headers.

    Parameters
    ----------
    file : str
        Its name in ``forage/data``.

    Returns
    -------
    tuple of dict
        In the order of the file; an empty cell is unknown, never zero.

    Examples
    --------
    >>> shipped_rows("book_values.csv")[0]["value"]
    '88'
    """
    return tuple(csv.DictReader(shipped_text(file).splitlines()))


@cache
def shipped_toml(file: str) -> dict[str, Any]:
    """Return a shipped TOML file.

    Parameters
    ----------
    file : str
        Its name in ``forage/data``.

    Returns
    -------
    dict
        By the names in the file.

    Examples
    --------
    >>> shipped_toml("hazards.toml")["soil"]["name"]
    'soil'
    """
    return tomllib.loads(shipped_text(file))
