"""A farm's own spread from pairs of composites, and the hunt for hot bales."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rickyard.hay.limits import require_between, require_not_negative, require_positive
from rickyard.hay.quantiles import require_confidence
from rickyard.quantities import OutOfRange


def core_sd_from_pairs(differences: Sequence[float], cores_each: int, repeat_sd: float) -> float:
    """Spread of single cores, from pairs of composites of the same lots.

    Parameters
    ----------
    differences : sequence of float
        For each lot, one composite's result less the other's.
    cores_each : int
        Cores in each composite of a pair. [-]
    repeat_sd : float
        Standard deviation of repeat determinations in the laboratory.

    Returns
    -------
    float
        Standard deviation from bale and core, the laboratory's error taken out; zero when the
        laboratory explains it all.

    Raises
    ------
    OutOfRange
        If there is no pair, or a number is out of range.

    References
    ----------
    .. [1] Handbook, section 11 (derived): it replaces the default spread by one's own.

    Examples
    --------
    >>> round(core_sd_from_pairs([0.5] * 12, 10, 0.25), 2)
    0.79
    """
    if not differences:
        raise OutOfRange("no pair of composites is given.")
    require_between("cores in a composite", cores_each, 1, math.inf, "")
    require_not_negative("repeat standard deviation", repeat_sd, "")
    mean_square = math.fsum(value * value for value in differences) / len(differences)
    return math.sqrt(max(0.0, cores_each * (mean_square / 2.0 - repeat_sd**2)))


def chance_of_hot_bale(share: float, bales: int, bales_in_lot: int | None = None) -> float:
    """Chance that a random choice of bales holds a hot one.

    Parameters
    ----------
    share : float
        Share of the bales that are hot, such as over a nitrate limit. [fraction]
    bales : int
        Bales chosen. [-]
    bales_in_lot : int, optional
        Bales in the lot; with it the count is exact, without it the lot is taken as large. [-]

    Returns
    -------
    float
        Chance. [fraction]

    Raises
    ------
    OutOfRange
        If the share is not within 0 and 1, or more bales are chosen than there are.

    References
    ----------
    .. [1] Handbook, section 3.7 (derived); hypergeometric where the lot is counted.

    Examples
    --------
    >>> round(chance_of_hot_bale(0.1, 29), 3), round(chance_of_hot_bale(0.1, 29, 60), 3)
    (0.953, 0.985)
    """
    require_between("share of hot bales", share, 0.0, 1.0, "")
    require_between("bales", bales, 1, math.inf, "")
    if bales_in_lot is None:
        return 1.0 - (1.0 - share) ** bales
    if bales > bales_in_lot:
        raise OutOfRange(f"{bales} bales cannot be chosen from {bales_in_lot}.")
    cold = bales_in_lot - math.ceil(round(share * bales_in_lot, 9))
    if bales > cold:
        return 1.0
    return 1.0 - math.comb(cold, bales) / math.comb(bales_in_lot, bales)


def bales_to_find_hot(share: float, confidence: float, bales_in_lot: int | None = None) -> int:
    """Bales to choose so that a hot one is among them.

    Parameters
    ----------
    share : float
        Share of the bales that are hot, above 0. [fraction]
    confidence : float
        Chance wanted, 0.50 to 0.999. [fraction]
    bales_in_lot : int, optional
        Bales in the lot. [-]

    Returns
    -------
    int
        Bales. [-]

    Raises
    ------
    OutOfRange
        If the share is not above 0 and at most 1.

    Examples
    --------
    >>> [bales_to_find_hot(share, 0.95) for share in (0.05, 0.10, 0.20)]
    [59, 29, 14]
    """
    require_positive("share of hot bales", share, "")
    require_between("share of hot bales", share, 0.0, 1.0, "")
    require_confidence(confidence)
    if bales_in_lot is None:
        if share == 1.0:
            return 1
        return math.ceil(round(math.log(1.0 - confidence) / math.log(1.0 - share), 9))
    return next(
        bales
        for bales in range(1, bales_in_lot + 1)
        if chance_of_hot_bale(share, bales, bales_in_lot) >= confidence
    )


#: Spread of nitrate from bale to bale, of its mean: from the range of 23 bales of one field
#: (Kansas State), (6250 - 1525) / 3.858 over 2764. Skewed, so a lower bound.
NITRATE_CV: float = 0.44
#: One-sided 95 % point of the normal distribution.
_ONE_SIDED_95: float = 1.645
#: Act on twice the composite when hay is fed bale by bale (common practice; in the Kansas State
#: field the worst bale had 2.26 times the mean).
ACT_ON_TIMES: float = 2.0


def worst_bale_ppm(composite_ppm: float) -> float:
    """Nitrate to act upon when a composite stands for bales that are fed one by one.

    Parameters
    ----------
    composite_ppm : float
        Nitrate of the composite, in any form. [mg/kg]

    Returns
    -------
    float
        Twice as much, above the 95 % estimate of 1.72 times. [mg/kg]

    Raises
    ------
    OutOfRange
        If the nitrate is negative.

    Notes
    -----
    Averaging hides hot bales. Ask the local extension office or a veterinarian before feeding
    hay that may hold them.

    Examples
    --------
    >>> worst_bale_ppm(1200.0)
    2400.0
    """
    require_not_negative("nitrate", composite_ppm, "mg/kg")
    return composite_ppm * max(ACT_ON_TIMES, 1.0 + _ONE_SIDED_95 * NITRATE_CV)
