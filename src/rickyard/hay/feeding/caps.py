"""How much of a feed is too much, and how far to trust a number: caps worked by hand.

Each of these guards against harm; none replaces the advice of the local extension office or a
veterinarian.

An input outside its range raises `OutOfRange`; ranges stand at the head of each equation.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.hay.common import equation, require_between, require_not_negative, require_positive
from rickyard.quantities import Numeric, OutOfRange

# Crude protein of pure urea at 45 % nitrogen, Univ. Nebraska Beef FAQ 2010; 262 for 42 % N.
UREA_CP_PCT: Final = 281.0
# Share of the seed that is kernel, cottonseed industry guide quoting Auburn Univ.
KERNEL_FRAC: Final = 0.68
SULFUR_MOST_PCT: Final = 0.40  # NRC via Beef Magazine 2007; whole diet, water included


@equation(
    npn_cp_pct=(require_between, "protein from non-protein nitrogen", 0.0, UREA_CP_PCT, "%"),
    urea_cp_pct=(require_positive, "crude protein of urea", "%"),
)
def urea_pct_from_tag(npn_cp_pct: Numeric, urea_cp_pct: Numeric = UREA_CP_PCT) -> Numeric:
    """Find the urea [%] in a feed whose tag states protein from non-protein nitrogen.

    ``npn_cp_pct`` is as the tag prints it: points of protein, not percent of urea; the urea has 281
    % of crude protein at 45 % nitrogen, 262 at 42 %. From Univ. Nebraska Beef FAQ (2010), urea in
    range cubes. Urea can kill: none for horses, for calves under 450 lb or for newly arrived
    cattle, and little on hay. Ask the local extension office or a veterinarian before feeding it.

    Examples
    --------
    >>> round(urea_pct_from_tag(8.0), 2)
    2.85
    """
    return 100.0 * np.divide(npn_cp_pct, urea_cp_pct)


@equation(
    base_s_pct=(require_not_negative, "sulfur of the diet", "%"),
    feed_s_pct=(require_not_negative, "sulfur of the feed", "%"),
)
def most_feed_for_sulfur_pct(
    base_s_pct: Numeric, feed_s_pct: Numeric, most_diet_s_pct: Numeric = SULFUR_MOST_PCT
) -> Numeric:
    """Find the most of a high-sulfur feed that a diet bears; all in % of dry matter.

    The rest of the diet counts its water; 100 when the feed itself is under the limit, which is
    NRC's in Beef Magazine (2007). Too much sulfur softens the brain of cattle
    (polioencephalomalacia). Ask a veterinarian.

    Examples
    --------
    >>> round(most_feed_for_sulfur_pct(0.18, 0.9), 1)
    30.6
    """
    room = np.subtract(most_diet_s_pct, base_s_pct)
    if np.any(np.less(room, 0.0)):
        raise OutOfRange("the rest of the diet is over the sulfur limit already.")
    over = np.subtract(feed_s_pct, base_s_pct)
    within = np.less_equal(feed_s_pct, most_diet_s_pct)
    return np.where(within, 100.0, 100.0 * room / np.where(within, np.inf, over))


@equation(kernel_gossypol_pct=(require_between, "gossypol", 0.0, 100.0, "%"))
def whole_seed_gossypol_pct(kernel_gossypol_pct: Numeric) -> Numeric:
    """Find the free gossypol [%] of whole cottonseed from that of its kernel.

    From a cottonseed industry feeding guide quoting Auburn Univ. Gossypol is poison to horses,
    pigs, poultry and young calves. Ask a veterinarian.

    Examples
    --------
    >>> round(whole_seed_gossypol_pct(0.92), 2)
    0.63
    """
    return np.multiply(kernel_gossypol_pct, KERNEL_FRAC)


@equation(
    without=(require_not_negative, "hay"),
    with_supplement=(require_not_negative, "hay"),
    supplement=(require_positive, "supplement"),
)
def substitution_rate(without: Numeric, with_supplement: Numeric, supplement: Numeric) -> Numeric:
    """Find how much less hay is eaten for each unit of supplement [-]; negative when more is.

    In any one mass unit. Computed from Chase & Hibberd (1987), J. Anim. Sci. (authors from memory).

    Examples
    --------
    >>> round(substitution_rate(8.7, 5.1, 3.0), 2)
    1.2
    """
    return np.subtract(without, with_supplement) / supplement


@equation(
    mean=(require_not_negative, "mean"),
    sd=(require_not_negative, "standard deviation"),
    margin_sd=(require_not_negative, "margin"),
)
def mean_less_margin(mean: Numeric, sd: Numeric, margin_sd: Numeric = 0.5) -> Numeric:
    """Find the value to balance with when a mean is uncertain, in its unit.

    Half a standard deviation is the classic rule: Nott & Combs (1967), as described by Roush et al.
    (2007).

    Examples
    --------
    >>> mean_less_margin(8.0, 0.8)
    7.6
    """
    return np.subtract(mean, np.multiply(margin_sd, sd))
