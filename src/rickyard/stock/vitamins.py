"""Vitamin A, which stored hay loses."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from rickyard.quantities import KG_PER_LB, Numeric, OutOfRange, as_given

Stage = Literal["growing", "pregnant", "lactating"]

#: International units per pound of diet dry matter, MSD Veterinary Manual (NASEM 2016); breeding
#: bulls count with the lactating.
VITAMIN_A_IU_PER_LB_DM: Final = MappingProxyType(
    {"growing": 1000.0, "pregnant": 1270.0, "lactating": 1770.0}
)


def vitamin_a_iu_per_kg(stage: Stage) -> float:
    """Return the vitamin A that a diet should hold.

    Parameters
    ----------
    stage : {"growing", "pregnant", "lactating"}
        What the animal is doing; a breeding bull counts as lactating.

    Returns
    -------
    float
        Vitamin A. [IU/kg DM]

    Raises
    ------
    OutOfRange
        If the stage is not one of the three.

    References
    ----------
    .. [1] MSD Veterinary Manual, fat-soluble vitamins of beef cattle (NASEM 2016).

    Examples
    --------
    >>> round(vitamin_a_iu_per_kg("pregnant"))
    2800
    """
    if stage not in VITAMIN_A_IU_PER_LB_DM:
        known = ", ".join(VITAMIN_A_IU_PER_LB_DM)
        raise OutOfRange(f'Vitamin A is not known for "{stage}"; use {known}.')
    return VITAMIN_A_IU_PER_LB_DM[stage] / KG_PER_LB


def vitamin_a_iu(stage: Stage, intake_kg: Numeric) -> Numeric:
    """Return the vitamin A an animal needs in a day.

    Parameters
    ----------
    stage : {"growing", "pregnant", "lactating"}
        What the animal is doing; a breeding bull counts as lactating.
    intake_kg : float or array
        Dry matter eaten. [kg/d]

    Returns
    -------
    float or array
        Vitamin A. [IU/d]

    Raises
    ------
    OutOfRange
        If the stage is not one of the three.

    References
    ----------
    .. [1] MSD Veterinary Manual, fat-soluble vitamins of beef cattle (NASEM 2016).

    Examples
    --------
    >>> round(vitamin_a_iu("growing", 10.0 * 0.45359237))
    10000
    """
    return as_given(vitamin_a_iu_per_kg(stage) * np.asarray(intake_kg), intake_kg)
