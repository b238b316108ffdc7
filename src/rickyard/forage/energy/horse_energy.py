"""Digestible energy for horses, by three labelled equations that do not agree."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, as_given

# Pagan 1998, from memory; reproduced on printed intakes of three hays (J. Anim. Sci.
# 2021;99:skab284, Table 2). Kilocalories per kilogram and percent.
PAGAN_CONSTANT: Final = 2118.0
PAGAN_CP: Final = 12.18
PAGAN_ADF: Final = -9.37
PAGAN_HEMICELLULOSE: Final = -3.83
PAGAN_EE: Final = 47.18
PAGAN_NSC: Final = 20.35
PAGAN_ASH: Final = -26.3
# Kentucky Equine Research: added for fat above 5 %, 0.02 Mcal per pound and percent.
PAGAN_FAT_FROM_PCT: Final = 5.0
PAGAN_FAT_MCAL_PER_KG: Final = 0.044
KCAL_PER_MCAL: Final = 1000.0  # by definition
# NRC horses 1989 and 2007, forages; from memory.
NRC_HORSE_CONSTANT: Final = 4.22
NRC_HORSE_ADF: Final = -0.11
NRC_HORSE_CP: Final = 0.0332
NRC_HORSE_ADF2: Final = 0.00112
#: Kentucky Equine Research, understanding the analysis of horse forages.
HORSE_DE_PER_TDN_PCT: Final = 0.044


def horse_de_pagan(
    cp_pct: Numeric, adf_pct: Numeric, ndf_pct: Numeric, ee_pct: Numeric, ash_pct: Numeric
) -> Numeric:
    """Estimate digestible energy for horses from the whole composition.

    Carbohydrate is taken by difference, not as starch and sugar. The equation to prefer where
    ash and fat are known. That it reproduces printed energies confirms the equation, not the
    biology: those energies were probably computed by it.

    Source: Pagan (1998), from memory; inputs as listed by Kentucky Equine Research.

    Parameters
    ----------
    cp_pct, adf_pct, ndf_pct, ee_pct, ash_pct : float or array
        Crude protein, acid and neutral detergent fiber, ether extract and ash. [% DM]

    Returns
    -------
    float or array
        Digestible energy. [Mcal/kg DM]

    Examples
    --------
    Alfalfa hay of J. Anim. Sci. 2021;99:skab284 (printed 2.53):

    >>> round(horse_de_pagan(21.5, 25.4, 32.7, 2.4, 11.9), 2)
    2.56
    """
    cp, adf, ndf, ee, ash = (
        np.asarray(value, dtype=np.float64) for value in (cp_pct, adf_pct, ndf_pct, ee_pct, ash_pct)
    )
    by_difference = 100.0 - cp - ndf - ee - ash
    kcal = (
        PAGAN_CONSTANT
        + PAGAN_CP * cp
        + PAGAN_ADF * adf
        + PAGAN_HEMICELLULOSE * (ndf - adf)
        + PAGAN_EE * ee
        + PAGAN_NSC * by_difference
        + PAGAN_ASH * ash
    )
    fat = PAGAN_FAT_MCAL_PER_KG * np.maximum(0.0, ee - PAGAN_FAT_FROM_PCT)
    return as_given(kcal / KCAL_PER_MCAL + fat, cp_pct, adf_pct, ndf_pct, ee_pct, ash_pct)


def horse_de_nrc(adf_pct: Numeric, cp_pct: Numeric) -> Numeric:
    """Estimate digestible energy of a forage for horses from fiber and protein alone.

    Ignores ash: it reads 0.3-0.5 Mcal/kg above ``horse_de_pagan`` on hay of 12-16 % ash. For
    reports without ash and fat only, and to be labelled.

    Source: NRC, Nutrient Requirements of Horses, 1989 and 2007, forage equation; from memory.

    Parameters
    ----------
    adf_pct, cp_pct : float or array
        Acid detergent fiber and crude protein. [% DM]

    Returns
    -------
    float or array
        Digestible energy. [Mcal/kg DM]

    Examples
    --------
    >>> round(horse_de_nrc(35.0, 12.0), 3)
    2.14
    """
    adf = np.asarray(adf_pct, dtype=np.float64)
    energy = (
        NRC_HORSE_CONSTANT
        + NRC_HORSE_ADF * adf
        + NRC_HORSE_CP * np.asarray(cp_pct)
        + NRC_HORSE_ADF2 * adf**2
    )
    return as_given(energy, adf_pct, cp_pct)


def horse_de_from_tdn(tdn_pct: Numeric) -> Numeric:
    """Turn TDN into digestible energy for horses, the crudest of the three ways.

    Source: Kentucky Equine Research, understanding the analysis of horse forages.

    Parameters
    ----------
    tdn_pct : float or array
        Total digestible nutrients. [% DM]

    Returns
    -------
    float or array
        Digestible energy. [Mcal/kg DM]

    Examples
    --------
    >>> round(horse_de_from_tdn(50.0), 2)
    2.2
    """
    return as_given(HORSE_DE_PER_TDN_PCT * np.asarray(tdn_pct), tdn_pct)
