"""Indices that rank forages, and the carbohydrate fractions found by difference or sum.

Inputs are percent of dry matter unless a name says otherwise. An index has no basis.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.farm import Forage
from rickyard.forage.energy.summative import tdn_rfq_grass, tdn_rfq_legume
from rickyard.quantities import Numeric, above_zero, as_given

# Rohweder, Barnes & Jorgensen 1978, J. Anim. Sci. 47:747; printed by Utah State University
# Extension (Boman, "Relative Feed Value of Alfalfa Hay").
DDM_INTERCEPT_PCT: Final = 88.9
DDM_PER_ADF: Final = 0.779
NDF_FILL_PCT_BW: Final = 120.0
FULL_BLOOM_ALFALFA: Final = 1.29  # scales the index to 100 at ADF 41, NDF 53

#: Forages that relative feed value was not made for.
NOT_FOR_RFV: Final = frozenset({Forage.CORN_SILAGE, Forage.STRAW})

RFQ_SCALE: Final = 1.23  # Undersander, University of Wisconsin Extension, Relative Forage Quality
# Moore & Undersander 2002, legume intake; from memory.
NDFD_AVERAGE_PCT: Final = 45.0
INTAKE_PER_NDFD_PCT_BW: Final = 0.374 / 1350.0 * 100.0
# Moore & Undersander 2002, grass intake polynomial.
GRASS_INTAKE_CONSTANT: Final = -2.318
GRASS_INTAKE_CP: Final = 0.442
GRASS_INTAKE_CP2: Final = -0.0100
GRASS_INTAKE_TDN: Final = -0.0638
GRASS_INTAKE_TDN2: Final = 0.000922
GRASS_INTAKE_ADF: Final = 0.180
GRASS_INTAKE_ADF2: Final = -0.00196
GRASS_INTAKE_CP_ADF: Final = -0.00529
#: Outside these the grass polynomial has left the data it was fitted to.
GRASS_INTAKE_LEAST_PCT_BW: Final = 0.8
GRASS_INTAKE_MOST_PCT_BW: Final = 4.5
_G_PER_KG: Final = 1000.0  # by definition


def digestible_dry_matter_pct(adf_pct: Numeric) -> Numeric:
    """Estimate digestible dry matter from acid detergent fiber.

    ``DDM = 88.9 - 0.779 ADF``, made for alfalfa, cool-season grass and their mixtures at
    ADF 18-55.

    Source: Rohweder, Barnes & Jorgensen (1978), J. Anim. Sci. 47:747-759.

    Parameters
    ----------
    adf_pct : float or array
        Acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        Digestible dry matter. [% DM]

    Examples
    --------
    >>> round(digestible_dry_matter_pct(28.0), 2)
    67.09
    """
    return as_given(DDM_INTERCEPT_PCT - DDM_PER_ADF * np.asarray(adf_pct), adf_pct)


def dry_matter_intake_pct_bw(ndf_pct: Numeric) -> Numeric:
    """Estimate the intake that relative feed value assumes, from neutral detergent fiber.

    A ranking device, ``120 / NDF``: not the intake that a ration is planned on.

    Source: Rohweder, Barnes & Jorgensen (1978), J. Anim. Sci. 47:747-759.

    Parameters
    ----------
    ndf_pct : float or array
        Neutral detergent fiber, above 0. [% DM]

    Returns
    -------
    float or array
        Dry-matter intake per day. [% of body weight]

    Examples
    --------
    >>> round(dry_matter_intake_pct_bw(35.0), 2)
    3.43
    """
    ndf = np.asarray(ndf_pct, dtype=np.float64)
    above_zero("Neutral detergent fiber must be above 0% of dry matter.", ndf)
    return as_given(NDF_FILL_PCT_BW / ndf, ndf_pct)


def relative_feed_value(adf_pct: Numeric, ndf_pct: Numeric) -> Numeric:
    """Rank a forage against full-bloom alfalfa by digestible dry-matter intake.

    Meant for alfalfa, cool-season grass and their mixtures, ADF 18-55 and NDF 25-80;
    outside that range the caller marks the value as extrapolated. Not for corn silage.

    Source: Rohweder, Barnes & Jorgensen (1978), J. Anim. Sci. 47:747-759; Boman, Utah State
    University Extension, Relative Feed Value of Alfalfa Hay.

    Parameters
    ----------
    adf_pct, ndf_pct : float or array
        Acid and neutral detergent fiber on a dry-matter basis, the latter above 0. [% DM]

    Returns
    -------
    float or array
        Relative feed value. An index: never scaled by dry matter. [-]

    Examples
    --------
    >>> round(relative_feed_value(41.0, 53.0))
    100
    >>> round(relative_feed_value(28.0, 35.0))
    178
    """
    digestible = digestible_dry_matter_pct(adf_pct)
    intake = dry_matter_intake_pct_bw(ndf_pct)
    return as_given(np.asarray(digestible) * intake / FULL_BLOOM_ALFALFA, adf_pct, ndf_pct)


def relative_forage_quality_legume(
    cp_pct: Numeric,
    ndf_pct: Numeric,
    ndfd48_pct_of_ndf: Numeric,
    ash_pct: Numeric,
    ee_pct: Numeric | None = None,
    ndicp_pct: Numeric | None = None,
) -> Numeric:
    """Rank a legume or legume-grass mixture by digestible fiber and intake.

    Valid for fiber digestibility 30-75, protein 4-26 and TDN 40-75. For a lot that is at least
    half legume (common practice, no published source).

    Source: Moore & Undersander (2002), as given by University of Wisconsin Extension; the
    fiber-digestibility term of intake is from memory; University of Georgia forage glossary, entry
    TDN.

    Parameters
    ----------
    cp_pct, ndf_pct, ash_pct : float or array
        Crude protein, neutral detergent fiber (above 0) and ash. [% DM]
    ndfd48_pct_of_ndf : float or array
        In-vitro digestibility of the fiber after 48 hours; 30-hour values do not serve.
        [% of NDF]
    ee_pct, ndicp_pct : float or array, optional
        Ether extract and fiber-bound protein; defaults as in ``tdn_rfq_legume``. [% DM]

    Returns
    -------
    float or array
        Relative forage quality. An index: never scaled by dry matter. [-]

    Examples
    --------
    >>> round(relative_forage_quality_legume(20.0, 40.0, 45.0, 10.0, 2.5), 1)
    149.5
    """
    tdn = tdn_rfq_legume(cp_pct, ndf_pct, ndfd48_pct_of_ndf, ash_pct, ee_pct, ndicp_pct)
    better_fiber = np.asarray(ndfd48_pct_of_ndf) - NDFD_AVERAGE_PCT
    intake = dry_matter_intake_pct_bw(ndf_pct) + better_fiber * INTAKE_PER_NDFD_PCT_BW
    return as_given(intake * tdn / RFQ_SCALE, tdn, intake)


def relative_forage_quality_grass(
    cp_pct: Numeric,
    adf_pct: Numeric,
    ndf_pct: Numeric,
    ndfd48_pct_of_ndf: Numeric,
    ash_pct: Numeric,
    ee_pct: Numeric | None = None,
    ndicp_pct: Numeric | None = None,
) -> Numeric:
    """Rank a cool- or warm-season grass by digestible fiber and intake.

    The intake polynomial is empirical: fiber digestibility 30-75, protein 4-26, ADF 22-50,
    TDN 40-75.

    Source: Moore & Undersander (2002), as given by University of Wisconsin Extension; University of
    Georgia forage glossary, entry TDN.

    Parameters
    ----------
    cp_pct, adf_pct, ndf_pct, ash_pct : float or array
        Crude protein, acid and neutral detergent fiber, ash. [% DM]
    ndfd48_pct_of_ndf : float or array
        In-vitro digestibility of the fiber after 48 hours; 30-hour values do not serve.
        [% of NDF]
    ee_pct, ndicp_pct : float or array, optional
        Ether extract and fiber-bound protein; defaults as in ``tdn_rfq_grass``. [% DM]

    Returns
    -------
    float or array
        Relative forage quality, or NaN where the fitted intake leaves 0.8-4.5 % of body
        weight, which means that it cannot be computed. [-]

    Examples
    --------
    >>> round(relative_forage_quality_grass(10.0, 40.0, 65.0, 50.0, 8.0, 2.3), 1)
    101.4
    """
    tdn = np.asarray(
        tdn_rfq_grass(cp_pct, ndf_pct, ndfd48_pct_of_ndf, ash_pct, ee_pct, ndicp_pct),
        dtype=np.float64,
    )
    cp = np.asarray(cp_pct, dtype=np.float64)
    adf = np.asarray(adf_pct, dtype=np.float64)
    intake = (
        GRASS_INTAKE_CONSTANT
        + GRASS_INTAKE_CP * cp
        + GRASS_INTAKE_CP2 * cp**2
        + GRASS_INTAKE_TDN * tdn
        + GRASS_INTAKE_TDN2 * tdn**2
        + GRASS_INTAKE_ADF * adf
        + GRASS_INTAKE_ADF2 * adf**2
        + GRASS_INTAKE_CP_ADF * cp * adf
    )
    computable = (intake >= GRASS_INTAKE_LEAST_PCT_BW) & (intake <= GRASS_INTAKE_MOST_PCT_BW)
    return as_given(np.where(computable, intake * tdn / RFQ_SCALE, np.nan), tdn, intake)


def nfc_pct(
    cp_pct: Numeric,
    ndf_pct: Numeric,
    ee_pct: Numeric,
    ash_pct: Numeric,
    ndicp_pct: Numeric = 0.0,
) -> Numeric:
    """Find non-fiber carbohydrate by difference.

    Source: Vet. Med. Sci. 2023;9:1154, Table 2 (without bound protein); Asian-Australas. J. Anim.
    Sci., PMC6817784 Table 2 (with).

    Parameters
    ----------
    cp_pct, ndf_pct, ee_pct, ash_pct : float or array
        Crude protein, neutral detergent fiber, ether extract and ash. [% DM]
    ndicp_pct : float or array
        Protein bound in the fiber, which would otherwise be taken off twice; 0 gives the
        older convention, 1-5 points lower. [% DM]

    Returns
    -------
    float or array
        Non-fiber carbohydrate; below 0 when the components add up to more than 100. [% DM]

    Examples
    --------
    >>> round(nfc_pct(6.4, 71.9, 1.9, 3.43, 2.1), 2)
    18.47
    """
    return _nfc(100.0, cp_pct, ndf_pct, ee_pct, ash_pct, ndicp_pct)


def nfc_g_per_kg(
    cp_g_per_kg: Numeric,
    ndf_g_per_kg: Numeric,
    ee_g_per_kg: Numeric,
    ash_g_per_kg: Numeric,
    ndicp_g_per_kg: Numeric = 0.0,
) -> Numeric:
    """Find non-fiber carbohydrate by difference from components in grams per kilogram.

    Parameters
    ----------
    cp_g_per_kg, ndf_g_per_kg, ee_g_per_kg, ash_g_per_kg : float or array
        Crude protein, neutral detergent fiber, ether extract and ash. [g/kg DM]
    ndicp_g_per_kg : float or array
        Protein bound in the fiber. [g/kg DM]

    Returns
    -------
    float or array
        Non-fiber carbohydrate. [g/kg DM]

    Examples
    --------
    >>> nfc_g_per_kg(134.0, 374.0, 37.0, 62.0, 13.0)
    406.0
    """
    return _nfc(_G_PER_KG, cp_g_per_kg, ndf_g_per_kg, ee_g_per_kg, ash_g_per_kg, ndicp_g_per_kg)


def nsc_pct(starch_pct: Numeric, wsc_pct: Numeric) -> Numeric:
    """Add starch and water-soluble carbohydrate: the non-structural carbohydrate.

    Parameters
    ----------
    starch_pct, wsc_pct : float or array
        Starch and water-soluble carbohydrate (sugar and fructan). [% DM]

    Returns
    -------
    float or array
        Non-structural carbohydrate, in the unit given: it serves for daily masses too. [% DM]

    Examples
    --------
    >>> round(nsc_pct(1.8, 9.9), 1)
    11.7
    """
    return as_given(np.asarray(starch_pct) + np.asarray(wsc_pct), starch_pct, wsc_pct)


def ca_to_p_ratio(ca_pct: Numeric, p_pct: Numeric) -> Numeric:
    """Divide calcium by phosphorus.

    Parameters
    ----------
    ca_pct, p_pct : float or array
        Calcium and phosphorus in one unit, phosphorus above 0. [% DM]

    Returns
    -------
    float or array
        The mass ratio. [-]

    Examples
    --------
    >>> ca_to_p_ratio(189.0, 30.0)
    6.3
    """
    phosphorus = np.asarray(p_pct, dtype=np.float64)
    above_zero("Phosphorus must be above 0 to form a ratio.", phosphorus)
    return as_given(np.asarray(ca_pct) / phosphorus, ca_pct, p_pct)


def _nfc(
    whole: float, cp: Numeric, ndf: Numeric, ee: Numeric, ash: Numeric, ndicp: Numeric
) -> Numeric:
    fiber = np.asarray(ndf) - np.asarray(ndicp)
    left = whole - np.asarray(cp) - fiber - np.asarray(ee) - np.asarray(ash)
    return as_given(left, cp, ndf, ee, ash, ndicp)
