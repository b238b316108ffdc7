"""Every file of a farm folder: what a row is, and what tells rows apart.

The reader, the writer, the messages and the tables of ``docs/farm-folder.md`` all come from
``columns.csv`` and what is written here; ``reports.csv`` adds columns for the analytes (see
``analytes``).
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from rickyard.folder.tables.columns import Column, Table, columns_of
from rickyard.nutrients import TAGGED


def _table(
    file: str, row_is: str, *key: str, required: bool = False, most_rows: int = 2_000
) -> Table:
    return Table(file, row_is, required, columns_of(file), key, most_rows)


def _with_tagged(feeds: Table) -> Table:
    """Add the nutrients that a tag may state, before the days; each is a share of dry matter."""
    there = {column.field for column in feeds.columns}
    at, like = feeds.columns.index(feeds.column_of("from_on")), feeds.column_of("ca_pct")
    tagged = (
        replace(
            like,
            name=one.field.removesuffix("_pct"),
            field=one.field,
            means=f"{one.word}, of dry matter",
        )
        for one in TAGGED
        if one.field not in there
    )
    return replace(feeds, columns=(*feeds.columns[:at], *tagged, *feeds.columns[at:]))


LOTS: Final = _table(
    "lots.csv",
    "one lot of hay: one field, one cutting, one way of storing",
    "lot_id",
    required=True,
)
REPORTS: Final = _table(
    "reports.csv",
    "one laboratory report on one sample of one lot",
    "report_id",
    required=True,
    most_rows=4_000,
)
GROUPS: Final = _table(
    "groups.csv", "one group of animals that eat together", "group_id", required=True
)
FEEDS: Final = _with_tagged(
    _table("feeds.csv", "one feed that can be bought", "feed_id", required=True)
)
WEATHER: Final = _table(
    "weather.csv", "the weather of one day, or the normal of one month", "day", most_rows=10_000
)
NEEDS: Final = _table(
    "needs.csv",
    "what one head needs in a day, stated in place of the computed need",
    *("group_id", "start", "end"),
    most_rows=5_000,
)
FED: Final = _table(
    "fed.csv",
    "what was actually fed to one group on one day",
    *("day", "source_id", "group_id"),
    most_rows=30_000,
)
MOVES: Final = _table(
    "moves.csv",
    "what happened to bales of one lot on one day",
    *("day", "lot_id", "kind", "to_lot_id"),
    most_rows=30_000,
)
LABS: Final = _table(
    "labs.csv", "one package of tests that a laboratory sells for one price", "lab", "package"
)
WISHES: Final = _table(
    "wishes.csv",
    "what a person wants of one lot or feed in the season program",
    *("wish", "source_id", "group_id", "start"),
)
STACKS: Final = _table("stacks.csv", "where the bales of one lot stand in the yard", "lot_id")

#: Every file of a farm folder beside ``farm.toml``, in the order in which faults are told.
TABLES: Final = (LOTS, REPORTS, GROUPS, FEEDS, NEEDS, WEATHER, FED, MOVES, LABS, WISHES, STACKS)

FORMAT: Final = 1  # of the folder; a later, different one gets the next number
SEASON: Final = "season"

#: The keys of ``farm.toml`` above ``[season]``.
FARM_KEYS: Final = columns_of("farm.toml")
#: The keys under ``[season]``.
SEASON_KEYS: Final = columns_of("[season]")


def headers_of(columns: tuple[Column, ...]) -> dict[str, tuple[Column, str]]:
    """Return the column and unit that each key of a section of ``farm.toml`` names.

    Parameters
    ----------
    columns : tuple of Column
        The columns of the section.

    Returns
    -------
    dict
        By key, the column and the unit at the end of the key; an empty unit where it has none.
    """
    return {
        column.header(unit): (column, unit)
        for column in columns
        for unit in (column.common_units() if column.dimension else ("",))
    }
