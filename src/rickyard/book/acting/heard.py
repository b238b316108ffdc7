"""A season as it is heard of by now: whose it is, the newest line of its trail, who asks.

Whatever is written leaves a line in the trail, so what was read of a season under a line holds as
long as that line is the newest: in every process of a server, whichever of them wrote.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from typing import Any, TypeVar
from uuid import UUID

from django.db import connection

from rickyard.book import records
from rickyard.book.acting.problems import NotAllowed, NotThere
from rickyard.book.acting.roles import PERMISSIONS, Role
from rickyard.book.base import as_kept, in_action
from rickyard.service import Held

_Found = TypeVar("_Found")


@dataclass(frozen=True, slots=True)
class Heard:
    """A season that somebody may ask a service of. ``line`` is the newest of its farm's trail."""

    season: UUID
    farm: UUID
    line: UUID
    role: Role

    def may(self, service: str) -> bool:
        """Return whether who asks may ask another service of it."""
        return self.role in PERMISSIONS[service]


def heard_of(service: str, person: Any, season_id: UUID) -> Heard:
    """Return a season of which somebody may ask a service, in one query.

    Parameters
    ----------
    service : str
        A row of the table of permissions.
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.

    Returns
    -------
    Heard
        The season.

    Raises
    ------
    NotThere
        If there is none, or it is of a farm that is not the person's to see.
    NotAllowed
        If the person's role does not reach so far.
    """
    wanted = [season_id] if person is None else [person.id, season_id]
    with connection.cursor() as cursor:
        cursor.execute(_statement(alone=person is None), [as_kept(one) for one in wanted])
        found = cursor.fetchone()
    role = None if found is None else found[2]
    if not role:
        raise NotThere
    if Role(role) not in PERMISSIONS[service]:
        raise NotAllowed.of(service, Role(role))
    farm, line = (one if isinstance(one, UUID) else UUID(one) for one in found[:2])
    return Heard(season_id, farm, line, Role(role))


def _statement(*, alone: bool) -> str:
    """Return what is asked of the database; who is alone is the producer of every farm."""
    season, line, member = (
        one._meta.db_table for one in (records.Season, records.TrailLine, records.Membership)
    )
    newest = f"FROM {line} WHERE farm_id = season.farm_id ORDER BY number DESC LIMIT 1"
    role = (
        f"'{Role.PRODUCER}'"
        if alone
        else f"(SELECT CASE WHEN counts THEN role ELSE '' END FROM {member} WHERE person_id = %s "
        "AND farm_id = season.farm_id ORDER BY revision DESC LIMIT 1)"
    )
    return (
        f"SELECT season.farm_id, (SELECT id {newest}), {role} "
        f"FROM {season} season WHERE season.id = %s"
    )


def held_or_read(held: Held[Any, _Found], key: Hashable, read: Callable[[], _Found]) -> _Found:
    """Return what is held under a key, or read it and hold it.

    Within an action nothing is held: what an action sees of itself may never be written.

    Parameters
    ----------
    held : Held
        Where it is held.
    key : hashable
        Of what it is read; asked of the book before it is read.
    read : callable
        Reads it.

    Returns
    -------
    object
        What was read, now or before.
    """
    found = held.of([key])
    if key in found:
        return found[key]
    new = read()
    if not in_action():
        held.hold({key: new})
    return new
