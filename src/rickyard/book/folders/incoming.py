"""A farm folder into the book: each row of its tables as a row of the book, its texts beside them.

Runs inside the transaction of whoever calls it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Final
from uuid import UUID, uuid4

from rickyard import farm as plain
from rickyard.book import records
from rickyard.folder import Layout

#: So many rows go to the database in one statement.
BATCH: Final = 500


@dataclass(frozen=True, slots=True)
class Ids:
    """The ids in the book of what a season's rows name: lots, groups and feeds by short name."""

    lots: Mapping[str, UUID]
    groups: Mapping[str, UUID]
    feeds: Mapping[str, UUID]

    def source(self, name: str) -> dict[str, UUID | None]:
        """Return the columns that name a lot or a feed."""
        lot = self.lots.get(name)
        return {"lot_id": lot, "feed_id": None if lot is not None else self.feeds[name]}


def store_farm(farm: plain.Farm, book_farm: Any, line: Any) -> Any:
    """Write a farm's name, place and a new season of it with all that it has.

    Parameters
    ----------
    farm : Farm
        What is written.
    book_farm : records.Farm
        The farm in the book, in which nothing stands yet.
    line : records.TrailLine
        The action that writes.

    Returns
    -------
    records.Season
        The season.
    """
    _state(records.FarmState, line, thing=book_farm, **_plain_farm(farm))
    season = records.Season.objects.create(farm=book_farm, written_by=line)
    _state(records.SeasonState, line, thing=season, **records.plain_values(farm.season))
    ids = _store_things(farm, season, line)
    _store_reports(farm.reports, ids, season, line)
    _store_ledgers(farm, ids, season, line)
    return season


def store_season(farm: plain.Farm, last: Any, season_id: UUID, line: Any) -> Any:
    """Write a season that is begun from the last; what stands in both is the same thing.

    Parameters
    ----------
    farm : Farm
        The farm in the new season.
    last : records.Season
        The season it is begun from.
    season_id : UUID
        The id of the new one.
    line : records.TrailLine
        The action that writes.

    Returns
    -------
    records.Season
        The new season, written as the last was.
    """
    season = records.Season.objects.create(
        id=season_id, farm_id=last.farm_id, after=last, written_by=line
    )
    _state(records.SeasonState, line, thing=season, **records.plain_values(farm.season))
    ids = _store_things(farm, season, line, last)
    _store_reports(farm.reports, ids, season, line, last)
    _store_ledgers(farm, ids, season, line)
    texts = records.SeasonText.objects.filter(season=last).order_by("written_by__number")
    for source in texts.values_list("source_id", flat=True):
        records.SeasonText.objects.create(season=season, source_id=source, written_by=line)
    return season


def store_texts(
    layout: Layout, sources: Mapping[str, bytes], book_farm: Any, season: Any, line: Any
) -> None:
    """Keep the files of a folder as they came.

    Parameters
    ----------
    layout : Layout
        How the folder was written.
    sources : mapping of str to bytes
        Files of its folder ``sources``, by name.
    book_farm : records.Farm
        The farm in the book.
    season : records.Season
        The season that came from the folder.
    line : records.TrailLine
        The action that writes.
    """
    files = [layout.settings, *(table.source for table in layout.tables.values())]
    for file in files:
        content = file.text.encode("utf-8-sig" if file.marked else "utf-8")
        kept = keep_file(book_farm, file.file, content, line)
        records.SeasonText.objects.create(season=season, source=kept, written_by=line)
    for name, content in sources.items():
        keep_file(book_farm, f"{SOURCES}/{name}", content, line)


#: The folder of a farm folder in which the files of laboratories are kept.
SOURCES: Final = "sources"


def keep_file(book_farm: Any, name: str, content: bytes, line: Any) -> Any:
    """Keep a file as it came; the same one twice stands once.

    Parameters
    ----------
    book_farm : records.Farm
        The farm it belongs to.
    name : str
        Its name, with the folder in which it lay below the farm's.
    content : bytes
        Its bytes.
    line : records.TrailLine
        The action that writes.

    Returns
    -------
    records.SourceFile
        The file in the book.
    """
    sha256 = hashlib.sha256(content).hexdigest()
    kept, _ = records.SourceFile.objects.get_or_create(
        farm=book_farm,
        name=name,
        sha256=sha256,
        defaults={"content": content, "written_by": line},
    )
    return kept


def _plain_farm(farm: plain.Farm) -> dict[str, str]:
    return {name: getattr(farm, name) for name in ("name", "place", "units", "note", "country")}


def _state(table: Any, line: Any, **values: Any) -> None:
    table.objects.create(revision=1, written_by=line, **values)


def _store_things(farm: plain.Farm, season: Any, line: Any, last: Any = None) -> Ids:
    weighed = farm.season.weighed_on or farm.season.start
    lots = [(lot.lot_id, lot.counted_on, lot) for lot in farm.lots]
    groups = [(group.group_id, group.from_on or weighed, group) for group in farm.groups]
    feeds: list[tuple[str, date | None, Any]] = [(feed.feed_id, None, feed) for feed in farm.feeds]
    return Ids(
        _store_states(records.Lot, records.LotState, lots, season, line, last),
        _store_states(records.Group, records.GroupState, groups, season, line, last),
        _store_states(records.Feed, records.FeedState, feeds, season, line, last),
    )


def _known(states: Any, short: str, last: Any) -> dict[str, UUID]:
    """Return the things of the last season by their short names in it."""
    if last is None:
        return {}
    rows = states.objects.filter(season=last).order_by("revision")
    return dict(rows.values_list(short, "thing_id"))


def _store_states(
    table: Any, states: Any, items: list[Any], season: Any, line: Any, last: Any
) -> dict[str, UUID]:
    """Write things and their first states; return their ids by short name."""
    known = _known(states, f"{table.__name__.lower()}_id", last)
    ids = {name: known.get(name) or uuid4() for name, _, _ in items}
    new = (one for name, one in ids.items() if name not in known)
    _add(table, [{"id": one, "farm_id": season.farm_id} for one in new], line)
    rows = [
        {
            "thing_id": ids[name],
            "season_id": season.id,
            "revision": 1,
            "place": place,
            "day": day,
            **records.plain_values(item),
        }
        for place, (name, day, item) in enumerate(items)
    ]
    _add(states, rows, line)
    return ids


def _store_reports(
    reports: tuple[plain.Report, ...], ids: Ids, season: Any, line: Any, last: Any = None
) -> None:
    things, states, values = [], [], []
    known = _known(records.ReportState, "report_id", last)
    for place, report in enumerate(reports):
        thing, state = known.get(report.report_id) or uuid4(), uuid4()
        if report.report_id not in known:
            things.append({"id": thing, "farm_id": season.farm_id})
        states.append(
            {
                "id": state,
                "thing_id": thing,
                "season_id": season.id,
                "revision": 1,
                "place": place,
                "day": report.reported_on or report.sampled_on,
                "lot_id": ids.lots[report.lot_id],
                **records.plain_values(report, but=("lot_id", "analytes")),
            }
        )
        values += [
            {"report_id": state, "place": at, **records.plain_values(analyte)}
            for at, analyte in enumerate(report.analytes)
        ]
    _add(records.Report, things, line)
    _add(records.ReportState, states, line)
    _add(records.ReportValue, values, line)


def _store_ledgers(farm: plain.Farm, ids: Ids, season: Any, line: Any) -> None:
    for part, table in LEDGERS.items():
        rows = [
            {"season_id": season.id, "place": place, **line_values(item, ids)}
            for place, item in enumerate(getattr(farm, part))
        ]
        _add(table, rows, line)


#: The ledgers of a season by the part of a farm that they hold.
LEDGERS: Final[Mapping[str, Any]] = {
    "needs": records.Need,
    "weather": records.Weather,
    "fed": records.Feeding,
    "moves": records.Move,
    "labs": records.LabPrice,
    "wishes": records.Wish,
    "stacks": records.Stack,
}


def line_values(item: Any, ids: Ids) -> dict[str, Any]:
    """Return a line of a ledger as a row holds it.

    Parameters
    ----------
    item : FedRow, MoveRow, StatedNeed, WeatherRow, LabPackage, WishRow or StackRow
        The line.
    ids : Ids
        What its names are in the book.

    Returns
    -------
    dict
        Values by column.
    """
    named = [name for name in ("source_id", "group_id", "lot_id", "to_lot_id") if _has(item, name)]
    values = records.plain_values(item, but=named)
    for name in named:
        short = getattr(item, name)
        if name == "source_id":
            values |= ids.source(short)
        elif name == "group_id":
            values["group_id"] = ids.groups[short] if short else None
        else:
            values[name] = ids.lots[short] if short else None
    return values


def _has(item: Any, name: str) -> bool:
    return hasattr(item, name)


def _add(table: Any, rows: list[dict[str, Any]], line: Any) -> None:
    made = [table(written_by=line, **row) for row in rows]
    table.objects.bulk_create(made, batch_size=BATCH)
