"""Reading a farm of the book and sending it out as a folder."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import Any, Final
from uuid import UUID

from rickyard.book import records
from rickyard.book.acting import NotThere, allow, heard_of, held_or_read
from rickyard.book.base import BookProblem, in_action, one_moment
from rickyard.book.folders import farm_of, farms_of, write_out
from rickyard.book.services.done import season_there, without_costs
from rickyard.farm import Farm
from rickyard.folder import FolderFaults, FolderInUse
from rickyard.service import Held

#: Seasons as they were read, with and without what they cost, by the newest line of their trail: a
#: page need not read one again at each visit.
farms_held: Final = Held[tuple[UUID, UUID, bool], Farm](64)


def read_farm(person: Any, season_id: UUID) -> Farm:
    """Return a season of a farm as the engine takes it.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.

    Returns
    -------
    Farm
        The farm in that season; for who may not see what it costs, as `without_costs` tells it.
    """
    heard = heard_of("read farm", person, season_id)
    priced = heard.may("read costs")
    return held_or_read(
        farms_held, (season_id, heard.line, priced), lambda: _read(season_id, priced=priced)
    )


def whole_farm(season_id: UUID, line: UUID) -> Farm:
    """Return a season with all that it costs, for who has asked already whether they may.

    Parameters
    ----------
    season_id : UUID
        The season.
    line : UUID
        The newest line of its trail.

    Returns
    -------
    Farm
        The farm in that season.
    """
    return held_or_read(farms_held, (season_id, line, True), lambda: _read(season_id, priced=True))


def whole_farms(lines: Mapping[UUID, UUID]) -> dict[UUID, Farm]:
    """Return many seasons with all that they cost, in as many queries as one needs.

    Parameters
    ----------
    lines : mapping of UUID to UUID
        Of each season the newest line of its trail.

    Returns
    -------
    dict of UUID to Farm
        By season; one that is not there any more is left out.
    """
    held = farms_held.of((season, line, True) for season, line in lines.items())
    found = {season: farm for (season, _, _), farm in held.items()}
    missing = [season for season in lines if season not in found]
    if not missing:
        return found
    with one_moment():
        read = farms_of(list(records.Season.objects.filter(id__in=missing)))
    new = {season: _as_before((season, True), farm) for season, farm in read.items()}
    if not in_action():
        farms_held.hold({(season, lines[season], True): farm for season, farm in new.items()})
    return found | new


def _read(season_id: UUID, *, priced: bool) -> Farm:
    with one_moment():
        season = records.Season.objects.filter(id=season_id).first()
        if season is None:
            raise NotThere
        farm = farm_of(season)
    return _as_before((season_id, priced), farm if priced else without_costs(farm))


def _as_before(key: tuple[UUID, bool], farm: Farm) -> Farm:
    """Return a farm that was read, with the parts that say the same as when it was read last."""
    before = _newest.of([key])
    farm = _with_parts_of(before[key], farm) if before else farm
    if not in_action():
        _newest.hold({key: farm})
    return farm


#: The newest that was read of each season, with and without what it costs. What a write left as it
#: was is the same object before and after it, so that what was worked out of it holds.
_newest: Final = Held[tuple[UUID, bool], Farm](64)


def _with_parts_of(before: Farm, now: Farm) -> Farm:
    """Return a farm with the parts of the one before that say the same."""
    same: dict[str, Any] = {}
    for part in (one.name for one in fields(now)):
        old, new = getattr(before, part), getattr(now, part)
        same[part] = old if old == new else new
        if part == "lots" and old != new and len(old) == len(new):
            same[part] = tuple(a if a == b else b for a, b in zip(old, new, strict=True))
    return replace(now, **same)


@dataclass(frozen=True, slots=True)
class Count:
    """How many bales of a lot were counted on the morning of a day."""

    day: date
    bales: float


def read_counts(person: Any, season_id: UUID) -> dict[str, tuple[Count, ...]]:
    """Return every count of the lots of a season that are there.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.

    Returns
    -------
    dict of str to tuple of Count
        By the short name that a lot has now, the first count first. Of two of a day the later
        written counts, and a count that a later state puts on an earlier day is taken back.
    """
    heard_of("read farm", person, season_id)
    found: dict[UUID, dict[date, float]] = {}
    names: dict[UUID, str] = {}
    rows = records.LotState.objects.filter(season=season_id).order_by("revision")
    for thing, name, day, bales, counts in rows.values_list(
        "thing_id", "lot_id", "counted_on", "bales", "counts"
    ):
        earlier = {one: many for one, many in found.get(thing, {}).items() if one < day}
        found[thing] = {**earlier, day: bales}
        names[thing] = name if counts else ""
    return {
        names[thing]: tuple(Count(*one) for one in sorted(days.items()))
        for thing, days in found.items()
        if names[thing]
    }


@dataclass(frozen=True, slots=True)
class GroupFact:
    """A group as it was known from a day on; ``day`` is ``None`` where none was written."""

    day: date | None
    head: int
    weight_kg: float
    condition_score: float | None


def read_group_facts(person: Any, season_id: UUID, thing: UUID) -> tuple[GroupFact, ...]:
    """Return all that was written of head, weight and condition of a group, the first first.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.
    thing : UUID
        The group in the book.

    Returns
    -------
    tuple of GroupFact
        One for each revision that says something else than the one before.
    """
    heard_of("read farm", person, season_id)
    rows = records.GroupState.objects.filter(season=season_id, thing_id=thing).order_by("revision")
    found: list[GroupFact] = []
    for row in rows.values_list("day", "head", "weight_kg", "condition_score"):
        if not found or row[1:] != (found[-1].head, found[-1].weight_kg, found[-1].condition_score):
            found.append(GroupFact(*row))
    return tuple(found)


def export_farm(
    person: Any, season_id: UUID, folder: str | os.PathLike[str], *, replace_old: bool = False
) -> None:
    """Write a season of a farm as a farm folder.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.
    folder : str or path-like
        Where to.
    replace_old : bool
        Whether a farm that is there may be replaced.

    Raises
    ------
    BookProblem
        If it cannot be written there; what was there stays.
    """
    season = season_there(person, season_id)
    allow("export", person, season.farm_id)
    try:
        write_out(season, folder, replace_old=replace_old)
    except (FolderInUse, FolderFaults) as problem:
        raise BookProblem(str(problem)) from problem
    except OSError as error:
        raise BookProblem(
            f"{folder}: cannot be written ({error.strerror or error}). Choose a place that exists "
            "and that you may write to."
        ) from error
