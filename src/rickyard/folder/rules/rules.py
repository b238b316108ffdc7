"""What the rows and files of a farm folder must be to each other."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Final

from rickyard.farm import Season
from rickyard.folder.rules.rules_feeds import feed_faults, feed_questions
from rickyard.folder.rules.rules_groups import group_faults, group_questions
from rickyard.folder.rules.rules_ids import Ids, difference, likeness, order_faults, unknown_ids
from rickyard.folder.rules.rules_lots import lot_faults, lot_questions
from rickyard.folder.rules.rules_wishes import DaysTaken, Known, wish_faults, wish_questions
from rickyard.folder.rules.rules_yard import lab_faults, move_faults, parts_faults
from rickyard.folder.tables import (
    FED,
    FEEDS,
    GROUPS,
    LABS,
    LOTS,
    MOVES,
    NEEDS,
    REPORTS,
    STACKS,
    WEATHER,
    WISHES,
    Fault,
    TableRow,
    TableRows,
    limits,
)


def folder_faults(
    tables: Mapping[str, TableRows],
    season: Season | None,
    known_table_ids: Collection[str] | None,
) -> Iterator[Fault]:
    """Yield every fault that takes more than one cell to see.

    Parameters
    ----------
    tables : mapping of str to TableRows
        The tables that could be read, by file.
    season : Season or None
        The season, if ``farm.toml`` could be read.
    known_table_ids : collection of str or None
        The rows of the feed table, if they are to be checked.

    Yields
    ------
    Fault
        The faults.
    """
    for row in _rows(tables, LOTS.file):
        yield from lot_faults(row)
    for row in _rows(tables, GROUPS.file):
        yield from group_faults(row, season)
    for row in _rows(tables, FEEDS.file):
        yield from feed_faults(row, known_table_ids)
    for row in _rows(tables, REPORTS.file):
        yield from order_faults(row)
    for row in _rows(tables, NEEDS.file):
        yield from _need_faults(row)
    yield from _identity_faults(tables)
    yield from _reference_faults(tables)
    yield from _overlap_faults(_rows(tables, NEEDS.file))
    yield from _fed_faults(tables)
    for row in _rows(tables, MOVES.file):
        yield from move_faults(row)
    lots = {str(row.get("lot_id")): row for row in _rows(tables, LOTS.file)}
    yield from parts_faults(_rows(tables, MOVES.file), lots)
    for row in _rows(tables, LABS.file):
        yield from lab_faults(row)
    known = Known(_sources(tables), _ids(tables, GROUPS.file, "group_id"))
    yield from wish_faults(_rows(tables, WISHES.file), known, season)


def folder_questions(tables: Mapping[str, TableRows], season: Season) -> Iterator[Fault]:
    """Yield what is possible but worth a second look.

    Parameters
    ----------
    tables : mapping of str to TableRows
        The rows of each table by its file name, in the units of ``farm``.
    season : Season
        The season; groups and feeds are looked at within it.

    Yields
    ------
    Fault
        What is possible but unusual, with file, row and column.
    """
    for row in _rows(tables, LOTS.file):
        yield from lot_questions(row)
    for row in _rows(tables, GROUPS.file):
        yield from group_questions(row, season)
    for row in _rows(tables, FEEDS.file):
        yield from feed_questions(row, season)
    yield from _need_questions(tables)
    yield from wish_questions(_rows(tables, WISHES.file))
    for row in (*_rows(tables, GROUPS.file), *_rows(tables, FEEDS.file)):
        loss = row.get("feeding_loss_pct")
        if loss is not None and loss > limits.LOSS_QUESTION_PCT:
            yield row.fault(
                "feeding_loss_pct",
                f'"{row.text("feeding_loss_pct")}" wastes more than is eaten.',
                "Is it really the percentage wasted?",
            )


def _rows(tables: Mapping[str, TableRows], file: str) -> tuple[TableRow, ...]:
    return tables[file].rows if file in tables else ()


def _need_faults(row: TableRow) -> Iterator[Fault]:
    yield from order_faults(row)
    stated = [column.field for column in row.table.columns if column.dimension]
    if row.sure and not any(name in row.cells for name in stated):
        yield row.fault(
            "nem_mcal",
            "the row states no need.",
            "Fill at least one of nem, tdn, cp, ca, p, least_dm and most_dm, or delete the row.",
        )


#: Dry matter that stock hardly go below or above, in percent of their weight; common practice.
LEAST_EATEN_PCT: Final = 0.5
MOST_EATEN_PCT: Final = 6.0


def _need_questions(tables: Mapping[str, TableRows]) -> Iterator[Fault]:
    """Yield stated dry matter that no animal of the group's weight lives on or holds."""
    weights = {
        row.get("group_id"): row.get("weight_kg")
        for row in _rows(tables, GROUPS.file)
        if row.get("weight_kg")
    }
    for row in _rows(tables, NEEDS.file):
        weight = weights.get(row.get("group_id"))
        for name in ("least_dm_kg", "most_dm_kg"):
            eaten = row.get(name)
            if weight is None or eaten is None:
                continue
            share = 100.0 * eaten / weight
            too_little = name == "most_dm_kg" and share < LEAST_EATEN_PCT
            if too_little or share > MOST_EATEN_PCT:
                yield row.fault(
                    name,
                    f'"{row.text(name)}" is {share:.2g} % of the weight of one head.',
                    "Is it the dry matter of one head in one day, in the unit of the header?",
                )


def _identity_faults(tables: Mapping[str, TableRows]) -> Iterator[Fault]:
    for table, what in (
        (LOTS, "lot"),
        (REPORTS, "report"),
        (GROUPS, "group"),
        (FEEDS, "feed"),
        (WEATHER, "day"),
        (STACKS, "stack"),
    ):
        name = table.key[0]
        seen: dict[str, int] = {}
        alike: dict[str, str] = {}
        for row in _rows(tables, table.file):
            value = row.get(name)
            if value is None:
                continue
            if (other := alike.setdefault(likeness(str(value)), value)) != value:
                yield row.fault(
                    name,
                    f'"{row.text(name)}" looks like the {what} in row {seen[other]}, and '
                    f"{difference(str(value), str(other))}.",
                    f"Type it again if it is the same {what}; else give one of them another name.",
                    "a name that no other is taken for",
                )
            first = seen.setdefault(value, row.number)
            if first != row.number:
                advice = (
                    "Keep one of the two rows."
                    if table in (WEATHER, STACKS)
                    else f"Give every {what} a short name of its own."
                )
                yield row.fault(
                    name, f'"{row.text(name)}" stands in row {first} too.', advice, "its own name"
                )
    lots = {row.get("lot_id"): row.number for row in _rows(tables, LOTS.file)}
    for row in _rows(tables, FEEDS.file):
        feed_id = row.get("feed_id")
        if feed_id is not None and feed_id in lots:
            yield row.fault(
                "feed_id",
                f'"{feed_id}" is a lot too, in row {lots[feed_id]} of lots.csv.',
                "Give the feed another short name, so that fed.csv can tell them apart.",
                "its own name",
            )


def _reference_faults(tables: Mapping[str, TableRows]) -> Iterator[Fault]:
    lots, groups = _ids(tables, LOTS.file, "lot_id"), _ids(tables, GROUPS.file, "group_id")
    sources = _sources(tables)
    for file, name, known, where in (
        (REPORTS.file, "lot_id", lots, "lots.csv"),
        (NEEDS.file, "group_id", groups, "groups.csv"),
        (FED.file, "source_id", sources, "lots.csv or feeds.csv"),
        (FED.file, "group_id", groups, "groups.csv"),
        (MOVES.file, "lot_id", lots, "lots.csv"),
        (STACKS.file, "lot_id", lots, "lots.csv"),
        (MOVES.file, "to_lot_id", None if lots is None else lots | {""}, "lots.csv"),
    ):
        if known is not None:
            yield from unknown_ids(_rows(tables, file), name, known, where)


def _ids(tables: Mapping[str, TableRows], file: str, name: str) -> Ids | None:
    return tables[file].ids(name) if file in tables else None


def _sources(tables: Mapping[str, TableRows]) -> Ids | None:
    lots, feeds = _ids(tables, LOTS.file, "lot_id"), _ids(tables, FEEDS.file, "feed_id")
    return None if lots is None or feeds is None else lots | feeds


def _overlap_faults(rows: Iterable[TableRow]) -> Iterator[Fault]:
    before: dict[str, DaysTaken] = {}
    for row in rows:
        group, start, end = row.get("group_id"), row.get("start"), row.get("end")
        if group is None or start is None or end is None:
            continue
        other = before.setdefault(group, DaysTaken()).taken(start, end, row.number)
        if other is not None:
            yield row.fault(
                "start",
                f'"{start}" falls in the days of row {other}, of the same group.',
                "Let one need end on the day the next starts.",
                "days of their own",
            )


def _fed_faults(tables: Mapping[str, TableRows]) -> Iterator[Fault]:
    unweighed = {
        row.get("feed_id") for row in _rows(tables, FEEDS.file) if "bale_weight_kg" not in row.cells
    }
    for row in _rows(tables, FED.file):
        if "mass_kg" in row.cells or not row.sure:
            continue
        if "bales" not in row.cells:
            yield row.fault(
                "bales",
                "neither bales nor a weight is written.",
                "Write what was fed, or delete the row.",
                "bales or a weight",
            )
        elif row.get("source_id") in unweighed:
            yield row.fault(
                "bales",
                f'"{row.text("bales")}" bales of {row.get("source_id")} have no known weight.',
                "Write the weight fed, or the bale weight of the feed in feeds.csv.",
                "a weight",
            )
