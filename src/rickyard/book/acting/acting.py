"""The frame of every action: who asks, on what farm, in one transaction, with one line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from functools import cached_property
from typing import Any, Final
from uuid import UUID
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.db import transaction

from rickyard.book import records
from rickyard.book.acting.problems import NotAllowed, NotThere
from rickyard.book.acting.roles import PERMISSIONS, Role
from rickyard.book.base import BookProblem

#: Whoever sits at a computer that keeps the book for one person: no account, every farm.
ONE_PERSON: Final = None


def role_on(person: Any, farm_id: UUID) -> Role | None:
    """Return what a person is on a farm.

    Parameters
    ----------
    person : records.Person or None
        Who asks; ``ONE_PERSON`` is the producer of every farm.
    farm_id : UUID
        The farm.

    Returns
    -------
    Role or None
        The role, or ``None`` for a farm that is not the person's to see.
    """
    if person is ONE_PERSON:
        return Role.PRODUCER
    rows = records.Membership.objects.filter(person=person, farm_id=farm_id)
    newest = rows.order_by("-revision").first()
    return Role(newest.role) if newest is not None and newest.counts else None


def allow(service: str, person: Any, farm_id: UUID) -> None:
    """Refuse a person who may not ask a service of a farm.

    Parameters
    ----------
    service : str
        A row of the table of permissions.
    person : records.Person or None
        Who asks.
    farm_id : UUID
        The farm.

    Raises
    ------
    NotThere
        If there is no such farm, or it is not the person's to see.
    NotAllowed
        If the person's role does not reach so far.
    """
    may = PERMISSIONS[service]
    role = role_on(person, farm_id)
    if role is None or not records.Farm.objects.filter(id=farm_id).exists():
        raise NotThere
    if role not in may:
        raise NotAllowed.of(service, role)


def may(service: str, person: Any, farm_id: UUID) -> bool:
    """Return whether a person may ask a service of a farm.

    Parameters
    ----------
    service : str
        A row of the table of permissions.
    person : records.Person or None
        Who would ask.
    farm_id : UUID
        The farm.

    Returns
    -------
    bool
        Whether `allow` lets them.
    """
    return role_on(person, farm_id) in PERMISSIONS[service]


def farms_where(service: str, person: Any, farms: Iterable[UUID]) -> frozenset[UUID]:
    """Return the farms of which a person may ask a service, in one query for all of them.

    Parameters
    ----------
    service : str
        A row of the table of permissions.
    person : records.Person or None
        Who would ask.
    farms : iterable of UUID
        The farms.

    Returns
    -------
    frozenset of UUID
        Those where `allow` lets them.
    """
    asked, may_ask = frozenset(farms), PERMISSIONS[service]
    if person is ONE_PERSON:
        return asked if Role.PRODUCER in may_ask else frozenset()
    rows = records.Membership.objects.filter(person=person, farm__isnull=False)
    newest = {
        farm: counts and Role(role) in may_ask
        for farm, role, counts in rows.order_by("revision").values_list("farm_id", "role", "counts")
    }
    return frozenset(farm for farm, may_here in newest.items() if may_here) & asked


class Act:
    """An action under way. Its line is written once something is written that names it."""

    def __init__(self, service: str, person: Any, farm_id: UUID, about: str) -> None:
        self._said = {"service": service, "person": person, "farm_id": farm_id, "about": about}

    @cached_property
    def before(self) -> Any:
        """Return the newest line of the farm's trail before this action, ``None`` without one."""
        lines = records.TrailLine.objects.filter(farm_id=self._said["farm_id"])
        return lines.order_by("-number").first()

    @cached_property
    def line(self) -> Any:
        """Return the line of the trail."""
        newest = self.before
        return records.TrailLine.objects.create(
            number=1 if newest is None else newest.number + 1, at=datetime.now(UTC), **self._said
        )

    def write_line(self) -> None:
        """Write the line where nothing that is written names it."""
        _ = self.line


@contextmanager
def acting(service: str, person: Any, farm_id: UUID, about: str) -> Iterator[Act]:
    """Act on a farm: all that is written in the block is written, or none of it.

    Parameters
    ----------
    service : str
        A row of the table of permissions.
    person : records.Person or None
        Who acts.
    farm_id : UUID
        The farm. Actions on one farm take turns.
    about : str
        What it is about, for the trail.

    Yields
    ------
    Act
        The action; what is written names its line.
    """
    with transaction.atomic():
        allow(service, person, farm_id)
        records.Farm.objects.select_for_update().get(id=farm_id)
        yield Act(service, person, farm_id, about)


@contextmanager
def beginning(service: str, person: Any, about: str) -> Iterator[Any]:
    """Begin a farm; whoever does so is its producer.

    Parameters
    ----------
    service : str
        What is done.
    person : records.Person or None
        Who acts.
    about : str
        What it is about, for the trail.

    Yields
    ------
    records.TrailLine
        The first line of the farm's trail.
    """
    with transaction.atomic():
        line = records.TrailLine.objects.create(
            farm=records.Farm.objects.create(),
            number=1,
            person=person,
            service=service,
            about=about,
            at=datetime.now(UTC),
        )
        if person is not ONE_PERSON:
            records.Membership.objects.create(
                person=person, farm=line.farm, role=Role.PRODUCER.value, revision=1, written_by=line
            )
        yield line


def day_at(time_zone: str, moment: datetime) -> date:
    """Return the day that it is on a farm.

    Parameters
    ----------
    time_zone : str
        The farm's time zone by its name, as America/New_York; where it is not known the day is
        that of this computer.
    moment : datetime
        When, with its time zone.

    Returns
    -------
    date
        The farm's day.

    Examples
    --------
    >>> day_at("America/Los_Angeles", datetime(2026, 1, 1, 3, 0, tzinfo=UTC)).isoformat()
    '2025-12-31'
    """
    return moment.astimezone(zone_of(time_zone)).date()


def zone_of(name: str) -> ZoneInfo | None:
    """Return a time zone by its name.

    Parameters
    ----------
    name : str
        The name; empty where it is not known.

    Returns
    -------
    ZoneInfo or None
        The zone, ``None`` for that of this computer.

    Raises
    ------
    BookProblem
        If there is no such zone.
    """
    if not name:
        return None
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise BookProblem(
            f'"{name}" is no time zone. Write a name such as America/New_York or Europe/Berlin.'
        ) from error
