"""Energy by the models of dairy cattle: NRC 2001 at the intake of a cow in milk, and NASEM 2021.

For dairy cattle only: beef cattle, sheep and horses take no discount. The route of 2021 does
without TDN and needs the whole diet and its starch: it does not rank single hays.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.forage.energy.summative import FIBER_DIGESTIBILITY_FRAC, LIGNIN_SURFACE_EXPONENT
from rickyard.quantities import Numeric, OutOfRange, as_given

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


# NASEM Dairy 2021, Eqs 3-2, 3-5a and 3-8, as reproduced in an open teaching text; Mcal per kg
# and percent.
GE_NDF: Final = 0.042
GE_STARCH: Final = 0.0423
GE_ROM: Final = 0.040
GE_FATTY_ACID: Final = 0.094
GE_TRUE_PROTEIN: Final = 0.0565
GE_NPN: Final = 0.0089


def residual_organic_matter_pct(
    ash_pct: Numeric, ndf_pct: Numeric, starch_pct: Numeric, fa_pct: Numeric, cp_pct: Numeric
) -> Numeric:
    """Return the organic matter that is neither fiber, starch, fat nor protein.

    Parameters
    ----------
    ash_pct, ndf_pct, starch_pct, fa_pct, cp_pct : float or array
        Ash, neutral detergent fiber, starch, fatty acids and crude protein. [% DM]

    Returns
    -------
    float or array
        Residual organic matter. [% DM]

    Examples
    --------
    >>> round(residual_organic_matter_pct(10.2, 45.0, 2.0, 1.8, 20.0), 1)
    21.0
    """
    parts = sum(np.asarray(one) for one in (ash_pct, ndf_pct, starch_pct, fa_pct, cp_pct))
    return as_given(100.0 - parts, ash_pct, ndf_pct, starch_pct, fa_pct, cp_pct)


def gross_energy_nasem2021(
    cp_pct: Numeric,
    fa_pct: Numeric,
    ndf_pct: Numeric,
    rom_pct: Numeric,
    starch_pct: Numeric,
    npn_cp_pct: Numeric = 0.0,
) -> Numeric:
    """Sum the gross energy of the parts of a feed.

    Source: NASEM (2021), Nutrient Requirements of Dairy Cattle, Eq. 3-2, as reproduced in an open
    teaching text.

    Parameters
    ----------
    cp_pct, fa_pct, ndf_pct, rom_pct, starch_pct : float or array
        Crude protein, fatty acids, neutral detergent fiber, residual organic matter and
        starch. [% DM]
    npn_cp_pct : float or array
        Supplemental non-protein nitrogen as crude protein. [% DM]

    Returns
    -------
    float or array
        Gross energy. [Mcal/kg DM]

    Examples
    --------
    >>> round(gross_energy_nasem2021(20.0, 1.8, 45.0, 21.0, 2.0), 4)
    4.1138
    """
    npn = np.asarray(npn_cp_pct)
    energy = (
        GE_NDF * np.asarray(ndf_pct)
        + GE_STARCH * np.asarray(starch_pct)
        + GE_ROM * np.asarray(rom_pct)
        + GE_FATTY_ACID * np.asarray(fa_pct)
        + GE_TRUE_PROTEIN * (np.asarray(cp_pct) - npn)
        + GE_NPN * npn
    )
    return as_given(energy, cp_pct, fa_pct, ndf_pct, rom_pct, starch_pct, npn_cp_pct)


def fiber_digestibility_nasem2021(ndf_pct: Numeric, lignin_pct: Numeric) -> Numeric:
    """Return the base digestibility of fiber from its lignin.

    Source: NASEM (2021), as reproduced in an open teaching text, ch. 7.

    Parameters
    ----------
    ndf_pct, lignin_pct : float or array
        Neutral detergent fiber, above 0 and no less than its lignin. [% DM]

    Returns
    -------
    float or array
        Digestible share of the fiber. [fraction of NDF]

    Examples
    --------
    >>> round(fiber_digestibility_nasem2021(45.0, 7.5), 4)
    0.4358
    """
    ndf = np.asarray(ndf_pct, dtype=np.float64)
    lignin = np.asarray(lignin_pct, dtype=np.float64)
    if np.any((ndf <= 0.0) | (lignin > ndf)):
        raise OutOfRange("Fiber must be above 0% and not less than its lignin.")
    open_fiber = 1.0 - (lignin / ndf) ** LIGNIN_SURFACE_EXPONENT
    return as_given(
        FIBER_DIGESTIBILITY_FRAC * (ndf - lignin) * open_fiber / ndf, ndf_pct, lignin_pct
    )
