"""What a service returns, and how it finds what it is asked about."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID

from rickyard.book import records
from rickyard.book.acting import NotThere, role_on
from rickyard.farm import Farm


@dataclass(frozen=True, slots=True)
class Done:
    """What happened.

    ``fact`` is the id of what was written and ``thing`` of what it is about; ``is_new`` is false
    where just this had been written before, and ``questions`` are sentences about what is possible
    but worth a second look.
    """

    fact: UUID
    thing: UUID
    is_new: bool = True
    questions: tuple[str, ...] = ()


def season_there(person: Any, season_id: UUID) -> Any:
    """Return a season that a person may see.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.

    Returns
    -------
    records.Season
        The season.

    Raises
    ------
    NotThere
        If there is none, or it is of a farm that is not the person's to see.
    """
    season = records.Season.objects.filter(id=season_id).first()
    if season is None or role_on(person, season.farm_id) is None:
        raise NotThere
    return season


def who_wrote(row: Any) -> str:
    """Return who wrote a row, for a sentence.

    Parameters
    ----------
    row : record
        Any row.

    Returns
    -------
    str
        The person's name, or "Somebody" where the book is one person's.
    """
    person = row.written_by.person
    return person.name if person is not None else "Somebody"


def with_part(farm: Farm, part: str, rows: tuple[Any, ...]) -> Farm:
    """Return a farm with other rows in one part.

    Parameters
    ----------
    farm : Farm
        The farm.
    part : str
        The part, as ``lots``.
    rows : tuple of object
        What stands in it.

    Returns
    -------
    Farm
        The farm as it would be.
    """
    changed: dict[str, Any] = {part: rows}
    return replace(farm, **changed)
