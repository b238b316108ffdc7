"""What comes of a diet: the gain of growing stock and the condition of cows, day by day.

The other way round, what a wanted gain or condition needs, is told by ``herd.group_needs``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import AnimalClass, Caution, Group
from rickyard.quantities import OutOfRange, above_zero
from rickyard.stock.beef import COWS, settings_of
from rickyard.stock.common import (
    Conditions,
    NeedSeries,
    full_from_shrunk_kg,
    size_scaled_weight_kg,
)
from rickyard.stock.equations import (
    DAYS_PER_MONTH,
    LEAST_SCORE,
    MOST_SCORE,
    RULES,
    TISSUE_EFFICIENCY,
    appetite_kg,
    body_energy_mcal,
    compensation_factor,
    growing_state,
    ndf_cap_kg,
    relative_weight_frac,
)
from rickyard.stock.equations import gain_kg as gain_of_energy_kg
from rickyard.stock.herd.herd import needs_in
from rickyard.types import FloatArray

#: Condition at calving below which rebreeding suffers: Univ. of Nebraska; two-year-olds one
#: score more.
LEAST_AT_CALVING: Final = 5.0
LEAST_AT_FIRST_CALVING: Final = 6.0
CONDITION_SOURCE: Final = "Univ. of Nebraska-Lincoln, body condition score modules"

_SCORES: Final = np.linspace(LEAST_SCORE, MOST_SCORE, 1601)


@dataclass(frozen=True, slots=True)
class GainOutcome:
    """What a diet does for growing stock, arrays of shape (T,).

    On days with ``nem_deficit_mcal`` above zero the animal eats too little to hold its weight;
    how much it loses no equation of growth tells, and its weight is kept.
    """

    shrunk_weight_kg: FloatArray
    gain_kg: FloatArray
    intake_kg: FloatArray
    nem_deficit_mcal: FloatArray

    @property
    def losing(self) -> bool:
        """Return whether it loses weight on any day."""
        return bool(np.any(self.nem_deficit_mcal > 0.0))


@dataclass(frozen=True, slots=True)
class ConditionOutcome:
    """What a supply of energy does for the condition of cows, arrays of shape (T,).

    ``score`` is that at the end of each day, held at 1 and 9. ``surplus_mcal`` is what is fed
    above the need, negative where it lacks.
    """

    score: FloatArray
    surplus_mcal: FloatArray
    cautions: tuple[Caution, ...]


def needs_held(group: Group, days: Sequence[date], conditions: Conditions) -> NeedSeries:
    """Return what a group needs to stay as it is: what it is fed is counted from there.

    Parameters
    ----------
    group : Group
        Growing cattle, or cows.
    days : sequence of date
        Days in a row from the day of weighing on.
    conditions : Conditions
        What the days are like.

    Returns
    -------
    NeedSeries
        Of growing stock without a wanted gain; of cows without a wanted condition, and with none
        that changes their maintenance.
    """
    if group.animal_class in COWS:
        plain = replace(group, target_condition_score=None)
        return needs_in(plain, days, replace(conditions, maintenance_by_condition=False))
    idle = replace(group, gain_kg_per_day=0.0, target_weight_kg=None, target_on=None)
    return needs_in(idle, days, conditions)


def gain_on_diet(
    group: Group,
    days: Sequence[date],
    diet_nem_mcal_per_kg: ArrayLike,
    diet_neg_mcal_per_kg: ArrayLike,
    *,
    intake_kg: ArrayLike | None = None,
    ndf_pct: float | None = None,
    conditions: Conditions | None = None,
    needs: NeedSeries | None = None,
) -> GainOutcome:
    """Return the gain of growing cattle on a diet, day by day as the animal grows.

    A gain that the group may want is not looked at; cold raises what it needs before it gains.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    group : Group
        Growing cattle. A class that does not grow, or a group that lacks what its class needs,
        raises ``OutOfRange``.
    days : sequence of date
        Days in a row from the day of weighing on.
    diet_nem_mcal_per_kg, diet_neg_mcal_per_kg : float or array
        Net energy of the diet, one for all days or one for each; for maintenance it is more than
        0. [Mcal/kg DM]
    intake_kg : float or array, optional
        What it eats, else its appetite. [kg DM/d]
    ndf_pct : float, optional
        The fiber at which its appetite ends. [% DM]
    conditions : Conditions, optional
        What the days are like.
    needs : NeedSeries, optional
        What ``needs_held`` gave for the same group, days and conditions, where it is known.

    Returns
    -------
    GainOutcome
        Weight and gain of each day.

    Examples
    --------
    >>> from datetime import timedelta
    >>> steers = Group("g1", "Steers", AnimalClass.STOCKER, 40, 226.8, weight_is_shrunk=True,
    ...     finish_weight_kg=544.3, age_months=8.0, gain_kg_per_day=0.0, activity_factor=1.0)
    >>> season = [date(2027, 1, 1) + timedelta(days=one) for one in range(30)]
    >>> grown = gain_on_diet(steers, season, 1.376, 0.796)
    >>> round(float(grown.gain_kg[0]), 2)
    0.68
    """
    if group.animal_class in COWS:
        raise OutOfRange("The gain of a diet is for growing stock; cows change condition.")
    nem, neg = (
        np.broadcast_to(np.asarray(one, dtype=np.float64), (len(days),)).tolist()
        for one in (diet_nem_mcal_per_kg, diet_neg_mcal_per_kg)
    )
    above_zero("A diet without net energy cannot maintain an animal.", min(nem))
    series = needs_held(group, days, conditions or Conditions()) if needs is None else needs
    settings = settings_of(group)
    final = settings.final_shrunk_weight_kg or settings.shrunk_weight_kg
    first = float(series.shrunk_weight_kg[0])
    per_weight = series.nem_mcal / first**0.75
    given = None if intake_kg is None else np.broadcast_to(np.asarray(intake_kg), per_weight.shape)
    weight = first
    out = np.zeros((4, len(days)))
    for at, need_per_weight in enumerate(per_weight.tolist()):
        if given is not None:
            eaten = float(given[at])
        else:
            rule = _growing_rule(group, at)
            factor = float(series.intake_factor[at])
            eaten = appetite_kg(rule, weight, nem[at], factor=factor)
            if ndf_pct is not None:
                eaten = min(eaten, ndf_cap_kg(full_from_shrunk_kg(weight), ndf_pct))
        need = need_per_weight * weight**0.75
        over = eaten - need / nem[at]
        retained = max(over, 0.0) * max(neg[at], 0.0)
        gain = gain_of_energy_kg(retained, size_scaled_weight_kg(weight, final))
        out[:, at] = weight, gain, eaten, max(-over, 0.0) * nem[at]
        weight += gain
    return GainOutcome(*out)


def condition_on_supply(
    group: Group,
    days: Sequence[date],
    nem_fed_mcal: ArrayLike,
    *,
    growth_nem_mcal: ArrayLike = 0.0,
    conditions: Conditions | None = None,
    needs: NeedSeries | None = None,
) -> ConditionOutcome:
    """Return how the condition of cows moves on a supply of net energy for maintenance [Mcal/d].

    A condition that the cows are to reach is not looked at. A unit of feed above the need is kept;
    a unit of body reserve replaces 0.80 of feed. Where condition changes maintenance, the score of
    the first day of each 30 is the one that counts, so that the two do not chase each other.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; efficiencies from memory.

    Parameters
    ----------
    group : Group
        Cows or heifers in calf whose condition score is given; another raises ``OutOfRange``.
    days : sequence of date
        Days in a row from the day of weighing on.
    nem_fed_mcal : float or array
        What one head eats. [Mcal/d]
    growth_nem_mcal : float or array
        What heifers are to grow on, which goes before condition as far as the feed is above the
        need. [Mcal/d]
    conditions : Conditions, optional
        What the days are like.
    needs : NeedSeries, optional
        What ``needs_held`` gave for the same group, days and conditions, where it is known.

    Returns
    -------
    ConditionOutcome
        With a caution where the score is low at calving.

    Examples
    --------
    >>> from datetime import timedelta
    >>> from rickyard.stock.herd import group_needs
    >>> cows = Group("g1", "Cows", AnimalClass.COW, 40, 499.0, weight_is_shrunk=True,
    ...     condition_score=5.0, activity_factor=1.0)
    >>> season = [date(2027, 1, 1) + timedelta(days=one) for one in range(69)]
    >>> need = group_needs(cows, season).nem_mcal
    >>> round(float(condition_on_supply(cows, season, need + 3.4).score[-1]), 1)
    6.0
    """
    if group.animal_class not in COWS or group.condition_score is None:
        raise OutOfRange("Condition is followed for cows whose score is given.")
    chosen = conditions or Conditions()
    series = needs_held(group, days, chosen) if needs is None else needs
    fed = np.broadcast_to(np.asarray(nem_fed_mcal, dtype=np.float64), series.nem_mcal.shape)
    growth = np.broadcast_to(np.asarray(growth_nem_mcal, dtype=np.float64), fed.shape)
    at_five = settings_of(group).shrunk_weight_kg / relative_weight_frac(group.condition_score)
    energies = np.asarray(body_energy_mcal(at_five, _SCORES))
    body = float(body_energy_mcal(at_five, group.condition_score))
    score, surplus = np.empty(fed.shape), np.empty(fed.shape)
    counted = group.condition_score
    for at in range(len(days)):
        if at and not at % 30:
            counted = float(score[at - 1])
        need = float(series.nem_mcal[at])
        if chosen.maintenance_by_condition:
            need += float(series.nem_maintenance_mcal[at]) * (compensation_factor(counted) - 1.0)
        surplus[at] = fed[at] - need - min(max(fed[at] - need, 0.0), growth[at])
        body += min(surplus[at], surplus[at] / TISSUE_EFFICIENCY)
        body = min(max(body, float(energies[0])), float(energies[-1]))
        score[at] = np.interp(body, energies, _SCORES)
    return ConditionOutcome(score, surplus, _calving_cautions(group, series, score, days))


def _growing_rule(group: Group, day: int) -> str:
    age = np.nan if group.age_months is None else group.age_months + day / DAYS_PER_MONTH
    return RULES[int(growing_state(age))]


#: Cows under this score are emaciated on the scale of 1 to 9; what becomes of them is judgement.
STARVED_SCORE: Final = 2.5


def _calving_cautions(
    group: Group, series: NeedSeries, score: FloatArray, days: Sequence[date]
) -> tuple[Caution, ...]:
    heifers = group.animal_class is not AnimalClass.COW
    least = LEAST_AT_FIRST_CALVING if heifers else LEAST_AT_CALVING
    begins = np.flatnonzero(~series.lactating[:-1] & series.lactating[1:])
    # Scores are told, and seen on cows, to a tenth at best.
    if len(begins) == 0 or (at_calving := round(float(score[begins[0]]), 1)) >= least:
        return ()
    calving = days[int(begins[0]) + 1]
    if at_calving < STARVED_SCORE:
        sentence = (
            f"On this feed {group.name} would starve: at condition {at_calving:.1f} or less by "
            "calving, many would go down or die before it. Buy feed, or sell or send some away "
            "now, and ask your veterinarian."
        )
        return (Caution("danger", group.group_id, sentence, COMMON_PRACTICE, end=calving),)
    sentence = (
        f"{group.name} would calve at condition {at_calving:.1f}, under {least:.0f}: fewer "
        "will breed again in time. Feed more before calving, when condition is cheapest to gain, "
        "and ask your extension office or veterinarian."
    )
    return (Caution("warning", group.group_id, sentence, CONDITION_SOURCE, end=calving),)
