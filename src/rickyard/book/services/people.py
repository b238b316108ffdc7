"""Who may do what on a farm: letting people in, ending that, and reading the trail."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from rickyard.book import records
from rickyard.book.acting import Act, NotTaken, NotThere, Role, acting, allow
from rickyard.book.services.done import Done


def let_in(person: Any, farm_id: UUID, whom: Any, role: Role) -> Done:
    """Let somebody in on a farm, or give them another role there.

    Parameters
    ----------
    person : records.Person or None
        Who lets in.
    farm_id : UUID
        The farm.
    whom : records.Person
        Who is let in.
    role : Role
        As what.

    Returns
    -------
    Done
        What happened.
    """
    return _member("let in", person, farm_id, whom, role, counts=True)


def end_membership(person: Any, farm_id: UUID, whom: Any) -> Done:
    """End what somebody may do on a farm.

    Parameters
    ----------
    person : records.Person or None
        Who ends it.
    farm_id : UUID
        The farm.
    whom : records.Person
        Whose it is.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotThere
        If the person was not in.
    NotTaken
        If nobody would be left who may let others in.
    """
    return _member("end membership", person, farm_id, whom, None, counts=False)


def _member(
    service: str, person: Any, farm_id: UUID, whom: Any, role: Role | None, *, counts: bool
) -> Done:
    with acting(service, person, farm_id, whom.name) as act:
        now = members_of(farm_id)
        if role is None and whom.id not in now:
            raise NotThere
        left = {**now, whom.id: role}
        producers = {one for one, what in now.items() if what is Role.PRODUCER}
        if producers and not any(what is Role.PRODUCER for what in left.values()):
            raise NotTaken(
                "Nobody would be left who may let others in on this farm. Make somebody else its "
                "producer first."
            )
        return write_member(act, farm_id, whom, role or now[whom.id], counts=counts)


def write_member(act: Act, farm_id: UUID, whom: Any, role: Role, *, counts: bool) -> Done:
    """Write what a person is on a farm from now on.

    Parameters
    ----------
    act : Act
        The action under way.
    farm_id : UUID
        The farm.
    whom : records.Person
        The person.
    role : Role
        As what.
    counts : bool
        Whether it begins, or ends.

    Returns
    -------
    Done
        What happened.
    """
    last = records.Membership.objects.filter(person=whom, farm_id=farm_id)
    newest = last.order_by("-revision").first()
    row = records.Membership.objects.create(
        person=whom,
        farm_id=farm_id,
        role=role.value,
        revision=1 if newest is None else newest.revision + 1,
        counts=counts,
        written_by=act.line,
    )
    return Done(row.id, whom.id)


def members_of(farm_id: UUID) -> dict[UUID, Role]:
    """Return who is in on a farm.

    Parameters
    ----------
    farm_id : UUID
        The farm.

    Returns
    -------
    dict
        The role by the person's id.
    """
    newest = {
        row.person_id: row
        for row in records.Membership.objects.filter(farm_id=farm_id).order_by("revision")
    }
    return {who: Role(row.role) for who, row in newest.items() if row.counts}


def somebody(person: Any, farm_id: UUID, whom: UUID) -> Any:
    """Return somebody who is in on a farm.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    farm_id : UUID
        The farm.
    whom : UUID
        Their id.

    Returns
    -------
    records.Person
        The person.

    Raises
    ------
    NotThere
        If nobody of that id is in.
    """
    allow("read people", person, farm_id)
    if whom not in members_of(farm_id):
        raise NotThere
    return records.Person.objects.get(id=whom)


@dataclass(frozen=True, slots=True)
class Told:
    """A line of the trail; ``who`` is empty where the book is one person's."""

    number: int
    at: datetime
    who: str
    service: str
    about: str


def read_trail(person: Any, farm_id: UUID, last: int | None = None) -> list[Told]:
    """Return what was done on a farm, oldest first.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    farm_id : UUID
        The farm.
    last : int, optional
        So many of the newest lines; all where it is left out.

    Returns
    -------
    list of Told
        The lines.
    """
    allow("read trail", person, farm_id)
    rows = records.TrailLine.objects.filter(farm_id=farm_id).order_by("-number")[:last]
    found = [
        Told(row.number, row.at, row.person.name if row.person else "", row.service, row.about)
        for row in rows.select_related("person")
    ]
    return found[::-1]
