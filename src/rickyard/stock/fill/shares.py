"""How forages and concentrate share the room of an animal, and what else holds intake down.

A kilogram of a forage takes ``1 / (what is eaten of it alone)`` of the appetite; shares of fill add
up to one, which is linear. It fails upward where a forage lacks the protein that another brings:
ask for `protein_factor` at the protein of the whole diet first.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from rickyard.quantities import Numeric, above_zero, as_given, within

#: Crude protein of the diet below which less is eaten, and where no less than that share: Selk's
#: 1.5 against 2.0 % of weight; supplements on 4 to 6 % protein raised intake 36 %.
SHORT_CP_PCT: Final = (6.0, 8.0)
SHORT_CP_FACTOR: Final = 0.75

#: Hours at round bales and the share of free choice that cows eat. Illinois: 3 h halves it; the
#: mean of three trials at 6 h is 22 % less (Lalman et al. 2012). Every cow had a place.
ACCESS_HOURS: Final = (0.0, 3.0, 6.0, 24.0)
ACCESS_SHARES: Final = (0.0, 0.50, 0.78, 1.00)


def fill_share(amounts_kg: Sequence[Numeric], alone_kg: Sequence[Numeric]) -> Numeric:
    """Return the share of appetite [-] that amounts take, each against what is eaten of it alone.

    Derived: the equation is the definition of fill.

    >>> fill_share([6.0, 5.0], [12.0, 10.0])
    1.0
    """
    pairs = zip(amounts_kg, alone_kg, strict=True)
    shares = [np.asarray(amount) / np.asarray(alone) for amount, alone in pairs]
    return as_given(np.sum(shares, axis=0), *amounts_kg, *alone_kg)


def mixed_intake_kg(shares_pct: Sequence[Numeric], alone_kg: Sequence[Numeric]) -> Numeric:
    """Return what is eaten [kg/d] of forages mixed in fixed shares: the harmonic mean.

    Derived from `fill_share`.

    >>> round(mixed_intake_kg([50.0, 50.0], [12.0, 8.0]), 2)
    9.6
    """
    pairs = zip(shares_pct, alone_kg, strict=True)
    shares = [np.asarray(share) / 100.0 / np.asarray(alone) for share, alone in pairs]
    return as_given(1.0 / np.sum(shares, axis=0), *shares_pct, *alone_kg)


def room_left_kg(alone_kg: Numeric, other_kg: Numeric, other_alone_kg: Numeric) -> Numeric:
    """Return how much of a forage [kg/d] there is room for beside another.

    Derived from `fill_share`.

    >>> round(room_left_kg(9.5, 4.0, 12.7), 2)
    6.51
    """
    left = 1.0 - np.asarray(other_kg) / np.asarray(other_alone_kg)
    return as_given(np.maximum(left, 0.0) * alone_kg, alone_kg, other_kg, other_alone_kg)


def protein_factor(diet_cp_pct: Numeric) -> Numeric:
    """Return the factor [-] of too little protein on the intake of ruminants.

    Parameters
    ----------
    diet_cp_pct : float or array
        Crude protein of the whole diet. [% DM]

    Returns
    -------
    float or array
        From 0.75 at 6 % or less to 1 at 8 % or more, a straight line between. [-]

    References
    ----------
    .. [1] Selk, Oklahoma State Univ. (1.5 against 2.0 % of weight); derived.

    Examples
    --------
    >>> protein_factor(7.0)
    0.875
    """
    return as_given(
        np.interp(np.asarray(diet_cp_pct), SHORT_CP_PCT, (SHORT_CP_FACTOR, 1.0)), diet_cp_pct
    )


def access_share(hours: Numeric) -> Numeric:
    """Return the share [-] of free choice that cows eat in some hours a day at round bales.

    Parameters
    ----------
    hours : float or array
        Hours of access, 0 to 24. [h/d]

    Returns
    -------
    float or array
        Share of what they would eat all day. [-]

    Raises
    ------
    OutOfRange
        If the hours lie outside 0 to 24.

    Notes
    -----
    For mature cows in condition on hay better than they need, each with a place. Not for thin
    cows, first-calf heifers among cows, horses, or the last weeks before lambing. Straight lines
    between the trials: 8 to 14 h are understated by some 0.05 to 0.10.

    References
    ----------
    .. [1] Miller et al. (2007), Prof. Anim. Sci. 23:366; Lalman et al. (2012), Oklahoma State
       Univ.

    Examples
    --------
    >>> access_share(6.0)
    0.78
    """
    given = within(hours, "Hours of access are 0 to 24.", least=0.0, most=24.0)
    return as_given(np.interp(given, ACCESS_HOURS, ACCESS_SHARES), hours)


def as_fed_kg(weight_kg: Numeric, dm_pct_bw: Numeric, dm_pct: Numeric) -> Numeric:
    """Return feed as fed [kg/d] for a dry matter that is a percentage of body weight.

    Raises ``OutOfRange`` if the dry matter of the feed is not above 0 and at most 100 %.

    >>> round(as_fed_kg(150.0, 2.0, 90.0), 1)
    3.3
    """
    dry = within(dm_pct, "Dry matter of a feed is above 0 to 100%.", most=100.0, positive=True)
    return as_given(
        np.asarray(weight_kg) * np.asarray(dm_pct_bw) / dry, weight_kg, dm_pct_bw, dm_pct
    )


def places_needed(head: int, metres_each: float, ring_diameter_m: float) -> int:
    """Return the round feeders at which all of a herd find a place at once.

    Raises ``OutOfRange`` if there is no animal or a length is not above zero.

    Source: 37 cm a cow fed free choice, Buskirk et al. (2003), J. Anim. Sci. 81:109.

    >>> places_needed(40, 0.371, 2.44)
    2
    """
    said = "Rings are counted for one animal or more and lengths above zero."
    above_zero(said, head, metres_each, ring_diameter_m)
    return int(np.ceil(head * metres_each / (np.pi * ring_diameter_m)))
