"""What laboratories' tests cost on each farm, how long results took; a price for several farms."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Final
from uuid import UUID, uuid5

from django.db import transaction

from rickyard import farm as plain
from rickyard.book import records
from rickyard.book.acting import NotTaken, allow, held_or_read
from rickyard.book.pricing.feeds import name_of, priced_farms
from rickyard.book.services import (
    FarmThere,
    add_line,
    season_there,
    undo_line,
)
from rickyard.service import Held


@dataclass(frozen=True, slots=True)
class PackageThere:
    """A package of tests as a farm's price list has it; ``line`` is its line in the book."""

    there: FarmThere
    line: UUID
    package: plain.LabPackage


@dataclass(frozen=True, slots=True)
class Turn:
    """How a result came: the laboratory, the day of the sample, the day of the report."""

    lab: str
    sampled_on: date
    reported_on: date


@dataclass(frozen=True, slots=True)
class LabsTold:
    """What laboratories sell, and how long their results took, over many farms."""

    farms: tuple[FarmThere, ...]
    packages: tuple[PackageThere, ...]
    turns: tuple[Turn, ...]


def read_labs(person: Any) -> LabsTold:
    """Return the price lists of the farms of which a person may read costs, and their results.

    Parameters
    ----------
    person : records.Person or None
        Who asks.

    Returns
    -------
    LabsTold
        In few queries however many farms there are.

    Raises
    ------
    NotThere
        If there is no farm of which the person may read costs.
    """
    farms = priced_farms(person)
    # Lines and states are only added, so as long as there are as many nothing was written.
    counts = [one.objects.count() for one in (records.LabPrice, records.ReportState)]
    return held_or_read(_held, (farms, *counts), lambda: _read_labs(farms))


#: What laboratories sell over many farms by the farms, and how many lines and states there are.
_held: Final = Held[tuple[tuple[FarmThere, ...], int, int], LabsTold](8)


def _read_labs(there: tuple[FarmThere, ...]) -> LabsTold:
    farms = {one.season: one for one in there}
    lines = records.LabPrice.objects.filter(season_id__in=list(farms)).order_by("place")
    rows = list(lines.values())
    undone = {row["undoes_id"] for row in rows}
    packages = tuple(
        PackageThere(farms[row["season_id"]], row["id"], records.item_of(plain.LabPackage, row))
        for row in rows
        if row["counts"] and row["id"] not in undone
    )
    return LabsTold(there, packages, _turns(farms))


def _turns(seasons: Iterable[UUID]) -> tuple[Turn, ...]:
    rows = records.ReportState.objects.filter(season_id__in=list(seasons)).order_by("revision")
    newest = {
        (season, thing): said
        for season, thing, *said in rows.values_list(
            "season_id", "thing_id", "lab", "sampled_on", "reported_on", "counts"
        )
    }
    return tuple(
        Turn(lab, sampled, reported)
        for lab, sampled, reported, counts in newest.values()
        if counts and lab and sampled is not None and reported is not None
    )


def package_key(one: plain.LabPackage) -> tuple[str, str]:
    """Return what tells packages apart: laboratory and name, without capitals and spaces.

    Parameters
    ----------
    one : LabPackage
        The package.

    Returns
    -------
    tuple of (str, str)
        To be compared.

    Examples
    --------
    >>> package_key(plain.LabPackage("Ashlow  desk", "HAY", 19.0, "dm cp"))
    ('ashlow desk', 'hay')
    """
    return " ".join(one.lab.casefold().split()), " ".join(one.package.casefold().split())


def write_package(
    person: Any,
    package: plain.LabPackage,
    seen: Mapping[UUID, UUID | None],
    fact: UUID,
) -> int:
    """Write a package of tests into the price lists of several farms: into all of them or none.

    Parameters
    ----------
    person : records.Person or None
        Who writes.
    package : LabPackage
        The package with its price.
    seen : mapping of UUID to UUID or None
        By season, the line whose place it takes, as it was looked at; ``None`` where it is new.
    fact : UUID
        An id of this act, so that it counts once however often it is sent.

    Returns
    -------
    int
        In how many price lists it stands now.

    Raises
    ------
    NotTaken
        If it breaks a rule of a farm's folder, or the line was changed meanwhile; the message names
        the farm.
    """
    with transaction.atomic():
        for one in sorted(seen):
            season, old = season_there(person, one), seen[one]
            allow("write labs", person, season.farm_id)
            how: dict[str, Any] = {"fact": uuid5(fact, str(one)), "service": "write labs"}
            try:
                if old is None:
                    add_line(person, one, "labs", package, **how)
                else:
                    undo_line(person, one, "labs", old, instead=package, **how)
            except NotTaken as problem:
                raise NotTaken(f"{name_of(one)}: {problem}") from problem
    return len(seen)
