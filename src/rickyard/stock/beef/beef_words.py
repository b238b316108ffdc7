"""What is told about a group of beef cattle in words: its stage, and what is taken for granted."""

from __future__ import annotations

import numpy as np

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import AnimalClass, Assumption, ColdRule, Group
from rickyard.stock.beef.defaults import (
    COWS,
    GESTATION_DAYS,
    HEIFERS_IN_CALF,
    SAID,
    WEANING_DAYS,
    milk_assumptions,
    pregnancy_assumptions,
    settings_of,
)
from rickyard.stock.beef.gain_path import gain_assumptions, stated_gain_kg
from rickyard.stock.beef.herd_parts import Herd
from rickyard.stock.cold import CHARTS, MOST_WIND_KM_PER_H
from rickyard.stock.cold import LEAST_TEMPERATURE_C as COLDEST_C
from rickyard.stock.common import YEAR_DAYS, Asked, Conditions, Cycle
from rickyard.stock.equations import LEAST_TEMPERATURE_C, MOST_TEMPERATURE_C
from rickyard.types import FloatArray


def beef_stages(
    group: Group, cycle: Cycle, gain_kg: FloatArray, nursing_share: FloatArray
) -> tuple[str, ...]:
    """Return the stage of a group on each day in words.

    ``cycle`` is that of its middle animal, whose weeks and days are told of a spread group.
    """
    idle = "dry, not pregnant" if group.animal_class in COWS else "holding weight"
    words = cycle.stages("calving", ["growing" if one > 0.0 else idle for one in gain_kg])
    return tuple(
        f"calving, {100 * share:.0f}% nursing" if 0.0 < share < 1.0 else stage
        for stage, share in zip(words, nursing_share.tolist(), strict=True)
    )


def beef_assumptions(asked: Asked, herd: Herd, cycle: Cycle) -> tuple[Assumption, ...]:
    """Return what is taken for granted about the needs of a group.

    ``cycle``: where those rows stand in their breeding year, shape (rows, T).
    """
    group, conditions = asked.group, asked.conditions
    settings = settings_of(group)
    first = float(herd.weighed_on[0])
    stated = stated_gain_kg(group, settings, first)
    hidden = SAID["condition"] if conditions.maintenance_by_condition else None
    since = (first - herd.calving_on[0]) / herd.interval[0]
    at_start = max(float(np.floor(since)) + 1.0, 0.0) if np.isfinite(since) else 0.0
    return (
        *(one for one in settings.assumptions if one is not hidden),
        *((SAID["condition_counted"],) if hidden is not None else ()),
        *gain_assumptions(
            group, stated, asked.days, cycle.births[len(cycle.births) // 2], at_start
        ),
        *_condition_assumptions(group),
        *_month_assumptions(conditions),
        *_cold_assumptions(group, conditions),
        *_cycle_assumptions(group, cycle),
        *_intake_assumptions(group, conditions, cycle),
    )


def _condition_assumptions(group: Group) -> tuple[Assumption, ...]:
    if group.target_condition_score is None or group.condition_score is None:
        return ()
    if group.target_condition_score > group.condition_score:
        return (SAID["condition_gained"],)
    return (SAID["condition_lost"],)


def _month_assumptions(conditions: Conditions) -> tuple[Assumption, ...]:
    given = conditions.previous_month_temperature_c
    if given is None and not conditions.acclimatise:
        return (SAID["no_weather"],)
    if given is None:
        return (SAID["weather_held"],)
    values = np.asarray(given, dtype=np.float64)
    outside = (values < LEAST_TEMPERATURE_C) | (values > MOST_TEMPERATURE_C)
    return (SAID["weather_held"],) if np.any(outside) else ()


def _cold_assumptions(group: Group, conditions: Conditions) -> tuple[Assumption, ...]:
    weather = conditions.weather
    said: tuple[Assumption, ...] = ()
    if conditions.intake_by_weather:
        said += (SAID["intake_by_weather"],)
    if conditions.cold_rule is ColdRule.NONE:
        return said
    if weather is None:
        return (*said, SAID["cold_without_weather"])
    said += weather.assumptions
    if conditions.cold_rule is ColdRule.PERCENT:
        chart = CHARTS[conditions.wind_chill]
        told = f"Wind is counted by this chart: {chart.partition(',')[0]}."
        said += (SAID["cold_by_percent"], Assumption(told, chart))
    else:
        said += (SAID["cold_by_factors"],)
    said += (SAID["storm"], SAID["wet_coat"])
    if group.coat is None:
        said += (SAID["coat"],)
    if not np.all(weather.daily):
        said += (SAID["normals_hide_cold"],)
    if np.any(np.isnan(weather.temperature_c)):
        said += (SAID["no_temperature"],)
    if np.any(np.isnan(weather.wind_km_per_h)) and not group.windbreak:
        said += (SAID["no_wind"],)
    wind = np.nan_to_num(weather.wind_km_per_h)
    cold = np.nan_to_num(weather.temperature_c)
    beyond = np.any(wind > MOST_WIND_KM_PER_H) or np.any(cold < COLDEST_C)
    if conditions.cold_rule is ColdRule.FACTORIAL and beyond:
        said += (SAID["cold_beyond_method"],)
    return said


def _cycle_assumptions(group: Group, cycle: Cycle) -> tuple[Assumption, ...]:
    if group.animal_class not in COWS:
        return ()
    if group.calving_on is None and group.breeding_on is None:
        sentence = f"{group.name}: no calving or breeding date, so counted open and dry."
        return (Assumption(sentence, COMMON_PRACTICE),)
    said: list[Assumption] = []
    if group.calving_spread_days:
        said.append(SAID["calving_spread"])
    if np.any(cycle.pregnant):
        said.extend(pregnancy_assumptions(group))
    if np.any(cycle.nursing):
        said.extend(milk_assumptions(group))
    if np.any(cycle.births > 0) and not _bred_after_calving(group):
        said.append(SAID["rebreeding"])
    if _calf_before_unknown(group, cycle):
        said.append(SAID["weaned_before"])
    return tuple(said)


def _bred_after_calving(group: Group) -> bool:
    if group.calving_on is None or group.breeding_on is None:
        return False
    return group.breeding_on > group.calving_on


def _calf_before_unknown(group: Group, cycle: Cycle) -> bool:
    """Return whether a calf of the year before may nurse on a day and no weaning is given."""
    if group.animal_class is not AnimalClass.COW or group.weaning_on is not None:
        return False
    may_nurse = cycle.days_to_birth > YEAR_DAYS - WEANING_DAYS
    return bool(np.any((cycle.births == 0) & may_nurse & (cycle.days_to_birth <= YEAR_DAYS)))


def _intake_assumptions(
    group: Group, conditions: Conditions, cycle: Cycle
) -> tuple[Assumption, ...]:
    heifers = group.animal_class in HEIFERS_IN_CALF
    late = cycle.day_pregnant > GESTATION_DAYS / 3.0
    measured = (cycle.nursing | late) & (not heifers or cycle.births > 0.0)
    applies = conditions.calibrated and group.animal_class in COWS and bool(np.any(measured))
    said = (SAID["calibrated"],) if applies else ()
    return (*said, SAID["heifer_intake"]) if heifers else said
