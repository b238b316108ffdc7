"""The keys of ``farm.toml``, as data."""

from __future__ import annotations

from typing import Final

from rickyard.folder.tables.columns import Column, columns_of

FORMAT: Final = 1  # of the folder; a later, different one gets the next number
SEASON: Final = "season"

#: The keys above ``[season]``.
FARM_KEYS: Final = columns_of("farm.toml")
#: The keys under ``[season]``.
SEASON_KEYS: Final = columns_of("[season]")


def headers_of(columns: tuple[Column, ...]) -> dict[str, tuple[Column, str]]:
    """Return the column and unit that each key of a section names.

    Parameters
    ----------
    columns : tuple of Column
        The columns of the section.

    Returns
    -------
    dict
        By key, the column and the unit at the end of the key; an empty unit where it has none.
    """
    headers: dict[str, tuple[Column, str]] = {}
    for column in columns:
        for unit in column.common_units() if column.dimension else ("",):
            headers[column.header(unit)] = (column, unit)
    return headers
