"""A season of the book as the plain objects of a farm, and as a farm folder."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path, PurePosixPath
from typing import Any, Final
from uuid import UUID

from django.db import connection
from django.db.models import TextField, UUIDField
from django.db.models.functions import Cast

from rickyard import farm as plain
from rickyard.book import records
from rickyard.book.folders.incoming import LEDGERS, SOURCES
from rickyard.folder import FolderFaults, Layout, read_folder, write_folder

_ITEMS: Final[Mapping[str, Any]] = {
    "needs": plain.StatedNeed,
    "weather": plain.WeatherRow,
    "fed": plain.FedRow,
    "moves": plain.MoveRow,
    "labs": plain.LabPackage,
    "wishes": plain.WishRow,
}

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
        table: _by_season(table.objects.filter(season__in=ids).order_by("revision").values())
        for table in _STATES
    }
    lines = {table: _by_season(_lines(table, ids)) for table in LEDGERS.values()}
    values: dict[UUID, list[Any]] = {}
    every = records.ReportValue.objects.filter(report__season__in=ids).order_by("place")
    for row in every.values():
        values.setdefault(row["report_id"], []).append(records.item_of(plain.Analyte, row))
    return {
        one.id: _farm(
            heads[one.farm_id],
            days[one.id],
            {table: _there(rows.get(one.id, ())) for table, rows in states.items()},
            {table: _not_undone(rows.get(_plain(one.id), ())) for table, rows in lines.items()},
            values,
        )
        for one in seasons
    }


def _farm(
    head: Mapping[str, Any],
    days: Mapping[str, Any],
    states: Mapping[Any, list[dict[str, Any]]],
    lines: Mapping[Any, list[dict[str, Any]]],
    values: Mapping[UUID, list[Any]],
) -> plain.Farm:
    """Return a farm from its rows."""
    lots, groups = states[records.LotState], states[records.GroupState]
    feeds = states[records.FeedState]
    names = {
        **{row["thing_id"]: row["lot_id"] for row in lots},
        **{row["thing_id"]: row["feed_id"] for row in feeds},
        **{row["thing_id"]: row["group_id"] for row in groups},
    }
    plainly: dict[UUID | str | None, str] = {_plain(one): name for one, name in names.items()}
    plainly[None] = ""
    made: dict[str, Any] = {
        part: tuple(_line(_ITEMS[part], row, plainly) for row in lines[table])
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


def _last_states(table: Any, things: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Return the newest state of each of many farms or seasons as a row."""
    rows = table.objects.filter(thing_id__in=things).order_by("revision").values()
    return {row["thing_id"]: row for row in rows}


def _lines(table: Any, seasons: Sequence[UUID]) -> Iterable[dict[str, Any]]:
    """Yield the lines of a ledger with ids as the database has them.

    There are thousands of them: to make an object of every id takes longer than all else.
    """
    columns = [one for one in table._meta.concrete_fields if one.name != "written_by"]
    as_text = not connection.features.has_native_uuid_field
    wanted = [
        Cast(one.attname, TextField()) if as_text and _is_id(one) else one.attname
        for one in columns
    ]
    names = [one.attname for one in columns]
    for row in table.objects.filter(season__in=seasons).values_list(*wanted):
        yield dict(zip(names, row, strict=True))


def _is_id(column: Any) -> bool:
    return isinstance(column.target_field if column.is_relation else column, UUIDField)


def _plain(one: UUID) -> UUID | str:
    """Return an id as `_lines` gives it."""
    return one if connection.features.has_native_uuid_field else one.hex


def _by_season(rows: Iterable[dict[str, Any]]) -> dict[Any, list[dict[str, Any]]]:
    found: dict[Any, list[dict[str, Any]]] = {}
    for row in rows:
        found.setdefault(row["season_id"], []).append(row)
    return found


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
    return _not_undone(table.objects.filter(season=season).values())


def _not_undone(rows: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    rows = list(rows)
    undone = {row["undoes_id"] for row in rows}
    there = (row for row in rows if row["counts"] and row["id"] not in undone)
    return sorted(there, key=lambda row: (row["place"], str(row["id"])))


def _line(item: Any, row: Mapping[str, Any], names: Mapping[UUID | str | None, str]) -> Any:
    named = {
        f"{what}_id": names[row[f"{what}_id"]]
        for what in ("group", "lot", "to_lot")
        if f"{what}_id" in row
    }
    if "feed_id" in row:
        named["source_id"] = names[row["lot_id"] or row["feed_id"]]
        del named["lot_id"]
    return records.item_of(item, row, **named)


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
            return read_folder(place).layout
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
    write_folder(farm_of(season), folder, layout_of(season), replace=replace_old)
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
