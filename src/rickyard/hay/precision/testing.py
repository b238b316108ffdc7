"""What a test is worth: the loss that knowing better avoids."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rickyard.hay.common import require_not_negative, require_positive
from rickyard.hay.precision.quantiles import normal_quantile


@dataclass(frozen=True, slots=True)
class Avoided:
    """Expected loss per unit, head and day before and after a test, in what the costs are in."""

    loss_untested: float
    loss_tested: float

    @property
    def saved(self) -> float:
        """Return what the test saves."""
        return self.loss_untested - self.loss_tested


def value_of_test(
    prior_sd: float, result_sd: float, cost_over: float, cost_under: float
) -> Avoided:
    """Value of testing a lot before its supplement is chosen.

    The newsvendor form: the best supplement is chosen in either case. What it saves, times head
    and days, goes against the fee, the postage and the hours of sampling.

    Source: derived: the newsvendor problem with normal uncertainty.

    Parameters
    ----------
    prior_sd : float
        Standard deviation of an untested lot, in the unit of the nutrient.
    result_sd : float
        Standard error of the test, from `rickyard.hay.precision.precision.composite_se`.
    cost_over, cost_under : float
        Cost of one unit of supplement too many and of one too few, per head and day. [$]

    Returns
    -------
    Avoided
        Expected loss without and with the test, per head and day. [$]

    Examples
    --------
    >>> round(value_of_test(1.5, 0.6, 1.0, 4.0).saved, 3)
    1.32
    """
    require_not_negative("spread of an untested lot", prior_sd, "")
    require_not_negative("error of the test", result_sd, "")
    require_positive("cost of too much", cost_over, "$")
    require_positive("cost of too little", cost_under, "$")
    z = normal_quantile(cost_under / (cost_under + cost_over))
    density = math.exp(-z * z / 2.0) / math.sqrt(2.0 * math.pi)
    per_unit = (cost_over + cost_under) * density
    total = math.hypot(prior_sd, result_sd)
    after = prior_sd * result_sd / total if total > 0.0 else 0.0
    return Avoided(per_unit * prior_sd, per_unit * after)
