"""Rows of the engine from groups: every field of a group in the place where it counts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from typing import Any

import numpy as np

from rickyard.farm import AnimalClass, Coat, Group, Hide, Mud, Panting
from rickyard.quantities import OutOfRange, above_zero
from rickyard.stock.beef.defaults import (
    COWS,
    GESTATION_DAYS,
    HEIFERS_IN_CALF,
    WEANING_DAYS,
    Settings,
)
from rickyard.stock.beef.gain_path import stage_gains_kg, stated_gain_kg
from rickyard.stock.beef.herd_parts import Herd
from rickyard.stock.cold import (
    HAIR_CM,
    HIDE_FACTOR,
    MUD_ADDS,
    MUD_FACTOR,
    critical_temperature_c,
    heat_factor,
)
from rickyard.stock.common import Breeding, calving_offsets
from rickyard.stock.equations import TISSUE_EFFICIENCY, energy_between_scores_mcal, mud_factor
from rickyard.stock.equations import relative_weight_frac as relative_weight
from rickyard.types import FloatArray, IntArray

MODERATE_SCORE = 5.0
#: The coat of a group that does not say: dry winter, as the rule of one percent is told with.
USUAL_COAT = Coat.WINTER


def herd_rows(
    groups: Sequence[Group], settings: Sequence[Settings], weighed_on: Sequence[float]
) -> tuple[Herd, IntArray]:
    """Return groups as rows of the engine, a row for each day on which their animals calve.

    ``herd``: The rows, those of one group together. ``counts``: Rows of each group; 1 for a group
    whose calving is not spread. ``settings``: what each is computed with, see
    ``defaults.settings_of``. ``weighed_on``: the day of each weight, as an ordinal. Raises
    ``OutOfRange`` if a wanted gain is negative, a target day is not after the day of weighing, a
    score lies outside 1 to 9, or calves are weaned before the last cow has calved.

    >>> from rickyard.stock.beef.defaults import settings_of
    >>> bulls = Group("g1", "Bulls", AnimalClass.BULL, head=3, weight_kg=900.0)
    >>> herd, counts = herd_rows([bulls], [settings_of(bulls)], [740000.0])
    >>> herd.intact_male.tolist(), counts.tolist()
    ([True], [1])
    """
    rows: list[dict[str, Any]] = []
    counts = []
    for group, chosen, weighed in zip(groups, settings, weighed_on, strict=True):
        row = _row(group, chosen, weighed)
        offsets = calving_offsets(group.calving_spread_days or 0)
        if not np.isfinite(row["calving_on"]):
            offsets = np.zeros(1)
        elif offsets[-1] >= row["weaned_after"]:
            raise OutOfRange(
                f"{group.name}: their calves cannot be weaned before the last cow has calved; "
                "check the day of weaning and the days that calving is spread over."
            )
        counts.append(len(offsets))
        # Each calves on her own day; their calves are weaned on one day.
        rows.extend(
            {
                **row,
                "calving_on": row["calving_on"] + offset,
                "weaned_after": row["weaned_after"] - offset,
            }
            for offset in offsets.tolist()
        )
    kinds = {entry.name: str(entry.type) for entry in fields(Herd)}
    columns: dict[str, Any] = {
        name: np.array(
            [row[name] for row in rows], dtype=np.bool_ if kind == "BoolArray" else np.float64
        )
        for name, kind in kinds.items()
    }
    return Herd(**columns), np.array(counts, dtype=np.int64)


def mean_by_group(values: FloatArray, counts: IntArray) -> FloatArray:
    """Return the mean of the rows of each group, shape (N, T), in the unit of the values.

    >>> mean_by_group(np.array([[1.0], [3.0], [5.0]]), np.array([2, 1])).tolist()
    [[2.0], [5.0]]
    """
    starts = np.concatenate(([0], np.cumsum(counts)[:-1]))
    sums = np.add.reduceat(values, starts, axis=0)
    return np.asarray(sums / counts[:, np.newaxis], dtype=np.float64)


def condition_mcal_per_day(group: Group, settings: Settings, weighed_on: float) -> float:
    """Return the energy to feed each day so that cows reach a wanted condition [Mcal/d].

    Net energy for maintenance; negative when condition may be lost, of which a unit replaces 0.80
    of feed; 0 when none is wanted. ``group``: cows, with the condition now, the one wanted, and its
    day. ``weighed_on``: the day of their weight and condition, as an ordinal. Raises ``OutOfRange``
    if a score lies outside 1 to 9 or the day is not after the day of weighing.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; efficiencies from memory.

    >>> from datetime import date
    >>> from rickyard.stock.beef.defaults import settings_of
    >>> cows = Group("g1", "Cows", AnimalClass.COW, 40, 500.0, weight_is_shrunk=True,
    ...     condition_score=4.0, target_condition_score=5.0, target_on=date(2027, 3, 1))
    >>> start = float(date(2026, 12, 1).toordinal())
    >>> round(condition_mcal_per_day(cows, settings_of(cows), start), 2)
    2.48
    """
    now, wanted = group.condition_score, group.target_condition_score
    if now is None or wanted is None or group.target_on is None:
        return 0.0
    days = group.target_on.toordinal() - weighed_on
    above_zero("The day of a target condition must lie after the day of weighing.", days)
    at_five = settings.shrunk_weight_kg / float(relative_weight(now))
    energy = float(energy_between_scores_mcal(at_five, now, wanted))
    return max(energy, TISSUE_EFFICIENCY * energy) / days


def _row(group: Group, settings: Settings, weighed_on: float) -> dict[str, Any]:
    stated = stated_gain_kg(group, settings, weighed_on)
    if stated is None or group.animal_class is AnimalClass.COW:
        stated = np.nan
    cow = group.animal_class in COWS
    heifer = group.animal_class in HEIFERS_IN_CALF
    dates = (group.calving_on, group.weaning_on, group.breeding_on) if cow else (None, None, None)
    calving, interval, weaned, weaned_before = Breeding.year(
        *dates, GESTATION_DAYS, WEANING_DAYS, first=heifer
    )
    before, after = 0.0, 0.0
    if heifer:
        weight = settings.shrunk_weight_kg
        mature = settings.final_shrunk_weight_kg or weight
        before, after = stage_gains_kg(weight, mature, weighed_on, calving, interval, stated)
    mud = group.mud or Mud.CLEAN
    return {
        "shrunk_weight_kg": settings.shrunk_weight_kg,
        "weighed_on": weighed_on,
        "stated_gain_kg": stated,
        "gain_before_calving_kg": before,
        "gain_after_calving_kg": after,
        "final_shrunk_weight_kg": _or_nan(settings.final_shrunk_weight_kg),
        "age_months": _or_nan(group.age_months),
        "calving_on": calving,
        "interval": interval,
        "weaned_after": weaned,
        "before_weaned_on": weaned_before,
        "is_cow": cow,
        "is_heifer": heifer,
        "is_breeding_bull": group.animal_class is AnimalClass.BULL and not stated > 0.0,
        "intact_male": settings.intact_male,
        "breed_factor": settings.breed_factor,
        "activity_factor": settings.activity_factor,
        "heat_factor": heat_factor(group.panting or Panting.NONE),
        "peak_milk_kg": settings.peak_milk_kg,
        "birth_weight_kg": settings.birth_weight_kg,
        "first_birth_weight_kg": settings.first_birth_weight_kg,
        "condition_score": group.condition_score or MODERATE_SCORE,
        "condition_mcal": condition_mcal_per_day(group, settings, weighed_on),
        "condition_until": -np.inf if group.target_on is None else group.target_on.toordinal(),
        "critical_c": critical_temperature_c(group.coat or USUAL_COAT),
        "hair_cm": HAIR_CM[group.coat or USUAL_COAT],
        "hide_factor": HIDE_FACTOR[group.hide or Hide.AVERAGE],
        "mud_left": MUD_FACTOR[mud],
        "mud_adds": 0.0 if mud is Mud.CLEAN else MUD_ADDS,
        "windbreak": group.windbreak,
        "appetite_factor": mud_factor(group.mud_depth_cm or 0.0),
    }


def _or_nan(value: float | None) -> float:
    return np.nan if value is None else value
