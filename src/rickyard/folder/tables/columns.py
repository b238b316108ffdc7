"""What a column and a table of the farm folder are, and which column a header names.

A column that measures something carries its unit at the end of its header, ``weight_lb`` or
``weight_kg``. The columns themselves are in ``columns.csv``.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any, Final, Literal

from rickyard import kinds
from rickyard.folder.tables import limits
from rickyard.folder.tables.limits import ColumnLimit
from rickyard.quantities import UNITS, units_of

Kind = Literal["id", "text", "word", "flag", "whole", "number", "quantity", "date", "day"]

#: Units that messages and examples mention, most usual first. Every unit of the dimension is
#: read.
COMMON_UNITS: Final[dict[str, tuple[str, ...]]] = {
    "mass": ("lb", "kg"),
    "length": ("ft", "in", "cm", "m"),
    "temperature": ("degF", "degC"),
    "speed": ("mph", "km_per_h"),
    "price": ("usd_per_ton", "usd_per_lb", "usd_per_t", "usd_per_kg"),
    "percent": ("pct",),
    "ppm": ("ppm",),
    "energy": ("mcal", "mj"),
    "energy_density": ("mcal_per_lb", "mcal_per_kg"),
    "mass_per_day": ("lb_per_day", "kg_per_day"),
}

#: What each dimension is called in a sentence.
MEASURES: Final[dict[str, str]] = {
    "mass": "a weight",
    "length": "a length",
    "temperature": "a temperature",
    "speed": "a speed",
    "density": "a density",
    "percent": "a percentage",
    "ppm": "a share in parts per million",
    "energy": "an energy",
    "energy_density": "an energy per weight",
    "energy_per_day": "an energy per day",
    "price": "a price per weight",
    "mass_per_day": "a weight per day",
}


@dataclass(frozen=True, slots=True)
class Column:
    """One column of one file.

    ``name`` is the header, without unit where ``dimension`` is set; ``tail`` follows the unit.
    ``field`` is the attribute it fills and ``field_unit`` that attribute's unit. ``counts`` is
    ``as_is``, ``rest_of_100`` (moisture fills dry matter) or ``per_bale`` (dollars per bale
    fill dollars per kilogram). ``blank`` is the value of an empty cell.
    """

    name: str
    field: str
    kind: Kind
    means: str
    required: bool = False
    words: type[StrEnum] | None = None
    dimension: str = ""
    field_unit: str = ""
    tail: str = ""
    limit: ColumnLimit | None = None
    counts: Literal["as_is", "rest_of_100", "per_bale"] = "as_is"
    blank: Any = None

    def header(self, unit: str) -> str:
        """Return the header of this column in a unit.

        Examples
        --------
        >>> columns_of("weather.csv")[1].header("degF")
        'mean_temperature_degF'
        """
        return f"{self.name}_{unit}{self.tail}" if self.dimension else self.name

    def common_headers(self) -> tuple[str, ...]:
        """Return the headers that messages offer, most usual first."""
        if not self.dimension:
            return (self.name,)
        return tuple(self.header(unit) for unit in self.common_units())

    def common_units(self) -> tuple[str, ...]:
        """Return the units that messages offer, most usual first."""
        if self.field_unit == "mm":
            return ("in", "mm")
        return COMMON_UNITS[self.dimension]

    def units(self) -> tuple[str, ...]:
        """Return every unit that the header may end in, the field's own first."""
        rest = [unit for unit in units_of(self.dimension) if unit != self.field_unit]
        return (self.field_unit, *rest)

    @property
    def canonical_header(self) -> str:
        """Return the header whose numbers are the field's own."""
        return self.header(self.field_unit)


class Units(StrEnum):
    """The units that pages and sheets are written in."""

    US = "us"
    METRIC = "metric"


@dataclass(frozen=True, slots=True)
class Table:
    """One CSV file: what a row is, which columns it may have, what tells rows apart.

    ``most_rows`` is many times what a large farm writes; common practice.
    """

    file: str
    row_is: str
    required: bool
    columns: tuple[Column, ...]
    key: tuple[str, ...]
    most_rows: int = 2_000

    @property
    def part(self) -> str:
        """Return the name of the part of a farm that the file holds."""
        return self.file.removesuffix(".csv")

    def column_of(self, field: str) -> Column:
        """Return the first column that fills a field.

        Raises ``KeyError`` if no column does.
        """
        for column in self.columns:
            if column.field == field:
                return column
        raise KeyError(field)


@cache
def _rows() -> tuple[dict[str, str], ...]:
    text = files("rickyard.folder").joinpath("data", "columns.csv").read_text("utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def columns_of(file: str) -> tuple[Column, ...]:
    """Return the columns of a file, or the keys of a part of ``farm.toml``, in their order.

    In the table an empty ``field`` is the name itself, and ``blank`` is what an empty cell
    means: ``text`` an empty text, nothing that it is not known.

    >>> [column.canonical_header for column in columns_of("fed.csv")]
    ['day', 'source', 'group', 'bales', 'mass_kg', 'note']
    """
    return tuple(_column(row) for row in _rows() if row["file"] == file)


def _column(row: dict[str, str]) -> Column:
    kind: Any = row["kind"]
    counts: Any = row["counts"] or "as_is"
    words = {"Units": Units, "": None}.get(row["words"]) or getattr(kinds, row["words"], None)
    return Column(
        row["name"],
        row["field"] or row["name"],
        kind,
        row["means"],
        required=row["required"] == "yes",
        words=words,
        dimension=row["dimension"],
        field_unit=row["field_unit"],
        tail=row["tail"],
        limit=getattr(limits, row["limit"]) if row["limit"] else None,
        counts=counts,
        blank=_blank(row["blank"], kind, words),
    )


def _blank(text: str, kind: Kind, words: type[StrEnum] | None) -> Any:
    """Return what an empty cell of a column means."""
    if not text:
        return None
    if text == "text":
        return ""
    if words is not None:
        return words(text)
    if kind == "flag":
        return text == "yes"
    return int(text) if kind == "whole" else float(text)


def match_header(table: Table, header: str) -> tuple[Column, str] | None:
    """Return the column and unit that a header names, or ``None``.

    Capitals do not matter.

    >>> weather = Table("weather.csv", "one day", False, columns_of("weather.csv"), ("day",))
    >>> column, unit = match_header(weather, "wind_mph")
    >>> column.field, unit
    ('wind_km_per_h', 'mph')
    >>> match_header(weather, "wind") is None
    True
    """
    wanted = header.casefold()
    for column in table.columns:
        if not column.dimension:
            if column.name == wanted:
                return column, ""
            continue
        unit = unit_in_header(column, wanted)
        if unit in UNITS and UNITS[unit].dimension == column.dimension:
            return column, unit
    return None


def unit_in_header(column: Column, header: str) -> str:
    """Return what a header has between a column's name and tail, as a unit's name if it is one.

    >>> unit_in_header(columns_of("weather.csv")[2], "wind_knots")
    'knots'
    """
    start, tail = f"{column.name}_", column.tail
    wanted = header.casefold()
    if not (wanted.startswith(start) and wanted.endswith(tail)):
        return ""
    middle = wanted[len(start) : len(wanted) - len(tail)]
    return next((name for name in UNITS if name.casefold() == middle), middle)
