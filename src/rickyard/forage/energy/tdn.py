"""Total digestible nutrients by fiber regression, and the name of every method.

The sums of digestible parts stand in ``summative``. The methods disagree by several points on
one sample: two lots are compared only by one method. Inputs are percent of dry matter.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np

from rickyard.forage.values import dm_to_basis
from rickyard.quantities import Numeric, as_given

# Penn State, from memory: TDN by net energy for lactation.
PENN_TDN_INTERCEPT_PCT: Final = 4.898
PENN_TDN_PER_NEL: Final = 89.796
# Bermudagrass laboratories of the southeast, from memory.
SOUTHEAST_INTERCEPT_PCT: Final = 111.8
SOUTHEAST_PER_CP: Final = 0.95
SOUTHEAST_PER_ADF: Final = -0.36
SOUTHEAST_PER_NDF: Final = -0.7


class TdnMethod(StrEnum):
    """Where a TDN comes from; ``label`` says it in plain words."""

    label: str

    def __new__(cls, value: str, label: str) -> TdnMethod:
        """Make a member of its value and its words."""
        one = str.__new__(cls, value)
        one._value_, one.label = value, label
        return one

    AS_PRINTED = "as_printed", "as printed by the lab"
    WESTERN_ALFALFA_100 = "western_alfalfa_100", "from ADF by the western alfalfa equation"
    WESTERN_ALFALFA_90 = (
        "western_alfalfa_90",
        "from ADF by the western alfalfa equation, at 90% dry matter",
    )
    MIDWEST = "midwest", "from ADF by the Midwest legume and grass equation"
    MIDWEST_CORN_SILAGE = "midwest_corn_silage", "from ADF by the Midwest corn silage equation"
    OKLAHOMA = "oklahoma", "from ADF by the Oklahoma State alfalfa equation"
    PENN_STATE_LEGUME = "penn_state_legume", "from ADF by the Penn State legume equation"
    PENN_STATE_GRASS = "penn_state_grass", "from ADF by the Penn State grass equation"
    PENN_STATE_CORN_SILAGE = (
        "penn_state_corn_silage",
        "from ADF by the Penn State corn silage equation",
    )
    SOUTHEAST_WARM_GRASS = (
        "southeast_warm_grass",
        "from protein, ADF and NDF by the southeastern warm-season grass equation",
    )
    NRC_2001 = "nrc_2001", "by the summative equation (NRC 2001)"
    RFQ_LEGUME = "rfq_legume", "as used in relative forage quality of legumes"
    RFQ_GRASS = "rfq_grass", "as used in relative forage quality of grasses"
    BOOK = "book", "book value"


@dataclass(frozen=True, slots=True)
class FiberLine:
    """TDN as a straight line on acid detergent fiber: ``intercept - per_adf * ADF``.

    ``source`` is who prints it. With ``by_nel`` the line gives net energy for lactation
    [Mcal/lb DM], from which the TDN follows.
    """

    intercept: float
    per_adf: float
    source: str
    by_nel: bool = False

    def __call__(self, adf_pct: Numeric) -> Numeric:
        """Estimate TDN from acid detergent fiber, both in percent of dry matter.

        >>> [round(line(30.0), 1) for line in (tdn_western_alfalfa_100, tdn_midwest, tdn_oklahoma)]
        [59.8, 65.5, 65.5]
        >>> round(tdn_penn_state_legume(30.0), 1), round(tdn_penn_state_grass(36.0), 1)
        (66.6, 61.5)
        >>> round(tdn_midwest_corn_silage(28.0), 2), round(tdn_penn_state_corn_silage(28.0), 1)
        (68.24, 67.5)
        """
        value = self.intercept - self.per_adf * np.asarray(adf_pct)
        if self.by_nel:
            value = PENN_TDN_INTERCEPT_PCT + PENN_TDN_PER_NEL * value
        return as_given(value, adf_pct)


_APPENDIX: Final = "National Forage Testing Association, Appendix A3"
_PENN: Final = "Penn State forage-testing practice, from memory"
#: ADF about 20-48; not for warm-season grass. From memory, confirmed by the class limits of the
#: guidelines.
tdn_western_alfalfa_100: Final = FiberLine(
    82.38, 0.7515, "Western alfalfa equation, confirmed by the USDA-AMS hay guidelines of 2003"
)
#: Digestible dry matter taken as TDN, about 6 points above the western equation at ADF 30.
tdn_midwest: Final = FiberLine(88.9, 0.779, _APPENDIX)
tdn_midwest_corn_silage: Final = FiberLine(87.84, 0.70, _APPENDIX)
tdn_oklahoma: Final = FiberLine(88.9, 0.78, "Oklahoma State University, alfalfa quality page")
tdn_penn_state_legume: Final = FiberLine(1.044, 0.0119, _PENN, by_nel=True)
tdn_penn_state_grass: Final = FiberLine(1.0876, 0.0127, _PENN, by_nel=True)
tdn_penn_state_corn_silage: Final = FiberLine(1.044, 0.0124, _PENN, by_nel=True)
SOUTHEAST_SOURCE: Final = "Practice of bermudagrass laboratories, from memory"


def tdn_western_alfalfa_90(adf_pct: Numeric) -> Numeric:
    """Estimate TDN of alfalfa by the western equation, restated at 90 % dry matter.

    Source: USDA-AMS hay quality guidelines (2003).

    Parameters
    ----------
    adf_pct : float or array
        Acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% of hay at 90 % DM]

    Examples
    --------
    >>> round(tdn_western_alfalfa_90(32.0), 1)
    52.5
    """
    return dm_to_basis(tdn_western_alfalfa_100(adf_pct))


def tdn_southeast_warm_grass(cp_pct: Numeric, adf_pct: Numeric, ndf_pct: Numeric) -> Numeric:
    """Estimate TDN of bermudagrass and its like by the southeastern equation.

    Source: Practice of bermudagrass laboratories, from memory.

    Parameters
    ----------
    cp_pct, adf_pct, ndf_pct : float or array
        Crude protein, acid and neutral detergent fiber. [% DM]

    Returns
    -------
    float or array
        Total digestible nutrients. [% DM]

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
