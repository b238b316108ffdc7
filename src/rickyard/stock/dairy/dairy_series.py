"""Dairy heifers and dry cows through the season."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Final

import numpy as np

from rickyard.evidence import MEMORY, PRACTICE
from rickyard.farm import AnimalClass, Assumption, Group
from rickyard.quantities import KG_PER_LB
from rickyard.stock.common import (
    GESTATION_DAYS,
    Conditions,
    NeedArrays,
    NeedSeries,
    mean_mother,
    mothers,
    ordinals,
    practice,
    series_of,
    stage_words,
    steady_weight,
    wanted_gain_kg,
    weighing_day,
    weight_path,
)
from rickyard.stock.dairy.dairy import (
    CLOSE_UP_DAYS,
    DM_PCT_BW,
    EDITION,
    EDITION_2001,
    MOST_K_PCT_BEFORE_CALVING,
    dairy_1989,
    dairy_shares,
    heifer_class,
    predicted_dm_kg,
)
from rickyard.types import FloatArray, IntArray

GESTATION: Final = GESTATION_DAYS["cattle"]
DAYS_PER_MONTH: Final = 30.4
#: A cow in milk is not told here; her calf is no reason to count her as nursing.
WEANING_DAYS: Final = 0

#: Gain of Holstein heifers after weaning, about 1.7 lb a day (Virginia Tech material, seen).
HEIFER_GAIN_KG: Final = 1.7 * KG_PER_LB
MOST_HEIFER_KG: Final = 700.0

#: Dry matter of dry cows, between the ends of the range. Common practice.
DRY_COW_PCT_BW: Final = 2.0


def missing_dairy_inputs(group: Group) -> tuple[str, ...]:
    """Return the fields of a group of dairy stock that are needed and not given.

    Parameters
    ----------
    group : Group
        The group.

    Returns
    -------
    tuple of str
        Names of fields of ``Group``.

    Examples
    --------
    >>> missing_dairy_inputs(Group("h", "Heifers", AnimalClass.DAIRY_HEIFER, 12, 250.0))
    ('age_months',)
    """
    if group.animal_class is AnimalClass.DAIRY_HEIFER and group.age_months is None:
        return ("age_months",)
    return ()


def dairy_needs(group: Group, days: Sequence[date], conditions: Conditions) -> NeedSeries:
    """Return what one head of a group of dairy heifers or dry cows needs on each day.

    Parameters
    ----------
    group : Group
        Heifers by age, or dry cows; a cow is dry until she calves.
    days : sequence of date, length T
        The days asked for.
    conditions : Conditions
        What the days are like.

    Returns
    -------
    NeedSeries
        Needs per head and day, energy as TDN: shares of the dry matter they are predicted to
        eat.

    References
    ----------
    .. [1] NRC (1989), Nutrient Requirements of Dairy Cattle, 6th rev. ed.; from memory.

    Examples
    --------
    >>> cows = Group("d", "Dry cows", AnimalClass.DRY_DAIRY_COW, 12, 650.0)
    >>> dairy_needs(cows, [date(2027, 1, 1)], Conditions()).tdn_kg.round(2).tolist()
    [7.28]
    """
    asked = ordinals(days)
    if group.animal_class is AnimalClass.DRY_DAIRY_COW:
        return series_of(group, asked, _dry_cow(group, asked))
    return series_of(group, asked, _heifer(group, asked, weighing_day(group, days, conditions)))


def _told(
    classes: Sequence[str], weight: FloatArray, dm: FloatArray, stage: Sequence[str]
) -> NeedArrays:
    """Return needs of one animal by the class of each day, all arrays of shape (1, T)."""
    values = {name: np.zeros(weight.shape) for name in ("tdn_kg", "me_mcal", "cp_g", "ca_g", "p_g")}
    for one in dict.fromkeys(classes):
        where = np.array([[word == one for word in classes]])
        need = dairy_1989(one, dm[where])
        for name, array in values.items():
            array[where] = getattr(need, name)
    none, nothing = np.zeros(weight.shape, dtype=np.bool_), np.zeros(weight.shape)
    return NeedArrays(
        energy_basis="tdn",
        edition=EDITION,
        evidence=MEMORY,
        weight_kg=weight,
        energy_mcal=values["me_mcal"],
        tdn_kg=values["tdn_kg"],
        cp_g=values["cp_g"],
        ca_g=values["ca_g"],
        p_g=values["p_g"],
        dm_kg=dm,
        most_dm_kg=np.maximum(DM_PCT_BW[1] / 100.0 * weight, dm),
        least_dm_kg=np.full(weight.shape, np.nan),
        milk_kg=nothing,
        gain_kg=nothing,
        pregnant=none,
        nursing=none,
        stage=stage,
        assumptions=[
            Assumption("Dairy stock is fed shares of its dry matter.", f"{EDITION}; from memory")
        ],
    )


def _heifer(group: Group, asked: IntArray, start: int) -> NeedArrays:
    wanted, assumed = wanted_gain_kg(group, start, HEIFER_GAIN_KG)
    most = MOST_HEIFER_KG if group.mature_weight_kg is None else group.mature_weight_kg
    weight, gain = weight_path(group.weight_kg, start, asked, lambda _weight, _day: wanted, most)
    months = (group.age_months or 0.0) + (asked - start) / DAYS_PER_MONTH
    classes = [heifer_class(float(one)) for one in months]
    density = np.array([dairy_shares(one).me_mcal_per_kg for one in classes])
    dm = np.asarray(predicted_dm_kg(weight, density))
    year = mothers(group, asked, GESTATION, WEANING_DAYS)
    stage = [f"growing, {one:.0f} months old" for one in months]
    told = _told(classes, weight[np.newaxis, :], dm[np.newaxis, :], stage)
    told.gain_kg = gain[np.newaxis, :]
    told.pregnant = np.any(year.pregnant, axis=0, keepdims=True)
    told.assumptions.append(
        Assumption("Dairy heifers eat by the equation of 2001.", f"{EDITION_2001}; from memory")
    )
    if assumed:
        told.assumptions.append(
            Assumption(
                f"{group.name} gain 1.7 lb ({HEIFER_GAIN_KG:.2f} kg) a day, as Holsteins do.",
                "Virginia Tech material",
            )
        )
    return told


def _dry_cow(group: Group, asked: IntArray) -> NeedArrays:
    year = mean_mother(group, asked, GESTATION, WEANING_DAYS)
    weight = steady_weight(group, (1, len(asked)))
    dm = DRY_COW_PCT_BW / 100.0 * weight
    stage = stage_words(year, "calving", "dry")
    calved = year.births[0] > 0.0
    stage = tuple(
        "calved: no longer dry" if gone else words
        for gone, words in zip(calved, stage, strict=True)
    )
    told = _told(["dry_cow"] * len(asked), weight, dm, stage)
    told.pregnant = year.pregnant | np.isinf(year.days_to_birth)
    told.evidence = PRACTICE
    told.assumptions.append(practice(f"Dry cows eat {DRY_COW_PCT_BW:g}% of their weight."))
    if np.any(calved):
        told.assumptions.append(
            practice(
                f"{group.name} are counted as dry after calving too: take them out of the group "
                "on that day, as the needs of milking dairy cows are not worked out here."
            )
        )
    if np.any((year.days_to_birth <= CLOSE_UP_DAYS) & ~calved):
        told.most["k_pct"] = MOST_K_PCT_BEFORE_CALVING
    return told
