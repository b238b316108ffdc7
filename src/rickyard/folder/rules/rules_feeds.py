"""What the cells of one row of ``feeds.csv`` must be to each other and to the season."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Final

from rickyard.farm import FeedKind, Season
from rickyard.folder.rules.rules_ids import order_faults
from rickyard.folder.rules.rules_season import outside_season
from rickyard.folder.tables import Fault, TableRow, did_you_mean


def feed_faults(row: TableRow, known_table_ids: Collection[str] | None) -> Iterator[Fault]:
    """Yield what is wrong between the cells of a feed; the feed table is checked if it is given."""
    yield from order_faults(row)
    table_id = row.get("table_id")
    if table_id and known_table_ids is not None and table_id not in known_table_ids:
        yield row.fault(
            "table_id",
            f'"{table_id}" is not a row of the feed table.',
            f"{_nearest(table_id, known_table_ids)}Search it with: rickyard feeds "
            f"{table_id.replace('_', ' ')}. Leave it empty and write the feed's own values if it "
            "is not there.",
            "a row of the feed table",
        )
    yield from _unknown_values(row)
    yield from _load_faults(row)
    yield from _day_faults(row)
    yield from _least_faults(row)
    yield from _mineral_faults(row)
    yield from _measure_faults(row)


def _measure_faults(row: TableRow) -> Iterator[Fault]:
    """Yield that a measure has no weight, or a weight no measure."""
    halves = ("measure", "measure_kg")
    given = [name for name in halves if name in row.cells]
    if len(given) == 1 and row.sure:
        yield row.fault(
            halves[1 - halves.index(given[0])],
            f"{row.cells[given[0]].place.header} is filled, and this is not.",
            "Write both what it is measured with and what that holds, or neither.",
        )


def _nearest(table_id: str, known: Collection[str]) -> str:
    """Name all rows that a name begins, so that a wet feed is no guess for the dry one."""
    begun = sorted(one for one in known if one.startswith(f"{table_id}_"))
    if begun:
        return f"Did you mean {' or '.join(begun)}? "
    return did_you_mean(table_id, known)


def _unknown_values(row: TableRow) -> Iterator[Fault]:
    kind = row.get("kind")
    if "table_id" in row.cells or kind is None or not row.sure:
        return
    if kind is FeedKind.MINERAL:
        names = [] if {"ca_pct", "p_pct"} & set(row.cells) else ["ca_pct"]
        names = names if "dm_pct" in row.cells else ["dm_pct", *names]
        wanted = "dm_pct, and ca_pct or p_pct,"
    else:
        names = [name for name in ("dm_pct", "tdn_pct", "cp_pct") if name not in row.cells]
        wanted = "dm_pct, tdn_pct and cp_pct"
    if names:
        yield row.fault(
            names[0],
            "the feed has no table_id, so its own values must be known.",
            f"Write {wanted} from its tag or analysis, or a table_id.",
            wanted,
        )


def _day_faults(row: TableRow) -> Iterator[Fault]:
    if row.get("kind") is FeedKind.GRAZING and row.sure:
        for name in ("from_on", "to_on"):
            if name not in row.cells:
                yield row.fault(
                    name,
                    "the cell is empty, and grazing must have its days.",
                    f"Write here: {row.table.column_of(name).means.split(';')[0]}.",
                    "a day",
                )


def _least_faults(row: TableRow) -> Iterator[Fault]:
    """Yield that something but a mineral is said to be always on offer.

    A feed is begun slowly and may be kept from a group on some days, so nobody can be promised it.
    """
    if "least_kg_per_head_day" in row.cells and row.get("kind") is not FeedKind.MINERAL:
        yield row.fault(
            "least_kg_per_head_day",
            f'"{row.text("least_kg_per_head_day")}" is always on offer, and only a mineral can be.',
            "Clear the cell, or write mineral as the kind if it is one. What a group is to get of "
            "a feed on certain days stands in wishes.csv.",
            "an empty cell",
        )


#: What a mineral holds at most; with more it is a meal, which is begun slowly. Of fat what the diet
#: may hold beside an oilseed, and no urea, which kills at once. Starch: judgement, no published
#: source. [% DM]
MOST_IN_MINERAL: Final = {
    "fat_pct": (4.0, "fat"),
    "starch_pct": (10.0, "starch"),
    "npn_cp_pct": (0.0, "protein from urea or the like"),
}


def _mineral_faults(row: TableRow) -> Iterator[Fault]:
    """Yield that a mineral, which stock take as they like, holds what must be begun slowly."""
    if row.get("kind") is not FeedKind.MINERAL:
        return
    for name, (most, what) in MOST_IN_MINERAL.items():
        value = row.get(name)
        if value is not None and value > most:
            yield row.fault(
                name,
                f'"{row.text(name)}" is more {what} than a mineral holds, {most:g} %.',
                "Write supplement as the kind, and clear least_kg_per_head_day: a feed with so "
                "much of it is begun slowly.",
                f"at most {most:g}",
            )


def _load_faults(row: TableRow) -> Iterator[Fault]:
    load, most = row.get("load_kg"), row.get("most_kg")
    if load is None:
        return
    if load == 0.0:
        yield row.fault(
            "load_kg",
            f'"{row.text("load_kg")}" is no load.',
            "Clear the cell if it is not bought in whole loads.",
            "the weight of one load",
        )
    elif row.get("kind") is FeedKind.GRAZING:
        yield row.fault(
            "load_kg",
            f'"{row.text("load_kg")}" is a load, and grazing is not bought in loads.',
            "Clear the cell, or write forage as the kind if it is hay.",
            "an empty cell",
        )
    elif most is not None and load > most:
        yield row.fault(
            "load_kg",
            f'"{row.text("load_kg")}" is more than the most that can be bought, '
            f'"{row.text("most_kg")}" under {row.cells["most_kg"].place.header}.',
            "No whole load could be bought. Check the units of both headers.",
            "at most what can be bought",
        )


#: Shares that no feed exceeds: of pure ground limestone and of pure phosphoric acid, by their
#: formulas (CaCO3, H3PO4) and atomic weights.
MOST_OF_MINERAL_PCT: Final = {
    "ca_pct": (40.1, "pure limestone", "calcium"),
    "p_pct": (31.7, "pure phosphoric acid", "phosphorus"),
}


def feed_questions(row: TableRow, season: Season) -> Iterator[Fault]:
    """Yield what is possible of a feed but worth a second look."""
    for name, (most, pure, what) in MOST_OF_MINERAL_PCT.items():
        value = row.get(name)
        if value is not None and value > most:
            yield row.fault(
                name,
                f'"{row.text(name)}" is more {what} than {pure} holds, {most:g} %.',
                "Is it a share of something else, or grams or ppm under a percentage?",
            )
    yield from outside_season(row, season, "It")
