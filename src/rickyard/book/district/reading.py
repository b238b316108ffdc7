"""What a program and a yard say, worked out of a whole farm."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Final

from rickyard.book.district.told import DueThere, ProgramTold, Threat, YardTold, order_of_due
from rickyard.display import clean, display_for
from rickyard.farm import Caution, Farm
from rickyard.hay.sampling import Sent
from rickyard.service import Planned, ServiceError, read_lots, yard_on
from rickyard.service.sections import as_shown, farm_tests
from rickyard.sheets.paper import feed_by_events, heat_events
from rickyard.sheets.wording import about_name, answer_of, said_once, yard_totals

#: What is due within so many days is told.
DAYS_AHEAD: Final = 14


def told_of_program(planned: Planned) -> ProgramTold:
    """Return what a program says of its season.

    Parameters
    ----------
    planned : Planned
        The program with its farm.

    Returns
    -------
    ProgramTold
        What stands beside other farms.
    """
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


def told_of_yard(farm: Farm, day: date, sent: tuple[Sent, ...]) -> YardTold:
    """Return what the book says of a farm on a day, or why its yard cannot be worked out.

    Parameters
    ----------
    farm : Farm
        The farm.
    day : date
        The day.
    sent : tuple of Sent
        The samples that were sent.

    Returns
    -------
    YardTold
        What stands beside other farms.
    """
    cautions: list[Caution] = []
    farm = as_shown(farm).farm
    try:
        cautions += [one for lot in read_lots(farm).readings for one in lot.cautions]
        page = yard_on(farm, day)
        cautions += page.cautions
        return YardTold(page.outlook, _due(farm, day, sent), _threats(cautions, farm), "")
    except ServiceError as problem:
        return YardTold(None, (), _threats(cautions, farm), str(problem))


def _threats(cautions: Iterable[Caution], farm: Farm) -> tuple[Threat, ...]:
    display = display_for(farm.units)
    dangers = (one for one in dict.fromkeys(cautions) if one.level == "danger")
    return tuple(
        Threat(clean(about_name(farm, one.about)), clean(display.local(one.sentence)))
        for one in said_once(tuple(dangers), farm)
    )


def _due(farm: Farm, day: date, sent: tuple[Sent, ...]) -> tuple[DueThere, ...]:
    """Return what is due at a farm: fire first, then what is late, then by day."""
    tests, until = farm_tests(farm, day, sent), day + timedelta(days=DAYS_AHEAD)
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
        DueThere("result", one.expected_on, clean(one.lot.name), is_late=True)
        for one in tests.under_way
        if one.is_late
    ]
    found += [
        DueThere("feed", one.day, names[one.key.removeprefix("feed-by-")], is_late=False)
        for one in feed_by_events(farm, day)
        if one.day < until
    ]
    return tuple(sorted(found, key=order_of_due))
