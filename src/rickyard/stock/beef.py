"""Beef cattle through the season: who they are on each day, and what one head needs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rickyard.farm import AnimalClass, Assumption, Group
from rickyard.stock import defaults
from rickyard.stock.by_month import DAYS_PER_MONTH
from rickyard.stock.cycle import GESTATION_DAYS, REBREEDING_DAYS, WEANING_DAYS, Cycle
from rickyard.stock.defaults import COWS, GROWERS, HEIFERS_IN_CALF, Settings, settings_of
from rickyard.stock.gain_path import GainPath, cycle_of, gain_path
from rickyard.stock.growth import mp_gain_g, net_protein_gain_g, retained_energy_mcal
from rickyard.stock.intake import CALF_MONTHS, calibration
from rickyard.stock.lactation import (
    FIRST_CALF_PEAK_FACTOR,
    SECOND_CALF_PEAK_FACTOR,
    milk_kg,
    mp_lactation_g,
    nem_lactation_mcal,
)
from rickyard.stock.maintenance import (
    LEAST_TEMPERATURE_C,
    MOST_TEMPERATURE_C,
    THERMONEUTRAL_C,
    nem_maintenance_mcal,
)
from rickyard.stock.minerals import FETAL_DAYS, calcium_g, phosphorus_g
from rickyard.stock.pregnancy import mp_pregnancy_g, nem_pregnancy_mcal
from rickyard.stock.protein import cp_kg_from_mp, mp_maintenance_g
from rickyard.stock.series import Conditions, FloatArray, NeedSeries
from rickyard.stock.weights import full_from_shrunk_kg, size_scaled_weight_kg


def missing_beef_inputs(group: Group) -> tuple[str, ...]:
    """Return the fields of a group that its class needs and that are not given.

    Parameters
    ----------
    group : Group
        The group.

    Returns
    -------
    tuple of str
        Names of fields of ``Group``; empty when its needs can be computed.

    Notes
    -----
    A cow needs none: without a calving and a breeding date she counts as open and dry.

    Examples
    --------
    >>> missing_beef_inputs(Group("g1", "Steers", AnimalClass.STOCKER, head=40, weight_kg=250.0))
    ('finish_weight_kg', 'age_months', 'gain_kg_per_day')
    """
    needed: list[str] = []
    kind = group.animal_class
    has_gain = group.gain_kg_per_day is not None
    has_target = group.target_weight_kg is not None
    if kind is AnimalClass.STOCKER:
        needed.append("finish_weight_kg")
    grows = kind is AnimalClass.BULL and (has_gain or has_target)
    if kind in HEIFERS_IN_CALF or kind is AnimalClass.REPLACEMENT_HEIFER or grows:
        needed.append("mature_weight_kg")
    if kind in HEIFERS_IN_CALF and group.breeding_on is None:
        needed.append("calving_on")
    if kind in GROWERS:
        needed.append("age_months")
        if not has_target:
            needed.append("gain_kg_per_day")
    if has_target and not has_gain and kind is not AnimalClass.COW:
        needed.append("target_on")
    return tuple(name for name in needed if getattr(group, name) is None)


def beef_needs(group: Group, days: Sequence[date], conditions: Conditions) -> NeedSeries:
    """Return what one head of a group of beef cattle needs on each day.

    Parameters
    ----------
    group : Group
        The group. Its weight and age are those of ``conditions.weighed_on``.
    days : sequence of date, length T
        The days asked for.
    conditions : Conditions
        What the days are like.

    Returns
    -------
    NeedSeries
        Needs per head and day.

    Raises
    ------
    OutOfRange
        If a wanted gain is negative or a weight lies outside 50 to 1100 kg.

    References
    ----------
    .. [1] NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Examples
    --------
    >>> cows = Group("g1", "Cows", AnimalClass.COW, 40, 555.0, calving_on=date(2027, 3, 1))
    >>> beef_needs(cows, [date(2027, 4, 1)], Conditions()).nem_mcal.round(1).tolist()
    [16.1]
    """
    asked = np.array([day.toordinal() for day in days], dtype=np.int64)
    settings = settings_of(group)
    cycle = cycle_of(group, asked)
    start = _weighing_day(group, days, conditions.weighed_on)
    path = gain_path(group, settings, start, asked)
    given = conditions.previous_month_temperature_c
    weather = _temperature_c(given, asked.shape)
    rule = _intake_rules(group, cycle, asked - start)
    factor = _intake_factor(group, cycle, rule, calibrated=conditions.calibrated)
    said = (
        settings.assumptions
        + path.assumptions
        + _weather_assumptions(given)
        + _cycle_assumptions(group, cycle)
        + _intake_assumptions(group, factor)
    )
    return _series(group, settings, asked, cycle, path, weather, rule, factor, said)


def _series(
    group: Group,
    settings: Settings,
    asked: NDArray[np.int64],
    cycle: Cycle,
    path: GainPath,
    weather: FloatArray,
    rule: tuple[str, ...],
    factor: FloatArray,
    said: tuple[Assumption, ...],
) -> NeedSeries:
    weight, gain = path.shrunk_weight_kg, path.gain_kg
    scaled = size_scaled_weight_kg(weight, settings.final_shrunk_weight_kg or weight)
    milk = _milk_kg(group, settings, cycle)
    birth_weight = _birth_weight_kg(group, settings, cycle)
    maintenance = nem_maintenance_mcal(
        weight,
        lactating=cycle.nursing,
        intact_male=settings.intact_male,
        breed_factor=settings.breed_factor,
        previous_month_temperature_c=weather,
        activity_factor=settings.activity_factor,
    )
    lactation = nem_lactation_mcal(milk)
    pregnancy = nem_pregnancy_mcal(cycle.day_pregnant, birth_weight)
    mp = mp_maintenance_g(weight) + mp_gain_g(gain, scaled) + mp_lactation_g(milk)
    mp = mp + mp_pregnancy_g(cycle.day_pregnant, birth_weight)
    protein_gain = net_protein_gain_g(gain, scaled)
    last_90_days = cycle.pregnant & (cycle.days_to_calving <= FETAL_DAYS)
    calcium, phosphorus = (
        need_g(
            weight,
            net_protein_gain_g=protein_gain,
            milk_kg=milk,
            birth_weight_kg=birth_weight,
            last_90_days=last_90_days,
        )
        for need_g in (calcium_g, phosphorus_g)
    )
    first = -np.inf if group.from_on is None else group.from_on.toordinal()
    last = np.inf if group.to_on is None else group.to_on.toordinal()
    return NeedSeries(
        stage=_stages(group, cycle, gain),
        present=(asked >= first) & (asked < last),
        shrunk_weight_kg=weight,
        full_weight_kg=full_from_shrunk_kg(weight),
        milk_kg=milk,
        nem_maintenance_mcal=maintenance,
        nem_lactation_mcal=lactation,
        nem_pregnancy_mcal=pregnancy,
        nem_mcal=maintenance + lactation + pregnancy,
        gain_kg=gain,
        retained_energy_mcal=retained_energy_mcal(gain, scaled),
        mp_g=mp,
        cp_kg=cp_kg_from_mp(mp),
        ca_kg=calcium / 1000.0,
        p_kg=phosphorus / 1000.0,
        intake_rule=rule,
        intake_factor=factor,
        pregnant=cycle.pregnant,
        lactating=cycle.nursing,
        assumptions=said,
    )


def _weighing_day(group: Group, days: Sequence[date], weighed_on: date | None) -> int:
    weighed = (weighed_on or days[0]).toordinal()
    return weighed if group.from_on is None else max(weighed, group.from_on.toordinal())


def _temperature_c(given: ArrayLike | None, shape: tuple[int, ...]) -> FloatArray:
    values = THERMONEUTRAL_C if given is None else given
    return np.broadcast_to(np.asarray(values, dtype=np.float64), shape)


def _milk_kg(group: Group, settings: Settings, cycle: Cycle) -> FloatArray:
    peak = np.full(cycle.nursing.shape, settings.peak_milk_kg)
    if group.animal_class in HEIFERS_IN_CALF:
        peak *= np.select(
            [cycle.calvings <= 1, cycle.calvings == 2],
            [FIRST_CALF_PEAK_FACTOR, SECOND_CALF_PEAK_FACTOR],
            1.0,
        )
    week = np.where(cycle.nursing, cycle.days_since_calving, 0) / 7.0
    return np.asarray(milk_kg(week, peak))


def _birth_weight_kg(group: Group, settings: Settings, cycle: Cycle) -> FloatArray:
    first = (cycle.calvings == 0) & (group.animal_class in HEIFERS_IN_CALF)
    return np.where(first, settings.first_birth_weight_kg, settings.birth_weight_kg)


def _intake_rules(group: Group, cycle: Cycle, age_days: NDArray[np.int64]) -> tuple[str, ...]:
    if group.animal_class in COWS:
        late = cycle.day_pregnant > GESTATION_DAYS / 3.0
        return tuple("cow_late" if is_late else "cow_early" for is_late in late)
    if group.age_months is None:
        return ("yearling",) * len(age_days)
    age = group.age_months + age_days / DAYS_PER_MONTH
    return tuple("calf" if months < CALF_MONTHS else "yearling" for months in age)


def _intake_factor(
    group: Group, cycle: Cycle, rule: tuple[str, ...], *, calibrated: bool
) -> FloatArray:
    late = np.array([one == "cow_late" for one in rule], dtype=np.bool_)
    measured = np.asarray(calibration(pregnant=cycle.pregnant, lactating=cycle.nursing, late=late))
    # What was measured are cows, so a heifer counts from her first calving.
    applies = calibrated & ((group.animal_class is AnimalClass.COW) | (cycle.calvings > 0))
    return np.where(applies, measured, 1.0)


def _stages(group: Group, cycle: Cycle, gain: FloatArray) -> tuple[str, ...]:
    idle = "dry, not pregnant" if group.animal_class in COWS else "holding weight"
    stages = []
    for index, nursing in enumerate(cycle.nursing):
        if nursing:
            stages.append(f"nursing, week {cycle.days_since_calving[index] // 7 + 1}")
        elif cycle.pregnant[index]:
            left = cycle.days_to_calving[index]
            stages.append(f"pregnant, {left} day{'' if left == 1 else 's'} to calving")
        else:
            stages.append("growing" if gain[index] > 0.0 else idle)
    return tuple(stages)


def _weather_assumptions(given: ArrayLike | None) -> tuple[Assumption, ...]:
    if given is None:
        return (defaults.NO_WEATHER,)
    values = np.asarray(given, dtype=np.float64)
    outside = (values < LEAST_TEMPERATURE_C) | (values > MOST_TEMPERATURE_C)
    return (defaults.WEATHER_HELD,) if np.any(outside) else ()


def _cycle_assumptions(group: Group, cycle: Cycle) -> tuple[Assumption, ...]:
    if group.animal_class not in COWS:
        return ()
    if group.calving_on is None and group.breeding_on is None:
        sentence = f"{group.name}: no calving or breeding date, so counted open and dry."
        return (Assumption(sentence, defaults.PRACTICE),)
    said: list[Assumption] = []
    if np.any(cycle.pregnant):
        said.extend(defaults.pregnancy_assumptions(group))
    if np.any(cycle.nursing):
        said.extend(defaults.milk_assumptions(group))
    if np.any(cycle.calvings > 0) and not _bred_after_calving(group):
        said.append(defaults.REBREEDING)
    if _calf_before_unknown(group, cycle):
        said.append(defaults.WEANED_BEFORE)
    return tuple(said)


def _bred_after_calving(group: Group) -> bool:
    if group.calving_on is None or group.breeding_on is None:
        return False
    return group.breeding_on > group.calving_on


def _calf_before_unknown(group: Group, cycle: Cycle) -> bool:
    """Return whether a calf of the year before may nurse on a day and no weaning is given."""
    if group.animal_class is not AnimalClass.COW or group.weaning_on is not None:
        return False
    year = REBREEDING_DAYS + GESTATION_DAYS
    may_nurse = cycle.days_to_calving > year - WEANING_DAYS
    return bool(np.any((cycle.calvings == 0) & may_nurse & (cycle.days_to_calving <= year)))


def _intake_assumptions(group: Group, factor: FloatArray) -> tuple[Assumption, ...]:
    said = (defaults.CALIBRATED,) if np.any(factor != 1.0) else ()
    heifers = group.animal_class in HEIFERS_IN_CALF
    return (*said, defaults.HEIFER_INTAKE) if heifers else said
