"""The office's page: of many farms, who is short, what is due, and what is dangerous."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import fsum
from pathlib import Path
from typing import Final

from rickyard.display import Display, display_for
from rickyard.farm import Caution, Farm
from rickyard.hay.sampling import Options
from rickyard.program.result import STANDING_NOTE
from rickyard.program.storms import cold_page
from rickyard.quantities import KG_PER_TONNE
from rickyard.service.adopted import adopted_plan
from rickyard.service.errors import ServiceError, worked_out
from rickyard.service.farms import FarmPlace
from rickyard.service.opened import OpenedFarm, open_farm
from rickyard.service.pages import read_lots, sampling_plan, yard_on
from rickyard.service.plan import (
    Planned,
    PlanRequest,
    Progress,
    Stop,
    named_progress,
    plan_farm,
)
from rickyard.sheets.data_files import document
from rickyard.sheets.paper import Event, feed_by_events, heat_events, sampling_events
from rickyard.sheets.wording import about_name, answer_of

#: What is due within so many days is told when nobody says.
USUAL_DAYS: Final = 14

#: What a farm is judged by.
BY_PROGRAM: Final = "program"
BY_YARD: Final = "yard"

ROUGH_NOTE: Final = (
    "By the yard alone: hay on hand against a share of body weight a day, grain and grazing not "
    "counted. Without --rough each farm is planned."
)


@dataclass(frozen=True, slots=True)
class DueLine:
    """Something to be done at a farm. ``event`` holds it for a calendar."""

    day: date
    folder: str
    farm_name: str
    what: str
    kind: str
    event: Event


@dataclass(frozen=True, slots=True)
class DangerLine:
    """A danger at a farm, with the name of what it is about."""

    folder: str
    farm_name: str
    about: str
    sentence: str
    source: str


@dataclass(frozen=True, slots=True)
class FarmLine:
    """How a farm stands.

    ``is_short`` says whether something is missing, ``of_hay`` whether that is hay itself and
    ``short_on`` from when; ``sentence`` is the
    answer that the farm's own page begins with. ``left_t`` is dry matter left at the end, in
    metric tonnes. ``by`` is what it was judged by, and ``warnings`` what is to be known of that.
    """

    folder: str
    farm_name: str
    is_short: bool
    of_hay: bool
    short_on: date | None
    sentence: str
    left_t: float
    cost_usd: float | None
    by: str
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotRead:
    """A folder that gives no answer, and why."""

    folder: str
    problem: ServiceError


@dataclass(frozen=True, slots=True)
class OfficePage:
    """All farms of an office on a day; ``due`` is until the day before ``until``."""

    day: date
    until: date
    farms: tuple[FarmLine, ...]
    due: tuple[DueLine, ...]
    later: tuple[DueLine, ...]
    dangers: tuple[DangerLine, ...]
    not_read: tuple[NotRead, ...]
    units: str
    note: str = STANDING_NOTE

    @property
    def short(self) -> tuple[FarmLine, ...]:
        """Return the farms that miss something: hay before all else, then the soonest."""
        found = [one for one in self.farms if one.is_short]
        return tuple(
            sorted(found, key=lambda one: (not one.of_hay, one.short_on or date.max, one.farm_name))
        )

    @property
    def supplied(self) -> tuple[FarmLine, ...]:
        """Return the farms that miss nothing, by what is left."""
        found = [one for one in self.farms if not one.is_short]
        return tuple(sorted(found, key=lambda one: (one.left_t, one.farm_name)))

    def events(self) -> list[tuple[str, list[Event]]]:
        """Return the name of each farm with all that is due there."""
        return [
            (farm.farm_name, [one.event for one in self._all_due() if one.folder == farm.folder])
            for farm in self.farms
        ]

    def _all_due(self) -> tuple[DueLine, ...]:
        return (*self.due, *self.later)


@dataclass(frozen=True, slots=True)
class OfficeRequest:
    """What is asked of an office's page.

    ``plans`` is a folder of adopted programs, named after the farms' folders; a farm that has none
    in it is planned. ``rough`` plans nothing and judges by the yard alone.
    """

    day: date
    days: int = USUAL_DAYS
    plan: PlanRequest = PlanRequest()  # noqa: RUF009 - frozen, so one will do for all
    plans: Path | None = None
    rough: bool = False


def office_page(
    places: Sequence[FarmPlace],
    request: OfficeRequest,
    *,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> OfficePage:
    """Look at every farm, and say who is short, what is due and what is dangerous.

    ``progress``, ``stop``: as ``plan_farm`` takes them, for all farms. A folder with faults is told
    among ``not_read`` and keeps no other from its answer.
    """
    until = request.day + timedelta(days=request.days)
    farms: list[FarmLine] = []
    due: list[DueLine] = []
    dangers: list[DangerLine] = []
    not_read: list[NotRead] = []
    units: set[str] = set()
    for number, place in enumerate(places, 1):
        say = named_progress(progress, f"{number} of {len(places)}, {place.label}")
        try:
            line, planned, opened = _line(place, request, say, stop)
            found = _due(place, opened.farm, request.day)
            threats = _dangers(place, opened.farm, planned)
        except ServiceError as problem:
            not_read.append(NotRead(place.label, problem))
            continue
        units.add(opened.farm.units)
        farms.append(line)
        due.extend(found)
        dangers.extend(threats)
    due.sort(key=lambda one: (one.day, one.farm_name, one.what))
    return OfficePage(
        request.day,
        until,
        tuple(farms),
        tuple(one for one in due if one.day < until),
        tuple(one for one in due if one.day >= until),
        tuple(dangers),
        tuple(not_read),
        "metric" if units == {"metric"} else "us",
    )


def office_json(page: OfficePage) -> str:
    """Return the page as a JSON document.

    ``page``: farms side by side. Returns the same as JSON, the keys in the order of the page.
    """
    told = [{"folder": one.folder, "why": str(one.problem)} for one in page.not_read]
    return document(
        "office",
        day=page.day,
        until=page.until,
        farms=page.farms,
        due=[_plain(one) for one in page.due],
        later=[_plain(one) for one in page.later],
        dangers=page.dangers,
        not_read=told,
        note=page.note,
    )


def _plain(one: DueLine) -> dict[str, object]:
    return {
        "day": one.day,
        "until": one.event.until,
        "folder": one.folder,
        "farm_name": one.farm_name,
        "what": one.what,
        "kind": one.kind,
        "how": one.event.description,
    }


def _line(
    place: FarmPlace, request: OfficeRequest, say: Progress | None, stop: Stop | None
) -> tuple[FarmLine, Planned | None, OpenedFarm]:
    if say is not None:
        say("reading")
    opened = open_farm(place.folder)
    if request.rough:
        return _by_yard(place, opened.farm, request.day), None, opened
    planned = _program(place, opened, request, say, stop)
    program = planned.program
    answer = answer_of(program, planned.farm, display_for(planned.farm.units))
    first = min((one.start for one in program.shortages), default=None)
    line = FarmLine(
        folder=place.label,
        farm_name=opened.farm.name,
        is_short=answer.kind != "enough",
        of_hay=answer.kind == "hay_short",
        short_on=None if answer.kind == "enough" else first,
        sentence=answer.sentence,
        left_t=fsum(lot.left_t for lot in program.lots),
        cost_usd=program.cost,
        by=BY_PROGRAM,
        warnings=planned.warnings,
    )
    return line, planned, opened


def _program(
    place: FarmPlace,
    opened: OpenedFarm,
    request: OfficeRequest,
    say: Progress | None,
    stop: Stop | None,
) -> Planned:
    adopted = None if request.plans is None else request.plans / f"{place.label}.json"
    if adopted is not None and adopted.is_file():
        return adopted_plan(opened, adopted)
    return plan_farm(opened, request.plan, progress=say, stop=stop)


def _by_yard(place: FarmPlace, farm: Farm, day: date) -> FarmLine:
    page = yard_on(farm, day)
    display, ahead = display_for(farm.units), page.outlook
    is_short = ahead is not None and ahead.buy_kg > 0.0
    return FarmLine(
        folder=place.label,
        farm_name=farm.name,
        is_short=is_short,
        of_hay=is_short,
        short_on=ahead.out_on if ahead is not None and is_short else None,
        sentence=_rough_sentence(page.dry_kg, 0.0 if ahead is None else ahead.over_kg, display),
        left_t=max(0.0, page.dry_kg if ahead is None else ahead.over_kg) / KG_PER_TONNE,
        cost_usd=None,
        by=BY_YARD,
        warnings=(),
    )


def _rough_sentence(stands_kg: float, over_kg: float, display: Display) -> str:
    stands = display.tons_text(stands_kg / KG_PER_TONNE)
    over = display.tons_text(abs(over_kg) / KG_PER_TONNE)
    if over_kg < 0.0:
        return f"{stands} of dry matter on hand, {over} under need and reserve by a rough count."
    return f"{stands} of dry matter on hand, {over} over need and reserve by a rough count."


def _due(place: FarmPlace, farm: Farm, day: date) -> list[DueLine]:
    """Return what is to be done at a farm from a day on."""
    plans = sampling_plan(farm, day, Options())
    events = [
        *sampling_events(plans),
        *heat_events(farm, day),
        *feed_by_events(farm, day),
        *_cold_events(farm, day),
    ]
    return [
        DueLine(one.day, place.label, farm.name, one.summary, one.category, one)
        for one in events
        if one.day >= day
    ]


def _cold_events(farm: Farm, day: date) -> list[Event]:
    """Return the days on which to begin feeding more for cold that is forecast."""
    with worked_out():
        groups = cold_page(farm, day).groups
    return [
        Event(
            f"cold-{group.group_id}-{spell.feeding[0].day}",
            spell.feeding[0].day,
            f"Begin feeding for cold: {group.name}",
            "What to add and until when: rickyard cold.",
            "Cold",
        )
        for group in groups
        for spell in group.spells
        if spell.feeding
    ]


def _dangers(place: FarmPlace, farm: Farm, planned: Planned | None) -> list[DangerLine]:
    """Return the dangers of a program, or of the lots alone where nothing is planned."""
    found: list[Caution] = []
    if planned is not None:
        found.extend(planned.program.cautions)
    else:
        found.extend(one for lot in read_lots(farm).readings for one in lot.cautions)
    lines = [
        DangerLine(place.label, farm.name, about_name(farm, one.about), one.sentence, one.source)
        for one in found
        if one.level == "danger"
    ]
    return list(dict.fromkeys(lines))
