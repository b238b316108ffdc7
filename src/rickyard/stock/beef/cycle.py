"""The breeding year on the calendar: calving, nursing, weaning, rebreeding, calving again.

Days are proleptic ordinals (``datetime.date.toordinal``) held as floats, so that a day that
never comes is infinity. Animals are columns of shape (N, 1) and meet days of shape (T,).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from rickyard.types import BoolArray, FloatArray

GESTATION_DAYS: Final = 283  # 281 to 283, common practice
WEANING_DAYS: Final = 213  # calf weaned at 7 months, as in the printed cow tables
REBREEDING_DAYS: Final = 82  # with the gestation a year from calving to calving, common practice
NEVER: Final = -1.0


@dataclass(frozen=True, slots=True)
class Breeding:
    """The breeding years of N animals, arrays of shape (N,).

    ``calving_on`` is infinity for an animal that never calves. ``interval`` is the time from
    calving to calving and ``weaned_after`` from calving to weaning. ``before_weaned_on`` is the
    day a calf of the year before is weaned, minus infinity where none is counted.
    """

    calving_on: FloatArray
    interval: FloatArray
    weaned_after: FloatArray
    before_weaned_on: FloatArray


@dataclass(frozen=True, slots=True)
class Cycle:
    """Where each animal stands in her breeding year, arrays of shape (N, T).

    ``calvings`` counts from the first calving of the calendar given: 0 before it. Days that do
    not apply are ``NEVER`` or infinity; ``day_pregnant`` is 0 when she is not pregnant.
    """

    calvings: FloatArray
    days_since_calving: FloatArray
    days_to_calving: FloatArray
    day_pregnant: FloatArray
    nursing: BoolArray

    @property
    def pregnant(self) -> BoolArray:
        """Return whether she is pregnant, shape (N, T)."""
        return self.day_pregnant > 0.0


def breeding_year(
    calving_on: date | None,
    weaning_on: date | None = None,
    breeding_on: date | None = None,
    *,
    first_calf: bool = False,
) -> tuple[float, float, float, float]:
    """Return the breeding year of one group as the four values of ``Breeding``.

    Calving, interval, days to weaning, and weaning of the calf before. ``calving_on``,
    ``weaning_on``, ``breeding_on``: A calving, the weaning of a calf, and the day bred. A breeding
    without a calving leads to a calving 283 days later. With neither, she is open and dry.
    ``first_calf``: whether the calving is her first, so that no calf comes before it.

    A weaning after the calving is that of its calf, otherwise the calf is weaned 213 days after
    birth. A weaning before the calving is that of the calf before, born one interval earlier. A
    breeding after the calving sets the next pregnancy, otherwise it begins 82 days after calving,
    which makes the interval 365 days. Later years repeat the first.

    >>> breeding_year(date(2027, 3, 1))[1:]
    (365.0, 213.0, -inf)
    """
    if calving_on is None and breeding_on is None:
        return np.inf, float(REBREEDING_DAYS + GESTATION_DAYS), float(WEANING_DAYS), -np.inf
    if calving_on is not None:
        calving = calving_on.toordinal()
    else:
        calving = _ordinal(breeding_on) + GESTATION_DAYS
    rebred = max(_ordinal(breeding_on) - calving, 0) or REBREEDING_DAYS
    weaned = max(_ordinal(weaning_on) - calving, 0) or WEANING_DAYS
    before = -np.inf
    if weaning_on is not None and weaning_on.toordinal() <= calving and not first_calf:
        before = float(weaning_on.toordinal())
    return float(calving), float(rebred + GESTATION_DAYS), float(weaned), before


def breeding_cycle(days: FloatArray, breeding: Breeding) -> Cycle:
    """Return where each animal stands in her breeding year on each day.

    >>> days = np.array([date(2027, 1, 1).toordinal(), date(2027, 4, 1).toordinal()], dtype=float)
    >>> years = Breeding(*(np.array([one]) for one in breeding_year(date(2027, 3, 1))))
    >>> state = breeding_cycle(days, years)
    >>> state.days_to_calving.tolist(), state.nursing.tolist()
    ([[59.0, 334.0]], [[False, True]])
    """
    interval = breeding.interval[:, np.newaxis]
    since_first = days - breeding.calving_on[:, np.newaxis]
    calvings = np.maximum(np.floor(since_first / interval) + 1.0, 0.0)
    calved = calvings > 0.0
    since = np.where(calved, since_first - (calvings - 1.0) * interval, NEVER)
    to_calving = np.where(calved, interval - since, -since_first)
    nursing = calved & (since < breeding.weaned_after[:, np.newaxis])
    if np.any(np.isfinite(breeding.before_weaned_on)):
        before_weaned_on = breeding.before_weaned_on[:, np.newaxis]
        calf_before = ~calved & (since_first >= -interval) & np.isfinite(before_weaned_on)
        nursing |= calf_before & (days < before_weaned_on)
        since = np.where(calf_before, since_first + interval, since)
    return Cycle(
        calvings=calvings,
        days_since_calving=since,
        days_to_calving=to_calving,
        day_pregnant=np.maximum(GESTATION_DAYS - to_calving, 0.0),
        nursing=nursing,
    )


def _ordinal(day: date | None) -> int:
    return 0 if day is None else day.toordinal()
