"""Where to cut: the cheapest sequence of runs of weeks, by a walk from the first to the last."""

from __future__ import annotations

import numpy as np

from rickyard.program.rations.span_costs import SpanCosts
from rickyard.program.rations.spans import SpanRules


def cheapest_cuts(
    costs: SpanCosts, rules: SpanRules, group: int, ration_usd: float = 0.0
) -> tuple[float, tuple[int, ...]]:
    """Return what the cheapest sequence of runs of a group costs, and where it is cut.

    Parameters
    ----------
    costs : SpanCosts
        What the best ration of every run costs.
    rules : SpanRules
        How many rations there may be.
    group : int
        The group.
    ration_usd : float
        What a further ration must save. [USD]

    Returns
    -------
    tuple of (float, tuple of int)
        The cost with that price of further rations, and the first period of each ration.
    """
    first, last = rules.first[group], rules.last[group]
    if first < 0:
        return 0.0, ()
    end, most = last + 1, rules.most[group]
    best = np.full((most + 1, end + 1), np.inf)
    came = np.zeros((most + 1, end + 1), dtype=np.int64)
    best[0, first] = 0.0
    for used in range(most):
        more = ration_usd if used else 0.0
        through = best[used, : end + 1, None] + costs.usd[: end + 1, : end + 1] + more
        best[used + 1] = through.min(axis=0)
        came[used + 1] = through.argmin(axis=0)
    used, stop, starts = int(np.argmin(best[:, end])), end, []
    total = float(best[used, end])
    while used > 0:
        stop = int(came[used, stop])
        starts.append(stop)
        used -= 1
    return total, tuple(reversed(starts))
