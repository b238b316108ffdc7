"""Goats through the season: upkeep, the last weeks of pregnancy, milk and growth."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import AnimalClass, Group
from rickyard.quantities import Numeric
from rickyard.stock.common import (
    GESTATION_DAYS,
    BirthWords,
    BoolArray,
    Conditions,
    FloatArray,
    Mothers,
    NeedArrays,
    NeedSeries,
    check_young,
    find_row,
    mean_mother,
    mothers,
    ordinals,
    practice,
    say_births,
    series_of,
    stage_words,
    steady_weight,
    wanted_gain_kg,
    weighing_day,
    weight_path,
)
from rickyard.stock.goats.goat import ACTIVITY, EDITION, LATE_PREGNANCY_DAYS, goat_1981
from rickyard.stock.sheep import LATE_SPLIT_PCT, raise_calcium_of_twins

GESTATION: Final = GESTATION_DAYS["goat"]
WEANING_DAYS: Final = 90  # common practice
YOUNG_PER_DOE: Final = 1.8  # common practice

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

SAFE_COPPER_PPM: Final = float(find_row("copper", animal="goat", kind="safe_upper")["high_ppm"])


def missing_goat_inputs(group: Group) -> tuple[str, ...]:
    """Return the fields of a group of goats that are needed and not given.

    Examples
    --------
    >>> missing_goat_inputs(Group("d", "Does", AnimalClass.DOE, 10, 60.0))
    ()
    """
    half = group.target_weight_kg is not None and group.gain_kg_per_day is None
    return ("target_on",) if half and group.target_on is None else ()


def goat_needs(group: Group, days: Sequence[date], conditions: Conditions) -> NeedSeries:
    """Return what one head of a group of goats needs on each day.

    Parameters
    ----------
    group : Group
        Does, kids or bucks. ``calving_on`` is the day of kidding; a peak of milk makes the does
        dairy does.
    days : sequence of date, length T
        The days asked for.
    conditions : Conditions
        What the days are like.

    Returns
    -------
    NeedSeries
        Needs per head and day, energy as TDN.

    References
    ----------
    .. [1] NRC (1981), Nutrient Requirements of Goats, No. 15.

    Examples
    --------
    >>> does = Group("d", "Does", AnimalClass.DOE, 30, 60.0, calving_on=date(2027, 3, 1))
    >>> needs = goat_needs(does, [date(2026, 12, 1), date(2027, 2, 20)], Conditions())
    >>> needs.tdn_kg.round(2).tolist()
    [0.76, 1.15]
    """
    asked = ordinals(days)
    start = weighing_day(group, days, conditions)
    if group.animal_class is AnimalClass.KID:
        told = _kid(group, asked, start)
    elif group.animal_class is AnimalClass.BUCK:
        told = _buck(group, asked)
    else:
        told = _doe(group, asked)
    told.most["cu_ppm"] = SAFE_COPPER_PPM
    return series_of(group, asked, told)


def _told(
    group: Group,
    weight: FloatArray,
    stage: tuple[str, ...],
    hay_pct_bw: Numeric,
    activity: Numeric,
    *,
    late: BoolArray | bool = False,
    gain: Numeric = 0.0,
    milk: Numeric = 0.0,
    mother: Mothers | None = None,
) -> NeedArrays:
    need = goat_1981(
        weight,
        activity_factor=activity,
        late_pregnancy=late,
        gain_g=1000.0 * np.asarray(gain),
        milk_kg=milk,
    )
    shape = weight.shape
    none = np.zeros(shape, dtype=np.bool_)
    told = NeedArrays(
        energy_basis="tdn",
        edition=EDITION,
        evidence=need.evidence,
        weight_kg=weight,
        energy_mcal=np.asarray(need.me_mcal),
        tdn_kg=np.asarray(need.tdn_kg),
        cp_g=np.asarray(need.cp_g),
        ca_g=np.asarray(need.ca_g),
        p_g=np.asarray(need.p_g),
        dm_kg=np.asarray(need.dm_kg),
        most_dm_kg=np.maximum(np.asarray(hay_pct_bw) / 100.0 * weight, need.dm_kg),
        least_dm_kg=np.full(shape, np.nan),
        milk_kg=np.broadcast_to(np.asarray(milk, dtype=np.float64), shape),
        gain_kg=np.broadcast_to(np.asarray(gain, dtype=np.float64), shape),
        pregnant=none if mother is None else mother.pregnant,
        nursing=none if mother is None else mother.nursing,
        stage=stage,
        more={
            "vitamin_a_iu": np.asarray(need.vitamin_a_iu),
            "vitamin_d_iu": np.asarray(need.vitamin_d_iu),
        },
    )
    told.assumptions += [practice(f"{group.name}: {flag}.") for flag in need.flags]
    if group.activity_factor is None:
        told.assumptions.append(
            practice(f"Walking about raises the upkeep of goats by a factor of {ACTIVITY_USUAL:g}.")
        )
    return told


def _activity(group: Group) -> float:
    return ACTIVITY_USUAL if group.activity_factor is None else group.activity_factor


def _doe(group: Group, asked: NDArray[np.int64]) -> NeedArrays:
    year = mothers(group, asked, GESTATION, WEANING_DAYS)
    weight = steady_weight(group, year.day_pregnant.shape)
    young = check_young(YOUNG_PER_DOE if group.young is None else group.young)
    late = year.pregnant & (year.days_to_birth <= LATE_PREGNANCY_DAYS)
    first = year.nursing & (year.days_since_birth < EARLY_MILK_DAYS)
    peak = group.peak_milk_kg_per_day
    if peak is None:
        peak = MILK_SINGLE_KG + min(young - 1.0, 1.0) * (MILK_TWIN_KG - MILK_SINGLE_KG)
    milk = np.where(first, peak, np.where(year.nursing, LATER_MILK_FRAC * peak, 0.0))
    rate = np.where(year.nursing, _rate("doe_lactation"), _rate("goat_maintenance"))
    rate = np.where(late & ~year.nursing, _rate("doe_late_gestation"), rate)
    stage = stage_words(mean_mother(group, asked, GESTATION, WEANING_DAYS), "kidding")
    told = _told(group, weight, stage, rate, _activity(group), late=late, milk=milk, mother=year)
    _calcium_of_twins(told, year, young, first, dairy=group.peak_milk_kg_per_day is not None)
    milk_said = f"{group.name} give {peak:.1f} kg of milk a day for eight weeks, then less."
    told.assumptions += say_births(
        group,
        young,
        BirthWords("kid", "doe", "kidding", GESTATION, WEANING_DAYS),
        milk=milk_said if group.peak_milk_kg_per_day is None else "",
    )
    return told


def _rate(hay_rate: str) -> float:
    return float(find_row("hay_rates", **{"class": hay_rate})["high_pct_bw"])


def _calcium_of_twins(
    told: NeedArrays, year: Mothers, young: float, first: BoolArray, *, dairy: bool
) -> None:
    """Raise calcium to the newer edition's, printed for parlor-milked does with twins."""
    if 100.0 * young < LATE_SPLIT_PCT:
        return
    dry = year.pregnant & ~year.nursing
    stages = [(dry, "early_gestation")]  # the printed cells of both stages of pregnancy are equal
    if dairy:
        stages += [(first, "early_lactation"), (year.nursing & ~first, "mid_lactation")]
    raise_calcium_of_twins(told, "goat", "Does", stages)


def _kid(group: Group, asked: NDArray[np.int64], start: int) -> NeedArrays:
    wanted, assumed = wanted_gain_kg(group, start, KID_GAIN_KG)
    most = MOST_KID_KG if group.mature_weight_kg is None else group.mature_weight_kg
    weight, gain = weight_path(group.weight_kg, start, asked, lambda _weight, _day: wanted, most)
    stage = tuple("growing" if one > 0.0 else "holding weight" for one in gain)
    told = _told(group, weight[np.newaxis, :], stage, _rate("lamb"), _activity(group), gain=gain)
    if assumed:
        told.assumptions.append(practice(f"{group.name} gain {KID_GAIN_KG:g} kg a day."))
    return told


def _buck(group: Group, asked: NDArray[np.int64]) -> NeedArrays:
    rut = np.zeros((1, len(asked)), dtype=np.bool_)
    if group.breeding_on is not None:
        rut = np.abs(asked - group.breeding_on.toordinal())[np.newaxis, :] <= RUT_DAYS
    activity = np.where(rut, max(ACTIVITY_RUT, _activity(group)), _activity(group))
    stage = tuple("breeding" if one else "holding weight" for one in rut[0])
    weight = steady_weight(group, rut.shape)
    return _told(group, weight, stage, _rate("goat_maintenance"), activity)
