"""Protein that heat has bound, and what is left for the animal."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, above_zero, as_given

# Three-step rule of forage laboratories, from memory of Penn State practice. The threshold is a
# setting: University of Nebraska (Anderson) writes 10 %, and a printed report at 12.5 % shows
# no adjustment.
ADJUST_FROM_PCT_OF_CP: Final = 14.0
BOUND_WHOLLY_LOST_ABOVE_PCT_OF_CP: Final = 20.0
BOUND_IN_SOUND_HAY_PCT_OF_CP: Final = 7.0


def available_cp_pct(cp_pct: Numeric, adicp_pct: Numeric) -> Numeric:
    """Take all protein bound in acid detergent fiber off the crude protein.

    Parameters
    ----------
    cp_pct, adicp_pct : float or array
        Crude protein, and protein in the acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        Available protein. [% DM]

    Examples
    --------
    >>> round(available_cp_pct(6.4, 0.8), 1)
    5.6
    """
    return as_given(np.asarray(cp_pct) - np.asarray(adicp_pct), cp_pct, adicp_pct)


def adjusted_cp_pct(
    cp_pct: Numeric,
    adicp_pct: Numeric,
    threshold_pct_of_cp: float = ADJUST_FROM_PCT_OF_CP,
) -> Numeric:
    """Adjust crude protein for heat damage, the protein to plan a ration on.

    The rule steps down at the threshold, by 7 % of the protein at 14 %. That is how
    laboratories apply it; it is not smoothed here.

    Source: Practice of forage laboratories in the northeastern United States, from memory;
    Anderson, University of Nebraska, on heat-damaged protein (threshold of 10 %).

    Parameters
    ----------
    cp_pct, adicp_pct : float or array
        Crude protein, above 0, and protein in the acid detergent fiber. [% DM]
    threshold_pct_of_cp : float
        Bound share from which protein is adjusted. [% of CP]

    Returns
    -------
    float or array
        Crude protein unchanged below the threshold; reduced by what is bound above the 7 % of
        sound hay up to a bound share of 20 %; the available protein beyond. [% DM]

    Examples
    --------
    >>> round(adjusted_cp_pct(18.0, 2.9), 2)
    16.36
    >>> adjusted_cp_pct(18.0, 4.0)
    14.0
    """
    cp = np.asarray(cp_pct, dtype=np.float64)
    adicp = np.asarray(adicp_pct, dtype=np.float64)
    share = bound_share_pct_of_cp(cp, adicp)
    partly = cp * (100.0 - (share - BOUND_IN_SOUND_HAY_PCT_OF_CP)) / 100.0
    adjusted = np.where(
        share < threshold_pct_of_cp,
        cp,
        np.where(share <= BOUND_WHOLLY_LOST_ABOVE_PCT_OF_CP, partly, cp - adicp),
    )
    return as_given(adjusted, cp_pct, adicp_pct)


def bound_share_pct_of_cp(cp_pct: Numeric, adicp_pct: Numeric) -> Numeric:
    """Return the share of the protein that is bound in acid detergent fiber.

    Parameters
    ----------
    cp_pct, adicp_pct : float or array
        Crude protein, above 0, and protein in the acid detergent fiber. [% DM]

    Returns
    -------
    float or array
        The bound share. [% of CP]

    Examples
    --------
    >>> round(bound_share_pct_of_cp(18.0, 2.9), 1)
    16.1
    """
    cp = np.asarray(cp_pct, dtype=np.float64)
    above_zero("Crude protein must be above 0% of dry matter.", cp)
    return as_given(100.0 * np.asarray(adicp_pct) / cp, cp_pct, adicp_pct)
