"""A season of the book as the plain objects of a farm, and as a farm folder."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from operator import itemgetter
from pathlib import Path, PurePosixPath
from typing import Any, Final, TypeAlias
from uuid import UUID

from rickyard import farm as plain
from rickyard.book import records
from rickyard.book.base import as_kept
from rickyard.book.folders.drawn import days_of, lines_of, rows_of, values_of
from rickyard.book.folders.incoming import LEDGERS, SOURCES
from rickyard.folder import FolderFaults, Layout, read_folder, write_folder

_ITEMS: Final[Mapping[str, Any]] = {
    "needs": plain.StatedNeed,
    "weather": plain.WeatherRow,
    "fed": plain.FedRow,
    "moves": plain.MoveRow,
    "labs": plain.LabPackage,
    "wishes": plain.WishRow,
    "stacks": plain.StackRow,
}

#: Rows column by column.
_Columns: TypeAlias = Mapping[str, Sequence[Any]]

_NONE: Final[_Columns] = {}

_STATES: Final = (records.LotState, records.GroupState, records.FeedState, records.ReportState)


def farm_of(season: Any) -> plain.Farm:
    """Return a season as the engine takes it: every fact as it now counts.

    Parameters
    ----------
    season : records.Season
        The season.

    Returns
    -------
    Farm
        The farm in that season.
    """
    return farms_of((season,))[season.id]


def farms_of(seasons: Sequence[Any]) -> dict[UUID, plain.Farm]:
    """Return many seasons as the engine takes them, in as many queries as one needs.

    Parameters
    ----------
    seasons : sequence of records.Season
        The seasons.

    Returns
    -------
    dict of UUID to Farm
        The farm by the id of the season.
    """
    ids = [one.id for one in seasons]
    heads = _last_states(records.FarmState, [one.farm_id for one in seasons])
    days = _last_states(records.SeasonState, ids)
    states = {
        table: _by(_dicts(*rows_of(table, "season_id", ids, "revision"))) for table in _STATES
    }
    lines = {table: _lines(table, ids) for table in LEDGERS.values()}
    values: dict[Any, list[Any]] = {}
    for row in _dicts(*values_of(ids)):
        values.setdefault(row["report_id"], []).append(records.item_of(plain.Analyte, row))
    return {
        one.id: _farm(
            heads[as_kept(one.farm_id)],
            days[as_kept(one.id)],
            {table: _there(rows.get(as_kept(one.id), ())) for table, rows in states.items()},
            {table: rows.get(as_kept(one.id), _NONE) for table, rows in lines.items()},
            values,
        )
        for one in seasons
    }


def _farm(
    head: Mapping[str, Any],
    days: Mapping[str, Any],
    states: Mapping[Any, list[dict[str, Any]]],
    lines: Mapping[Any, _Columns],
    values: Mapping[Any, list[Any]],
) -> plain.Farm:
    """Return a farm from its rows."""
    lots, groups = states[records.LotState], states[records.GroupState]
    feeds = states[records.FeedState]
    names: dict[Any, str] = {
        None: "",
        **{row["thing_id"]: row["lot_id"] for row in lots},
        **{row["thing_id"]: row["feed_id"] for row in feeds},
        **{row["thing_id"]: row["group_id"] for row in groups},
    }
    made: dict[str, Any] = {
        part: _items(_ITEMS[part], _drawn(part, lines[table], names), names)
        for part, table in LEDGERS.items()
    }
    return plain.Farm(
        **{name: head[name] for name in ("name", "place", "units", "note", "country")},
        season=records.item_of(plain.Season, days),
        lots=tuple(records.item_of(plain.Lot, row) for row in lots),
        groups=tuple(records.item_of(plain.Group, row) for row in groups),
        feeds=tuple(records.item_of(plain.Feed, row) for row in feeds),
        reports=tuple(
            records.item_of(
                plain.Report,
                row,
                lot_id=names[row["lot_id"]],
                analytes=tuple(values.get(row["id"], ())),
            )
            for row in states[records.ReportState]
        ),
        **made,
    )


def _drawn(part: str, columns: _Columns, names: Mapping[Any, str]) -> _Columns:
    """Return the lines of a part; a lot that was taken out is drawn no more, as if unplaced."""
    if part != "stacks" or all(one in names for one in columns.get("lot_id", ())):
        return columns
    there = [at for at, one in enumerate(columns["lot_id"]) if one in names]
    return {name: [column[at] for at in there] for name, column in columns.items()}


def _last_states(table: Any, things: Sequence[UUID]) -> dict[Any, dict[str, Any]]:
    """Return the newest state of each of many farms or seasons as a row."""
    rows = _dicts(*rows_of(table, "thing_id", things, "revision"))
    return {row["thing_id"]: row for row in rows}


def _dicts(names: tuple[str, ...], rows: Iterable[tuple[Any, ...]]) -> Iterator[dict[str, Any]]:
    return (dict(zip(names, row, strict=True)) for row in rows)


def _by(rows: Iterable[dict[str, Any]]) -> dict[Any, list[dict[str, Any]]]:
    found: dict[Any, list[dict[str, Any]]] = {}
    for row in rows:
        found.setdefault(row["season_id"], []).append(row)
    return found


def _lines(table: Any, seasons: Sequence[UUID]) -> dict[Any, _Columns]:
    """Return the lines of a ledger that count by season, column by column."""
    names, rows = lines_of(seasons, table)
    of, one, place, counts, undoes = map(
        names.index, ("season_id", "id", "place", "counts", "undoes_id")
    )
    undone = {row[undoes] for row in rows}
    found: dict[Any, list[tuple[Any, ...]]] = {}
    for row in sorted(rows, key=itemgetter(place, one)):
        if row[counts] and row[one] not in undone:
            found.setdefault(row[of], []).append(row)
    return {season: _columns(table, names, mine) for season, mine in found.items()}


def _columns(table: Any, names: tuple[str, ...], rows: list[tuple[Any, ...]]) -> _Columns:
    columns: list[Sequence[Any]] = list(zip(*rows, strict=True))
    days_of(names, columns, table)
    return dict(zip(names, columns, strict=True))


def current_states(table: Any, season: Any) -> list[dict[str, Any]]:
    """Return the newest state of each thing of a season that is there, in their order.

    Parameters
    ----------
    table : model
        The table of states.
    season : records.Season
        The season.

    Returns
    -------
    list of dict
        Values by column.
    """
    return _there(table.objects.filter(season=season).order_by("revision").values())


def _there(rows: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return the last row of each thing that is there, in their order."""
    newest = {row["thing_id"]: row for row in rows}
    there = (row for row in newest.values() if row["counts"])
    return sorted(there, key=lambda row: (row["place"], str(row["thing_id"])))


def current_lines(table: Any, season: Any) -> list[dict[str, Any]]:
    """Return the lines of a ledger that count: those that no other undoes, in their order.

    Parameters
    ----------
    table : model
        The ledger.
    season : records.Season
        The season.

    Returns
    -------
    list of dict
        Values by column.
    """
    lines = _not_undone(table.objects.filter(season=season).values())
    if table is records.Stack:
        there = {row["thing_id"] for row in current_states(records.LotState, season)}
        return [row for row in lines if row["lot_id"] in there]
    return lines


def _not_undone(rows: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    rows = list(rows)
    undone = {row["undoes_id"] for row in rows}
    there = (row for row in rows if row["counts"] and row["id"] not in undone)
    return sorted(there, key=lambda row: (row["place"], str(row["id"])))


def _items(item: Any, columns: _Columns, names: Mapping[Any, str]) -> tuple[Any, ...]:
    """Return the lines of a ledger as the engine takes them."""
    if not columns:
        return ()
    return records.items_of(item, {**columns, **_named(columns, names)})


def _named(columns: _Columns, names: Mapping[Any, str]) -> dict[str, list[str]]:
    """Return the columns that name things, by the short names of those."""
    named = {
        f"{what}_id": [names[one] for one in columns[f"{what}_id"]]
        for what in ("group", "lot", "to_lot")
        if f"{what}_id" in columns
    }
    if "feed_id" in columns:
        both = zip(columns["lot_id"], columns["feed_id"], strict=True)
        named["source_id"] = [names[lot or feed] for lot, feed in both]
    return named


def layout_of(season: Any) -> Layout | None:
    """Return how the folder was written that a season came from.

    Parameters
    ----------
    season : records.Season
        The season.

    Returns
    -------
    Layout or None
        Its columns, units and cells. ``None`` where the season came from no folder, or from one
        that this program would no longer take: then it is written in canonical units.
    """
    texts = records.SeasonText.objects.filter(season=season).order_by("written_by__number")
    files = {
        name: bytes(content)
        for name, content in texts.values_list("source__name", "source__content")
    }
    if not files:
        return None
    with tempfile.TemporaryDirectory() as place:
        for name, content in files.items():
            (Path(place) / name).write_bytes(content)
        try:
            return read_folder(place, to_keep=True).layout
        except FolderFaults:
            return None


def write_out(season: Any, folder: str | os.PathLike[str], *, replace_old: bool = False) -> None:
    """Write a season as a farm folder, with the files of laboratories beside it.

    Parameters
    ----------
    season : records.Season
        The season.
    folder : str or path-like
        Where to; its parent must exist.
    replace_old : bool
        Whether a farm that is there already may be replaced.

    Raises
    ------
    FolderInUse
        If a farm is there and may not be replaced.
    OSError
        If it cannot be written.
    """
    write_folder(farm_of(season), folder, layout_of(season), replace=replace_old, to_keep=True)
    kept = records.SourceFile.objects.filter(farm_id=season.farm_id, name__startswith=f"{SOURCES}/")
    newest = kept.order_by("-written_by__number").values_list("name", "sha256", "content")
    _write_sources(Path(folder), newest)


def _write_sources(folder: Path, files: Iterable[tuple[str, str, Any]]) -> None:
    """Write files, each beside another of its name that says something else, never over it."""
    for name, sha256, content in files:
        place = folder / SOURCES / PurePosixPath(name).name
        place.parent.mkdir(exist_ok=True)
        if place.exists() and place.read_bytes() != bytes(content):
            place = place.with_name(f"{place.stem}-{sha256[:8]}{place.suffix}")
        place.write_bytes(bytes(content))
