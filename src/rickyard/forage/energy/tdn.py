"""Total digestible nutrients by fiber regression, and the name of every method.

The sums of digestible parts stand in ``summative``. The methods disagree by several points on
one sample: two lots are compared only by one method. Inputs are percent of dry matter.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Final

import numpy as np

from rickyard.forage.values import dm_to_basis
from rickyard.quantities import Numeric, as_given

# Western alfalfa equation, from memory; confirmed against the TDN columns of the USDA-AMS hay
# quality guidelines of 2003.
WESTERN_INTERCEPT_PCT: Final = 82.38
WESTERN_PER_ADF: Final = 0.7515
# National Forage Testing Association, Appendix A3, Energy Estimates.
MIDWEST_INTERCEPT_PCT: Final = 88.9
MIDWEST_PER_ADF: Final = 0.779
MIDWEST_CORN_SILAGE_INTERCEPT_PCT: Final = 87.84
MIDWEST_CORN_SILAGE_PER_ADF: Final = 0.70
# Oklahoma State University, alfalfa quality page.
OKLAHOMA_INTERCEPT_PCT: Final = 88.9
OKLAHOMA_PER_ADF: Final = 0.78
# Penn State, from memory: net energy for lactation by ADF, then TDN by net energy.
PENN_LEGUME_INTERCEPT_MCAL_PER_LB: Final = 1.044
PENN_LEGUME_PER_ADF: Final = 0.0119
PENN_GRASS_INTERCEPT_MCAL_PER_LB: Final = 1.0876
PENN_GRASS_PER_ADF: Final = 0.0127
PENN_CORN_SILAGE_INTERCEPT_MCAL_PER_LB: Final = 1.044
PENN_CORN_SILAGE_PER_ADF: Final = 0.0124
PENN_TDN_INTERCEPT_PCT: Final = 4.898
PENN_TDN_PER_NEL: Final = 89.796
# Bermudagrass laboratories of the southeast, from memory.
SOUTHEAST_INTERCEPT_PCT: Final = 111.8
SOUTHEAST_PER_CP: Final = 0.95
SOUTHEAST_PER_ADF: Final = -0.36
SOUTHEAST_PER_NDF: Final = -0.7


class TdnMethod(StrEnum):
    """Where a TDN comes from; ``label`` says it in plain words."""

    AS_PRINTED = "as_printed"
    WESTERN_ALFALFA_100 = "western_alfalfa_100"
    WESTERN_ALFALFA_90 = "western_alfalfa_90"
    MIDWEST = "midwest"
    MIDWEST_CORN_SILAGE = "midwest_corn_silage"
    OKLAHOMA = "oklahoma"
    PENN_STATE_LEGUME = "penn_state_legume"
    PENN_STATE_GRASS = "penn_state_grass"
    PENN_STATE_CORN_SILAGE = "penn_state_corn_silage"
    SOUTHEAST_WARM_GRASS = "southeast_warm_grass"
    NRC_2001 = "nrc_2001"
    RFQ_LEGUME = "rfq_legume"
    RFQ_GRASS = "rfq_grass"
    BOOK = "book"

    @property
    def label(self) -> str:
        """Return the method in plain words.

        Examples
        --------
        >>> TdnMethod.NRC_2001.label
        'summed from digestible parts (NRC 2001)'
        """
        return _LABELS[self]


_LABELS: Final = {
    TdnMethod.AS_PRINTED: "as printed by the lab",
    TdnMethod.WESTERN_ALFALFA_100: "from ADF by the western alfalfa equation",
    TdnMethod.WESTERN_ALFALFA_90: "from ADF by the western alfalfa equation, at 90 % dry matter",
    TdnMethod.MIDWEST: "from ADF by the Midwest legume and grass equation",
    TdnMethod.MIDWEST_CORN_SILAGE: "from ADF by the Midwest corn silage equation",
    TdnMethod.OKLAHOMA: "from ADF by the Oklahoma State alfalfa equation",
    TdnMethod.PENN_STATE_LEGUME: "from ADF by the Penn State legume equation",
    TdnMethod.PENN_STATE_GRASS: "from ADF by the Penn State grass equation",
    TdnMethod.PENN_STATE_CORN_SILAGE: "from ADF by the Penn State corn silage equation",
    TdnMethod.SOUTHEAST_WARM_GRASS: (
        "from protein, ADF and NDF by the southeastern warm-season grass equation"
    ),
    TdnMethod.NRC_2001: "summed from digestible parts (NRC 2001)",
    TdnMethod.RFQ_LEGUME: "as used in relative forage quality of legumes",
    TdnMethod.RFQ_GRASS: "as used in relative forage quality of grasses",
    TdnMethod.BOOK: "book value",
}


def tdn_western_alfalfa_100(adf_pct: Numeric) -> Numeric:
    """Estimate TDN of alfalfa by the western equation, on dry matter.

    Parameters
    ----------
    adf_pct : float or array
        Acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% DM]

    Notes
    -----
    Alfalfa, ADF about 20-48. Not for warm-season grass.

    References
    ----------
    .. [1] Equation from memory, confirmed by the class limits of the USDA-AMS hay quality
       guidelines (2003).

    Examples
    --------
    >>> round(tdn_western_alfalfa_100(29.0), 2)
    60.59
    """
    return _line(WESTERN_INTERCEPT_PCT, WESTERN_PER_ADF, adf_pct)


def tdn_western_alfalfa_90(adf_pct: Numeric) -> Numeric:
    """Estimate TDN of alfalfa by the western equation, restated at 90 % dry matter.

    Parameters
    ----------
    adf_pct : float or array
        Acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% of hay at 90 % DM]

    References
    ----------
    .. [1] USDA-AMS hay quality guidelines (2003).

    Examples
    --------
    >>> round(tdn_western_alfalfa_90(32.0), 1)
    52.5
    """
    return dm_to_basis(tdn_western_alfalfa_100(adf_pct))


def tdn_midwest(adf_pct: Numeric) -> Numeric:
    """Take digestible dry matter of legumes and grasses as TDN, the Midwest practice.

    Parameters
    ----------
    adf_pct : float or array
        Acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% DM]

    Notes
    -----
    About 6 points above the western equation at ADF 30.

    References
    ----------
    .. [1] National Forage Testing Association, Appendix A3, Energy Estimates.

    Examples
    --------
    >>> round(tdn_midwest(30.0), 1)
    65.5
    """
    return _line(MIDWEST_INTERCEPT_PCT, MIDWEST_PER_ADF, adf_pct)


def tdn_midwest_corn_silage(adf_pct: Numeric) -> Numeric:
    """Estimate TDN of corn silage by the Midwest equation.

    Parameters
    ----------
    adf_pct : float or array
        Acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% DM]

    References
    ----------
    .. [1] National Forage Testing Association, Appendix A3, Energy Estimates.

    Examples
    --------
    >>> round(tdn_midwest_corn_silage(28.0), 2)
    68.24
    """
    return _line(MIDWEST_CORN_SILAGE_INTERCEPT_PCT, MIDWEST_CORN_SILAGE_PER_ADF, adf_pct)


def tdn_oklahoma(adf_pct: Numeric) -> Numeric:
    """Estimate TDN of alfalfa as the Oklahoma State laboratory does.

    Parameters
    ----------
    adf_pct : float or array
        Acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% DM]

    References
    ----------
    .. [1] Oklahoma State University, alfalfa quality page.

    Examples
    --------
    >>> round(tdn_oklahoma(30.0), 1)
    65.5
    """
    return _line(OKLAHOMA_INTERCEPT_PCT, OKLAHOMA_PER_ADF, adf_pct)


def tdn_penn_state_legume(adf_pct: Numeric) -> Numeric:
    """Estimate TDN of legumes by the Penn State equations.

    Parameters
    ----------
    adf_pct : float or array
        Acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% DM]

    References
    ----------
    .. [1] Penn State forage-testing practice, from memory.

    Examples
    --------
    >>> round(tdn_penn_state_legume(30.0), 1)
    66.6
    """
    return _penn(PENN_LEGUME_INTERCEPT_MCAL_PER_LB, PENN_LEGUME_PER_ADF, adf_pct)


def tdn_penn_state_grass(adf_pct: Numeric) -> Numeric:
    """Estimate TDN of cool-season grass by the Penn State equations.

    Parameters
    ----------
    adf_pct : float or array
        Acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% DM]

    References
    ----------
    .. [1] Penn State forage-testing practice, from memory.

    Examples
    --------
    >>> round(tdn_penn_state_grass(36.0), 1)
    61.5
    """
    return _penn(PENN_GRASS_INTERCEPT_MCAL_PER_LB, PENN_GRASS_PER_ADF, adf_pct)


def tdn_southeast_warm_grass(cp_pct: Numeric, adf_pct: Numeric, ndf_pct: Numeric) -> Numeric:
    """Estimate TDN of bermudagrass and its like by the southeastern equation.

    Parameters
    ----------
    cp_pct, adf_pct, ndf_pct : float or array
        Crude protein, acid and neutral detergent fiber. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% DM]

    References
    ----------
    .. [1] Practice of bermudagrass laboratories, from memory.

    Examples
    --------
    >>> round(tdn_southeast_warm_grass(10.0, 38.0, 70.0), 1)
    58.6
    """
    tdn = (
        SOUTHEAST_INTERCEPT_PCT
        + SOUTHEAST_PER_CP * np.asarray(cp_pct)
        + SOUTHEAST_PER_ADF * np.asarray(adf_pct)
        + SOUTHEAST_PER_NDF * np.asarray(ndf_pct)
    )
    return as_given(tdn, cp_pct, adf_pct, ndf_pct)


def tdn_penn_state_corn_silage(adf_pct: Numeric) -> Numeric:
    """Estimate TDN of corn silage by the Penn State equation.

    Parameters
    ----------
    adf_pct : float or array
        Acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% DM]

    References
    ----------
    .. [1] Penn State forage-testing practice, from memory: net energy for lactation of
       1.044 - 0.0124 ADF per pound, then TDN by net energy.

    Examples
    --------
    Net energy 0.697 Mcal/lb at ADF 28:

    >>> round(tdn_penn_state_corn_silage(28.0), 1)
    67.5
    """
    return _penn(PENN_CORN_SILAGE_INTERCEPT_MCAL_PER_LB, PENN_CORN_SILAGE_PER_ADF, adf_pct)


def _line(intercept: float, per_adf: float, adf_pct: Numeric) -> Numeric:
    return as_given(intercept - per_adf * np.asarray(adf_pct), adf_pct)


def _penn(intercept: float, per_adf: float, adf_pct: Numeric) -> Numeric:
    nel_mcal_per_lb = intercept - per_adf * np.asarray(adf_pct)
    return as_given(PENN_TDN_INTERCEPT_PCT + PENN_TDN_PER_NEL * nel_mcal_per_lb, adf_pct)
