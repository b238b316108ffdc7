"""Lines of a farm's trail, the newest first, so many at a time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final
from uuid import UUID

from rickyard.book import records
from rickyard.book.acting import allow

#: So many lines are read at once unless somebody asks otherwise.
USUAL: Final = 50


@dataclass(frozen=True, slots=True)
class TrailEntry:
    """A line: its number on the farm, when, by whom, what was done and on what.

    ``who`` is empty where the book is one person's.
    """

    number: int
    at: datetime
    who: str
    service: str
    about: str


@dataclass(frozen=True, slots=True)
class TrailPage:
    """Lines of a trail, the newest first; ``before`` is where older ones go on, 0 where none do."""

    entries: tuple[TrailEntry, ...]
    before: int


def read_trail_page(
    person: Any, farm_id: UUID, *, before: int | None = None, most: int = USUAL
) -> TrailPage:
    """Return lines of a farm's trail.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    farm_id : UUID
        The farm.
    before : int, optional
        Lines of lower numbers than this are read; the newest if left out.
    most : int
        So many at most.

    Returns
    -------
    TrailPage
        The lines, the newest first.
    """
    allow("read trail", person, farm_id)
    rows = records.TrailLine.objects.filter(farm_id=farm_id).order_by("-number")
    if before is not None:
        rows = rows.filter(number__lt=before)
    found = tuple(
        TrailEntry(
            row.number, row.at, row.person.name if row.person else "", row.service, row.about
        )
        for row in rows.select_related("person")[:most]
    )
    last = found[-1].number if found else 1
    return TrailPage(found, last if last > 1 else 0)
