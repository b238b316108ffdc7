"""Llamas and alpacas through the season, as planning estimates."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Final

import numpy as np

from rickyard.evidence import PRACTICE
from rickyard.farm import Assumption, Group
from rickyard.stock.camelids.camelid import DM_PCT_BW, EDITION, Stage, camelid
from rickyard.stock.common import (
    GESTATION_DAYS,
    Conditions,
    NeedArrays,
    NeedSeries,
    find_row,
    mean_mother,
    mothers,
    ordinals,
    practice,
    series_of,
    stage_words,
    steady_weight,
)

#: Late pregnancy and weaning. Common practice.
LATE_PREGNANCY_DAYS: Final = 60
WEANING_DAYS: Final = 180
#: Younger animals are growing ones. Common practice.
GROWING_MONTHS: Final = 18.0

SAFE_COPPER_PPM: Final = float(find_row("copper", animal="camelid", kind="safe_upper")["high_ppm"])


def missing_camelid_inputs(group: Group) -> tuple[str, ...]:
    """Return the fields of a group of llamas that are needed and not given: none.

    Parameters
    ----------
    group : Group
        The group.

    Returns
    -------
    tuple of str
        Empty.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass
    >>> missing_camelid_inputs(Group("l", "Llamas", AnimalClass.LLAMA, 4, 150.0))
    ()
    """
    return ()


def camelid_needs(group: Group, days: Sequence[date], _conditions: Conditions) -> NeedSeries:
    """Return what one llama or alpaca of a group needs on each day.

    Parameters
    ----------
    group : Group
        Llamas or alpacas. ``calving_on`` is the day of birth; those under 18 months are growing.
    days : sequence of date, length T
        The days asked for.

    Returns
    -------
    NeedSeries
        Needs per head and day, energy as TDN.

    References
    ----------
    .. [1] Van Saun (2006), Small Rumin. Res. 61:165-186; ranges seen and from memory.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass
    >>> llamas = Group("l", "Llamas", AnimalClass.LLAMA, 4, 150.0)
    >>> camelid_needs(llamas, [date(2027, 1, 1)], Conditions()).tdn_kg.round(2).tolist()
    [0.86]
    """
    asked = ordinals(days)
    gestation = GESTATION_DAYS[group.animal_class.value]
    year = mothers(group, asked, gestation, WEANING_DAYS)
    weight = steady_weight(group, year.day_pregnant.shape)
    late = year.pregnant & (year.days_to_birth <= LATE_PREGNANCY_DAYS) & ~year.nursing
    young = group.age_months is not None and group.age_months < GROWING_MONTHS
    idle = ~(late | year.nursing)
    stages: tuple[tuple[Stage, np.ndarray], ...] = (
        ("growth" if young else "maintenance", idle),
        ("late_gestation", late),
        ("lactation", year.nursing),
    )
    names = ("tdn_kg", "me_mcal", "cp_g", "ca_g", "p_g", "dm_kg", "vitamin_d_iu")
    values = {name: np.zeros(weight.shape) for name in names}
    most, least = np.zeros(weight.shape), np.zeros(weight.shape)
    for stage, where in stages:
        need = camelid(weight[where], stage)
        for name, array in values.items():
            array[where] = getattr(need, name)
        low, high = DM_PCT_BW[stage]
        least[where], most[where] = low / 100.0 * weight[where], high / 100.0 * weight[where]
    words = stage_words(
        mean_mother(group, asked, gestation, WEANING_DAYS),
        "birth",
        "growing" if young else "holding weight",
    )
    told = NeedArrays(
        energy_basis="tdn",
        edition=EDITION,
        evidence=PRACTICE,
        weight_kg=weight,
        energy_mcal=values["me_mcal"],
        tdn_kg=values["tdn_kg"],
        cp_g=values["cp_g"],
        ca_g=values["ca_g"],
        p_g=values["p_g"],
        dm_kg=values["dm_kg"],
        most_dm_kg=most,
        least_dm_kg=least,
        milk_kg=np.zeros(weight.shape),
        gain_kg=np.zeros(weight.shape),
        pregnant=year.pregnant,
        nursing=year.nursing,
        stage=words,
        more={"vitamin_d_iu": values["vitamin_d_iu"]},
        most={"cu_ppm": SAFE_COPPER_PPM},
        assumptions=[
            Assumption("What llamas and alpacas need is a planning estimate.", EDITION),
            practice("Their late pregnancy is the last 60 days, and crias are weaned at 180."),
        ],
    )
    return series_of(group, asked, told)
