"""Hot hay: how moist it may be baled, what each temperature asks for, and how long to watch.

Hay that heats can burn a barn down. Where sources differ the strictest is taken. The program
shows what extension offices print; the fire department decides.
"""

from __future__ import annotations

import csv
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from importlib.resources import files
from itertools import pairwise
from typing import Final, Literal, cast

from rickyard.display import Display
from rickyard.farm import Lot, Package
from rickyard.quantities import convert

#: Safe moisture at baling without preservative, % (Purdue).
SAFE_MOISTURE_PCT: Final = {
    Package.SMALL_SQUARE: 20.0,
    Package.ROUND: 18.0,
    Package.LARGE_SQUARE: 17.0,
    Package.LOOSE: 17.0,  # no published figure found: the strictest of the others
}

#: Missouri watches six weeks; most fires come in weeks two to four (Purdue).
WATCH_DAYS: Final = 42
#: Three readings in a row that fall and lie under 120 degF end the watch (common practice).
CALM_READINGS: Final = 3
CALM_C: Final = convert(120.0, "degF", "degC")
#: From here on an alarm stands until a second reading (common practice).
ALARM_C: Final = convert(150.0, "degF", "degC")
#: Above this a lot counts as heated: ask for bound protein (Crop File 6.01.002).
HEATED_C: Final = convert(130.0, "degF", "degC")

Level = Literal["none", "note", "warning", "danger"]


@dataclass(frozen=True, slots=True)
class HeatStep:
    """What to do from a temperature on, and how many hours to the next reading at most."""

    from_c: float
    hours: float
    level: Level
    action: str
    source: str


@cache
def _timetable() -> tuple[HeatStep, ...]:
    """Read the strictest of the published timetables, coolest first, each step with its source."""
    text = files("rickyard.hay").joinpath("data", "heat_steps.csv").read_text("utf-8")
    return tuple(
        HeatStep(
            convert(float(row["from_f"]), "degF", "degC"),
            float(row["hours"]),
            cast(Level, row["level"]),
            row["action"],
            row["source"],
        )
        for row in csv.DictReader(text.splitlines())
    )


def heat_step(temperature_c: float) -> HeatStep:
    """Return what a temperature [degC] inside a bale or stack asks for.

    Parameters
    ----------
    temperature_c : float
        The temperature inside the stack. [degC]

    Returns
    -------
    HeatStep
        How often to check it, how grave it is and what to do.

    Examples
    --------
    >>> heat_step(40.0).level, heat_step(66.0).level
    ('none', 'danger')
    """
    steps = _timetable()
    return steps[bisect_right(steps, temperature_c + 1e-9, key=lambda step: step.from_c) - 1]


@dataclass(frozen=True, slots=True)
class Watch:
    """Whether a lot must be probed, until when, why, and whether an alarm stands."""

    due: bool
    until: date | None
    alarm: bool
    sentence: str


def heat_watch(
    package: Package,
    baled_on: date,
    today: date,
    baled_moisture_pct: float | None = None,
    readings: Sequence[tuple[date, float]] = (),
) -> Watch:
    """Say whether a lot must be watched for heat, by its readings inside [degC] in their order.

    A lot baled above its limit is probed daily for 42 days, or until three readings in a row fall
    and lie under 120 degF (49 degC). A reading of 150 degF (66 degC) or more is an alarm that
    stands until a second reading on another occasion is lower. Wrapped baleage ferments without air
    and is not watched. From Purdue; Missouri (six weeks); the daily task is common practice.

    Examples
    --------
    >>> heat_watch(Package.ROUND, date(2026, 6, 1), date(2026, 6, 10), 22.0).due
    True
    """
    if today < baled_on:
        return Watch(False, None, False, "It is not baled yet.")
    if readings and readings[-1][1] >= ALARM_C:
        step = heat_step(readings[-1][1])
        return Watch(True, None, True, step.action)
    limit = SAFE_MOISTURE_PCT.get(package)
    if limit is None:
        return Watch(False, None, False, "Wrapped baleage is not watched for heat.")
    until = baled_on + timedelta(days=WATCH_DAYS)
    wet = baled_moisture_pct is not None and baled_moisture_pct > limit
    warm = bool(readings) and heat_step(readings[-1][1]).level != "none"
    if (wet or warm) and today <= until and not _calm(readings):
        why = (
            f"It was baled at {baled_moisture_pct:g}%, over the {limit:g}% that is safe"
            if wet
            else "It is warmer than curing explains"
        )
        sentence = f"{why}: probe it every day until {Display().day_year_text(until)}."
        return Watch(True, until, False, sentence)
    if baled_moisture_pct is None and today <= until:
        return Watch(
            False,
            until,
            False,
            "Moisture at baling is not known: check for heat and a caramel or musty smell.",
        )
    return Watch(False, until, False, "No heat watch is due.")


def lot_watch(lot: Lot, today: date) -> Watch:
    """Return the watch of a lot, with the hottest reading and the latest that its row holds.

    The row holds no day for them, so readings count while fires still come, 42 days from
    baling; after that they tell of damage and not of danger.

    Parameters
    ----------
    lot : Lot
        The lot.
    today : date
        The day asked about.

    Returns
    -------
    Watch
        Until when to probe it, and whether its reading is an alarm.

    Examples
    --------
    >>> from rickyard.farm import Forage, Storage
    >>> lot = Lot("A", "Barn", Forage.ALFALFA, Package.ROUND, Storage.ENCLOSED_BARN, 40.0,
    ...           date(2026, 7, 11), date(2026, 7, 11), highest_temperature_c=70.0)
    >>> lot_watch(lot, date(2026, 7, 20)).alarm, lot_watch(lot, date(2026, 10, 20)).alarm
    (True, False)
    """
    fresh = today <= lot.baled_on + timedelta(days=WATCH_DAYS)
    read = (lot.highest_temperature_c, lot.latest_temperature_c) if fresh else ()
    readings = [(lot.baled_on, one) for one in read if one is not None]
    return heat_watch(lot.package, lot.baled_on, today, lot.baled_moisture_pct, readings)


def _calm(readings: Sequence[tuple[date, float]]) -> bool:
    last = [value for _, value in readings[-CALM_READINGS:]]
    falling = all(later < earlier for earlier, later in pairwise(last))
    return len(last) == CALM_READINGS and falling and max(last) < CALM_C
