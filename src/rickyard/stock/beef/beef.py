"""Beef cattle through the season: who they are on each day, and what one head needs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, replace
from datetime import date
from types import MappingProxyType
from typing import Final

import numpy as np

from rickyard.evidence import Flag
from rickyard.farm import ColdRule
from rickyard.quantities import OutOfRange
from rickyard.stock.beef.beef_batch import herd_needs
from rickyard.stock.beef.beef_words import beef_assumptions, beef_stages
from rickyard.stock.beef.defaults import (
    GESTATION_DAYS,
    settings_of,
    with_breed,
)
from rickyard.stock.beef.herd_parts import NAMES, USUAL_HAY_NEM, Days, HerdNeeds
from rickyard.stock.beef.herd_rows import herd_rows, mean_by_group
from rickyard.stock.common import (
    Asked,
    Conditions,
    Cycle,
    NeedSeries,
    previous_month_mean_c,
    read_rows,
)
from rickyard.stock.equations import RULES, appetite_kg
from rickyard.stock.minerals import MINERALS_2016
from rickyard.types import FloatArray, IntArray

#: How each constituent is known, as a series of needs carries it.
BEEF_EVIDENCE: Final[Mapping[str, str]] = MappingProxyType(
    {
        row["name"]: f"{Flag(row['flag']).value}: {row['source']}".rstrip(": ")
        for row in read_rows("beef_evidence")
    }
)


def beef_needs(asked: Asked) -> NeedSeries:
    """Return what one head of a group of beef cattle needs on each day.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    asked : Asked
        The group. Its weight, condition and age are those of ``conditions.weighed_on``. A wanted
        loss, a weight outside 50 to 1100 kg or cold that would be counted twice raises
        ``OutOfRange``.

    Returns
    -------
    NeedSeries
        Needs per head and day; where calving is spread, means over the animals of the group.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import AnimalClass, Group
    >>> cows = Group("g1", "Cows", AnimalClass.COW, 40, 555.0, calving_on=date(2027, 3, 1))
    >>> beef_needs(Asked.of(cows, [date(2027, 4, 1)])).nem_mcal.round(1).tolist()
    [16.1]
    """
    conditions = asked.conditions
    _refuse_cold_twice(conditions)
    group, by_breed = with_breed(asked.group)
    asked = replace(asked, group=group)
    herd, counts = herd_rows([group], [settings_of(group)], [float(asked.start)])
    span, places = _span(asked)
    needs = herd_needs(herd, _days(span, conditions), conditions)
    means = {name: mean_by_group(rows, counts)[0, places] for name, rows in needs.values.items()}
    cycle = Cycle(*(getattr(needs.cycle, entry.name)[:, places] for entry in fields(Cycle)))
    nursing, pregnant = (
        mean_by_group(one.astype(np.float64), counts)[0] for one in (cycle.nursing, cycle.pregnant)
    )
    rules, means["intake_factor"] = _one_appetite(needs, means, places)
    at = len(herd.calving_on) // 2
    middle = herd.rows(at, at + 1).cycle(asked.days, GESTATION_DAYS)
    return NeedSeries(
        stage=beef_stages(group, middle, means["gain_kg"], nursing),
        present=asked.present,
        **{entry.name: means[entry.name] for entry in fields(NeedSeries) if entry.name in means},
        intake_rule=rules,
        pregnant=pregnant.astype(np.bool_),
        lactating=nursing >= 0.5,
        assumptions=(*by_breed, *beef_assumptions(asked, herd, cycle)),
        pregnant_share=pregnant,
        nursing_share=nursing,
        more=MappingProxyType({name: means[name] for name in NAMES}),
        most=_most(len(asked.days)),
        evidence=BEEF_EVIDENCE,
    )


def _refuse_cold_twice(conditions: Conditions) -> None:
    months = conditions.acclimatise or conditions.previous_month_temperature_c is not None
    if months and conditions.cold_rule is ColdRule.PERCENT:
        raise OutOfRange(
            "A percentage per degree on top of acclimatisation to last month's temperature "
            "counts the cold twice: choose one of the two."
        )


def _span(asked: Asked) -> tuple[Sequence[date], IntArray]:
    """Return the days to compute and where the days asked for stand among them.

    Cold is carried over from day to day, so under a rule of cold every day from the weighing on
    is computed.
    """
    if asked.conditions.cold_rule is ColdRule.NONE:
        return asked.dates, np.arange(len(asked.days))
    first, last = min(asked.start, int(asked.days.min())), int(asked.days.max())
    return [date.fromordinal(day) for day in range(first, last + 1)], asked.days - first


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


def _one_appetite(
    needs: HerdNeeds, means: dict[str, FloatArray], places: IntArray
) -> tuple[tuple[str, ...], FloatArray]:
    """Return the rule of intake of most animals, and the factor that gives the mean appetite.

    Exact for a group of one state; of a mixed group it is exact for a usual hay.
    """
    states = needs.intake_state[:, places]
    common = np.array([np.bincount(day).argmax() for day in states.T])
    rules = tuple(RULES[state] for state in common)
    if len(states) == 1:
        return rules, means["intake_factor"]
    usual = np.empty(len(rules))
    for rule in sorted(set(rules)):
        at = np.array([one == rule for one in rules])
        weight, milk = means["shrunk_weight_kg"][at], means["milk_kg"][at]
        usual[at] = appetite_kg(rule, weight, USUAL_HAY_NEM, milk)
    return rules, means["usual_hay_dm_kg"] / usual


def _most(count: int) -> MappingProxyType[str, FloatArray]:
    return MappingProxyType(
        {
            f"{symbol}_{mineral.unit}": np.full(count, mineral.most)
            for symbol, mineral in MINERALS_2016.items()
            if mineral.most is not None
        }
    )
