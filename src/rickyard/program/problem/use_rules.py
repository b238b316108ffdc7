"""Which hays may be in use, for how long and at what price: the rules that need whole numbers."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Final

import numpy as np

from rickyard.farm import Farm
from rickyard.program.problem.problem import Problem
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: More hays at once than any yard holds: no rule.
NO_LIMIT: Final = 10_000

#: A hay in use gets something, percent of live weight: in the middle of a run nothing is a gap.
LEAST_SERVING_PCT_BW: Final = 0.01


@dataclass(frozen=True, slots=True)
class UseRules:
    """The rules about hays in use.

    ``hays_at_once`` is how many a group may be fed in one period, shape (g,); ``least_run`` for
    how many periods a hay is fed once begun; ``change_usd`` what beginning one costs after the
    group's first period. ``least_kg`` is what a hay in use gets at least, kg DM per head and day,
    shape (g, t). ``is_hay`` marks the sources that count, (i,), ``open_before`` the hays in use
    on the day before the season, (g, i), and ``must`` where a person wants a hay in use, (g, i, t).
    ``any`` is whether the farm asks for a rule at all.
    """

    hays_at_once: IntArray
    least_run: int
    change_usd: float
    least_kg: FloatArray
    is_hay: BoolArray
    open_before: BoolArray
    must: BoolArray
    any: bool


def use_rules_of(farm: Farm, problem: Problem) -> UseRules:
    """Return the rules of a farm about hays in use.

    Parameters
    ----------
    farm : Farm
        Its season and groups are read.
    problem : Problem
        Weights, hays, wishes and what is in use already.

    Returns
    -------
    UseRules
        Limits by group, and least servings. [kg DM]

    Notes
    -----
    Where a person wishes more hays at once than the rule has, the wish is kept.
    """
    season = farm.season
    limit = [
        NO_LIMIT if most is None else most
        for most in (
            season.hays_at_once if group.hays_at_once is None else group.hays_at_once
            for group in farm.groups
        )
    ]
    least_pct = max(season.least_serving_pct_bw, LEAST_SERVING_PCT_BW)
    return UseRules(
        hays_at_once=np.array(limit, dtype=np.int64),
        least_run=max(1, ceil((season.least_run_days or 0) / season.period_days)),
        change_usd=season.change_usd,
        least_kg=least_pct / 100.0 * problem.needs.full_weight_kg,
        is_hay=problem.sources.is_hay,
        open_before=problem.open_before,
        must=problem.must,
        any=min(limit, default=NO_LIMIT) < NO_LIMIT
        or bool(season.least_run_days)
        or is_some(season.change_usd),
    )
