"""Invitations: a link that lets somebody in on a farm, once and for a day; and who is in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final
from uuid import UUID

from django.db import transaction

from rickyard.book import records
from rickyard.book.accounts import add_account, at, digest_of, new_code
from rickyard.book.acting import Act, NotTaken, NotThere, Role, acting, allow, may, role_on
from rickyard.book.services.done import Done
from rickyard.book.services.people import members_of, write_member

#: How long an invitation holds.
HOLDS: Final = timedelta(days=1)

#: Longer is no name.
_LONGEST_NAME: Final = 200


@dataclass(frozen=True, slots=True)
class Invited:
    """An invitation. ``code`` is its secret, told once to whoever invites and to nobody later."""

    id: UUID
    name: str
    role: Role
    until: datetime
    code: str = ""


@dataclass(frozen=True, slots=True)
class Member:
    """Somebody who is in on a farm; ``is_me`` is true of the one who asks."""

    person: UUID
    name: str
    role: Role
    is_me: bool


def invite(
    person: Any, farm_id: UUID, name: str, role: Role, now: datetime | None = None
) -> Invited:
    """Invite somebody to a farm by a link.

    Parameters
    ----------
    person : records.Person or None
        Who invites.
    farm_id : UUID
        The farm.
    name : str
        Who is meant, for the list of invitations.
    role : Role
        As what.
    now : datetime, optional
        The moment.

    Returns
    -------
    Invited
        The invitation with its code.

    Raises
    ------
    NotTaken
        If nobody is named.
    """
    said = " ".join(name.split())
    with acting("invite", person, farm_id, f"{said} as {role}") as act:
        if not said or len(said) > _LONGEST_NAME:
            raise NotTaken("Write whom you invite: a name, or an email address.")
        code = new_code()
        row = records.Invitation.objects.create(
            farm_id=farm_id,
            role=role.value,
            name=said,
            code_sha256=digest_of(code),
            invited_by=person,
            until=at(now) + HOLDS,
        )
        act.write_line()
    return Invited(row.id, said, role, row.until, code)


def end_invitation(person: Any, farm_id: UUID, invitation_id: UUID) -> Done:
    """Take an invitation back before somebody has used it.

    Parameters
    ----------
    person : records.Person or None
        Who takes it back.
    farm_id : UUID
        The farm.
    invitation_id : UUID
        The invitation.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotThere
        If the farm has no such invitation: it was used, or taken back already.
    """
    allow("end invitation", person, farm_id)
    rows = records.Invitation.objects.filter(id=invitation_id, farm_id=farm_id)
    row = rows.first()
    if row is None:
        raise NotThere
    with acting("end invitation", person, farm_id, row.name) as act:
        if not rows.delete()[0]:
            raise NotThere
        act.write_line()
    return Done(invitation_id, farm_id)


def read_people(person: Any, farm_id: UUID) -> tuple[Member, ...]:
    """Return who is in on a farm.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    farm_id : UUID
        The farm.

    Returns
    -------
    tuple of Member
        By name.
    """
    allow("read people", person, farm_id)
    roles = members_of(farm_id)
    mine = None if person is None else person.id
    rows = records.Person.objects.filter(id__in=roles).order_by("name", "id")
    return tuple(Member(one.id, one.name, roles[one.id], one.id == mine) for one in rows)


def read_invitations(
    person: Any, farm_id: UUID, now: datetime | None = None
) -> tuple[Invited, ...]:
    """Return the invitations to a farm that can still be used, the newest first.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    farm_id : UUID
        The farm.
    now : datetime, optional
        The moment.

    Returns
    -------
    tuple of Invited
        Without their codes.
    """
    allow("invite", person, farm_id)
    rows = records.Invitation.objects.filter(farm_id=farm_id, until__gt=at(now))
    return tuple(
        Invited(one.id, one.name, Role(one.role), one.until) for one in rows.order_by("-until")
    )


def invitation_of(code: str, now: datetime | None = None) -> tuple[str, Invited]:
    """Return what a link lets in to; looking at it does not use it.

    Parameters
    ----------
    code : str
        The code of the link.
    now : datetime, optional
        The moment.

    Returns
    -------
    tuple of (str, Invited)
        The farm's name, and the invitation.

    Raises
    ------
    NotThere
        If it was used or taken back, its day is over, or whoever invited may no longer.
    """
    row = _open(code, at(now))
    farm = records.FarmState.objects.filter(thing_id=row.farm_id).order_by("-revision")
    name: str = farm.values_list("name", flat=True)[0]
    return name, Invited(row.id, row.name, Role(row.role), row.until)


def accept_invitation(code: str, whom: Any, now: datetime | None = None) -> Done:
    """Let in who has an invitation; the link is used then.

    Parameters
    ----------
    code : str
        The code of the link.
    whom : records.Person
        Who uses it.
    now : datetime, optional
        The moment.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotThere
        If it can be used no more.
    NotTaken
        If the person is in on the farm already.
    """
    with transaction.atomic():
        row = _open(code, at(now))
        records.Farm.objects.select_for_update().get(id=row.farm_id)
        there = role_on(whom, row.farm_id)
        if there is not None:
            raise NotTaken(f"You are in on this farm already, as its {there}. Go to its pages.")
        if not records.Invitation.objects.filter(id=row.id).delete()[0]:
            raise NotThere
        act = Act("accept invitation", whom, row.farm_id, f"{row.name} as {row.role}")
        return write_member(act, row.farm_id, whom, Role(row.role), counts=True)


def join(code: str, name: str, email: str, password: str, now: datetime | None = None) -> Any:
    """Make an account for who has an invitation, and let them in: both, or neither.

    Parameters
    ----------
    code : str
        The code of the link.
    name : str
        What they are called.
    email : str
        What they sign in with.
    password : str
        Their password.
    now : datetime, optional
        The moment.

    Returns
    -------
    records.Person
        The person.

    Raises
    ------
    NotThere
        If the link can be used no more.
    NotTaken
        If the account cannot be made so.
    """
    with transaction.atomic():
        _open(code, at(now))
        person = add_account(name, email, password)
        accept_invitation(code, person, now)
    return person


def _open(code: str, now: datetime) -> Any:
    rows = records.Invitation.objects.filter(code_sha256=digest_of(code), until__gt=now)
    row = rows.select_related("invited_by").first()
    if row is None or not may("invite", row.invited_by, row.farm_id):
        raise NotThere
    return row
