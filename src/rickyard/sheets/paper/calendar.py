"""Days of the yard as a calendar that any phone reads (RFC 5545).

Every event is a whole day: a date without a clock, so that no change of the clocks can move it
and it is the same day in every place.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING, Final

from rickyard.display import clean, count_text
from rickyard.farm import Farm
from rickyard.hay.sampling import Protocol, SamplePlan
from rickyard.hay.storage import HEATED_C, SAFE_MOISTURE_PCT, WATCH_DAYS, lot_watch
from rickyard.sheets.wording import plain_test

if TYPE_CHECKING:
    import icalendar

PRODUCT: Final = "-//Rickyard//Yard calendar//EN"
_DOMAIN: Final = "rickyard.invalid"  # a name that can never belong to anyone (RFC 2606)
_REMIND: Final = timedelta(hours=-6)  # the evening before


@dataclass(frozen=True, slots=True)
class Event:
    """One whole day on which something is to be done; repeated daily through ``until``."""

    key: str
    day: date
    summary: str
    description: str
    category: str
    until: date | None = None


def sampling_events(plans: Sequence[SamplePlan]) -> tuple[Event, ...]:
    """Return the days of sampling, shipping and results.

    Parameters
    ----------
    plans : sequence of SamplePlan
        The pages of the lots.

    Returns
    -------
    tuple of Event
        The events, in the order of the plans.
    """
    found: list[Event] = []
    for plan in plans:
        dates = plan.dates
        if dates.sample_on is None or dates.ship_on is None or dates.result_on is None:
            continue
        way = plan.protocols[0]
        tests = ", ".join(plain_test(one.test) for one in plan.wanted)
        where = f"{plan.probing.face}, {plan.probing.angle}"
        sentences = (
            _amount(plan, way),
            "" if plan.choice is None else f"Bales {_numbers(plan.choice.bales)}",
            where,
            f"Write {plan.sample_id} on the bag",
            f"Test {tests}",
            *dates.reasons,
        )
        say = " ".join(f"{one[:1].upper()}{one[1:]}." for one in sentences if one)
        at_once = dates.ship_on == dates.sample_on
        title = f"Sample and ship {plan.name}" if at_once else f"Sample {plan.name}"
        found.append(Event(f"sample-{plan.lot_id}", dates.sample_on, title, say, "Sampling"))
        if not at_once:
            title, say = f"Ship the sample of {plan.name}", f"{plan.sample_id}. {plan.handling[-1]}"
            found.append(Event(f"ship-{plan.lot_id}", dates.ship_on, title, say, "Sampling"))
        title = f"Result of {plan.name} expected"
        say = f"{plan.sample_id}. Call the laboratory if it is not there."
        found.append(Event(f"result-{plan.lot_id}", dates.result_on, title, say, "Results"))
    return tuple(found)


def heat_events(farm: Farm, today: date) -> tuple[Event, ...]:
    """Return the daily watch of lots that were baled too moist.

    Parameters
    ----------
    farm : Farm
        Its lots.
    today : date
        The day from which on they are watched.

    Returns
    -------
    tuple of Event
        One event for each such lot, repeated daily to the end of its watch.
    """
    found = []
    for lot in farm.lots:
        if lot.package not in SAFE_MOISTURE_PCT:
            continue
        watch = lot_watch(lot, today)
        until = watch.until or lot.baled_on + timedelta(days=WATCH_DAYS)
        if watch.due:
            say = f"{watch.sentence} {HEATED_C:.0f} °C (130 °F) or more: read it twice a day."
            key, title = f"heat-{lot.lot_id}", f"Probe {lot.name} for heat"
            found.append(Event(key, max(today, lot.baled_on), title, say, "Fire", until))
    return tuple(found)


def feed_by_events(farm: Farm, today: date) -> tuple[Event, ...]:
    """Return the last days on which lots may be fed.

    Parameters
    ----------
    farm : Farm
        Its lots.
    today : date
        Days before it are left out.

    Returns
    -------
    tuple of Event
        One event for each lot with a last day.
    """
    return tuple(
        Event(
            f"feed-by-{lot.lot_id}",
            lot.feed_by,
            f"Last day to feed {lot.name}",
            f"{lot.lot_id}: feed_by in lots.csv.",
            "Feeding",
        )
        for lot in farm.lots
        if lot.feed_by is not None and lot.feed_by >= today
    )


def calendar_bytes(farms: Sequence[tuple[str, Iterable[Event]]], stamp: datetime) -> bytes:
    """Write the events of a farm, or of many, as one iCalendar file.

    A day that has moved keeps its identity, so that importing the file again moves the event and
    does not double it; it has the same one in its farm's own calendar and in that of many, but
    where two farms have one name. Alarms stand at six in the evening of the day before.

    Parameters
    ----------
    farms : sequence of (str, iterable of Event)
        The names of the farms with their events; where there are several, each event is told
        with the name of its farm.
    stamp : datetime
        When the calendar is made, with its zone.

    Returns
    -------
    bytes
        The file, UTF-8, lines ended and folded as RFC 5545 says.
    """
    entries: dict[str, Event] = {}
    for number, (farm_name, events) in enumerate(farms):
        for one in events:
            identity = f"{farm_name}\x1f{one.key}"
            if identity in entries:
                identity = f"{identity}\x1f{number}"
            summary = f"{farm_name}: {one.summary}" if len(farms) > 1 else one.summary
            entries[identity] = replace(one, summary=summary)
    name = f"{farms[0][0]}: hay" if len(farms) == 1 else f"Hay of {count_text(len(farms), 'farm')}"
    return _calendar(name, entries.items(), stamp)


def _calendar(name: str, entries: Iterable[tuple[str, Event]], stamp: datetime) -> bytes:
    # Loaded by those only who ask for a calendar.
    import icalendar

    calendar = icalendar.Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", clean(name))
    for identity, one in entries:
        calendar.add_component(_event(identity, one, stamp.astimezone(UTC)))
    return bytes(calendar.to_ical())


def _event(identity: str, one: Event, stamp: datetime) -> icalendar.Event:
    import icalendar

    event = icalendar.Event()
    digest = hashlib.sha256(identity.encode()).hexdigest()[:24]
    event.add("uid", f"{digest}@{_DOMAIN}")
    event.add("dtstamp", stamp)
    event.add("dtstart", one.day)
    event.add("dtend", one.day + timedelta(days=1))
    event.add("summary", clean(one.summary))
    event.add("description", clean(one.description))
    event.add("categories", [one.category])
    event.add("transp", "TRANSPARENT")
    if one.until is not None and one.until > one.day:
        event.add("rrule", {"freq": "daily", "until": one.until})
    alarm = icalendar.Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", clean(one.summary))
    alarm.add("trigger", _REMIND)
    event.add_component(alarm)
    return event


def _amount(plan: SamplePlan, way: Protocol) -> str:
    cores = count_text(way.cores, plan.probing.taken)
    return cores if plan.choice is None else f"{count_text(way.bales, 'bale')}, {cores}"


def _numbers(numbers: Sequence[int]) -> str:
    return ", ".join(str(number) for number in numbers)
