"""Makes the summaries of all farms anew, one at a time, where there is nothing else to do."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final, NamedTuple
from uuid import UUID

from django.db.models import OuterRef, Subquery

from rickyard.book import records
from rickyard.book.acting import ONE_PERSON, day_at
from rickyard.book.district.reading import told_of_program, told_of_yard
from rickyard.book.district.summaries import keep, program_mark, yard_mark
from rickyard.book.district.told import ProgramTold
from rickyard.book.folders import sent_of
from rickyard.book.services import FarmThere, list_farms, planned_of, whole_farms
from rickyard.service import ServiceError


@dataclass(frozen=True, slots=True)
class _Missing:
    """A summary that is to be made of a program, or of a day as of a line of the trail."""

    season: UUID
    kind: str
    made_of: str
    of: UUID
    day: date | None


def newest_programs(seasons: Iterable[UUID]) -> dict[UUID, tuple[UUID, datetime]]:
    """Return the newest program of each season that has one, and when it was made.

    Parameters
    ----------
    seasons : iterable of UUID
        The seasons.

    Returns
    -------
    dict of UUID to (UUID, datetime)
        By season.
    """
    rows = records.Program.objects.filter(season__in=list(seasons))
    rows = rows.order_by("written_by__number")
    return {
        season: (program, at)
        for season, program, at in rows.values_list("season_id", "id", "written_by__at")
    }


class Newest(NamedTuple):
    """The newest line of a farm's trail: its id, its number, and when it was written."""

    line: UUID
    number: int
    at: datetime


def newest_lines(farms: Iterable[UUID]) -> dict[UUID, Newest]:
    """Return the newest line of each farm's trail.

    Parameters
    ----------
    farms : iterable of UUID
        The farms.

    Returns
    -------
    dict of UUID to Newest
        By farm.
    """
    # A farm's newest line is looked up by its index: trails are long, and are not read through.
    lines = records.TrailLine.objects.filter(farm_id=OuterRef("id")).order_by("-number")
    newest = {one: Subquery(lines.values(of)[:1]) for one, of in _OF_A_LINE.items()}
    rows = records.Farm.objects.filter(id__in=list(farms)).annotate(**newest)
    return {farm: Newest(*line) for farm, *line in rows.values_list("id", *_OF_A_LINE)}


#: What is asked of a line, by the names it has meanwhile.
_OF_A_LINE: Final = {"line": "id", "number": "number", "at": "at"}


def read_program_told(program: UUID) -> ProgramTold | None:
    """Return what a program says, ``None`` where its form is no longer read.

    Parameters
    ----------
    program : UUID
        The program.

    Returns
    -------
    ProgramTold or None
        What it says; without it a farm is told by its yard.
    """
    try:
        return told_of_program(planned_of(program))
    except ServiceError:
        return None


class Keeper:
    """Keeps the summaries of all farms up to the newest line and to each farm's day."""

    def __init__(self) -> None:
        self._todo: deque[_Missing] = deque()
        self._seen: tuple[object, int] | None = None

    def keep_next(self, now: datetime) -> bool:
        """Make one summary that is missing.

        Parameters
        ----------
        now : datetime
            The time, which gives each farm its own day.

        Returns
        -------
        bool
            Whether there was any to make.
        """
        if not self._todo:
            # Nothing is looked for again before something is written, or a day may have begun.
            there = list_farms(ONE_PERSON)
            lines = newest_lines(one.farm for one in there)
            sign = (lines, int(now.timestamp()) // _QUARTER)
            if sign == self._seen:
                return False
            self._todo.extend(_missing(there, lines, now))
            self._seen = sign
        if not self._todo:
            return False
        _make(self._todo.popleft())
        return True


#: Days begin at full quarters of an hour, in every time zone. [s]
_QUARTER: Final = 900


def _missing(
    there: Sequence[FarmThere], lines: Mapping[UUID, Newest], now: datetime
) -> list[_Missing]:
    """Return what is to be made, the dangers of today's yards before programs."""
    programs = newest_programs(one.season for one in there)
    wanted = []
    for one in there:
        day = day_at(one.time_zone, now)
        newest = lines[one.farm]
        made_of = yard_mark(newest.number, day)
        wanted.append(_Missing(one.season, records.OF_YARD, made_of, newest.line, day))
    for one in there:
        if one.season in programs:
            program = programs[one.season][0]
            made_of = program_mark(program)
            wanted.append(_Missing(one.season, records.OF_PROGRAM, made_of, program, None))
    kept = set(records.Summary.objects.values_list("season_id", "kind", "made_of"))
    return [one for one in wanted if (one.season, one.kind, one.made_of) not in kept]


def _make(one: _Missing) -> None:
    """Make a summary; a farm or a program that has gone meanwhile is passed over."""
    if one.day is None:
        if records.Program.objects.filter(id=one.of).exists():
            keep(one.season, one.kind, one.made_of, read_program_told(one.of))
        return
    for farm in whole_farms({one.season: one.of}).values():
        keep(
            one.season,
            one.kind,
            one.made_of,
            told_of_yard(farm, one.day, sent_of([one.season])[one.season]),
        )
