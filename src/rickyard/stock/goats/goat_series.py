"""Goats through the season: upkeep, the last weeks of pregnancy, milk and growth."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.farm import AnimalClass, Group
from rickyard.quantities import Numeric
from rickyard.stock.common import (
    GESTATION_DAYS,
    Asked,
    Births,
    NeedArrays,
    NeedSeries,
    practice,
)
from rickyard.stock.goats.goat import ACTIVITY, EDITION, LATE_PREGNANCY_DAYS, goat_1981
from rickyard.stock.sheep import LATE_SPLIT_PCT, raise_calcium_of_twins
from rickyard.types import BoolArray, FloatArray

#: Weaning and the kids of a doe: common practice.
KIDDING: Final = Births("kid", "doe", "kidding", GESTATION_DAYS["goat"], 90)
YOUNG_PER_DOE: Final = 1.8

#: Milk of a doe with one kid and with two, in the first eight weeks, and the share of it
#: later. Common practice, no published source.
MILK_SINGLE_KG: Final = 1.5
MILK_TWIN_KG: Final = 2.2
EARLY_MILK_DAYS: Final = 56
LATER_MILK_FRAC: Final = 2.0 / 3.0

#: Walking on small pastures where hay is fed; bucks at breeding. Common practice.
ACTIVITY_USUAL: Final = ACTIVITY["light"]
ACTIVITY_RUT: Final = ACTIVITY["medium"]
RUT_DAYS: Final = 42

KID_GAIN_KG: Final = 0.1  # common practice
MOST_KID_KG: Final = 110.0


def goat_needs(asked: Asked) -> NeedSeries:
    """Return what one head of a group of goats needs on each day.

    Source: NRC (1981), Nutrient Requirements of Goats, No. 15.

    Parameters
    ----------
    asked : Asked
        Does, kids or bucks. ``calving_on`` is the day of kidding; a peak of milk makes the does
        dairy does.

    Returns
    -------
    NeedSeries
        Needs per head and day, energy as TDN.

    Examples
    --------
    >>> from datetime import date
    >>> does = Group("d", "Does", AnimalClass.DOE, 30, 60.0, calving_on=date(2027, 3, 1))
    >>> needs = goat_needs(Asked.of(does, [date(2026, 12, 1), date(2027, 2, 20)]))
    >>> needs.tdn_kg.round(2).tolist()
    [0.76, 1.15]
    """
    tell = {AnimalClass.KID: _kid, AnimalClass.BUCK: _buck}.get(asked.group.animal_class, _doe)
    told = tell(asked)
    told.limit_copper("goat")
    return told.series()


def _told(
    asked: Asked,
    weight: FloatArray,
    activity: Numeric,
    *,
    late: Numeric = False,
    gain: Numeric = 0.0,
    milk: Numeric = 0.0,
) -> NeedArrays:
    told = NeedArrays(asked, weight, EDITION, milk_kg=milk, gain_kg=gain)
    need = goat_1981(
        weight,
        activity_factor=activity,
        late_pregnancy=late,
        gain_g=1000.0 * np.asarray(gain),
        milk_kg=milk,
    )
    told.add(need)
    if asked.group.activity_factor is None:
        told.assumptions.append(
            practice(f"Walking about raises the upkeep of goats by a factor of {ACTIVITY_USUAL:g}.")
        )
    return told


def _activity(group: Group) -> float:
    return ACTIVITY_USUAL if group.activity_factor is None else group.activity_factor


def _doe(asked: Asked) -> NeedArrays:
    group, year = asked.group, asked.year(KIDDING)
    young = asked.young(YOUNG_PER_DOE)
    late = year.pregnant & (year.days_to_birth <= LATE_PREGNANCY_DAYS)
    first = year.nursing & (year.days_since_birth < EARLY_MILK_DAYS)
    dairy = group.peak_milk_kg_per_day is not None
    peak = group.peak_milk_kg_per_day
    if peak is None:
        peak = MILK_SINGLE_KG + min(young - 1.0, 1.0) * (MILK_TWIN_KG - MILK_SINGLE_KG)
    milk = np.where(first, peak, np.where(year.nursing, LATER_MILK_FRAC * peak, 0.0))
    told = _told(asked, asked.weight(late.shape), _activity(group), late=late, milk=milk)
    told.cap(~(late | year.nursing), "goat_maintenance")
    told.cap(late & ~year.nursing, "doe_late_gestation")
    told.cap(year.nursing, "doe_lactation")
    told.stage = asked.stages(KIDDING)
    told.pregnant, told.nursing = year.pregnant, year.nursing
    if 100.0 * young >= LATE_SPLIT_PCT:
        # The printed cells of both stages of pregnancy are equal; milk is that of parlors.
        stages: list[tuple[BoolArray, str]] = [(year.pregnant & ~year.nursing, "early_gestation")]
        if dairy:
            stages += [(first, "early_lactation"), (year.nursing & ~first, "mid_lactation")]
        raise_calcium_of_twins(told, "goat", "Does", stages)
    said = f"{group.name} give {peak:.1f} kg of milk a day for eight weeks, then less."
    told.assumptions += asked.say_births(young, KIDDING, milk="" if dairy else said)
    return told


def _kid(asked: Asked) -> NeedArrays:
    group, wanted = asked.group, asked.wanted_gain_kg()
    pace = KID_GAIN_KG if wanted is None else wanted
    most = MOST_KID_KG if group.mature_weight_kg is None else group.mature_weight_kg
    weight, gain = asked.path(lambda _weight, _day: pace, most)
    told = _told(asked, weight[np.newaxis, :], _activity(group), gain=gain)
    told.cap(True, "lamb")
    told.stage = tuple("growing" if one > 0.0 else "holding weight" for one in gain)
    if wanted is None:
        told.assumptions.append(practice(f"{group.name} gain {KID_GAIN_KG:g} kg a day."))
    return told


def _buck(asked: Asked) -> NeedArrays:
    rut, usual = asked.near_breeding(RUT_DAYS), _activity(asked.group)
    told = _told(asked, asked.weight(), np.where(rut, max(ACTIVITY_RUT, usual), usual))
    told.cap(True, "goat_maintenance")
    told.stage = tuple("breeding" if one else "holding weight" for one in rut[0])
    return told
