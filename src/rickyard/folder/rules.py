"""What the rows and files of a farm folder must be to each other."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping

from rickyard.farm import FeedKind, Season
from rickyard.folder import limits
from rickyard.folder.faults import Fault
from rickyard.folder.files import (
    FED,
    FEEDS,
    GROUPS,
    LOTS,
    NEEDS,
    REPORTS,
    WEATHER,
)
from rickyard.folder.files_yard import LABS, MOVES
from rickyard.folder.rows import Row, TableRows
from rickyard.folder.rules_groups import group_faults, group_questions
from rickyard.folder.rules_lots import lot_faults, lot_questions
from rickyard.folder.rules_yard import lab_faults, move_faults, parts_faults
from rickyard.folder.words import did_you_mean

Ids = frozenset[str]


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
        yield from _feed_faults(row, known_table_ids)
    for row in _rows(tables, REPORTS.file):
        yield from _report_faults(row)
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


def folder_questions(tables: Mapping[str, TableRows], season: Season) -> Iterator[Fault]:
    """Yield what is possible but worth a second look."""
    for row in _rows(tables, LOTS.file):
        yield from lot_questions(row)
    for row in _rows(tables, GROUPS.file):
        yield from group_questions(row, season)
    for row in (*_rows(tables, GROUPS.file), *_rows(tables, FEEDS.file)):
        loss = row.get("feeding_loss_pct")
        if loss is not None and loss > limits.LOSS_QUESTION_PCT:
            yield row.fault(
                "feeding_loss_pct",
                f'"{row.text("feeding_loss_pct")}" wastes more than is eaten.',
                "Is it really the percentage wasted?",
            )


def _rows(tables: Mapping[str, TableRows], file: str) -> tuple[Row, ...]:
    return tables[file].rows if file in tables else ()


def _feed_faults(row: Row, known_table_ids: Collection[str] | None) -> Iterator[Fault]:
    least, most = row.get("least_kg_per_head_day"), row.get("most_kg_per_head_day")
    if least is not None and most is not None and least > most:
        yield row.fault(
            "least_kg_per_head_day",
            f'"{row.text("least_kg_per_head_day")}" is more than the most for one head.',
            "Write the two the other way round, or leave one empty.",
            "no more than the most for one head",
        )
    table_id = row.get("table_id")
    if table_id and known_table_ids is not None and table_id not in known_table_ids:
        near = did_you_mean(table_id, known_table_ids)
        yield row.fault(
            "table_id",
            f'"{table_id}" is not a row of the feed table.',
            f"{near}Leave it empty and write the feed's own values if it is not there.",
            "a row of the feed table",
        )
    yield from _unknown_values(row)
    npn, protein = row.get("npn_cp_pct"), row.get("cp_pct")
    if npn is not None and protein is not None and npn > protein:
        yield row.fault(
            "npn_cp_pct",
            f'"{row.text("npn_cp_pct")}" is more than all crude protein, {row.text("cp_pct")}.',
            "Write the part of the crude protein that comes from urea and the like.",
            "at most the crude protein",
        )


def _unknown_values(row: Row) -> Iterator[Fault]:
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


def _report_faults(row: Row) -> Iterator[Fault]:
    sampled, reported = row.get("sampled_on"), row.get("reported_on")
    if sampled and reported and reported < sampled:
        yield row.fault(
            "reported_on",
            f'"{reported}" is before the sample was taken, {sampled}.',
            "Check the year of both days.",
            "a day on or after sampled_on",
        )


def _need_faults(row: Row) -> Iterator[Fault]:
    start, end = row.get("start"), row.get("end")
    if start and end and end <= start:
        yield row.fault(
            "end",
            f'"{end}" is not after the start, {start}.',
            "Write the first day on which it no longer holds.",
            "a day after start",
        )
    stated = [column.field for column in row.table.columns if column.dimension]
    if row.sure and not any(name in row.cells for name in stated):
        yield row.fault(
            "nem_mcal",
            "the row states no need.",
            "Fill at least one of nem, tdn, cp, ca, p, least_dm and most_dm, or delete the row.",
        )
    least, most = row.get("least_dm_kg"), row.get("most_dm_kg")
    if least is not None and most is not None and least > most:
        yield row.fault(
            "least_dm_kg",
            f'"{row.text("least_dm_kg")}" is more than the most, {row.text("most_dm_kg")}.',
            "Are the two the wrong way round?",
            "at most most_dm",
        )


def _identity_faults(tables: Mapping[str, TableRows]) -> Iterator[Fault]:
    for table, what in (
        (LOTS, "lot"),
        (REPORTS, "report"),
        (GROUPS, "group"),
        (FEEDS, "feed"),
        (WEATHER, "day"),
    ):
        name = table.key[0]
        seen: dict[str, int] = {}
        for row in _rows(tables, table.file):
            value = row.get(name)
            if value is None:
                continue
            first = seen.setdefault(value, row.number)
            if first != row.number:
                advice = (
                    "Keep one of the two rows."
                    if table is WEATHER
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
    lots = tables[LOTS.file].ids("lot_id") if LOTS.file in tables else None
    groups = tables[GROUPS.file].ids("group_id") if GROUPS.file in tables else None
    feeds = tables[FEEDS.file].ids("feed_id") if FEEDS.file in tables else None
    sources = None if lots is None or feeds is None else lots | feeds
    for file, name, known, where in (
        (REPORTS.file, "lot_id", lots, "lots.csv"),
        (NEEDS.file, "group_id", groups, "groups.csv"),
        (FED.file, "source_id", sources, "lots.csv or feeds.csv"),
        (FED.file, "group_id", groups, "groups.csv"),
        (MOVES.file, "lot_id", lots, "lots.csv"),
        (MOVES.file, "to_lot_id", None if lots is None else lots | {""}, "lots.csv"),
    ):
        if known is not None:
            yield from _unknown_ids(_rows(tables, file), name, known, where)


def _unknown_ids(rows: Iterable[Row], name: str, known: Ids, where: str) -> Iterator[Fault]:
    for row in rows:
        value = row.get(name)
        if value is not None and value not in known:
            yield row.fault(
                name,
                f'"{value}" is not in {where}.',
                f"{did_you_mean(value, sorted(known))}Write it as it stands there, "
                "or add it there.",
                f"a name from {where}",
            )


def _overlap_faults(rows: Iterable[Row]) -> Iterator[Fault]:
    before: dict[str, list[Row]] = {}
    for row in rows:
        group, start, end = row.get("group_id"), row.get("start"), row.get("end")
        if group is None or start is None or end is None:
            continue
        for other in before.setdefault(group, []):
            if start < other.get("end") and other.get("start") < end:
                yield row.fault(
                    "start",
                    f'"{start}" falls in the days of row {other.number}, of the same group.',
                    "Let one need end on the day the next starts.",
                    "days of their own",
                )
                break
        before[group].append(row)


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
