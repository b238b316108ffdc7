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


@dataclass(frozen=True, slots=True)
class FiberLine:
    """TDN as a straight line on acid detergent fiber: ``intercept - per_adf * ADF``.

    ``forage`` is what the line was fitted to and ``source`` who prints it. With ``by_nel`` the
    line gives net energy for lactation [Mcal/lb DM], from which the TDN follows.
    """

    intercept: float
    per_adf: float
    forage: str
    source: str
    by_nel: bool = False

    def __call__(self, adf_pct: Numeric) -> Numeric:
        """Estimate TDN from fiber.

        Parameters
        ----------
        adf_pct : float or array
            Acid detergent fiber. [% DM]

        Returns
        -------
        float or array
            Total digestible nutrients. [% DM]

        Examples
        --------
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

    @property
    def slope(self) -> float:
        """Return what one point of fiber adds to TDN, in percent of dry matter."""
        return -PENN_TDN_PER_NEL * self.per_adf if self.by_nel else -self.per_adf


_APPENDIX: Final = "National Forage Testing Association, Appendix A3, Energy Estimates"
_PENN: Final = "Penn State forage-testing practice, from memory"
#: ADF about 20-48; not for warm-season grass.
tdn_western_alfalfa_100: Final = FiberLine(
    82.38,
    0.7515,
    "alfalfa",
    "from memory, confirmed by the class limits of the USDA-AMS hay quality guidelines (2003)",
)
#: Digestible dry matter taken as TDN, about 6 points above the western equation at ADF 30.
tdn_midwest: Final = FiberLine(88.9, 0.779, "legumes and grasses", _APPENDIX)
tdn_midwest_corn_silage: Final = FiberLine(87.84, 0.70, "corn silage", _APPENDIX)
tdn_oklahoma: Final = FiberLine(
    88.9, 0.78, "alfalfa", "Oklahoma State University, alfalfa quality page"
)
tdn_penn_state_legume: Final = FiberLine(1.044, 0.0119, "legumes", _PENN, by_nel=True)
tdn_penn_state_grass: Final = FiberLine(1.0876, 0.0127, "cool-season grass", _PENN, by_nel=True)
tdn_penn_state_corn_silage: Final = FiberLine(1.044, 0.0124, "corn silage", _PENN, by_nel=True)


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
