"""The published tables that ship with the package, read once."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from rickyard.quantities import OutOfRange

End = Literal["", "low", "high"]


@dataclass(frozen=True, slots=True)
class PublishedRange:
    """A published range, as printed; an end is ``None`` where the source prints none."""

    key: tuple[str, ...]
    low: float | None
    high: float | None
    source: str


@cache
def read_table(name: str, unit: str, keys: tuple[str, ...]) -> tuple[PublishedRange, ...]:
    """Read a table of published ranges from the package.

    Parameters
    ----------
    name : str
        File name without its ending.
    unit : str
        What the ``low_`` and ``high_`` columns end in.
    keys : tuple of str
        The columns that together name a row.

    Returns
    -------
    tuple of PublishedRange
        The rows in the order of the file.

    Examples
    --------
    >>> read_table("feeder_space", "in", ("animal", "mode"))[0].low
    22.0
    """
    text = files("rickyard.hay").joinpath("data", f"{name}.csv").read_text(encoding="utf-8")
    return tuple(
        PublishedRange(
            key=tuple(row[key] for key in keys),
            low=float(row[f"low_{unit}"]) if row[f"low_{unit}"] else None,
            high=float(row[f"high_{unit}"]) if row[f"high_{unit}"] else None,
            source=row["source"],
        )
        for row in csv.DictReader(text.splitlines())
    )


def find(rows: tuple[PublishedRange, ...], key: tuple[str, ...]) -> PublishedRange:
    """Return the row of that key; a key with blanks matches when only one row fits.

    Parameters
    ----------
    rows : tuple of PublishedRange
        A table from `read_table`.
    key : tuple of str
        One value per key column, ``""`` for "any". ``OutOfRange``, with a list of what there is, if
        not exactly one row fits.

    Returns
    -------
    PublishedRange
        The one row that fits.

    Examples
    --------
    >>> rows = read_table("feeder_space", "in", ("animal", "mode"))
    >>> find(rows, ("cow_1300lb", "")).high
    30.0
    """
    fits = [
        row
        for row in rows
        if all(not want or want == has for want, has in zip(key, row.key, strict=True))
    ]
    if len(fits) == 1:
        return fits[0]
    wanted = " / ".join(part or "any" for part in key)
    near = fits or [row for row in rows if row.key[0] == key[0]] or list(rows)
    choices = ", ".join(" / ".join(row.key) for row in near)
    found = "more than one row fits" if fits else "no row fits"
    raise OutOfRange(f"{found} {wanted}; there is {choices}.")


def end_of(row: PublishedRange, end: End) -> float:
    """Return one end of a published range, or its only value.

    Parameters
    ----------
    row : PublishedRange
        The row.
    end : {"", "low", "high"}
        Which end; ``""`` when the source prints one value. ``OutOfRange`` if it is not printed, or
        the row is a range and none is named.

    Returns
    -------
    float
        The printed value, in the unit of the table.

    Examples
    --------
    >>> rows = read_table("feeder_space", "in", ("animal", "mode"))
    >>> end_of(rows[0], "high")
    26.0
    """
    if end == "" and row.low != row.high:
        raise OutOfRange(f"{' / '.join(row.key)} is a range: ask for its low or its high end.")
    value = row.high if end == "high" else row.low
    if value is None:
        raise OutOfRange(f"{' / '.join(row.key)}: the source prints no {end or 'single'} value.")
    return value
