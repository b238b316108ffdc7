"""An office of many farms over three winters, written into a record book in bulk.

Every feeding has its own line of the trail, as when each was noted by itself.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

from season_farms import season_farm

from rickyard.book import records
from rickyard.book.acting import beginning
from rickyard.book.folders.incoming import Ids, line_values, store_farm, store_season
from rickyard.farm import Farm, FedRow
from rickyard.folder import write_folder
from rickyard.service import PlanRequest, open_farm, plan_farm
from rickyard.sheets.data_files import plan_json
from rickyard.version import __version__

#: Winters before the one that the invented farms are drawn for; the first of them, the last.
YEARS = (3, 2, 1)

LOTS, GROUPS, WEEKS = 10, 3, 27

#: So many farms differ in all but their names; the others are like one of them.
KINDS = 6

BATCH = 2_000


def shifted(item: Any, years: int) -> Any:
    """Return a farm, or a part of it, so many years earlier."""
    if isinstance(item, date):
        return item.replace(year=item.year - years, day=min(item.day, 28))
    if isinstance(item, tuple):
        return tuple(shifted(one, years) for one in item)
    if not is_dataclass(item) or isinstance(item, type):
        return item
    changed = {one.name: shifted(getattr(item, one.name), years) for one in fields(item)}
    return replace(item, **changed)


def feedings(farm: Farm, count: int) -> Iterator[FedRow]:
    """Yield so many feedings: each day each group gets of one lot and of one feed."""
    many = -(-count // (2 * len(farm.lots)))
    for number in range(count):
        day = farm.season.start + timedelta(days=number // (2 * len(farm.groups)))
        group = farm.groups[number // 2 % len(farm.groups)].group_id
        if number % 2:
            yield FedRow(day, "corn", group, mass_kg=25.0 + number % 7)
        else:
            lot = farm.lots[number // 2 % len(farm.lots)]
            yield FedRow(day, lot.lot_id, group, bales=round(0.85 * lot.bales / many, 3))


def ids_of(season: Any) -> Ids:
    """Return what the short names of a season are in the book."""

    def by_name(states: Any, short: str) -> Any:
        return dict(states.objects.filter(season=season).values_list(short, "thing_id"))

    return Ids(
        by_name(records.LotState, "lot_id"),
        by_name(records.GroupState, "group_id"),
        by_name(records.FeedState, "feed_id"),
    )


def store_feedings(farm: Farm, season: Any, count: int, number: int) -> int:
    """Write the feedings of a season, each with its line; return the newest line's number."""
    ids, lines, rows = ids_of(season), [], []
    for place, item in enumerate(feedings(farm, count)):
        number += 1
        line = records.TrailLine(
            id=uuid4(),
            farm_id=season.farm_id,
            number=number,
            service="add fed",
            about=item.source_id,
            at=datetime.combine(item.day, time(18), UTC),
        )
        lines.append(line)
        rows.append(
            records.Feeding(season=season, place=place, written_by=line, **line_values(item, ids))
        )
    records.TrailLine.objects.bulk_create(lines, batch_size=BATCH)
    records.Feeding.objects.bulk_create(rows, batch_size=BATCH)
    return number


def programs(farms: list[Farm]) -> list[dict[str, Any]]:
    """Return a season program of each farm as a row holds it."""
    from rickyard.book.services.programs import _zipped

    found = []
    for farm in farms:
        with tempfile.TemporaryDirectory() as place:
            write_folder(farm, Path(place) / "farm")
            opened = open_farm(Path(place) / "farm")
            planned = plan_farm(opened, PlanRequest(effort=0.02))
            found.append(
                {
                    "inputs": _zipped(opened.folder),
                    "sha256": opened.sha256,
                    "result": plan_json(planned.program),
                    "made_by_version": __version__,
                }
            )
    return found


def store_program(season: Any, program: dict[str, Any], number: int) -> None:
    """Write a program and that it is fed by."""
    at = datetime.now(UTC)
    kept = {"farm_id": season.farm_id, "at": at}
    planned = records.TrailLine.objects.create(number=number + 1, service="plan", **kept)
    row = records.Program.objects.create(season=season, written_by=planned, **program)
    line = records.TrailLine.objects.create(number=number + 2, service="adopt", **kept)
    records.Adoption.objects.create(season=season, program=row, revision=1, written_by=line)


def make_office(farms: int = 300, fed: int = 1_000_000, *, planned: bool = True) -> None:
    """Write an office into the open book, in which nothing stands yet."""
    kinds = [season_farm(seed, LOTS, GROUPS, WEEKS) for seed in range(KINDS)]
    plans = programs([shifted(one, YEARS[-1]) for one in kinds]) if planned else []
    each = -(-fed // (farms * len(YEARS)))
    for place in range(farms):
        kind = replace(kinds[place % KINDS], name=f"Farm {place + 1:03}")
        with beginning("import", None, kind.name) as line:
            season, number = None, 1
            for years in YEARS:
                farm = shifted(kind, years)
                if season is None:
                    season = store_farm(farm, line.farm, line)
                else:
                    number += 1
                    begun = records.TrailLine.objects.create(
                        farm=line.farm, number=number, service="begin season", at=datetime.now(UTC)
                    )
                    season = store_season(farm, season, uuid4(), begun)
                number = store_feedings(farm, season, each, number)
            if plans:
                store_program(season, plans[place % KINDS], number)
        if place % 25 == 24:
            print(f"{place + 1} farms", file=sys.stderr, flush=True)
