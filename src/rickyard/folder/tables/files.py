"""Every file of a farm folder: what a row is, and what tells rows apart.

The reader, the writer, the messages and the tables of ``docs/farm-folder.md`` all come from
``columns.csv`` and what is written here; ``reports.csv`` adds columns for the analytes (see
``analytes``).
"""

from __future__ import annotations

from typing import Final

from rickyard.folder.tables.columns import Table, columns_of
from rickyard.folder.tables.files_feeding import FEEDS

LOTS: Final = Table(
    "lots.csv",
    "one lot of hay: one field, one cutting, one way of storing",
    True,
    columns_of("lots.csv"),
    ("lot_id",),
)
REPORTS: Final = Table(
    "reports.csv",
    "one laboratory report on one sample of one lot",
    True,
    columns_of("reports.csv"),
    ("report_id",),
    most_rows=4_000,
)
GROUPS: Final = Table(
    "groups.csv",
    "one group of animals that eat together",
    True,
    columns_of("groups.csv"),
    ("group_id",),
)
WEATHER: Final = Table(
    "weather.csv",
    "the weather of one day, or the normal of one month",
    False,
    columns_of("weather.csv"),
    ("day",),
    most_rows=10_000,
)
NEEDS: Final = Table(
    "needs.csv",
    "what one head needs in a day, stated in place of the computed need",
    False,
    columns_of("needs.csv"),
    ("group_id", "start", "end"),
    most_rows=5_000,
)
FED: Final = Table(
    "fed.csv",
    "what was really fed to one group on one day",
    False,
    columns_of("fed.csv"),
    ("day", "source_id", "group_id"),
    most_rows=30_000,
)
MOVES: Final = Table(
    "moves.csv",
    "what happened to bales of one lot on one day",
    False,
    columns_of("moves.csv"),
    ("day", "lot_id", "kind", "to_lot_id"),
    most_rows=30_000,
)
LABS: Final = Table(
    "labs.csv",
    "one package of tests that a laboratory sells for one price",
    False,
    columns_of("labs.csv"),
    ("lab", "package"),
)
WISHES: Final = Table(
    "wishes.csv",
    "what a person wants of one lot or feed in the season program",
    False,
    columns_of("wishes.csv"),
    ("wish", "source_id", "group_id", "start"),
)

#: Every file of a farm folder beside ``farm.toml``, in the order in which faults are told.
TABLES: Final = (LOTS, REPORTS, GROUPS, FEEDS, NEEDS, WEATHER, FED, MOVES, LABS, WISHES)
