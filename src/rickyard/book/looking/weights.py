"""What a bale weighs, learned from weigh tickets: the written weight drawn toward what was weighed.

Nothing is put in the place of what is written: who keeps the book is told, and decides.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from rickyard.farm import Farm, Lot, MoveKind, MoveRow
from rickyard.forage.plausibility import lot_profile
from rickyard.hay.sampling import UNKNOWN_RAIN_MM
from rickyard.hay.storage import BALE_CV_PCT, bale_weight_error_frac, dry_per_bale, mean_bale_kg

#: Nine times in ten a normal value lies within so many standard errors of its mean.
WITHIN_90: Final = 1.645

#: What somebody corrects, or cores, is no weigh ticket.
_NO_TICKET: Final = (MoveKind.CORRECTION, MoveKind.CORED)


@dataclass(frozen=True, slots=True)
class LearnedWeight:
    """What a bale of a lot weighs as fed on the day of its count. [kg].

    ``said_kg`` is what the book says, written or by size; ``bales`` were weighed since, on tickets
    that say ``ticket_kg`` a bale; ``kg`` is what both come to, nine times in ten between ``low_kg``
    and ``high_kg``.
    """

    lot: Lot
    said_kg: float
    bales: float
    ticket_kg: float
    kg: float
    low_kg: float
    high_kg: float

    @property
    def differs(self) -> bool:
        """Return whether what the book says lies outside the range."""
        return not self.low_kg <= self.said_kg <= self.high_kg


def drawn_together(said: float, said_se: float, seen: float, seen_se: float) -> tuple[float, float]:
    """Return the mean and standard error of a value that is known in two ways.

    Source: the normal mean with a normal prior, each weighted by one over its variance: Gelman,
    Carlin, Stern, Dunson, Vehtari and Rubin 2013, Bayesian Data Analysis, 3rd ed., section 2.5;
    from memory.

    Parameters
    ----------
    said, said_se : float
        What was known before, and its standard error, above 0. [any unit]
    seen, seen_se : float
        What was measured, and its standard error, above 0. [the same]

    Returns
    -------
    tuple of float
        Mean and standard error. [the same]

    Examples
    --------
    >>> mean, error = drawn_together(500.0, 50.0, 540.0, 25.0)
    >>> round(mean, 1), round(error, 2)
    (532.0, 22.36)
    """
    before, now = said_se**-2, seen_se**-2
    return (said * before + seen * now) / (before + now), (before + now) ** -0.5


def learned_weights(farm: Farm) -> tuple[LearnedWeight, ...]:
    """Return what weigh tickets say of the bales of each lot that has any.

    A ticket is a line of the yard's book with bales and their mass. Its weight is taken back to the
    day of the count by what storage took between. Bales differ by the spread that was measured, or
    8 % (common practice), and tickets of one lot count as one sample of all their bales.

    Parameters
    ----------
    farm : Farm
        The farm.

    Returns
    -------
    tuple of LearnedWeight
        Lots in the order of the farm; none where every bale was weighed before.
    """
    found = (_learned(farm, lot, _tickets(farm, lot)) for lot in farm.lots)
    return tuple(one for one in found if one is not None)


def _tickets(farm: Farm, lot: Lot) -> list[MoveRow]:
    return [
        row
        for row in farm.moves
        if row.lot_id == lot.lot_id and row.kind not in _NO_TICKET and row.bales and row.mass_kg
    ]


def _learned(farm: Farm, lot: Lot, tickets: list[MoveRow]) -> LearnedWeight | None:
    share = bale_weight_error_frac(lot)[0]
    if not tickets or share <= 0.0:
        return None
    dm_pct = lot_profile(lot, farm.reports_of(lot.lot_id)).dm_pct
    rain = farm.season.rainfall_mm_per_year
    dry = dry_per_bale(lot, dm_pct, UNKNOWN_RAIN_MM if rain is None else rain)
    bales = math.fsum(row.bales or 0.0 for row in tickets)
    then = dry(lot.counted_on)
    mass = math.fsum((row.mass_kg or 0.0) * then / dry(row.day) for row in tickets)
    seen, said = mass / bales, mean_bale_kg(lot, dm_pct)
    spread = lot.bale_weight_sd_kg or BALE_CV_PCT / 100.0 * seen
    mean, error = drawn_together(said, share * said, seen, spread / math.sqrt(bales))
    within = WITHIN_90 * error
    return LearnedWeight(lot, said, bales, seen, mean, mean - within, mean + within)
