"""Feeding loss: what is printed, what to plan with, and what it costs.

What no table holds, and an input outside its range, raise `OutOfRange`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from rickyard.farm import Feeder, Storage
from rickyard.hay.common import (
    End,
    end_of,
    equation,
    find,
    read_table,
    require_between,
    require_not_negative,
    require_positive,
)
from rickyard.hay.storage import EXPOSED
from rickyard.quantities import Numeric, OutOfRange

_KEYS: Final = ("table", "method")


@dataclass(frozen=True, slots=True)
class FeederFacts:
    """One way to offer hay.

    Attributes
    ----------
    loss_pct : float
        Loss of the hay offered to beef cattle, to plan with. [%]
    on_the_ground : bool
        Whether hay lies on the ground, so that more days a delivery waste more.
    daily : bool
        Whether it holds a day's hay, or hay that must be eaten off the ground.
    horse_row : str
        Its row of Martinson et al. 2012; empty where no loss is published for horses.
    """

    loss_pct: float
    on_the_ground: bool = False
    daily: bool = False
    horse_row: str = ""


#: Judgement from the published tables of feeding loss (common practice): open rings lie between
#: Michigan's 6 % with fine hay on concrete and Oklahoma's 20 % with coarse hay on ground.
FEEDERS: Final[Mapping[Feeder, FeederFacts]] = MappingProxyType(
    {
        Feeder.CONE_RING: FeederFacts(6.0, horse_row="cone"),
        Feeder.SHEETED_RING: FeederFacts(13.0),
        Feeder.OPEN_RING: FeederFacts(20.0, horse_row="ring"),
        Feeder.TRAILER: FeederFacts(12.0),
        Feeder.CRADLE: FeederFacts(15.0, horse_row="covered_cradle"),
        Feeder.BUNK: FeederFacts(10.0, daily=True),
        # Between the 8 % and 11 % of hay from a processor into a bunk: Kansas State Univ.
        Feeder.MIXED_RATION: FeederFacts(9.5, daily=True),
        Feeder.UNROLLED_DAILY: FeederFacts(15.0, on_the_ground=True, daily=True),
        Feeder.UNROLLED_EXCESS: FeederFacts(25.0, on_the_ground=True, daily=True),
        Feeder.NONE: FeederFacts(45.0, on_the_ground=True, daily=True, horse_row="no_feeder"),
    }
)

# Weathered hay is picked over: common practice, no published source.
WEATHERED_EXTRA_POINTS: Final = 5.0

Animal = Literal["cattle", "horses", "sheep", "goats"]

# Purdue: feeding every fourth day takes about 25 % more hay than feeding daily.
SLOW_DAYS: Final = 4.0
SLOW_MORE_FRAC: Final = 0.25


def feeding_loss_lookup(table: str, method: str, end: End = "") -> float:
    """Look up the feeding loss that one published table prints.

    The source of every row stands in ``data/feeding_losses.csv``.

    Parameters
    ----------
    table : str
        Name of the table, for example ``"buskirk2003"``, ``"oklahoma"``, ``"kstate_wheat"``,
        ``"bell_martz1973"``; for horses ``"martinson2012"``, ``"grev2014"``.
    method : str
        How the hay was offered, in the words of that table.
    end : {"", "low", "high"}
        Which end of a printed range.

    Returns
    -------
    float
        Loss, of the hay offered or of the bale weight as the table says. [%]

    Examples
    --------
    >>> feeding_loss_lookup("buskirk2003", "ring")
    6.1
    """
    rows = read_table("feeding_losses", "pct", _KEYS)
    return end_of(find(rows, (table, method)), end)


def feeding_loss_pct(
    feeder: Feeder,
    animal: Animal = "cattle",
    days_per_delivery: float = 1.0,
    storage: Storage | None = None,
) -> float:
    """Return the feeding loss to plan with, by animal and by the days one delivery lasts.

    For cattle the loss is judged from the published tables. Hay offered for one day, limited hours
    at the bale and clean ground all lose less; mud and several days' supply lose more. The five
    points for weathered hay have no source.

    In a ring, cone, cradle, trailer or bunk one day's and seven days' hay lose alike (Missouri).
    On the ground hay for four days takes a quarter more than hay for one (Purdue); between, and
    up to four days, that grows in a straight line, and longer than that it is held (derived).

    Source: Schnakenberg, Univ. Missouri; Purdue, Save hay by reducing feeding waste; Martinson et
    al. (2012), horses at round bales; Cattle: judgement from Buskirk et al. (2003), an Oklahoma
    State trial, Bell & Martz (1973) and Kansas State (common practice).

    Parameters
    ----------
    feeder : Feeder
        How the hay is offered.
    animal : {"cattle", "horses", "sheep", "goats"}
        Who eats it.
    days_per_delivery : float
        Days that one delivery lasts, at least 1. [d]
    storage : Storage, optional
        Where the hay stood; hay from outside without a cover is picked over more.

    Returns
    -------
    float
        Loss of the hay offered. [%]

    Raises
    ------
    OutOfRange
        If a delivery lasts less than a day, or no loss is published for the animal and feeder:
        then weigh what is left and state the loss.

    Examples
    --------
    >>> feeding_loss_pct(Feeder.OPEN_RING, days_per_delivery=7.0)
    20.0
    >>> feeding_loss_pct(Feeder.OPEN_RING, storage=Storage.EXPOSED_GROUND)
    25.0
    >>> feeding_loss_pct(Feeder.UNROLLED_DAILY, days_per_delivery=4.0)
    32.0
    >>> feeding_loss_pct(Feeder.NONE, "horses")
    57.0
    """
    require_between("days of a delivery", days_per_delivery, 1.0, math.inf, "d")
    if animal == "cattle":
        loss = FEEDERS[feeder].loss_pct
    elif animal == "horses" and FEEDERS[feeder].horse_row:
        loss = feeding_loss_lookup("martinson2012", FEEDERS[feeder].horse_row)
    else:
        name = feeder.value.replace("_", " ")
        raise OutOfRange(
            f"no feeding loss is published for {animal} with {name}: weigh what is left for a few "
            "days and state it."
        )
    if FEEDERS[feeder].on_the_ground:
        over = min(days_per_delivery, SLOW_DAYS) - 1.0
        more = 1.0 + SLOW_MORE_FRAC * over / (SLOW_DAYS - 1.0)
        loss = 100.0 - (100.0 - loss) / more
    return loss + (WEATHERED_EXTRA_POINTS if storage in EXPOSED else 0.0)


@equation(
    wasted=(require_not_negative, "waste"), disappeared=(require_positive, "hay that disappeared")
)
def waste_pct(wasted: Numeric, disappeared: Numeric) -> Numeric:
    """Waste in percent of the hay that disappeared, eaten and wasted; in any one mass unit.

    Examples
    --------
    >>> round(waste_pct(3.5, 30.5), 1)
    11.5
    """
    return 100.0 * np.divide(wasted, disappeared)


def feeder_space_in(animal: str, mode: str, end: End) -> float:
    """Look up the feeder space for one head [in] of a class of animal and a way of feeding.

    The classes and ways are the columns ``animal`` and ``mode`` of ``data/feeder_space.csv``. From
    FASS (2020) guide as reprinted by extension; Schoenian, Sheep 201.

    Examples
    --------
    >>> feeder_space_in("cow_1300lb", "once_daily_limited", "low")
    26.0
    """
    rows = read_table("feeder_space", "in", ("animal", "mode"))
    return end_of(find(rows, (animal, mode)), end)
