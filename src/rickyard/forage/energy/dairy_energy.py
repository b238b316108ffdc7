"""Energy of NRC Dairy 2001 at the intake of a lactating cow: metabolizable and net energy.

For lactating dairy cows only. Beef cattle, sheep and horses take no discount.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, as_given

# NRC, Nutrient Requirements of Dairy Cattle, 2001, ch. 2; from memory, reproduced.
ME_PER_DE_2001: Final = 1.01
ME_CONSTANT_MCAL_PER_KG: Final = -0.45
ME_PER_FAT_PCT: Final = 0.0046
FAT_FROM_PCT: Final = 3.0
NEL_PER_ME: Final = 0.703
NEL_CONSTANT_MCAL_PER_KG: Final = -0.19
NEL_FAT_PER_ME: Final = 0.097
NEL_FAT_CONSTANT: Final = 0.19
NEL_FAT_DIVISOR: Final = 97.0


def me_nrc2001(de_mcal_per_kg: Numeric, ee_pct: Numeric) -> Numeric:
    """Turn discounted digestible energy into metabolizable energy.

    Source: NRC (2001), Nutrient Requirements of Dairy Cattle, ch. 2; from memory.

    Parameters
    ----------
    de_mcal_per_kg : float or array
        Digestible energy at the intake of the cow. [Mcal/kg DM]
    ee_pct : float or array
        Ether extract. [% DM]

    Returns
    -------
    float or array
        Metabolizable energy. [Mcal/kg DM]

    Examples
    --------
    >>> round(me_nrc2001(2.7242, 2.5), 3)
    2.301
    """
    energy = ME_PER_DE_2001 * np.asarray(de_mcal_per_kg) + ME_CONSTANT_MCAL_PER_KG
    return as_given(energy + ME_PER_FAT_PCT * _fat(ee_pct), de_mcal_per_kg, ee_pct)


def nel_nrc2001(me_mcal_per_kg: Numeric, ee_pct: Numeric) -> Numeric:
    """Turn metabolizable energy into net energy for lactation.

    Source: NRC (2001), Nutrient Requirements of Dairy Cattle, ch. 2; from memory.

    Parameters
    ----------
    me_mcal_per_kg : float or array
        Metabolizable energy at the intake of the cow. [Mcal/kg DM]
    ee_pct : float or array
        Ether extract. [% DM]

    Returns
    -------
    float or array
        Net energy for lactation. [Mcal/kg DM]

    Examples
    --------
    >>> round(nel_nrc2001(me_nrc2001(2.7242, 2.5), 2.5), 3)
    1.428
    """
    me = np.asarray(me_mcal_per_kg, dtype=np.float64)
    per_fat = (NEL_FAT_PER_ME * me + NEL_FAT_CONSTANT) / NEL_FAT_DIVISOR
    energy = NEL_PER_ME * me + NEL_CONSTANT_MCAL_PER_KG + per_fat * _fat(ee_pct)
    return as_given(energy, me_mcal_per_kg, ee_pct)


def _fat(ee_pct: Numeric) -> Numeric:
    return np.maximum(0.0, np.asarray(ee_pct, dtype=np.float64) - FAT_FROM_PCT)
