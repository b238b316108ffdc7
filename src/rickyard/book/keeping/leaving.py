"""A farm that leaves the book for good; that it did is kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Final
from uuid import UUID

from django.apps import apps

from rickyard.book import records
from rickyard.book.acting import NotTaken, acting
from rickyard.book.base import LABEL
from rickyard.book.services import members_of
from rickyard.service import forget_all

#: How rows of a table come to their farm, where neither a farm nor a season is a column of theirs.
_WAYS: Final = {
    "Farm": "id",
    "FarmState": "thing_id",
    "SeasonState": "thing__farm_id",
    "ReportValue": "report__season__farm_id",
}

#: Lines of no farm: that one was deleted, by whom, and to whom it is gone.
_DELETED, _LOST = "delete farm", "lost farm"

#: Rows that are no farm's.
NO_FARM: Final = frozenset({"Account", "Leaving", "Office", "Person", "SignInTry", "SignedIn"})


@dataclass(frozen=True, slots=True)
class Gone:
    """A farm that was deleted: when, by whom where the book is not one person's, and its name."""

    at: datetime
    who: str
    name: str


def way_to_farm(table: Any) -> str:
    """Return how rows of a table come to the id of their farm.

    Parameters
    ----------
    table : model
        A table of which each row is a farm's.

    Returns
    -------
    str
        The way, as Django follows it.
    """
    columns = {one.name for one in table._meta.concrete_fields}
    if table.__name__ in _WAYS:
        return _WAYS[table.__name__]
    return "farm_id" if "farm" in columns else "season__farm_id" if "season" in columns else ""


def delete_farm(person: Any, farm_id: UUID, typed: str) -> int:
    """Take a farm with all that it has out of the book, for good.

    Backups that were made before hold it still.

    Parameters
    ----------
    person : records.Person or None
        Who deletes it.
    farm_id : UUID
        The farm.
    typed : str
        Its name, as the person typed it.

    Returns
    -------
    int
        How many rows went.

    Raises
    ------
    NotTaken
        If what was typed is not its name, or a program is being worked out.
    """
    with acting("delete farm", person, farm_id, ""):
        heads = records.FarmState.objects.filter(thing_id=farm_id).order_by("-revision")
        name: str = heads.values_list("name", flat=True)[0]
        if " ".join(typed.split()) != " ".join(name.split()):
            raise NotTaken(
                f'Nothing was deleted: type the name of the farm as the book has it, "{name}".'
            )
        under_way = (records.WAITING, records.RUNNING)
        if records.Work.objects.filter(season__farm_id=farm_id, state__in=under_way).exists():
            raise NotTaken("A program of this farm is being worked out. Stop that first.")
        others = [one for one in members_of(farm_id) if person is None or one != person.id]
        went = _take_away(farm_id)
        _note(person, name, others)
    forget_all()
    return went


def read_gone(person: Any) -> tuple[Gone, ...]:
    """Return the farms that were deleted, the first first.

    Parameters
    ----------
    person : records.Person or None
        Who reads; somebody with an account is told of farms that they deleted or were in on then.

    Returns
    -------
    tuple of Gone
        Each with its name then.
    """
    rows = records.TrailLine.objects.filter(farm__isnull=True, service=_DELETED)
    if person is not None:
        mine = records.TrailLine.objects.filter(farm__isnull=True, person=person)
        # What one deletion writes has one time, and is written at once.
        rows = rows.filter(at__in=mine.values("at"))
    return tuple(
        Gone(row.at, row.person.name if row.person else "", row.about)
        for row in rows.select_related("person").order_by("number")
    )


def _take_away(farm_id: UUID) -> int:
    """Delete the rows of a farm; the guards let them go while it stands among those that leave."""
    tables = [one for one in apps.get_app_config(LABEL).get_models() if one.__name__ not in NO_FARM]
    # Who leads to a farm by another row goes before that row.
    tables.sort(key=lambda one: -way_to_farm(one).count("__"))
    tables.sort(key=lambda one: one in (records.Season, records.TrailLine, records.Farm))
    leaving = records.Leaving.objects.create(id=farm_id, since=datetime.now(UTC))
    went = 0
    for table in tables:
        rows = table.objects.filter(**{way_to_farm(table): farm_id})
        # Nothing is asked of what names these rows: that goes too, and the database looks at the
        # end whether anything is left that does.
        went += rows._raw_delete(rows.db)
    leaving.delete()
    return went


def _note(person: Any, name: str, others: Sequence[UUID]) -> None:
    """Write into the trail of the office that a farm was deleted, and for whom it is gone."""
    newest = records.TrailLine.objects.filter(farm__isnull=True).order_by("-number").first()
    number, at = 1 if newest is None else newest.number + 1, datetime.now(UTC)
    who = None if person is None else person.id
    whom = [(_DELETED, who), *((_LOST, other) for other in others)]
    for place, (service, one) in enumerate(whom):
        records.TrailLine.objects.create(
            farm=None, number=number + place, person_id=one, service=service, about=name, at=at
        )
