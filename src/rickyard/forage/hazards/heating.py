"""What a temperature inside stored hay means for the stack and for its protein."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from rickyard.farm import Lot
from rickyard.forage import shipped_rows
from rickyard.forage.hazards.hazard import Hazard, Level, told
from rickyard.forage.values import is_wet
from rickyard.quantities import UNITS

_NO_ACTION: Final = "no action"
#: A reading this near below a listed temperature has reached it: conversion of units rounds.
_ROUNDING_F: Final = 0.01  # judgement
#: Heat at which bound protein is worth a test (published in Crop File 6.01.002: above 130), from
#: which it is told as a warning (the strictest list), and from which Purdue sees danger. [degF]
HEAT_DAMAGE_FROM_F: Final = 130.0
WATCHED_FROM_F: Final = 131.0
DANGER_FROM_F: Final = 150.0
#: A stack that is cooler has cooled. Common practice. [degF]
COOL_BELOW_F: Final = 120.0

#: Heating degree-days begin here (Coblentz, summarised by Lewandowski, Ohio State 2013). [degF]
HEATING_BASE_F: Final = 86.0


def heating_degree_days_f(daily_highest_c: Sequence[float]) -> float:
    """Add up how hot hay was and for how long.

    Below 200 little is lost; above 300 the loss of quality rises.

    Source: Lewandowski (2013), Ohio State University Extension, summarising Coblentz (USDA-ARS).

    Parameters
    ----------
    daily_highest_c : sequence of float
        Highest temperature inside the bale on each day. [degC]

    Returns
    -------
    float
        Heating degree-days above 86 degF (30 degC). [degF d]

    Examples
    --------
    >>> celsius = [UNITS["degF"].to_canonical(f) for f in (110, 120, 118, 110, 100, 90, 85)]
    >>> round(heating_degree_days_f(celsius), 6)
    132.0
    """
    fahrenheit = UNITS["degF"]
    highest = (fahrenheit.from_canonical(one) for one in daily_highest_c)
    return float(sum(max(0.0, one - HEATING_BASE_F) for one in highest))


def hay_temperature_label(temperature_c: float) -> str:
    """Return the Purdue label of a temperature inside dry hay.

    For dry hay; the rules do not hold for baleage and silage. Checks go on for three to four
    weeks after stacking.

    Source: Johnson & Burbrink, Purdue Extension (2022), hay temperature list.

    Parameters
    ----------
    temperature_c : float
        Temperature in the core of the stack or bale. [degC]

    Returns
    -------
    str
        The label of the highest listed temperature that is reached.

    Examples
    --------
    >>> hay_temperature_label(74.0)
    'danger zone: check every couple of hours'
    >>> hay_temperature_label(40.0)
    'no action'
    """
    return _reached("purdue", temperature_c) or _NO_ACTION


def hay_temperature_action(temperature_c: float) -> str:
    """Return the strictest published action for a temperature inside dry hay.

    Source: Purdue, Penn State, Cornell and Michigan State Extension advice on hot hay.

    Parameters
    ----------
    temperature_c : float
        Temperature in the core of the stack or bale. [degC]

    Returns
    -------
    str
        What to do; empty below 46 degC (115 degF), an ordinary sweat.

    Examples
    --------
    >>> hay_temperature_action(50.0)
    'check twice daily; mold and heat damage to protein begin'
    """
    return _reached("strictest", temperature_c)


def has_reached(temperature_c: float, limit_f: float) -> bool:
    """Say whether a reading has reached a listed temperature, in whichever unit it was taken.

    Parameters
    ----------
    temperature_c : float
        The reading. [degC]
    limit_f : float
        The listed temperature. [degF]

    Returns
    -------
    bool
        True from the limit on; what is lost in converting units does not count.

    Examples
    --------
    >>> has_reached((150.0 - 32.0) / 1.8, 150.0), has_reached(65.0, 150.0)
    (True, False)
    """
    return UNITS["degF"].from_canonical(temperature_c) + _ROUNDING_F >= limit_f


def has_cooled(lot: Lot) -> bool:
    """Say whether a later reading than the hottest shows that a stack has cooled.

    Parameters
    ----------
    lot : Lot
        Its readings are read.

    Returns
    -------
    bool
        True under 120 degF (49 degC); without a later reading nobody knows, and it has not.

    Examples
    --------
    >>> from dataclasses import replace
    >>> from datetime import date
    >>> from rickyard.farm import Forage, Package, Storage
    >>> day = date(2026, 7, 1)
    >>> stack = Lot("A", "Barn", Forage.ALFALFA, Package.ROUND, Storage.ENCLOSED_BARN, 40.0, day,
    ...             day, highest_temperature_c=70.0, latest_temperature_c=30.0)
    >>> has_cooled(stack), has_cooled(replace(stack, latest_temperature_c=None))
    (True, False)
    """
    latest = lot.latest_temperature_c
    return latest is not None and not has_reached(latest, COOL_BELOW_F)


def hot_hay_hazards(lot: Lot) -> Iterator[Hazard]:
    """Yield what the hottest reading inside dry hay calls for until it has cooled."""
    highest = lot.highest_temperature_c
    action = "" if highest is None or is_wet(lot) else hay_temperature_action(highest)
    if highest is None or not action or has_cooled(lot):
        return
    danger = has_reached(highest, DANGER_FROM_F)
    level: Level = "warning" if has_reached(highest, WATCHED_FROM_F) else "note"
    yield told(
        "hot_hay",
        lot.name,
        level="danger" if danger else level,
        celsius=highest,
        fahrenheit=UNITS["degF"].from_canonical(highest),
        action=action,
        whom="Burned-out hollows give way underfoot; leave the rest to the fire department and "
        "your extension office."
        if danger
        else "Ask your extension office if it keeps rising.",
    )


def _reached(what: str, temperature_c: float) -> str:
    """Return what a list says of the highest of its temperatures that is reached.

    Purdue's is silent between 125 and 150 degF; the other is the strictest action among the
    extension sources.
    """
    listed = (row for row in shipped_rows("hay_temperatures.csv") if row["list"] == what)
    return next(
        (row["text"] for row in listed if has_reached(temperature_c, float(row["from_f"]))), ""
    )
