"""How much the stock of a farm eat, learned from what they ate: the equation drawn toward the log.

Nothing is put in the place of what the season counts with unless somebody takes it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.book.looking.eaten import Eaten
from rickyard.book.looking.weights import WITHIN_90, drawn_together
from rickyard.farm import Season
from rickyard.stock.equations import CALIBRATION_DRY_PREGNANT, CALIBRATION_LACTATING

#: Standard error of an equation of appetite on one farm, in percent of what it gives. Judgement, no
#: published source: heifers are printed at 2.2 % of weight, 1.8 to 2.6, which as a 90 % range is
#: 11 %, and Oklahoma State's trials say how far the mean of many lay, not how far one.
EQUATION_PCT: Final = 10.0

#: What groups of one farm differ by beyond that. Judgement, no published source. [%]
GROUPS_PCT: Final = 5.0

#: What can be taken: outside it a scale, a count or the log is wrong before the equation is.
#: Judgement, no published source. [%]
TAKEN_FROM, TAKEN_TO = 70.0, 140.0


@dataclass(frozen=True, slots=True)
class LearnedAppetite:
    """What stock eat in percent of what the equations give, nine times in ten low to high.

    ``counted_pct`` is what the season counts with, ``seen_pct`` what the log alone says, ``groups``
    those that say it.
    """

    counted_pct: float
    seen_pct: float
    pct: float
    low_pct: float
    high_pct: float
    groups: tuple[Eaten, ...]

    @property
    def offered_pct(self) -> float | None:
        """Return what can be taken, a whole percent; ``None`` where the log is to be doubted."""
        whole = float(round(self.pct))
        return whole if TAKEN_FROM <= self.seen_pct <= TAKEN_TO else None

    @property
    def differs(self) -> bool:
        """Return whether what is counted lies outside the range."""
        return not self.low_pct <= self.counted_pct <= self.high_pct


def equation_error_pct(one: Eaten, season: Season) -> float:
    """Return the standard error of the equation of appetite for a group, percent of what it gives.

    Where the season leaves out the calibration of cows, what print says of their bias stands in the
    error: Gross et al. 2024, Oklahoma State Univ., 53 dry and 32 lactating treatment means.

    Parameters
    ----------
    one : Eaten
        The group.
    season : Season
        Says whether cows are calibrated.

    Returns
    -------
    float
        The error. [%]
    """
    if season.intake_calibrated or not one.is_cow:
        return EQUATION_PCT
    dry, nursing = CALIBRATION_DRY_PREGNANT - 1.0, CALIBRATION_LACTATING - 1.0
    bias = 100.0 * (one.nursing * nursing + (1.0 - one.nursing) * dry)
    return math.hypot(EQUATION_PCT, bias)


def learned_appetite(season: Season, ate: Sequence[Eaten]) -> LearnedAppetite | None:
    """Return what the groups of a farm say together of how much its stock eat.

    Each group is weighted by one over its variance. What is off in the weights of bales and stock
    and in the waste of feeders is taken to be off alike in all of them, so that more groups make
    nothing of it smaller. The mean is drawn toward 100 by the error of the equations: Gelman,
    Carlin, Stern, Dunson, Vehtari and Rubin 2013, Bayesian Data Analysis, 3rd ed., sections 2.5
    and 5.4; from memory.

    Parameters
    ----------
    season : Season
        Says what is counted with, and whether cows are calibrated.
    ate : sequence of Eaten
        What each group ate.

    Returns
    -------
    LearnedAppetite or None
        ``None`` where no group is fed as much as it likes by an equation.
    """
    told = [one for one in ate if one.pct is not None]
    if not told:
        return None
    own = [(one.sampling_pct or 0.0) ** 2 + GROUPS_PCT**2 for one in told]
    shared = [one.shared_pct or 0.0 for one in told]
    weights = [1.0 / (each + both**2) for each, both in zip(own, shared, strict=True)]
    whole = math.fsum(weights)
    parts = [one / whole for one in weights]
    seen = math.fsum(part * (one.pct or 0.0) for part, one in zip(parts, told, strict=True))
    alone = math.fsum(part**2 * each for part, each in zip(parts, own, strict=True))
    alike = math.fsum(part * both for part, both in zip(parts, shared, strict=True))
    error = math.hypot(math.sqrt(alone), alike)
    equation = math.fsum(
        part * equation_error_pct(one, season) for part, one in zip(parts, told, strict=True)
    )
    mean, left = drawn_together(100.0, equation, seen, error)
    within = WITHIN_90 * left
    return LearnedAppetite(season.intake_pct, seen, mean, mean - within, mean + within, tuple(told))
