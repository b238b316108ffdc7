"""How the weight of a group moves through the season: the gain wanted, day by day."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import AnimalClass, Assumption, Group
from rickyard.quantities import OutOfRange
from rickyard.stock.cycle import Cycle, breeding_cycle
from rickyard.stock.defaults import (
    COW_GAIN_UNUSED,
    FIRST_CALF_GAIN,
    GAIN_CONTINUES,
    HEIFER_GAIN,
    HEIFERS_IN_CALF,
    NRC,
    STATED_GAIN_UNTIL_CALVING,
    Settings,
    shrunk_kg,
)
from rickyard.stock.growth import (
    BREEDING_SHARE,
    BREEDING_TO_CALVING_DAYS,
    FIRST_CALVING_SHARE,
    LEAST_FITTED_GAIN_KG,
    MOST_FITTED_GAIN_KG,
    SECOND_CALVING_SHARE,
    gain_to_target_kg,
)

DAYS_PER_YEAR: Final = 365.0


@dataclass(frozen=True, slots=True)
class GainPath:
    """Shrunk weight and wanted gain on each day, shape (T,)."""

    shrunk_weight_kg: NDArray[np.float64]
    gain_kg: NDArray[np.float64]
    assumptions: tuple[Assumption, ...]


def cycle_of(group: Group, days: NDArray[np.int64]) -> Cycle:
    """Return where a group stands in its breeding year on each day.

    Parameters
    ----------
    group : Group
        The group; stock that does not breed is open and dry.
    days : array of int, shape (T,)
        Days as proleptic ordinals. [d]

    Returns
    -------
    Cycle
        Its state on each day.

    Examples
    --------
    >>> bulls = Group("g1", "Bulls", AnimalClass.BULL, head=3, weight_kg=900.0)
    >>> bool(cycle_of(bulls, np.array([740000])).pregnant.any())
    False
    """
    heifers = group.animal_class in HEIFERS_IN_CALF
    if group.animal_class is AnimalClass.COW or heifers:
        return breeding_cycle(
            days, group.calving_on, group.weaning_on, group.breeding_on, first_calf=heifers
        )
    return breeding_cycle(days, None)


def gain_path(
    group: Group, settings: Settings, weighed_on: int, days: NDArray[np.int64]
) -> GainPath:
    """Return the weight and the wanted gain of a group on each day.

    Parameters
    ----------
    group : Group
        The group.
    settings : Settings
        What it is computed with, see ``defaults.settings_of``.
    weighed_on : int
        The day of its weight, as an ordinal. [d]
    days : array of int, shape (T,)
        Days as ordinals, in any order; on days before ``weighed_on`` it is as heavy as then. [d]

    Returns
    -------
    GainPath
        Weight and gain on each day.

    Raises
    ------
    OutOfRange
        If a wanted gain is negative, or a target day is not after the day of weighing.

    Examples
    --------
    >>> from rickyard.stock.defaults import settings_of
    >>> steers = Group("g1", "Steers", AnimalClass.STOCKER, 40, 250.0, weight_is_shrunk=True,
    ...     finish_weight_kg=550.0, gain_kg_per_day=0.8)
    >>> gain_path(steers, settings_of(steers), 100, np.array([100, 110])).shrunk_weight_kg
    array([250., 258.])
    """
    stated = _stated_gain_kg(group, settings, weighed_on)
    calendar = np.arange(weighed_on, max(int(days.max(initial=weighed_on)), weighed_on) + 1)
    daily, said = _daily_gain_kg(group, settings, stated, cycle_of(group, calendar).calvings)
    weight = settings.shrunk_weight_kg + np.concatenate(([0.0], np.cumsum(daily)[:-1]))
    place = np.maximum(days - weighed_on, 0)
    if stated is not None and group.target_on is not None and group.gain_kg_per_day is None:
        said += (GAIN_CONTINUES,) if days.max(initial=0) >= group.target_on.toordinal() else ()
    return GainPath(weight[place], daily[place], said + _beyond_fit(group, stated))


def _stated_gain_kg(group: Group, settings: Settings, weighed_on: int) -> float | None:
    if group.gain_kg_per_day is not None:
        if group.gain_kg_per_day < 0.0:
            raise OutOfRange(
                f"{group.name}: a wanted gain cannot be negative; write 0 to hold their weight."
            )
        return group.gain_kg_per_day
    if group.target_weight_kg is None or group.target_on is None:
        return None
    target = shrunk_kg(group, group.target_weight_kg)
    days = group.target_on.toordinal() - weighed_on
    return max(float(gain_to_target_kg(settings.shrunk_weight_kg, target, days)), 0.0)


def _beyond_fit(group: Group, stated: float | None) -> tuple[Assumption, ...]:
    if not stated or LEAST_FITTED_GAIN_KG <= stated <= MOST_FITTED_GAIN_KG:
        return ()
    if group.animal_class is AnimalClass.COW:
        return ()
    sentence = (
        f"The gain wanted of {group.name} lies outside the 0.2 to 1.8 kg (0.4 to 4.0 lb) a day "
        "for which the equations of growth were fitted: read their needs with care."
    )
    return (Assumption(sentence, NRC),)


def _daily_gain_kg(
    group: Group, settings: Settings, stated: float | None, calvings: NDArray[np.int64]
) -> tuple[NDArray[np.float64], tuple[Assumption, ...]]:
    if group.animal_class is AnimalClass.COW:
        nothing = np.zeros(calvings.shape)
        return nothing, () if stated is None else (COW_GAIN_UNUSED,)
    if group.animal_class not in HEIFERS_IN_CALF:
        return np.full(calvings.shape, stated or 0.0), ()
    mature = settings.final_shrunk_weight_kg or settings.shrunk_weight_kg
    before = (FIRST_CALVING_SHARE - BREEDING_SHARE) * mature / BREEDING_TO_CALVING_DAYS
    after = (SECOND_CALVING_SHARE - FIRST_CALVING_SHARE) * mature / DAYS_PER_YEAR
    daily = np.select([calvings == 0, calvings == 1], [before, after], 0.0)
    by_rule = np.ones(calvings.shape, dtype=np.bool_)
    said: tuple[Assumption, ...] = ()
    if stated is not None:
        by_rule = calvings != calvings[0]
        daily = np.where(by_rule, daily, stated)
        said += (STATED_GAIN_UNTIL_CALVING,)
    if np.any(by_rule & (calvings == 0)):
        said += (HEIFER_GAIN,)
    if np.any(by_rule & (calvings > 0)):
        said += (FIRST_CALF_GAIN,)
    return daily, said
