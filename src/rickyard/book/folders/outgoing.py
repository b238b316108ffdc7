"""A season of the book as the plain objects of a farm, and as a farm folder."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path, PurePosixPath
from typing import Any, Final
from uuid import UUID

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
    head = last_state(records.FarmState, season.farm_id)
    lots = current_states(records.LotState, season)
    groups = current_states(records.GroupState, season)
    feeds = current_states(records.FeedState, season)
    names = {
        **{row["thing_id"]: row["lot_id"] for row in lots},
        **{row["thing_id"]: row["feed_id"] for row in feeds},
        **{row["thing_id"]: row["group_id"] for row in groups},
        None: "",
    }
    made: dict[str, Any] = {
        part: tuple(_line(_ITEMS[part], row, names) for row in current_lines(table, season))
        for part, table in LEDGERS.items()
    }
    return plain.Farm(
        **{name: head[name] for name in ("name", "place", "units", "note", "country")},
        season=records.item_of(plain.Season, last_state(records.SeasonState, season.id)),
        lots=tuple(records.item_of(plain.Lot, row) for row in lots),
        groups=tuple(records.item_of(plain.Group, row) for row in groups),
        feeds=tuple(records.item_of(plain.Feed, row) for row in feeds),
        reports=_reports(season, names),
        **made,
    )


def last_state(table: Any, thing: UUID) -> dict[str, Any]:
    """Return the newest state of a farm or a season as a row.

    Parameters
    ----------
    table : model
        The table of states.
    thing : UUID
        The farm or season.

    Returns
    -------
    dict
        Values by column.
    """
    row: dict[str, Any] = table.objects.filter(thing_id=thing).order_by("-revision").values()[0]
    return row


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
    newest: dict[UUID, dict[str, Any]] = {}
    for row in table.objects.filter(season=season).order_by("revision").values():
        newest[row["thing_id"]] = row
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
    rows = list(table.objects.filter(season=season).values())
    undone = {row["undoes_id"] for row in rows}
    there = (row for row in rows if row["counts"] and row["id"] not in undone)
    return sorted(there, key=lambda row: (row["place"], str(row["id"])))


def _line(item: Any, row: Mapping[str, Any], names: Mapping[UUID | None, str]) -> Any:
    named = {
        f"{what}_id": names[row[f"{what}_id"]]
        for what in ("group", "lot", "to_lot")
        if f"{what}_id" in row
    }
    if "feed_id" in row:
        named["source_id"] = names[row["lot_id"] or row["feed_id"]]
        del named["lot_id"]
    return records.item_of(item, row, **named)


def _reports(season: Any, names: Mapping[UUID | None, str]) -> tuple[plain.Report, ...]:
    rows = current_states(records.ReportState, season)
    values: dict[UUID, list[Any]] = {row["id"]: [] for row in rows}
    every = records.ReportValue.objects.filter(report__season=season).order_by("place").values()
    for one in every:
        if one["report_id"] in values:
            values[one["report_id"]].append(records.item_of(plain.Analyte, one))
    return tuple(
        records.item_of(
            plain.Report, row, lot_id=names[row["lot_id"]], analytes=tuple(values[row["id"]])
        )
        for row in rows
    )


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
