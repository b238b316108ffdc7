"""Tables of the files, keys, analytes and units of a farm folder, for its documentation."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from rickyard.folder.tables import ANALYTES, FARM_KEYS, SEASON_KEYS, TABLES, Column, Table
from rickyard.quantities import UNITS, units_of

NO_LIMIT: Final = 1e6  # a limit from here on only keeps nonsense out, and is not worth telling

_KINDS: Final[dict[str, str]] = {
    "id": "short name",
    "text": "text",
    "flag": "yes or no",
    "whole": "whole number",
    "number": "number",
    "date": "date",
    "day": "date or month",
}


def describe(name: str) -> str:
    """Return one of the tables of the documentation, in Markdown.

    Parameters
    ----------
    name : str
        A file, such as ``lots.csv`` or ``farm.toml``; or ``analytes`` or ``units``.

    Returns
    -------
    str
        The table.

    Raises
    ------
    KeyError
        If there is no such table.

    Examples
    --------
    >>> print(describe("fed.csv").splitlines()[2])
    | `day` | yes | date |  | day it was fed |
    """
    return _DESCRIPTIONS[name]()


def descriptions() -> tuple[str, ...]:
    """Return the names that `describe` knows."""
    return tuple(_DESCRIPTIONS)


def _rows(header: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    head = list(header)
    lines = [head, ["---"] * len(head), *map(list, rows)]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)


def _holds(column: Column) -> str:
    if column.words is not None:
        return ", ".join(f"`{word}`" for word in column.words)
    if column.dimension:
        return ", ".join(f"`{unit}`" for unit in column.common_units())
    return _KINDS[column.kind]


def _accepted(column: Column) -> str:
    limit = column.limit
    if limit is None or limit.most >= NO_LIMIT:
        return ""
    least, most, unit = limit.least, limit.most, ""
    if column.dimension:
        shown = UNITS[column.common_units()[0]]
        field = UNITS[column.field_unit]
        least, most = (shown.from_canonical(field.to_canonical(value)) for value in (least, most))
        unit = f" {shown.written[0]}"
    return f"{least:,.4g} to {most:,.4g}{unit}"


def _heading(column: Column) -> str:
    if column.dimension:
        return f"`{column.name}_`*unit*" + (f"`{column.tail}`" if column.tail else "")
    return f"`{column.name}`"


def _columns(columns: Iterable[Column]) -> str:
    return _rows(
        ("column", "must be known", "holds", "accepted", "meaning"),
        (
            (
                _heading(column),
                "yes" if column.required else "",
                _holds(column),
                _accepted(column),
                column.means,
            )
            for column in columns
        ),
    )


def _describe_settings() -> str:
    def rows(columns: Iterable[Column], prefix: str) -> Iterable[tuple[str, ...]]:
        for column in columns:
            if column.required:
                blank = "must be known"
            elif column.blank is None or column.blank == "":
                blank = "not known"
            else:
                blank = f"{column.blank:g}" if column.kind == "number" else str(column.blank)
            yield (
                f"{prefix}{_heading(column)}",
                blank.lower(),
                _holds(column),
                _accepted(column),
                column.means,
            )

    return _rows(
        ("key", "if left out", "holds", "accepted", "meaning"),
        [*rows(FARM_KEYS, ""), *rows(SEASON_KEYS, "[season] ")],
    )


def _describe_analytes() -> str:
    return _rows(
        ("analyte", "units", "bases", "meaning"),
        (
            (
                f"`{spec.name}`",
                ", ".join(f"`{unit}`" for unit in spec.units) or "none",
                ", ".join(f"`{basis}`" for basis in spec.bases) or "none",
                spec.means,
            )
            for spec in ANALYTES
        ),
    )


def _describe_units() -> str:
    dimensions = dict.fromkeys(
        column.dimension for table in TABLES for column in table.columns if column.dimension
    )
    return _rows(
        ("measures", "units in a header", "also written in a cell"),
        (
            (
                dimension.replace("_", " "),
                ", ".join(f"`{unit}`" for unit in units_of(dimension)),
                ", ".join(
                    f"`{written}`"
                    for unit in units_of(dimension)
                    for written in UNITS[unit].written
                    if written != unit
                ),
            )
            for dimension in dimensions
        ),
    )


def _for_table(table: Table) -> Callable[[], str]:
    return lambda: _columns(table.columns)


_DESCRIPTIONS: Final[dict[str, Callable[[], str]]] = {
    "farm.toml": _describe_settings,
    **{table.file: _for_table(table) for table in TABLES},
    "analytes": _describe_analytes,
    "units": _describe_units,
}
