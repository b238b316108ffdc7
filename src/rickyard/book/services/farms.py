"""The farms of the book that a person may see, in few queries however many there are."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any, Final
from uuid import UUID

from django.db import connection

from rickyard.book import records
from rickyard.book.acting import held_or_read
from rickyard.book.base import in_action, one_moment
from rickyard.service import Held, forget_all, held_by_object


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
    so_far = _so_far()
    found = held_or_read(_held, so_far, _every_farm)
    _forget_who_left(so_far, found)
    if person is None:
        return found
    return _of_somebody(found, _seen_by(person))


@held_by_object(64)
def _of_somebody(every: tuple[FarmThere, ...], seen: frozenset[UUID]) -> tuple[FarmThere, ...]:
    return tuple(one for one in every if one.farm in seen)


#: The farms of the book by what `_so_far` says; the one before the newest may still be asked for.
_held: Final = Held[tuple[Any, ...], tuple[FarmThere, ...]](2)


#: Of the newest list its key, and the farms on it.
_last: Final = Held[None, tuple[tuple[Any, ...], frozenset[UUID]]](1)


def _forget_who_left(so_far: tuple[Any, ...], now: tuple[FarmThere, ...]) -> None:
    """Drop what this process holds once a farm has left the book, whichever process deleted it."""
    before = _last.of([None]).get(None)
    if before is not None and before[0] == so_far:
        return
    farms = frozenset(one.farm for one in now)
    if before is not None and before[1] - farms:
        forget_all()
    if not in_action():
        _held.hold({so_far: now})
        _last.hold({None: (so_far, farms)})


def _so_far() -> tuple[Any, ...]:
    """Return how much is written of farms and seasons, in one query.

    States are only ever added, and a farm that leaves adds a line of no farm: so as long as these
    are the same nothing changed. Ids tell one book from another.
    """
    farm, season, line = (
        one._meta.db_table for one in (records.FarmState, records.SeasonState, records.TrailLine)
    )
    seasons = records.Season._meta.db_table
    asked = (
        f"(SELECT count(*) FROM {farm})",
        f"(SELECT count(*) FROM {season})",
        f"(SELECT count(*) FROM {seasons})",
        f"(SELECT max(number) FROM {line} WHERE farm_id IS NULL)",
        f"(SELECT id FROM {seasons} ORDER BY id LIMIT 1)",
        f"(SELECT id FROM {seasons} ORDER BY id DESC LIMIT 1)",
    )
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT {', '.join(asked)}")
        return tuple(cursor.fetchone())


def _every_farm() -> tuple[FarmThere, ...]:
    with one_moment():
        heads = _newest(records.FarmState.objects, ("name", "place", "units", "time_zone"))
        days = _newest(records.SeasonState.objects, ("start", "end"))
        seasons = tuple(records.Season.objects.values_list("id", "farm_id"))
    newest: dict[UUID, tuple[date, str, UUID]] = {}
    for season, farm in seasons:
        one = (days[season][0], str(season), season)
        newest[farm] = max(newest.get(farm, one), one)
    found = [
        FarmThere(farm, season, *heads[farm], *days[season])
        for farm, (_, _, season) in newest.items()
    ]
    return tuple(sorted(found, key=lambda one: (one.name.casefold(), str(one.farm))))


def _newest(table: Any, columns: tuple[str, ...]) -> dict[UUID, tuple[Any, ...]]:
    """Return columns of the newest state of each thing."""
    rows: Iterable[tuple[Any, ...]] = table.order_by("revision").values_list("thing_id", *columns)
    return {row[0]: tuple(row[1:]) for row in rows}


def _seen_by(person: Any) -> frozenset[UUID]:
    """Return the farms on which a person has a role."""
    rows = records.Membership.objects.filter(person=person, farm__isnull=False)
    newest = dict(rows.order_by("revision").values_list("farm_id", "counts"))
    return frozenset(farm for farm, counts in newest.items() if counts)
