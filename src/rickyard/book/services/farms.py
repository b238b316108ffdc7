"""The farms of the book that a person may see, in few queries however many there are."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from rickyard.book import records


@dataclass(frozen=True, slots=True)
class FarmThere:
    """A farm with its newest season. ``time_zone`` is empty where that of this computer counts."""

    farm: UUID
    season: UUID
    name: str
    place: str
    units: str
    time_zone: str
    start: date
    end: date


def list_farms(person: Any) -> tuple[FarmThere, ...]:
    """Return the farms that a person may see, each with its newest season.

    Parameters
    ----------
    person : records.Person or None
        Who asks; ``None`` is the one person of a book without accounts, who sees every farm.

    Returns
    -------
    tuple of FarmThere
        By name.
    """
    heads = _newest(
        records.FarmState.objects, ("name", "place", "units", "time_zone"), _seen_by(person)
    )
    days = _newest(records.SeasonState.objects, ("start", "end"), None)
    newest: dict[UUID, tuple[date, str, UUID]] = {}
    for season, farm in records.Season.objects.values_list("id", "farm_id"):
        if farm in heads:
            one = (days[season][0], str(season), season)
            newest[farm] = max(newest.get(farm, one), one)
    found = [
        FarmThere(farm, season, *heads[farm], *days[season])
        for farm, (_, _, season) in newest.items()
    ]
    return tuple(sorted(found, key=lambda one: (one.name.casefold(), str(one.farm))))


def _newest(
    table: Any, columns: tuple[str, ...], only: set[UUID] | None
) -> dict[UUID, tuple[Any, ...]]:
    """Return columns of the newest state of each thing."""
    rows: Iterable[tuple[Any, ...]] = table.order_by("revision").values_list("thing_id", *columns)
    return {row[0]: tuple(row[1:]) for row in rows if only is None or row[0] in only}


def _seen_by(person: Any) -> set[UUID] | None:
    """Return the farms on which a person has a role; ``None`` for all."""
    if person is None:
        return None
    rows = records.Membership.objects.filter(person=person, farm__isnull=False)
    newest = {row.farm_id: row.counts for row in rows.order_by("revision")}
    return {farm for farm, counts in newest.items() if counts}
