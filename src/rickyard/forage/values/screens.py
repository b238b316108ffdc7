"""Screening limits by forage: what a value or a ratio usually is, and what it can hardly be.

The limits are data. The shipped ones are judgement, widened until published tables fall
inside; a district replaces them by a table made from its own results.
"""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np

from rickyard.farm import Forage
from rickyard.forage import shipped_text
from rickyard.forage.values.columns import FORAGE_CODE, FORAGES, ReportColumns
from rickyard.forage.values.samples import DRIED_SAMPLE_ABOVE_DM_PCT
from rickyard.quantities import positive
from rickyard.types import FloatArray

#: A usual range from a mean and a standard deviation reaches this many of them to either side:
#: the first and the ninety-ninth percentile of a normal spread, by definition.
SD_TO_PERCENTILE_1: Final = 2.33
#: Beyond this many half-widths from the middle of the usual range a value is an error;
#: judgement, no published source.
HARD_PER_HALF_WIDTH: Final = 1.5
#: Fewer results of one forage than these are not made into limits; common practice.
LEAST_REPORTS: Final = 30

COLUMNS: Final = (
    "forage",
    "quantity",
    "low",
    "high",
    "hard_low",
    "hard_high",
    "reports",
    "source",
)
_FILE: Final = "screens.csv"
_ANY: Final = "any"
_NEVER: Final = "none"


class ScreenTableError(ValueError):
    """A table of screening limits that cannot be read; the message says what to write."""


@dataclass(frozen=True, slots=True)
class ScreenRow:
    """The limits of one quantity for one forage, or for any (``forage`` is ``None``).

    ``quantity`` is a column of ``columns`` or the ratio of two, ``adf/ndf``. ``low`` and
    ``high`` bound what is usual, ``hard_low`` and ``hard_high`` what is possible at all;
    infinite where nothing is an error. ``reports`` is how many results they come from.
    """

    forage: Forage | None
    quantity: str
    low: float
    high: float
    hard_low: float
    hard_high: float
    source: str
    reports: int | None = None


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits of one quantity by forage code; NaN where there is none."""

    low: FloatArray
    high: FloatArray
    hard_low: FloatArray
    hard_high: FloatArray


@dataclass(frozen=True, slots=True)
class Screens:
    """A whole table of screening limits."""

    rows: tuple[ScreenRow, ...]
    limits: Mapping[str, Limits]

    def row(self, forage: Forage, quantity: str) -> ScreenRow | None:
        """Return the limits that hold for a forage, its own before those of any.

        Examples
        --------
        >>> row = shipped_screens().row(Forage.ALFALFA, "cp")
        >>> row.low, row.high, row.hard_low, row.hard_high
        (8.0, 28.0, 3.0, 33.0)
        """
        found = {one.forage: one for one in self.rows if one.quantity == quantity}
        return found.get(forage) or found.get(None)

    def replaced_by(self, rows: Iterable[ScreenRow]) -> Screens:
        """Return the table with rows of the same forage and quantity replaced.

        Examples
        --------
        >>> local = ScreenRow(Forage.ALFALFA, "cp", 15.0, 24.0, 12.0, 27.0, "this district")
        >>> shipped_screens().replaced_by([local]).row(Forage.ALFALFA, "cp").source
        'this district'
        """
        merged = {(row.forage, row.quantity): row for row in self.rows}
        merged.update({(row.forage, row.quantity): row for row in rows})
        return _screens(merged.values())


@cache
def shipped_screens() -> Screens:
    """Return the limits shipped with the program.

    Source: Judgement, no published source: none prints percentiles.

    Examples
    --------
    >>> shipped_screens().row(Forage.COOL_GRASS, "ndf").high
    79.0
    """
    return _screens(read_screen_rows(shipped_text(_FILE), _FILE))


def hard_limits(low: float, high: float) -> tuple[float, float]:
    """Return the limits of the possible: 1.5 half-widths to either side of the middle, from 0.

    >>> hard_limits(8.0, 28.0)
    (3.0, 33.0)
    """
    middle, half = (low + high) / 2.0, (high - low) / 2.0
    reach = HARD_PER_HALF_WIDTH * half
    return max(0.0, middle - reach), middle + reach


def read_screen_rows(text: str, name: str) -> tuple[ScreenRow, ...]:
    r"""Read a table of screening limits from the text of a CSV file.

    Parameters
    ----------
    text : str
        The content of the file. A header or cell that cannot be read raises ``ScreenTableError``
        naming file, row and column.
    name : str
        What the file is called, for the messages.

    Returns
    -------
    tuple of ScreenRow
        The rows in order.

    Examples
    --------
    >>> rows = read_screen_rows(
    ...     "forage,quantity,low,high,hard_low,hard_high,reports,source\n"
    ...     "alfalfa,cp,15,24,,,210,this district\n", "ours.csv")
    >>> rows[0].hard_low, rows[0].reports
    (12.75, 210)
    """
    reader = csv.DictReader(io.StringIO(text, newline=""))
    missing = [column for column in COLUMNS if column not in (reader.fieldnames or ())]
    if missing:
        raise ScreenTableError(
            f"{name}, row 1: lacks {', '.join(missing)}. The first row must be {','.join(COLUMNS)}."
        )
    return tuple(_row(cells, f"{name}, row {number}") for number, cells in enumerate(reader, 2))


def write_screen_rows(rows: Iterable[ScreenRow]) -> str:
    """Write a table of screening limits as the text of a CSV file.

    Parameters
    ----------
    rows : iterable of ScreenRow
        Limits, in the unit of each quantity.

    Returns
    -------
    str
        CSV with a header row and lines that end in a line feed.

    Examples
    --------
    >>> row = ScreenRow(Forage.ALFALFA, "cp", 15.0, 24.0, 12.75, 26.25, "this district", 210)
    >>> print(write_screen_rows([row]).splitlines()[1])
    alfalfa,cp,15,24,12.75,26.25,210,this district
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in rows:
        hard = (
            _NEVER if math.isinf(edge) else f"{edge:.4g}" for edge in (row.hard_low, row.hard_high)
        )
        writer.writerow(
            (
                _ANY if row.forage is None else row.forage.value,
                row.quantity,
                f"{row.low:.4g}",
                f"{row.high:.4g}",
                *hard,
                "" if row.reports is None else row.reports,
                row.source,
            )
        )
    return out.getvalue()


def screens_from_results(
    results: ReportColumns, source: str, least_reports: int = LEAST_REPORTS
) -> tuple[ScreenRow, ...]:
    """Turn past results into screening limits.

    Parameters
    ----------
    results : ReportColumns
        Past results, those with errors left out by the caller.
    source : str
        What to write as the source of the rows.
    least_reports : int
        Results of one forage below which no limits are made.

    Returns
    -------
    tuple of ScreenRow
        For each quantity that the shipped table screens: mean plus and minus 2.33 standard
        deviations, not below 0, by forage. [unit of the quantity]

    Examples
    --------
    >>> from rickyard.forage.values.columns import plain_columns
    >>> cp = np.tile([18.0, 20.0, 22.0], 20)
    >>> (row,) = screens_from_results(plain_columns(Forage.ALFALFA, {"cp": cp}), "here")
    >>> round(row.low, 1), round(row.high, 1), row.reports
    (16.2, 23.8, 60)
    """
    shipped = shipped_screens()
    rows = []
    for quantity in shipped.limits:
        values = screened_values(results, quantity)
        if values is None:
            continue
        for code, forage in enumerate(FORAGES):
            mine = values[(results.forage == code) & np.isfinite(values)]
            if len(mine) < max(2, least_reports):
                continue
            middle, reach = float(mine.mean()), SD_TO_PERCENTILE_1 * float(mine.std(ddof=1))
            low, high = max(0.0, middle - reach), middle + reach
            old = shipped.row(forage, quantity)
            never = old is not None and math.isinf(old.hard_high)
            hard = (-math.inf, math.inf) if never else hard_limits(low, high)
            rows.append(ScreenRow(forage, quantity, low, high, *hard, source, len(mine)))
    return tuple(rows)


def screened_values(columns: ReportColumns, quantity: str) -> FloatArray | None:
    """Return the column that a quantity of the table screens, or ``None`` without it.

    A ratio is NaN where its divisor is not positive; dry matter is split by ``dm`` (hay) and
    ``dm_wet`` (baleage and silage), and NaN where the sample was tested dry.

    Parameters
    ----------
    columns : ReportColumns
        Reports of one forage as columns.
    quantity : str
        An analyte, or two with ``/`` between them.

    Returns
    -------
    array, shape (N,), or None
        One value a report, in the unit of the table.

    Examples
    --------
    >>> from rickyard.forage.values.columns import plain_columns
    >>> values = {"adf": np.array([32.0]), "ndf": np.array([40.0])}
    >>> screened_values(plain_columns(Forage.ALFALFA, values), "adf/ndf")
    array([0.8])
    """
    if "/" in quantity:
        upper, lower = quantity.split("/")
        if not columns.has(upper, lower):
            return None
        return columns[upper] / positive(columns[lower])
    if quantity in ("dm", "dm_wet"):
        if not columns.has("dm"):
            return None
        wanted = columns.wet if quantity == "dm_wet" else ~columns.wet
        as_it_was = wanted & (columns["dm"] <= DRIED_SAMPLE_ABOVE_DM_PCT)
        return np.where(as_it_was, columns["dm"], np.nan)
    return columns[quantity] if columns.has(quantity) else None


def _screens(rows: Iterable[ScreenRow]) -> Screens:
    kept = tuple(rows)
    limits: dict[str, Limits] = {}
    # Rows for any forage come first, so that a forage's own limits go over them.
    for row in sorted(kept, key=lambda one: one.forage is not None):
        mine = limits.setdefault(row.quantity, Limits(*(_blank() for _ in range(4))))
        where = slice(None) if row.forage is None else FORAGE_CODE[row.forage]
        mine.low[where], mine.high[where] = row.low, row.high
        mine.hard_low[where], mine.hard_high[where] = row.hard_low, row.hard_high
    return Screens(kept, limits)


def _blank() -> FloatArray:
    return np.full(len(FORAGES), np.nan)


def _row(cells: Mapping[str, str | None], where: str) -> ScreenRow:
    text = {column: (cells.get(column) or "").strip() for column in COLUMNS}
    low, high = (_number(text[column], f"{where}, column {column}") for column in ("low", "high"))
    if low > high:
        raise ScreenTableError(f"{where}: low {low:g} is above high {high:g}. Swap them.")
    hard = hard_limits(low, high)
    edges = [
        fallback if not text[column] else _edge(text[column], sign, f"{where}, column {column}")
        for column, fallback, sign in (
            ("hard_low", hard[0], -1.0),
            ("hard_high", hard[1], 1.0),
        )
    ]
    if not text["quantity"]:
        raise ScreenTableError(f"{where}, column quantity: is empty. Write for example cp.")
    return ScreenRow(
        _forage(text["forage"], where),
        text["quantity"],
        low,
        high,
        edges[0],
        edges[1],
        text["source"],
        int(_number(text["reports"], f"{where}, column reports")) if text["reports"] else None,
    )


def _forage(text: str, where: str) -> Forage | None:
    if text == _ANY:
        return None
    try:
        return Forage(text)
    except ValueError:
        known = ", ".join((*Forage, _ANY))
        raise ScreenTableError(
            f'{where}, column forage: "{text}" is not a forage. Write one of {known}.'
        ) from None


def _edge(text: str, sign: float, where: str) -> float:
    return sign * math.inf if text == _NEVER else _number(text, where)


def _number(text: str, where: str) -> float:
    try:
        number = float(text)
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        raise ScreenTableError(f'{where}: "{text}" is not a number. Write it in figures.')
    return number
