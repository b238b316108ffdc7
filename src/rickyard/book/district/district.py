"""How every farm stands, read in as many queries for many farms as for one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, Final
from uuid import UUID

from django.db.models import Max

from rickyard.book import records
from rickyard.book.acting import day_at
from rickyard.book.district.held import Held
from rickyard.book.folders import farms_of
from rickyard.book.services import FarmThere, list_farms, planned_in
from rickyard.display import clean, display_for
from rickyard.farm import Caution, Farm
from rickyard.hay.yard import Outlook
from rickyard.service import Planned, ServiceError, read_lots, yard_on
from rickyard.service.sections import farm_tests
from rickyard.sheets.paper import feed_by_events, heat_events
from rickyard.sheets.wording import about_name, answer_of, said_once, yard_totals

#: What is due within so many days is told.
DAYS_AHEAD: Final = 14

#: So many farms are held read: some offices.
_HELD: Final = 2_000

_SHORT: Final = ("hay_short", "need_short", "unfinished")


@dataclass(frozen=True, slots=True)
class Threat:
    """A danger at a farm: the name of what it is about, and its sentence."""

    about: str
    sentence: str


@dataclass(frozen=True, slots=True)
class ProgramTold:
    """What a kept program says of its season.

    ``kind`` and ``sentence`` are the answer of the season's page; ``short_on`` is the first day on
    which something lacks. ``missing_t`` and ``left_t`` are dry matter in metric tonnes.
    """

    kind: str
    sentence: str
    short_on: date | None
    missing_t: float
    left_t: float
    threats: tuple[Threat, ...]


@dataclass(frozen=True, slots=True)
class DueThere:
    """Something due at a farm.

    ``kind`` is ``fire``, ``core``, ``result`` or ``feed``; ``day`` the day by which, ``None`` where
    none can be said; ``is_late`` whether that has passed.
    """

    kind: str
    day: date | None
    name: str
    is_late: bool


@dataclass(frozen=True, slots=True)
class FarmStands:
    """How a farm stands on a day: by its newest program, or else by the yard's rough count.

    ``fault`` says why the farm's yard could not be worked out; empty where it could.
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


@dataclass(frozen=True, slots=True)
class _Yard:
    """What the book says of a farm on a day."""

    outlook: Outlook | None
    due: tuple[DueThere, ...]
    threats: tuple[Threat, ...]
    fault: str


_programs: Final = Held[UUID, ProgramTold | None](_HELD)
#: By season, the newest line of the farm's trail (whatever is written leaves one), and day.
_yards: Final = Held[tuple[UUID, int, date], _Yard](_HELD)


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
        In the order of `list_farms`.
    """
    there = list_farms(person)
    newest = _newest_programs(one.season for one in there)
    told = _programs.all_of((key for key, _ in newest.values()), _read_programs)
    lines = records.TrailLine.objects.filter(farm_id__in=[one.farm for one in there])
    rows = lines.values_list("farm_id").annotate(Max("number"), Max("at"))
    heard = {farm: (number, at) for farm, number, at in rows}
    keys = {
        one.season: (one.season, heard[one.farm][0], day or day_at(one.time_zone, now))
        for one in there
    }
    yards = _yards.all_of(keys.values(), _read_yards)
    found = []
    for one in there:
        key, made_at = newest.get(one.season, (None, None))
        program = None if key is None else told[key]
        yard = yards[keys[one.season]]
        threats = yard.threats if program is None else (*yard.threats, *program.threats)
        found.append(
            FarmStands(
                one,
                keys[one.season][2],
                heard[one.farm][1],
                program,
                None if program is None else made_at,
                yard.outlook,
                yard.due,
                tuple(dict.fromkeys(threats)),
                yard.fault,
            )
        )
    return tuple(found)


def _newest_programs(seasons: Iterable[UUID]) -> dict[UUID, tuple[UUID, datetime]]:
    """Return the newest program of each season that has one, and when it was made."""
    rows = records.Program.objects.filter(season__in=list(seasons))
    rows = rows.order_by("written_by__number")
    return {
        season: (program, at)
        for season, program, at in rows.values_list("season_id", "id", "written_by__at")
    }


def _read_programs(missing: Sequence[UUID]) -> dict[UUID, ProgramTold | None]:
    found: dict[UUID, ProgramTold | None] = {}
    # Each holds a whole folder, so few are in memory at once.
    for row in records.Program.objects.filter(id__in=missing).iterator(chunk_size=16):
        try:
            found[row.id] = _program_told(planned_in(row))
        except ServiceError:
            # Of a format that is no longer read: the farm is then told by its yard.
            found[row.id] = None
    return found


def _program_told(planned: Planned) -> ProgramTold:
    program, farm = planned.program, planned.farm
    display = display_for(farm.units)
    answer, totals = answer_of(program, farm, display), yard_totals(program)
    return ProgramTold(
        answer.kind,
        display.local(answer.sentence),
        min((one.start for one in program.shortages), default=None),
        totals.missing_t,
        totals.left_t,
        _threats(program.cautions, farm),
    )


def _read_yards(
    missing: Sequence[tuple[UUID, int, date]],
) -> dict[tuple[UUID, int, date], _Yard]:
    seasons = list(records.Season.objects.filter(id__in=[season for season, _, _ in missing]))
    farms = farms_of(seasons)
    return {key: _yard(farms[key[0]], key[2]) for key in missing}


def _yard(farm: Farm, day: date) -> _Yard:
    cautions: list[Caution] = []
    try:
        cautions += [one for lot in read_lots(farm).readings for one in lot.cautions]
        page = yard_on(farm, day)
        cautions += page.cautions
        return _Yard(page.outlook, _due(farm, day), _threats(cautions, farm), "")
    except ServiceError as problem:
        return _Yard(None, (), _threats(cautions, farm), str(problem))


def _threats(cautions: Iterable[Caution], farm: Farm) -> tuple[Threat, ...]:
    display = display_for(farm.units)
    dangers = (one for one in dict.fromkeys(cautions) if one.level == "danger")
    return tuple(
        Threat(clean(about_name(farm, one.about)), clean(display.local(one.sentence)))
        for one in said_once(tuple(dangers), farm)
    )


def _due(farm: Farm, day: date) -> tuple[DueThere, ...]:
    """Return what is due at a farm: fire first, then what is late, then by day."""
    tests, until = farm_tests(farm, day), day + timedelta(days=DAYS_AHEAD)
    names = {one.lot_id: clean(one.name) for one in farm.lots}
    found = [
        DueThere("fire", one.day, names[one.key.removeprefix("heat-")], is_late=False)
        for one in heat_events(farm, day)
        if one.day < until
    ]
    for plan in tests.now:
        last = plan.dates.latest
        late = last is not None and last < day
        found.append(DueThere("core", last if late else day, clean(plan.name), is_late=late))
    found += [
        DueThere("core", one.due_on, clean(one.name), is_late=False)
        for one in tests.later
        if one.due_on < until
    ]
    found += [
        DueThere("result", one.dates.result_on, clean(one.lot.name), is_late=True)
        for one in tests.under_way
        if one.is_late
    ]
    found += [
        DueThere("feed", one.day, names[one.key.removeprefix("feed-by-")], is_late=False)
        for one in feed_by_events(farm, day)
        if one.day < until
    ]
    return tuple(sorted(found, key=order_of_due))


def order_of_due(one: DueThere) -> tuple[bool, bool, date, str]:
    """Return what puts something due in its place: fire, then what is late, then by day.

    Parameters
    ----------
    one : DueThere
        What is due.

    Returns
    -------
    tuple
        To be compared.

    Examples
    --------
    >>> hot = DueThere("fire", date(2026, 11, 30), "Flat", is_late=False)
    >>> order_of_due(hot) < order_of_due(DueThere("core", date(2026, 1, 1), "Hill", is_late=True))
    True
    """
    return one.kind != "fire", not one.is_late, one.day or date.max, one.name
