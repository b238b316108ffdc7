"""Vitamins: A, which stored hay loses, D and E."""

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

#: International units per pound of body weight, the same source.
VITAMIN_A_IU_PER_LB_BW: Final = MappingProxyType(
    {"growing": 21.0, "pregnant": 27.0, "lactating": 38.0}
)
VITAMIN_D_IU_PER_LB_BW: Final = 2.6
VITAMIN_E_IU_PER_LB_DM: Final = 16.0
VITAMIN_E_STRESSED_IU_PER_LB_DM: Final = 227.0  # new, stressed calves


def vitamin_d_iu(full_weight_kg: Numeric) -> Numeric:
    """Return the vitamin D an animal needs in a day without sun [IU/d].

    Source: MSD Veterinary Manual, fat-soluble vitamins of beef cattle (NASEM 2016).

    >>> round(vitamin_d_iu(1000.0 * 0.45359237))
    2600
    """
    return as_given(VITAMIN_D_IU_PER_LB_BW / KG_PER_LB * np.asarray(full_weight_kg), full_weight_kg)


def vitamin_e_iu(intake_kg: Numeric, *, stressed: bool = False) -> Numeric:
    """Return the vitamin E an animal needs in a day [IU/d].

    Source: MSD Veterinary Manual, fat-soluble vitamins of beef cattle (NASEM 2016).

    >>> round(vitamin_e_iu(10.0))
    353
    """
    per_lb = VITAMIN_E_STRESSED_IU_PER_LB_DM if stressed else VITAMIN_E_IU_PER_LB_DM
    return as_given(per_lb / KG_PER_LB * np.asarray(intake_kg), intake_kg)


def vitamin_a_iu_per_kg(stage: Stage, *, by_weight: bool = False) -> float:
    """Return the vitamin A that a diet should hold, or that an animal needs in a day by its weight.

    Source: MSD Veterinary Manual, fat-soluble vitamins of beef cattle (NASEM 2016).

    Parameters
    ----------
    stage : {"growing", "pregnant", "lactating"}
        What the animal is doing; a breeding bull counts as lactating.
    by_weight : bool
        Whether to tell it by the weight of the animal.

    Returns
    -------
    float
        Vitamin A, by weight each day. [IU/kg DM, IU/kg]

    Examples
    --------
    >>> round(vitamin_a_iu_per_kg("pregnant"))
    2800
    >>> round(vitamin_a_iu_per_kg("pregnant", by_weight=True) * 500.0)
    29762
    """
    per_lb = VITAMIN_A_IU_PER_LB_BW if by_weight else VITAMIN_A_IU_PER_LB_DM
    if stage not in per_lb:
        raise OutOfRange(f'Vitamin A is not known for "{stage}"; use {", ".join(per_lb)}.')
    return per_lb[stage] / KG_PER_LB
