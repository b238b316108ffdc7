"""How every farm stands, read in as many queries for many farms as for one."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import islice
from typing import Any, Final, TypeAlias, TypeVar
from uuid import UUID

from rickyard.book.acting import day_at
from rickyard.book.district.keeper import newest_lines, newest_programs, read_program_told
from rickyard.book.district.reading import told_of_yard
from rickyard.book.district.summaries import kept_programs, kept_yards, program_mark, yard_mark
from rickyard.book.district.told import DueThere, ProgramTold, Threat, YardTold
from rickyard.book.folders import sent_of
from rickyard.book.services import FarmThere, list_farms, whole_farms
from rickyard.hay.yard import Outlook
from rickyard.service import Held

#: So many farms are worked out while a page is waited for; the rest waits for whoever keeps the
#: summaries, or for the next look.
AT_ONCE: Final = 4

#: So many farms are held read: some offices.
_HELD: Final = 2_000

_SHORT: Final = ("hay_short", "need_short", "unfinished")

#: What a summary is of: a season, and what it must be made of.
_Key: TypeAlias = tuple[UUID, str]

Told = TypeVar("Told")


@dataclass(frozen=True, slots=True)
class FarmStands:
    """How a farm stands on a day: by its newest program, or else by the yard's rough count.

    ``fault`` says why the farm's yard could not be worked out; empty where it could. ``waits`` says
    that it was not looked at yet since something changed: then nothing is known of it.
    """

    there: FarmThere
    day: date
    heard_at: datetime
    program: ProgramTold | None
    made_at: datetime | None
    outlook: Outlook | None
    due: tuple[DueThere, ...]
    threats: tuple[Threat, ...]
    fault: str
    waits: bool = False

    @property
    def is_short(self) -> bool:
        """Return whether something lacks before the season ends."""
        if self.program is not None:
            return self.program.kind in _SHORT
        return self.outlook is not None and self.outlook.over_kg < 0.0

    @property
    def is_enough(self) -> bool:
        """Return whether that nothing lacks is known."""
        if self.program is not None:
            return self.program.kind == "enough"
        return self.outlook is not None and self.outlook.over_kg >= 0.0

    @property
    def short_on(self) -> date | None:
        """Return from which day something lacks, where that is known."""
        if not self.is_short:
            return None
        if self.program is not None:
            return self.program.short_on
        return None if self.outlook is None else self.outlook.out_on


_programs: Final = Held[_Key, ProgramTold | None](_HELD)
_yards: Final = Held[_Key, YardTold](_HELD)


def district(person: Any, now: datetime, day: date | None = None) -> tuple[FarmStands, ...]:
    """Return how the farms stand that a person may see.

    Parameters
    ----------
    person : records.Person or None
        Who asks; whoever has a role on a farm may read it.
    now : datetime
        The time, which gives each farm its own day.
    day : date, optional
        The day for all, where another is asked for.

    Returns
    -------
    tuple of FarmStands
        In the order of `list_farms`; of those that wait nothing is known yet.
    """
    there = list_farms(person)
    newest = newest_programs(one.season for one in there)
    heard = newest_lines(one.farm for one in there)
    days = {one.season: day or day_at(one.time_zone, now) for one in there}
    of_program = {season: program_mark(program) for season, (program, _) in newest.items()}
    of_yard = {one.season: yard_mark(heard[one.farm].number, days[one.season]) for one in there}
    programs = _told(
        of_program,
        _programs,
        kept_programs,
        lambda seasons: {one: read_program_told(newest[one][0]) for one in seasons},
    )
    lines = {one.season: heard[one.farm].line for one in there}
    yards = _told(
        of_yard,
        _yards,
        kept_yards,
        lambda seasons: _read_yards({one: lines[one] for one in seasons}, days),
    )
    found = []
    for one in there:
        season = one.season
        yard, heard_at = yards.get(season), heard[one.farm].at
        if yard is None or (season in newest and season not in programs):
            waiting = FarmStands(one, days[season], heard_at, None, None, None, (), (), "", True)
            found.append(waiting)
            continue
        program = programs.get(season)
        threats = yard.threats if program is None else (*yard.threats, *program.threats)
        found.append(
            FarmStands(
                one,
                days[season],
                heard_at,
                program,
                None if program is None else newest[season][1],
                yard.outlook,
                yard.due,
                tuple(dict.fromkeys(threats)),
                yard.fault,
            )
        )
    return tuple(found)


def _told(
    marks: Mapping[UUID, str],
    held: Held[_Key, Told],
    kept: Callable[[Mapping[UUID, str]], dict[UUID, Told]],
    work_out: Callable[[Sequence[UUID]], dict[UUID, Told]],
) -> dict[UUID, Told]:
    """Return summaries by season: from memory, from the book, and a few worked out now."""
    found = {season: told for (season, _), told in held.of(marks.items()).items()}
    if len(found) == len(marks):
        return found
    new = kept({season: made_of for season, made_of in marks.items() if season not in found})
    missing = [season for season in marks if season not in found and season not in new]
    if missing:
        new |= work_out(list(islice(missing, AT_ONCE)))
    held.hold({(season, marks[season]): told for season, told in new.items()})
    return found | new


def _read_yards(lines: Mapping[UUID, UUID], days: Mapping[UUID, date]) -> dict[UUID, YardTold]:
    sent = sent_of(lines)
    return {
        season: told_of_yard(one, days[season], sent[season])
        for season, one in whole_farms(lines).items()
    }
