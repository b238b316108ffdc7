"""Total digestible nutrients summed from the digestible parts of a forage.

The method to prefer whenever its inputs exist. Inputs are percent of dry matter.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np

from rickyard.farm import Forage
from rickyard.quantities import Numeric, OutOfRange, above_zero, as_given

# NRC, Nutrient Requirements of Dairy Cattle, 2001, ch. 2; from memory, reproduced on a
# printed report (TDN 53).
NFC_DIGESTIBILITY_FRAC: Final = 0.98
CP_DIGESTIBILITY_EXPONENT: Final = 1.2
FIBER_DIGESTIBILITY_FRAC: Final = 0.75
LIGNIN_SURFACE_EXPONENT: Final = 0.667
FAT_ENERGY_MULTIPLE: Final = 2.25
FECAL_LOSS_PCT: Final = 7.0
EE_NOT_FATTY_ACID_PCT: Final = 1.0
DE_PER_CARBOHYDRATE: Final = 4.2
DE_PER_CP: Final = 5.6
DE_PER_FATTY_ACID: Final = 9.4
DE_FECAL_LOSS_MCAL_PER_KG: Final = 0.3
#: Defaults for what a report leaves out; lignin and ash have none.
#: Judgement, no published source.
NDICP_PER_NDF: Final = 0.07
ADICP_PER_CP: Final = 0.06
EE_DEFAULT_PCT: Final = 2.0
#: Processing adjustment of the carbohydrate: hay, haylage and grass silage; corn silage.
PAF_HAY: Final = 1.0
PAF_CORN_SILAGE: Final = 0.94


def paf_of(forage: Forage) -> float:
    """Return the processing adjustment of a forage.

    Parameters
    ----------
    forage : Forage
        What the sample is made of.

    Returns
    -------
    float
        0.94 for corn silage, else 1. [-]
    """
    return PAF_CORN_SILAGE if forage is Forage.CORN_SILAGE else PAF_HAY


# University of Georgia forage glossary, entry TDN (the TDN of relative forage quality).
RFQ_LEGUME_CP_DIGESTIBILITY_FRAC: Final = 0.93
RFQ_GRASS_CP_DIGESTIBILITY_FRAC: Final = 0.87
RFQ_FAT_DIGESTIBILITY_FRAC: Final = 0.97
RFQ_LEGUME_LOSS_PCT: Final = 7.0
RFQ_GRASS_LOSS_PCT: Final = 10.0
RFQ_GRASS_NDFD_INTERCEPT_PCT: Final = 22.7
RFQ_GRASS_NDFD_SLOPE: Final = 0.664
RFQ_EE_DEFAULT_PCT: Final = 2.05  # a university research script


class DigestibleParts(NamedTuple):
    """The truly digestible parts of a forage by NRC 2001, in percent of dry matter."""

    nfc_pct: Numeric
    cp_pct: Numeric
    fatty_acid_pct: Numeric
    ndf_pct: Numeric


def digestible_parts_nrc2001(
    cp_pct: Numeric,
    ndf_pct: Numeric,
    lignin_pct: Numeric,
    ash_pct: Numeric,
    ee_pct: Numeric | None = None,
    ndicp_pct: Numeric | None = None,
    adicp_pct: Numeric | None = None,
    paf: float = PAF_HAY,
) -> DigestibleParts:
    """Split a forage into its truly digestible parts.

    Source: NRC (2001), Nutrient Requirements of Dairy Cattle, ch. 2; from memory, reproduced on a
    printed laboratory report.

    Parameters
    ----------
    cp_pct, ndf_pct, lignin_pct, ash_pct : float or array
        Crude protein, neutral detergent fiber, lignin and ash. [% DM]
    ee_pct : float or array, optional
        Ether extract, 2.0 when unknown. [% DM]
    ndicp_pct, adicp_pct : float or array, optional
        Protein in neutral and acid detergent fiber; 7 % of the fiber and 6 % of the protein
        when unknown. [% DM]
    paf : float
        Processing adjustment: 1.00 for hay, haylage and grass silage, 0.94 corn silage. [-]

    Returns
    -------
    DigestibleParts
        Digestible carbohydrate, protein, fatty acids and fiber. [% DM]

    Raises
    ------
    OutOfRange
        If protein, or the fiber free of protein, is not positive, or less than the lignin.

    Examples
    --------
    >>> parts = digestible_parts_nrc2001(6.4, 71.9, 8.5, 3.43, 1.9, 2.1, 0.8)
    >>> [round(part, 2) for part in parts]
    [18.1, 5.51, 0.9, 34.69]
    """
    cp = np.asarray(cp_pct, dtype=np.float64)
    ndf = np.asarray(ndf_pct, dtype=np.float64)
    lignin = np.asarray(lignin_pct, dtype=np.float64)
    ee = np.asarray(EE_DEFAULT_PCT if ee_pct is None else ee_pct, dtype=np.float64)
    adicp = ADICP_PER_CP * cp if adicp_pct is None else np.asarray(adicp_pct)
    pure_ndf = _ndf_free_of_protein(ndf, ndicp_pct)
    above_zero("Protein and fiber must be above 0% of dry matter.", cp, pure_ndf)
    if np.any(lignin > pure_ndf):
        raise OutOfRange("Lignin is a part of the fiber and must not be more than it.")
    nfc = 100.0 - (pure_ndf + cp + ee + np.asarray(ash_pct))
    open_fiber = 1.0 - (lignin / pure_ndf) ** LIGNIN_SURFACE_EXPONENT
    inputs = (cp_pct, ndf_pct, lignin_pct, ash_pct, ee, adicp, pure_ndf)
    return DigestibleParts(
        as_given(NFC_DIGESTIBILITY_FRAC * nfc * paf, *inputs),
        as_given(cp * np.exp(-CP_DIGESTIBILITY_EXPONENT * adicp / cp), *inputs),
        as_given(_fatty_acids(ee), *inputs),
        as_given(FIBER_DIGESTIBILITY_FRAC * (pure_ndf - lignin) * open_fiber, *inputs),
    )


def tdn_nrc2001(
    cp_pct: Numeric,
    ndf_pct: Numeric,
    lignin_pct: Numeric,
    ash_pct: Numeric,
    ee_pct: Numeric | None = None,
    ndicp_pct: Numeric | None = None,
    adicp_pct: Numeric | None = None,
    paf: float = PAF_HAY,
) -> Numeric:
    """Sum TDN from the digestible parts, at maintenance intake.

    The preferred method whenever its inputs exist. Beef cattle take no discount for level of
    intake.

    Source: NRC (2001), Nutrient Requirements of Dairy Cattle, ch. 2; from memory, reproduced on a
    printed laboratory report.

    Parameters
    ----------
    cp_pct, ndf_pct, lignin_pct, ash_pct, ee_pct, ndicp_pct, adicp_pct, paf
        As in ``digestible_parts_nrc2001``. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients at one times maintenance. [% DM]

    Examples
    --------
    >>> round(tdn_nrc2001(6.4, 71.9, 8.5, 3.43, 1.9, 2.1, 0.8), 1)
    53.3
    """
    parts = digestible_parts_nrc2001(
        cp_pct, ndf_pct, lignin_pct, ash_pct, ee_pct, ndicp_pct, adicp_pct, paf
    )
    return tdn_of_parts(parts)


def tdn_of_parts(parts: DigestibleParts) -> Numeric:
    """Sum TDN from digestible parts that are known already.

    Parameters
    ----------
    parts : DigestibleParts
        From ``digestible_parts_nrc2001``. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients at one times maintenance. [% DM]

    Examples
    --------
    >>> round(tdn_of_parts(DigestibleParts(18.1, 5.51, 0.9, 34.69)), 1)
    53.3
    """
    tdn = (
        parts.nfc_pct
        + parts.cp_pct
        + FAT_ENERGY_MULTIPLE * parts.fatty_acid_pct
        + parts.ndf_pct
        - FECAL_LOSS_PCT
    )
    return as_given(tdn, *parts)


def de_nrc2001(
    cp_pct: Numeric,
    ndf_pct: Numeric,
    lignin_pct: Numeric,
    ash_pct: Numeric,
    ee_pct: Numeric | None = None,
    ndicp_pct: Numeric | None = None,
    adicp_pct: Numeric | None = None,
    paf: float = PAF_HAY,
) -> Numeric:
    """Sum digestible energy from the digestible parts, at maintenance intake.

    Source: NRC (2001), Nutrient Requirements of Dairy Cattle, ch. 2; from memory.

    Parameters
    ----------
    cp_pct, ndf_pct, lignin_pct, ash_pct, ee_pct, ndicp_pct, adicp_pct, paf
        As in ``digestible_parts_nrc2001``. [% DM]

    Returns
    -------
    float or array
        Digestible energy at one times maintenance. [Mcal/kg DM]

    Examples
    --------
    >>> round(de_nrc2001(20.0, 42.0, 7.0, 10.0, 2.5, 2.5, 1.4), 3)
    2.724
    """
    parts = digestible_parts_nrc2001(
        cp_pct, ndf_pct, lignin_pct, ash_pct, ee_pct, ndicp_pct, adicp_pct, paf
    )
    return de_of_parts(parts)


def de_of_parts(parts: DigestibleParts) -> Numeric:
    """Sum digestible energy from digestible parts that are known already.

    Parameters
    ----------
    parts : DigestibleParts
        From ``digestible_parts_nrc2001``. [% DM]

    Returns
    -------
    float or array
        Digestible energy at one times maintenance. [Mcal/kg DM]

    Examples
    --------
    >>> round(de_of_parts(DigestibleParts(27.44, 18.39, 1.5, 16.69)), 2)
    2.72
    """
    energy = (
        DE_PER_CARBOHYDRATE * (parts.nfc_pct + parts.ndf_pct)
        + DE_PER_CP * parts.cp_pct
        + DE_PER_FATTY_ACID * parts.fatty_acid_pct
    )
    return as_given(energy / 100.0 - DE_FECAL_LOSS_MCAL_PER_KG, *parts)


def tdn_rfq_legume(
    cp_pct: Numeric,
    ndf_pct: Numeric,
    ndfd48_pct_of_ndf: Numeric,
    ash_pct: Numeric,
    ee_pct: Numeric | None = None,
    ndicp_pct: Numeric | None = None,
) -> Numeric:
    """Sum TDN of a legume with its measured fiber digestibility.

    Source: University of Georgia forage glossary, entry TDN.

    Parameters
    ----------
    cp_pct, ndf_pct, ash_pct : float or array
        Crude protein, neutral detergent fiber and ash. [% DM]
    ndfd48_pct_of_ndf : float or array
        In-vitro digestibility of the fiber after 48 hours. [% of NDF]
    ee_pct : float or array, optional
        Ether extract, 2.05 when unknown. [% DM]
    ndicp_pct : float or array, optional
        Protein in the fiber, 7 % of the fiber when unknown. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% DM]

    Examples
    --------
    >>> round(tdn_rfq_legume(20.0, 40.0, 45.0, 10.0, 2.5), 2)
    61.31
    """
    return _tdn_rfq(
        (cp_pct, ndf_pct, ndfd48_pct_of_ndf, ash_pct, ee_pct, ndicp_pct),
        RFQ_LEGUME_CP_DIGESTIBILITY_FRAC,
        np.asarray(ndfd48_pct_of_ndf),
        RFQ_LEGUME_LOSS_PCT,
    )


def tdn_rfq_grass(
    cp_pct: Numeric,
    ndf_pct: Numeric,
    ndfd48_pct_of_ndf: Numeric,
    ash_pct: Numeric,
    ee_pct: Numeric | None = None,
    ndicp_pct: Numeric | None = None,
) -> Numeric:
    """Sum TDN of a grass with its measured fiber digestibility.

    Source: University of Georgia forage glossary, entry TDN.

    Parameters
    ----------
    cp_pct, ndf_pct, ndfd48_pct_of_ndf, ash_pct, ee_pct, ndicp_pct
        As in ``tdn_rfq_legume``. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% DM]

    Examples
    --------
    >>> round(tdn_rfq_grass(10.0, 65.0, 50.0, 8.0, 2.3), 2)
    54.19
    """
    fiber = RFQ_GRASS_NDFD_INTERCEPT_PCT + RFQ_GRASS_NDFD_SLOPE * np.asarray(ndfd48_pct_of_ndf)
    return _tdn_rfq(
        (cp_pct, ndf_pct, ndfd48_pct_of_ndf, ash_pct, ee_pct, ndicp_pct),
        RFQ_GRASS_CP_DIGESTIBILITY_FRAC,
        fiber,
        RFQ_GRASS_LOSS_PCT,
    )


def _tdn_rfq(
    given: tuple[Numeric, ...], cp_digestibility: float, ndfd: Numeric, loss: float
) -> Numeric:
    cp, ndf, _, ash, ee_given, ndicp = given
    ee = np.asarray(RFQ_EE_DEFAULT_PCT if ee_given is None else ee_given, dtype=np.float64)
    pure_ndf = _ndf_free_of_protein(np.asarray(ndf, dtype=np.float64), ndicp)
    nfc = 100.0 - (pure_ndf + np.asarray(cp) + ee + np.asarray(ash))
    tdn = (
        NFC_DIGESTIBILITY_FRAC * nfc
        + cp_digestibility * np.asarray(cp)
        + RFQ_FAT_DIGESTIBILITY_FRAC * FAT_ENERGY_MULTIPLE * _fatty_acids(ee)
        + pure_ndf * ndfd / 100.0
        - loss
    )
    return as_given(tdn, *(value for value in given if value is not None))


def _ndf_free_of_protein(ndf: Numeric, ndicp_pct: Numeric | None) -> Numeric:
    bound = NDICP_PER_NDF * ndf if ndicp_pct is None else np.asarray(ndicp_pct)
    return ndf - bound


def _fatty_acids(ee: Numeric) -> Numeric:
    return np.maximum(0.0, ee - EE_NOT_FATTY_ACID_PCT)
