"""The breeding year on the calendar: birth, nursing, weaning, breeding, and birth again.

Days are ordinals (``datetime.date.toordinal``); a day that never comes is infinity. A group whose
births are spread is many mothers of whom each has her own day, equal numbers on each day from the
first to the last (common practice); needs are means over them, never those of the mean day.
Mothers are columns of shape (N, 1) and meet days of shape (T,).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from rickyard.quantities import OutOfRange
from rickyard.types import BoolArray, FloatArray, IntArray

#: Days of pregnancy; from memory.
GESTATION_DAYS: Final = {
    "sheep": 147,
    "goat": 150,
    "horse": 340,
    "donkey": 340,
    "alpaca": 342,
    "llama": 350,
    "cattle": 280,
}
#: Births follow each other by a year unless a breeding day says otherwise. Common practice.
YEAR_DAYS: Final = 365
NEVER: Final = -1.0
#: Most days of birth that are followed one by one; a longer spread is cut into so many.
MOST_DAYS: Final = 61


@dataclass(frozen=True, slots=True)
class Cycle:
    """Where each of N mothers stands in her breeding year, arrays of shape (N, T).

    ``births`` counts from the first of the calendar given: 0 before it. Days that do not apply are
    ``NEVER`` or infinity; ``day_pregnant`` is 0 when she is not pregnant.
    """

    births: FloatArray
    days_since_birth: FloatArray
    days_to_birth: FloatArray
    day_pregnant: FloatArray
    nursing: BoolArray

    @property
    def pregnant(self) -> BoolArray:
        """Return whether she is pregnant, shape (N, T)."""
        return self.day_pregnant > 0.0

    def stages(self, birth: str, idle: Sequence[str]) -> tuple[str, ...]:
        """Return the stage of the first mother on each day; ``idle`` where none is hers.

        ``birth`` is what it is called: calving, lambing, kidding, foaling.
        """
        words = []
        for day, other in enumerate(idle):
            if self.nursing[0, day]:
                words.append(f"nursing, week {self.days_since_birth[0, day] // 7 + 1:.0f}")
            elif self.pregnant[0, day]:
                left = self.days_to_birth[0, day]
                words.append(f"pregnant, {left:.0f} day{'' if left == 1 else 's'} to {birth}")
            else:
                words.append(other)
        return tuple(words)


@dataclass(frozen=True, slots=True)
class Breeding:
    """The breeding years of N mothers, arrays of shape (N,).

    ``calving_on`` is infinity for one that never gives birth. ``interval`` is the time from birth
    to birth and ``weaned_after`` from birth to weaning. ``before_weaned_on`` is the day the young
    of the year before are weaned, minus infinity where none are counted.
    """

    calving_on: FloatArray
    interval: FloatArray
    weaned_after: FloatArray
    before_weaned_on: FloatArray

    @staticmethod
    def year(
        birth_on: date | None,
        weaning_on: date | None,
        breeding_on: date | None,
        gestation_days: int,
        weaning_days: int,
        *,
        first: bool = False,
    ) -> tuple[float, float, float, float]:
        """Return the breeding year of one group as the four values of a ``Breeding``.

        A breeding without a birth leads to one; with neither she is open and dry. A weaning after
        the birth is that of its young, otherwise they are weaned at ``weaning_days``. A weaning
        before the birth is that of the young before, born one interval earlier, unless the birth
        is her ``first``. A breeding after the birth sets the next pregnancy, otherwise births
        follow by 365 days. Later years repeat the first.

        >>> Breeding.year(date(2027, 3, 1), None, None, 283, 213)[1:]
        (365.0, 213.0, -inf)
        """
        weaned, bred = (0 if on is None else on.toordinal() for on in (weaning_on, breeding_on))
        if birth_on is None and breeding_on is None:
            return np.inf, float(YEAR_DAYS), float(weaning_days), -np.inf
        birth = bred + gestation_days if birth_on is None else birth_on.toordinal()
        interval = bred - birth + gestation_days if bred > birth else YEAR_DAYS
        after = weaned - birth if weaned > birth else weaning_days
        before = float(weaned) if 0 < weaned <= birth and not first else -np.inf
        return float(birth), float(interval), float(after), before

    def cycle(self, days: FloatArray | IntArray, gestation_days: int) -> Cycle:
        """Return where each mother stands in her breeding year on each day.

        >>> year = Breeding.year(date(2027, 3, 1), None, None, 283, 213)
        >>> days = np.array([date(2027, 1, 1).toordinal(), date(2027, 4, 1).toordinal()])
        >>> state = Breeding(*(np.array([one]) for one in year)).cycle(days, 283)
        >>> state.days_to_birth.tolist(), state.nursing.tolist()
        ([[59.0, 334.0]], [[False, True]])
        """
        interval = self.interval[:, np.newaxis]
        since_first = days - self.calving_on[:, np.newaxis]
        births = np.maximum(np.floor(since_first / interval) + 1.0, 0.0)
        born = births.astype(np.bool_)
        since = np.where(born, since_first - (births - 1.0) * interval, NEVER)
        to_birth = np.where(born, interval - since, -since_first)
        nursing = born & (since < self.weaned_after[:, np.newaxis])
        if np.any(np.isfinite(self.before_weaned_on)):
            weaned_on = self.before_weaned_on[:, np.newaxis]
            young_before = ~born & (since_first >= -interval) & np.isfinite(weaned_on)
            nursing |= young_before & (days < weaned_on)
            since = np.where(young_before, since_first + interval, since)
        pregnant = np.maximum(gestation_days - to_birth, 0.0)
        return Cycle(births, since, to_birth, pregnant, nursing)


def calving_offsets(spread_days: int) -> FloatArray:
    """Return the days from the mean day of birth on which equal numbers give birth.

    Parameters
    ----------
    spread_days : int
        Days from the first birth to the last, 0 or more. [d]

    Returns
    -------
    array
        Offsets in whole days, their mean 0 to half a day. [d]

    Examples
    --------
    >>> calving_offsets(4).tolist(), calving_offsets(0).tolist()
    ([-2.0, -1.0, 0.0, 1.0, 2.0], [0.0])
    """
    if spread_days < 0:
        raise OutOfRange("The last calving cannot come before the first.")
    count = min(spread_days + 1, MOST_DAYS)
    offsets = np.linspace(-spread_days / 2.0, spread_days / 2.0, count)
    return np.asarray(np.floor(offsets + 0.5), dtype=np.float64)
