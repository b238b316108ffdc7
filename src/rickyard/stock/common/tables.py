"""The published tables for small stock and horses, read once from the package.

Every row names its source and carries an evidence flag: ``seen`` (the number was read in the
named source), ``memory`` (remembered from the named edition), ``derived`` (computed from an
equation of the named source) or ``common practice``.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import TypeAlias

import numpy as np

from rickyard.evidence import DERIVED, MEMORY, PRACTICE, SEEN
from rickyard.quantities import Numeric, OutOfRange
from rickyard.types import FloatArray

Row: TypeAlias = Mapping[str, str]


@lru_cache(maxsize=64)
def read_rows(name: str) -> tuple[Row, ...]:
    """Read a table of the package.

    Parameters
    ----------
    name : str
        File name without its ending.

    Returns
    -------
    tuple of mapping
        One mapping of column to text per row, in the order of the file.

    Examples
    --------
    >>> read_rows("sheep_1985")[0]["tdn_kg"]
    '0.55'
    """
    text = files("rickyard.stock").joinpath("data", f"{name}.csv").read_text("utf-8")
    return tuple(MappingProxyType(dict(row)) for row in csv.DictReader(text.splitlines()))


def find_rows(name: str, **wanted: str) -> tuple[Row, ...]:
    """Return the rows of a table that hold given words.

    Parameters
    ----------
    name : str
        File name without its ending.
    **wanted : str
        The word by column. ``OutOfRange``, with the words there are, if no row holds them.

    Returns
    -------
    tuple of mapping
        The rows, at least one.

    Examples
    --------
    >>> find_rows("goat_2004_energy", **{"class": "growing_dairy"})[0]["gain_kj_per_g"]
    '23.1'
    """
    rows = read_rows(name)
    found = tuple(row for row in rows if all(row[key] == word for key, word in wanted.items()))
    if not found:
        said = " / ".join(wanted.values())
        choices = sorted({" / ".join(row[key] for key in wanted) for row in rows})
        raise OutOfRange(f"The table {name} has no row {said}; it has {', '.join(choices)}.")
    return found


def find_row(name: str, **wanted: str) -> Row:
    """Return the one row of a table that holds given words.

    Parameters
    ----------
    name : str
        File name without its ending.
    **wanted : str
        The word by column. ``OutOfRange`` if not exactly one row holds them.

    Returns
    -------
    mapping
        The row.

    Examples
    --------
    >>> find_row("calcium_2007", species="sheep", stage="late_gestation")["ca_g"]
    '8.8'
    """
    rows = find_rows(name, **wanted)
    if len(rows) > 1:
        raise OutOfRange(f"The table {name} has {len(rows)} rows {' / '.join(wanted.values())}.")
    return rows[0]


def column(rows: tuple[Row, ...], name: str) -> FloatArray:
    """Return a column of numbers, NaN where the table leaves the cell empty.

    Parameters
    ----------
    rows : tuple of Row
        Rows of a shipped table.
    name : str
        The column.

    Returns
    -------
    array, shape (N,)
        The numbers, in the unit that the column's name ends in.

    Examples
    --------
    >>> column(find_rows("calcium_2007", species="goat"), "ca_g").tolist()
    [6.6, 6.6, 20.7, 21.4]
    """
    return np.array([float(row[name]) if row[name] else np.nan for row in rows], dtype=np.float64)


def all_along(
    at: Numeric, points: FloatArray, columns: Mapping[str, FloatArray]
) -> dict[str, FloatArray]:
    """Return columns of a table between its rows, and on past its ends, along straight lines.

    Parameters
    ----------
    at : float or array
        Where, on the scale of ``points``.
    points : array, shape (R,)
        The rows, rising, two at least.
    columns : mapping of str to array, shape (R,)
        Values of each row by the name of their column.

    Returns
    -------
    dict of str to array, shape of ``at``
        Values by the name of their column.

    Examples
    --------
    >>> all_along(65.0, np.array([60.0, 70.0]), {"cp_g": np.array([104.0, 113.0])})["cp_g"].item()
    108.5
    """
    where = np.asarray(at, dtype=np.float64)
    left = np.clip(np.searchsorted(points, where, side="right") - 1, 0, len(points) - 2)
    past = where - points[left]
    found = {}
    for name, values in columns.items():
        slope = np.diff(values) / np.diff(points)
        found[name] = np.asarray(values[left] + past * slope[left])
    return found


def weakest(*evidence: str) -> str:
    """Return the evidence that a value built from several carries: that of the weakest part.

    Parameters
    ----------
    *evidence : str
        How each part is known.

    Returns
    -------
    str
        One of the words of ``evidence``.

    Examples
    --------
    >>> weakest("seen", "memory", "derived")
    'memory'
    >>> weakest("seen", "seen")
    'seen'
    """
    for flag in (PRACTICE, MEMORY, DERIVED):
        if any(flag in one for one in evidence):
            return flag
    return SEEN
