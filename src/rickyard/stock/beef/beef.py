"""Beef cattle through the season: who they are on each day, and what one head needs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from datetime import date, timedelta
from types import MappingProxyType

import numpy as np

from rickyard.farm import AnimalClass, ColdRule, Group
from rickyard.quantities import OutOfRange
from rickyard.stock.beef.beef_batch import herd_needs
from rickyard.stock.beef.beef_words import beef_assumptions, beef_stages
from rickyard.stock.beef.breeds import with_breed
from rickyard.stock.beef.constituents import NAMES
from rickyard.stock.beef.cycle import Cycle, breeding_cycle
from rickyard.stock.beef.defaults import GROWERS, HEIFERS_IN_CALF, settings_of
from rickyard.stock.beef.herd_arrays import Choices, Days, Herd, HerdNeeds
from rickyard.stock.beef.herd_rows import herd_rows
from rickyard.stock.beef.intake_states import USUAL_HAY_NEM
from rickyard.stock.common import (
    BEEF_EVIDENCE,
    Conditions,
    NeedSeries,
    mean_by_group,
    previous_month_mean_c,
)
from rickyard.stock.equations import RULES, appetite_kg
from rickyard.stock.minerals import MINERALS_2016
from rickyard.types import BoolArray, FloatArray, IntArray


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
        The group. Its weight, condition and age are those of ``conditions.weighed_on``.
    days : sequence of date, length T
        The days asked for.
    conditions : Conditions
        What the days are like.

    Returns
    -------
    NeedSeries
        Needs per head and day; where calving is spread, means over the animals of the group.

    Raises
    ------
    OutOfRange
        If a wanted gain is negative, a weight lies outside 50 to 1100 kg, or the cold would be
        counted twice.

    References
    ----------
    .. [1] NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Examples
    --------
    >>> cows = Group("g1", "Cows", AnimalClass.COW, 40, 555.0, calving_on=date(2027, 3, 1))
    >>> beef_needs(cows, [date(2027, 4, 1)], Conditions()).nem_mcal.round(1).tolist()
    [16.1]
    """
    _refuse_cold_twice(conditions)
    group, by_breed = with_breed(group)
    start = _weighing_day(group, days, conditions.weighed_on)
    settings = settings_of(group)
    herd, counts = herd_rows([group], [settings], [float(start.toordinal())])
    span, places = _span(days, start, conditions)
    needs = herd_needs(
        herd,
        _days(span, conditions),
        Choices(
            conditions.calibrated,
            conditions.cold_rule,
            conditions.wind_chill,
            conditions.intake_by_weather,
            conditions.maintenance_by_condition,
        ),
    )
    series = _series(group, days, places, herd, counts, needs, conditions)
    return replace(series, assumptions=(*by_breed, *series.assumptions))


def _refuse_cold_twice(conditions: Conditions) -> None:
    months = conditions.acclimatise or conditions.previous_month_temperature_c is not None
    if months and conditions.cold_rule is ColdRule.PERCENT:
        raise OutOfRange(
            "A percentage per degree on top of acclimatisation to last month's temperature "
            "counts the cold twice: choose one of the two."
        )


def _weighing_day(group: Group, days: Sequence[date], weighed_on: date | None) -> date:
    weighed = weighed_on or days[0]
    return weighed if group.from_on is None else max(weighed, group.from_on)


def _span(
    days: Sequence[date], start: date, conditions: Conditions
) -> tuple[Sequence[date], IntArray]:
    """Return the days to compute and where the days asked for stand among them.

    Cold is carried over from day to day, so under a rule of cold every day from the weighing on
    is computed.
    """
    if conditions.cold_rule is ColdRule.NONE:
        return days, np.arange(len(days))
    first, last = min(start, *days), max(days)
    span = [first + timedelta(days=one) for one in range((last - first).days + 1)]
    return span, np.array([(day - first).days for day in days], dtype=np.int64)


def _days(span: Sequence[date], conditions: Conditions) -> Days:
    on = np.array([day.toordinal() for day in span], dtype=np.float64)
    nothing = np.full(on.shape, np.nan)
    before, weather = nothing, conditions.weather
    if conditions.previous_month_temperature_c is not None:
        given = np.asarray(conditions.previous_month_temperature_c, dtype=np.float64)
        before = np.broadcast_to(given, on.shape)
    elif conditions.acclimatise and weather is not None:
        before = previous_month_mean_c(weather, span)
    if weather is None:
        return Days(on, before, nothing, nothing, np.zeros(on.shape, dtype=np.bool_))
    at = weather.places(span)
    return Days(on, before, weather.temperature_c[at], weather.wind_km_per_h[at], weather.wet[at])


def _series(
    group: Group,
    days: Sequence[date],
    places: IntArray,
    herd: Herd,
    counts: IntArray,
    needs: HerdNeeds,
    conditions: Conditions,
) -> NeedSeries:
    means = {name: mean_by_group(rows, counts)[0, places] for name, rows in needs.values.items()}
    cycle = needs.cycle
    nursing = mean_by_group(cycle.nursing.astype(np.float64), counts)[0, places]
    pregnant = mean_by_group(cycle.pregnant.astype(np.float64), counts)[0, places]
    ordinals = np.array([day.toordinal() for day in days], dtype=np.int64)
    rule, factor = _one_appetite(herd, needs, means, places)
    middle = _middle_cycle(herd, ordinals)
    return NeedSeries(
        stage=beef_stages(group, middle, means["gain_kg"], nursing),
        present=_present(group, ordinals),
        **{name: means[name] for name in _SHARED},
        intake_rule=rule,
        intake_factor=factor,
        pregnant=pregnant > 0.0,
        lactating=nursing >= 0.5,
        assumptions=beef_assumptions(
            group, conditions, ordinals.astype(np.float64), herd, _picked(cycle, places)
        ),
        pregnant_share=pregnant,
        nursing_share=nursing,
        more=MappingProxyType({name: means[name] for name in NAMES}),
        most=_most(len(days)),
        evidence=BEEF_EVIDENCE,
    )


#: Fields of a series that the engine computes under the same name.
_SHARED = (
    "shrunk_weight_kg",
    "full_weight_kg",
    "milk_kg",
    "nem_maintenance_mcal",
    "nem_lactation_mcal",
    "nem_pregnancy_mcal",
    "nem_cold_mcal",
    "nem_condition_mcal",
    "nem_mcal",
    "gain_kg",
    "retained_energy_mcal",
    "mp_g",
    "cp_kg",
    "ca_kg",
    "p_kg",
)


def _picked(cycle: Cycle, places: IntArray) -> Cycle:
    return Cycle(*(getattr(cycle, entry.name)[:, places] for entry in fields(Cycle)))


def _present(group: Group, ordinals: IntArray) -> BoolArray:
    first = -np.inf if group.from_on is None else group.from_on.toordinal()
    last = np.inf if group.to_on is None else group.to_on.toordinal()
    return np.asarray((ordinals >= first) & (ordinals < last))


def _middle_cycle(herd: Herd, ordinals: IntArray) -> Cycle:
    middle = len(herd.calving_on) // 2
    return breeding_cycle(ordinals.astype(np.float64), herd.rows(middle, middle + 1).breeding())


def _one_appetite(
    herd: Herd, needs: HerdNeeds, means: dict[str, FloatArray], places: IntArray
) -> tuple[tuple[str, ...], FloatArray]:
    """Return the rule of intake of most animals, and the factor that gives the mean appetite.

    Exact for a group of one state; of a mixed group it is exact for a usual hay.
    """
    states = needs.intake_state[:, places]
    common = np.array([np.bincount(day).argmax() for day in states.T])
    rules = tuple(RULES[state] for state in common)
    if len(states) == 1:
        return rules, means["intake_factor"]
    factor = np.array(
        [
            means["usual_hay_dm_kg"][at]
            / appetite_kg(rule, means["shrunk_weight_kg"][at], USUAL_HAY_NEM, means["milk_kg"][at])
            for at, rule in enumerate(rules)
        ]
    )
    return rules, factor


def _most(count: int) -> MappingProxyType[str, FloatArray]:
    return MappingProxyType(
        {
            f"{symbol}_{mineral.unit}": np.full(count, mineral.most)
            for symbol, mineral in MINERALS_2016.items()
            if mineral.most is not None
        }
    )
