"""How weight moves through the season: the gain wanted of each animal, day by day.

Days are ordinals held as floats; animals are columns of shape (N, 1) against days of shape (T,).
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.farm import AnimalClass, Assumption, Group
from rickyard.quantities import OutOfRange
from rickyard.stock.beef.defaults import (
    HEIFERS_IN_CALF,
    NRC,
    SAID,
    Settings,
    shrunk_kg,
)
from rickyard.stock.beef.herd_parts import Herd
from rickyard.stock.equations import (
    FIRST_CALVING_SHARE,
    LEAST_FITTED_GAIN_KG,
    MOST_FITTED_GAIN_KG,
    SECOND_CALVING_SHARE,
    gain_to_target_kg,
)
from rickyard.types import FloatArray, IntArray

DAYS_PER_YEAR: Final = 365.0
#: Most gain asked of a heifer that is behind, shrunk: 2 lb a day. Common practice. [kg/d]
MOST_BEHIND_KG: Final = 0.9


def stage_gains_kg(
    weight_kg: float,
    mature_kg: float,
    weighed_on: float,
    calving_on: float,
    interval: float,
    stated_kg: float = np.nan,
) -> tuple[float, float]:
    """Return the gain that a heifer lacks to her first calving, and then to her second [kg/d].

    0.85 of mature weight at the first calving and 0.92 at the second, weights shrunk; a heifer that
    is there already gains nothing, one that is far behind 0.9 kg a day at most, and in milk no more
    than the difference of the two in a year. Days are ordinals, the first calving infinity where
    there is none; ``interval`` leads to the second; a gain asked for until then is NaN for none.

    Source: Univ. of Arkansas (2018); Iowa State Univ.

    >>> [round(one, 3) for one in stage_gains_kg(460.0, 566.0, 0.0, 110.0, 365.0)]
    [0.192, 0.109]
    """
    if not np.isfinite(calving_on):
        return 0.0, 0.0
    left = calving_on - weighed_on
    before = _lacking_kg(FIRST_CALVING_SHARE * mature_kg - weight_kg, left)
    pace = before if np.isnan(stated_kg) else stated_kg
    at_calving = weight_kg + pace * max(left, 0.0)
    after = _lacking_kg(SECOND_CALVING_SHARE * mature_kg - at_calving, min(left, 0.0) + interval)
    by_rule = (SECOND_CALVING_SHARE - FIRST_CALVING_SHARE) * mature_kg / DAYS_PER_YEAR
    return before, min(after, by_rule)


def _lacking_kg(weight_kg: float, days: float) -> float:
    return min(max(weight_kg, 0.0) / days, MOST_BEHIND_KG) if days > 0.0 else 0.0


def weight_and_gain(
    days: FloatArray, calvings: FloatArray, herd: Herd
) -> tuple[FloatArray, FloatArray]:
    """Return the weight [kg] and the wanted gain [kg/d] of each animal on each day, shape (N, T).

    Days come in any order; before the day of weighing an animal is as heavy as then. ``calvings``
    counts those so far.
    """
    start, stated, before, after, first, interval = (
        values[:, np.newaxis]
        for values in (
            herd.weighed_on,
            herd.stated_gain_kg,
            herd.gain_before_calving_kg,
            herd.gain_after_calving_kg,
            herd.calving_on,
            herd.interval,
        )
    )
    at_start = np.maximum(np.floor((start - first) / interval) + 1.0, 0.0)
    is_stated = ~np.isnan(stated)
    pace = np.where(is_stated, stated, 0.0)
    # A stated gain rules until the next calving, the gain of the year of life after that.
    ends = np.where(np.isfinite(first), first + at_start * interval, np.inf)
    rule_from = np.where(is_stated, ends, start)
    now = np.maximum(days, start)
    second = first + interval
    weight = herd.shrunk_weight_kg[:, np.newaxis] + pace * (np.minimum(now, ends) - start)
    weight = weight + before * np.maximum(np.minimum(now, first) - rule_from, 0.0)
    in_year = np.minimum(now, second) - np.maximum(rule_from, first)
    weight = weight + after * np.maximum(np.where(np.isfinite(first), in_year, 0.0), 0.0)
    held = np.maximum(calvings, at_start)
    by_rule = np.where(held == 0.0, before, np.where(held == 1.0, after, 0.0))
    gain = np.where(is_stated & (held == at_start), pace, by_rule)
    return weight, gain


def stated_gain_kg(group: Group, settings: Settings, weighed_on: float) -> float | None:
    """Return the gain asked for of a group, as written or from its target weight [kg/d].

    ``None`` when none is asked for, 0 when it weighs more than its target. ``weighed_on``:
    the day of its weight, as an ordinal. Raises ``OutOfRange`` if a wanted gain is negative, or a
    target day is not after the day of weighing.

    >>> from rickyard.stock.beef.defaults import settings_of
    >>> bulls = Group("g1", "Bulls", AnimalClass.BULL, head=3, weight_kg=900.0)
    >>> stated_gain_kg(bulls, settings_of(bulls), 100.0) is None
    True
    """
    if group.gain_kg_per_day is not None:
        if group.gain_kg_per_day < 0.0:
            raise OutOfRange(
                f"{group.name}: a target gain cannot be negative; write 0 to hold their weight."
            )
        return group.gain_kg_per_day
    if group.target_weight_kg is None or group.target_on is None:
        return None
    target = shrunk_kg(group, group.target_weight_kg)
    days = group.target_on.toordinal() - weighed_on
    return max(float(gain_to_target_kg(settings.shrunk_weight_kg, target, days)), 0.0)


def gain_assumptions(
    group: Group, stated: float | None, days: IntArray, calvings: FloatArray, at_start: float
) -> tuple[Assumption, ...]:
    """Return what is taken for granted about the gain of a group.

    ``stated``: the gain asked for, see ``stated_gain_kg``.

    >>> bulls = Group("g1", "Bulls", AnimalClass.BULL, head=3, weight_kg=900.0)
    >>> gain_assumptions(bulls, None, np.array([1.0]), np.array([0.0]), 0.0)
    ()
    """
    if group.animal_class is AnimalClass.COW:
        return () if stated is None else (SAID["cow_gain_unused"],)
    said: tuple[Assumption, ...] = ()
    if group.animal_class in HEIFERS_IN_CALF:
        by_rule = np.ones(calvings.shape, dtype=np.bool_)
        if stated is not None:
            by_rule = calvings > at_start
            said += (SAID["stated_gain_until_calving"],)
        if np.any(by_rule & (calvings == 0)):
            said += (SAID["heifer_gain"],)
        if np.any(by_rule & (calvings > 0)):
            said += (SAID["first_calf_gain"],)
    if stated is not None and group.target_on is not None and group.gain_kg_per_day is None:
        said += (SAID["gain_continues"],) if days.max() >= group.target_on.toordinal() else ()
    return said + _beyond_fit(group, stated)


def _beyond_fit(group: Group, stated: float | None) -> tuple[Assumption, ...]:
    if not stated or LEAST_FITTED_GAIN_KG <= stated <= MOST_FITTED_GAIN_KG:
        return ()
    sentence = (
        f"The target gain of {group.name} lies outside the 0.4 to 4.0 lb (0.2 to 1.8 kg) a day "
        "for which the equations of growth were fitted: read their needs with care."
    )
    return (Assumption(sentence, NRC),)
