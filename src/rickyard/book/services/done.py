"""What a service returns, and how it finds what it is asked about."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any, Final
from uuid import UUID

from rickyard.book import records
from rickyard.book.acting import NotThere, role_on
from rickyard.farm import Farm, Feed, Lot
from rickyard.program.result import Costs
from rickyard.service import Planned, held_by_object


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
    """Return a farm without what hay, feeds and tests cost, what hay brings and what is spent.

    Parameters
    ----------
    farm : Farm
        The farm.

    Returns
    -------
    Farm
        The same, those prices unknown; that of a feed, which every feed has, is no number.

    Examples
    --------
    >>> from rickyard.calls import demo_farm
    >>> told = without_costs(demo_farm())
    >>> told.labs, {one.value_usd_per_kg for one in told.lots}
    ((), {None})
    >>> {str(one.price_usd_per_kg) for one in told.feeds}
    {'nan'}
    """
    return replace(
        farm,
        season=replace(farm.season, cash_limit_usd=None),
        lots=tuple(without_price(one) for one in farm.lots),
        feeds=tuple(without_price(one) for one in farm.feeds),
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


#: What a program says in money beside the fields that are named for it.
_MONEY: Final = frozenset({"cost", "penalty", "bound"})


@held_by_object(64)
def planned_without_costs(planned: Planned) -> Planned:
    """Return a program without what anything in it costs, brings or is worth.

    Parameters
    ----------
    planned : Planned
        The program with its farm.

    Returns
    -------
    Planned
        The same; an amount of money is unknown, and no number where each has one.
    """
    return Planned(
        _without_money(planned.program),
        without_costs(planned.farm),
        without_costs(planned.planned_farm),
        planned.warnings,
    )


def _without_money(item: Any) -> Any:
    if isinstance(item, tuple):
        return tuple(map(_without_money, item))
    if not is_dataclass(item) or isinstance(item, type):
        return item
    changed = {}
    for one in fields(item):
        value = getattr(item, one.name)
        if isinstance(item, Costs) or "usd" in one.name or one.name in _MONEY:
            if isinstance(value, float):
                changed[one.name] = None if "None" in str(one.type) else math.nan
        elif (new := _without_money(value)) is not value:
            changed[one.name] = new
    return replace(item, **changed) if changed else item
