"""Llamas and alpacas and their season: planning estimates, as no full table exists publicly."""

from __future__ import annotations

from functools import partial
from typing import Final, Literal

import numpy as np

from rickyard.evidence import PRACTICE
from rickyard.farm import Assumption
from rickyard.quantities import Numeric, OutOfRange, as_given, within
from rickyard.stock.common import (
    GESTATION_DAYS,
    Asked,
    Births,
    NeedArrays,
    NeedSeries,
    RuminantNeed,
    me_from_tdn_mcal,
    practice,
    tdn_from_me_kg,
)

EDITION: Final = "rules for llamas and alpacas (Van Saun 2006, NRC 2007)"

# Van Saun 2006, Small Rumin. Res. 61:165-186, and NRC 2007; from memory.
ME_MAINTENANCE_MCAL: Final = 0.07285
CP_MAINTENANCE_G: Final = 3.5

Stage = Literal["maintenance", "late_gestation", "lactation", "growth"]

#: Low and high of a stage: dry matter in % of weight and TDN in % of it (both from memory),
#: crude protein in % of it (seen).
DM_PCT_BW: Final = {
    "maintenance": (1.0, 1.5),
    "late_gestation": (1.0, 1.8),
    "lactation": (1.5, 2.0),
    "growth": (1.5, 2.0),
}
TDN_PCT: Final = {
    "maintenance": (50.0, 55.0),
    "late_gestation": (60.0, 65.0),
    "lactation": (60.0, 65.0),
    "growth": (60.0, 65.0),
}
CP_PCT: Final = {
    "maintenance": (8.0, 10.0),
    "late_gestation": (12.0, 14.0),
    "lactation": (12.0, 14.0),
    "growth": (12.0, 14.0),
}
# Of dry matter; from memory, crude fiber seen.
CA_PCT: Final = (0.6, 0.85)
P_PCT: Final = (0.3, 0.5)
VITAMIN_D_IU_PER_KG_WINTER: Final = 30.0

#: Late pregnancy, weaning, and the age up to which they are growing ones. Common practice.
LATE_PREGNANCY_DAYS: Final = 60
WEANING_DAYS: Final = 180
GROWING_MONTHS: Final = 18.0


def camelid_me_maintenance_mcal(weight_kg: Numeric) -> Numeric:
    """Return the energy that keeps a llama or alpaca [Mcal/d].

    Raises ``OutOfRange`` if a weight is not positive.

    Source: Van Saun (2006), Small Rumin. Res. 61:165-186; NRC (2007); from memory. An older trial
    found 16 % more.

    >>> round(camelid_me_maintenance_mcal(150.0), 2)
    3.12
    """
    weight = within(weight_kg, "The weight of a llama or alpaca is above zero.", positive=True)
    return as_given(ME_MAINTENANCE_MCAL * weight**0.75, weight_kg)


def camelid(weight_kg: Numeric, stage: Stage = "maintenance") -> RuminantNeed:
    """Return the daily need of a llama or alpaca, a planning estimate.

    Parameters
    ----------
    weight_kg : float or array
        Body weight. [kg]
    stage : {"maintenance", "late_gestation", "lactation", "growth"}
        The stage. Another raises ``OutOfRange``.

    Returns
    -------
    RuminantNeed
        Amounts per head and day. At maintenance energy and protein are by metabolic weight, in
        the other stages the middle of the ranges; minerals at the low end of theirs, vitamin D
        that of winter.

    Examples
    --------
    >>> need = camelid(150.0)
    >>> round(need.tdn_kg, 2), round(need.cp_g)
    (0.86, 150)
    """
    if stage not in DM_PCT_BW:
        raise OutOfRange(f"Stages are {', '.join(DM_PCT_BW)}, not {stage}.")
    weight = np.asarray(weight_kg, dtype=np.float64)
    kept = np.asarray(camelid_me_maintenance_mcal(weight))
    dm = _middle(DM_PCT_BW[stage]) / 100.0 * weight
    if stage == "maintenance":
        me = kept
        cp = CP_MAINTENANCE_G * weight**0.75
        tdn = np.asarray(tdn_from_me_kg(me))
    else:
        tdn = _middle(TDN_PCT[stage]) / 100.0 * dm
        me = np.asarray(me_from_tdn_mcal(tdn))
        cp = 10.0 * _middle(CP_PCT[stage]) * dm
    return RuminantNeed(
        evidence=PRACTICE,
        dm_kg=as_given(dm, weight_kg),
        tdn_kg=as_given(tdn, weight_kg),
        me_mcal=as_given(me, weight_kg),
        de_mcal=None,
        cp_g=as_given(cp, weight_kg),
        ca_g=as_given(10.0 * CA_PCT[0] * dm, weight_kg),
        p_g=as_given(10.0 * P_PCT[0] * dm, weight_kg),
        vitamin_d_iu=as_given(VITAMIN_D_IU_PER_KG_WINTER * weight, weight_kg),
        flags=("a planning estimate: no full table exists",),
    )


def _middle(ends: tuple[float, float]) -> float:
    return sum(ends) / 2.0


def camelid_needs(asked: Asked) -> NeedSeries:
    """Return what one llama or alpaca of a group needs on each day.

    Source: Van Saun (2006), Small Rumin. Res. 61:165-186; ranges seen and from memory.

    Parameters
    ----------
    asked : Asked
        Llamas or alpacas. ``calving_on`` is the day of birth; those under 18 months are growing.

    Returns
    -------
    NeedSeries
        Needs per head and day, energy as TDN.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import AnimalClass, Group
    >>> llamas = Group("l", "Llamas", AnimalClass.LLAMA, 4, 150.0)
    >>> camelid_needs(Asked.of(llamas, [date(2027, 1, 1)])).tdn_kg.round(2).tolist()
    [0.86]
    """
    kind, months = asked.group.animal_class.value, asked.group.age_months
    births = Births("cria", kind, "birth", GESTATION_DAYS[kind], WEANING_DAYS)
    year = asked.year(births)
    late = year.pregnant & (year.days_to_birth <= LATE_PREGNANCY_DAYS) & ~year.nursing
    young = months is not None and months < GROWING_MONTHS
    told = NeedArrays(asked, asked.weight(year.nursing.shape), EDITION)
    stages: tuple[tuple[Stage, np.ndarray], ...] = (
        ("growth" if young else "maintenance", ~(late | year.nursing)),
        ("late_gestation", late),
        ("lactation", year.nursing),
    )
    for stage, where in stages:
        told.put(where, partial(camelid, stage=stage))
        low, high = (end / 100.0 * told.weight_kg for end in DM_PCT_BW[stage])
        told.least_dm_kg = np.where(where, low, told.least_dm_kg)
        told.most_dm_kg = np.where(where, high, told.most_dm_kg)
    told.stage = asked.stages(births, "growing" if young else "holding weight")
    told.pregnant, told.nursing = year.pregnant, year.nursing
    told.limit_copper("camelid")
    told.assumptions = [  # in place of the flag, which says the same of each stage
        Assumption("What llamas and alpacas need is a planning estimate.", EDITION),
        practice("Their late pregnancy is the last 60 days, and crias are weaned at 180."),
    ]
    return told.series()
