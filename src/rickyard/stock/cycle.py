"""The breeding year on the calendar: calving, nursing, weaning, rebreeding, calving again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

GESTATION_DAYS: Final = 283  # 281 to 283, common practice
WEANING_DAYS: Final = 213  # calf weaned at 7 months, as in the printed cow tables
REBREEDING_DAYS: Final = 82  # with the gestation a year from calving to calving, common practice
NEVER: Final = -1


@dataclass(frozen=True, slots=True)
class Cycle:
    """Where an animal stands in her breeding year, arrays of shape (T,).

    ``calvings`` counts from the first calving of the calendar given: 0 before it. Days that do
    not apply are ``NEVER``; ``day_pregnant`` is 0 when she is not pregnant.
    """

    calvings: NDArray[np.int64]
    days_since_calving: NDArray[np.int64]
    days_to_calving: NDArray[np.int64]
    day_pregnant: NDArray[np.int64]
    nursing: NDArray[np.bool_]

    @property
    def pregnant(self) -> NDArray[np.bool_]:
        """Return whether she is pregnant, shape (T,)."""
        return self.day_pregnant > 0


def breeding_cycle(
    days: NDArray[np.int64],
    calving_on: date | None,
    weaning_on: date | None = None,
    breeding_on: date | None = None,
    *,
    first_calf: bool = False,
) -> Cycle:
    """Return where an animal stands in her breeding year on each day.

    Parameters
    ----------
    days : array of int, shape (T,)
        Days as proleptic ordinals, see ``datetime.date.toordinal``. [d]
    calving_on, weaning_on, breeding_on : date, optional
        A calving, the weaning of a calf, and the day bred. A breeding without a calving
        leads to a calving 283 days later. With neither, she is open and dry.
    first_calf : bool
        Whether the calving is her first, so that no calf comes before it.

    Returns
    -------
    Cycle
        Her state on each day.

    Notes
    -----
    A weaning after the calving is that of its calf, otherwise the calf is weaned 213 days after
    birth. A weaning before the calving is that of the calf before, born one interval earlier. A
    breeding after the calving sets the next pregnancy, otherwise it begins 82 days after
    calving, which makes the interval 365 days. Later cycles repeat the first.

    Examples
    --------
    >>> noon = np.array([date(2027, 1, 1).toordinal(), date(2027, 4, 1).toordinal()])
    >>> state = breeding_cycle(noon, date(2027, 3, 1))
    >>> state.days_to_calving.tolist(), state.nursing.tolist()
    ([59, 334], [False, True])
    """
    if calving_on is None and breeding_on is None:
        nothing = np.full(days.shape, NEVER, dtype=np.int64)
        zero = np.zeros(days.shape, dtype=np.int64)
        return Cycle(zero, nothing, nothing, zero, np.zeros(days.shape, dtype=np.bool_))
    if calving_on is not None:
        calving = calving_on.toordinal()
    else:
        calving = _ordinal(breeding_on, 0) + GESTATION_DAYS
    rebred = max(_ordinal(breeding_on, 0) - calving, 0) or REBREEDING_DAYS
    weaned = max(_ordinal(weaning_on, 0) - calving, 0) or WEANING_DAYS
    interval = rebred + GESTATION_DAYS

    since_first = days - calving
    calvings = np.maximum(since_first // interval + 1, 0)
    since = np.where(calvings > 0, since_first % interval, NEVER)
    to_calving = np.where(calvings > 0, interval - since, -since_first)
    pregnant_days = np.maximum(GESTATION_DAYS - to_calving, 0)
    nursing = (calvings > 0) & (since < weaned)
    if weaning_on is not None and weaning_on.toordinal() <= calving and not first_calf:
        calf_before = (calvings == 0) & (since_first >= -interval)
        nursing |= calf_before & (days < weaning_on.toordinal())
        since = np.where(calf_before, since_first + interval, since)
    return Cycle(
        calvings=calvings.astype(np.int64),
        days_since_calving=since.astype(np.int64),
        days_to_calving=to_calving.astype(np.int64),
        day_pregnant=pregnant_days.astype(np.int64),
        nursing=nursing,
    )


def _ordinal(day: date | None, otherwise: int) -> int:
    return otherwise if day is None else day.toordinal()
