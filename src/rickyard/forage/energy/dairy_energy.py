"""Energy of NRC Dairy 2001 at the intake of a lactating cow: discount, ME and NEl.

For lactating dairy cows only. Beef cattle, sheep and horses take no discount.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given

# NRC, Nutrient Requirements of Dairy Cattle, 2001, ch. 2; from memory, reproduced.
DISCOUNT_PER_TDN: Final = 0.18
DISCOUNT_CONSTANT: Final = 10.3
NO_DISCOUNT_TO_TDN_PCT: Final = 60.0
ME_PER_DE_2001: Final = 1.01
ME_CONSTANT_MCAL_PER_KG: Final = -0.45
ME_PER_FAT_PCT: Final = 0.0046
FAT_FROM_PCT: Final = 3.0
NEL_PER_ME: Final = 0.703
NEL_CONSTANT_MCAL_PER_KG: Final = -0.19
NEL_FAT_PER_ME: Final = 0.097
NEL_FAT_CONSTANT: Final = 0.19
NEL_FAT_DIVISOR: Final = 97.0


def discount_nrc2001(tdn_1x_pct: Numeric, times_maintenance: Numeric) -> Numeric:
    """Return the share of energy that is left at a multiple of maintenance intake.

    From the TDN of the diet at maintenance [% DM] and the intake as a multiple of maintenance: a
    factor on digestible energy [-], 1 up to a TDN of 60 %. A TDN that is not positive, or an intake
    below maintenance, raises ``OutOfRange``. NRC (2001), ch. 2; from memory.

    Examples
    --------
    >>> round(discount_nrc2001(68.0, 3.0), 3)
    0.943
    >>> discount_nrc2001(58.0, 3.0)
    1.0
    """
    tdn = np.asarray(tdn_1x_pct, dtype=np.float64)
    above = np.asarray(times_maintenance, dtype=np.float64) - 1.0
    if np.any(tdn <= 0.0) or np.any(above < 0.0):
        raise OutOfRange("TDN must be above 0 and intake at least that of maintenance.")
    left = (tdn - (DISCOUNT_PER_TDN * tdn - DISCOUNT_CONSTANT) * above) / tdn
    return as_given(
        np.where(tdn <= NO_DISCOUNT_TO_TDN_PCT, 1.0, left), tdn_1x_pct, times_maintenance
    )


def me_nrc2001(de_mcal_per_kg: Numeric, ee_pct: Numeric) -> Numeric:
    """Turn discounted digestible energy into metabolizable energy.

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

    References
    ----------
    .. [1] NRC (2001), Nutrient Requirements of Dairy Cattle, ch. 2; from memory.

    Examples
    --------
    >>> round(me_nrc2001(2.7242, 2.5), 3)
    2.301
    """
    energy = ME_PER_DE_2001 * np.asarray(de_mcal_per_kg) + ME_CONSTANT_MCAL_PER_KG
    return as_given(energy + ME_PER_FAT_PCT * _fat(ee_pct), de_mcal_per_kg, ee_pct)


def nel_nrc2001(me_mcal_per_kg: Numeric, ee_pct: Numeric) -> Numeric:
    """Turn metabolizable energy into net energy for lactation.

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

    References
    ----------
    .. [1] NRC (2001), Nutrient Requirements of Dairy Cattle, ch. 2; from memory.

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
