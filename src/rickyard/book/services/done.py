"""What a service returns, and how it finds what it is asked about."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID

from rickyard.book import records
from rickyard.book.acting import NotThere, role_on
from rickyard.farm import Farm, Feed, Lot


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


def without_costs(farm: Farm) -> Farm:
    """Return a farm without what hay is worth and brings, what tests cost, and what may be spent.

    What feeds cost stays: no feed is without a price, and what is worked out of a farm needs it.

    Parameters
    ----------
    farm : Farm
        The farm.

    Returns
    -------
    Farm
        The same, those prices unknown.

    Examples
    --------
    >>> from rickyard.calls import demo_farm
    >>> told = without_costs(demo_farm())
    >>> told.labs, {one.value_usd_per_kg for one in told.lots}
    ((), {None})
    """
    return replace(
        farm,
        season=replace(farm.season, cash_limit_usd=None),
        lots=tuple(without_price(one) for one in farm.lots),
        labs=(),
    )


def without_price(item: Any) -> Any:
    """Return a lot, a group or a feed without its price.

    Parameters
    ----------
    item : Lot, Group or Feed
        The thing.

    Returns
    -------
    Lot, Group or Feed
        The same, its price unknown; that of a feed, which every feed has, is no number.
    """
    if isinstance(item, Lot):
        return replace(item, value_usd_per_kg=None, sale_usd_per_kg=None)
    if isinstance(item, Feed):
        return replace(item, price_usd_per_kg=math.nan)
    return item
