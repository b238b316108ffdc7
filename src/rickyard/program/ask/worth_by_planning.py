"""What a test of an untested lot is worth, by planning the season for better and poorer hay.

The price of a point of protein or energy holds for small amounts. Hay that nobody tested may be
poorer by more than that, and then dearer feed is needed, or so much better that nothing is. So
the season is solved for several values of it, and what knowing saves is weighed over all of them.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from rickyard.farm import Farm
from rickyard.forage.energy import neg_from_tdn, nem_from_tdn
from rickyard.hay.precision import normal_quantile
from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.explain import UNDER_PER_OVER, errors_of_test, worth_sentence
from rickyard.program.problem import UNTESTED_CP_FRAC, UNTESTED_TDN_FRAC, Problem
from rickyard.program.result import LotTestWorth, SeasonProgram
from rickyard.quantities import is_some
from rickyard.types import FloatArray

#: The season is solved for hay off its book value by so many standard deviations.
STEPS: Final = (-3.0, -2.0, -1.0, 0.0, 1.0, 2.0, 3.0)

#: The truth and the results of a test are weighed at so many values of equal chance.
VALUES: Final = 61

#: So far from what is thought of a hay it may be wise to plan, in standard deviations.
SHIFTS: Final = (-3.0, 1.0)
SHIFT_STEPS: Final = 81


def with_planned_worth(
    farm: Farm, inquiry: Inquiry, program: SeasonProgram, worth: LotTestWorth
) -> LotTestWorth:
    """Return the worth of a test found by solving the season for better and poorer hay.

    ``farm``: lots and reports are read. ``program``: the program; a lot that it does not feed is
    left as it is. ``worth``: the worth at the program's own prices.
    """
    if not any(row.source_id == worth.lot_id for row in program.feeding):
        return worth
    values = inquiry.problem.sources.values
    source = next(i for i, one in enumerate(values) if one.source_id == worth.lot_id)
    errors = errors_of_test(farm, farm.lot(worth.lot_id))
    saved = 0.0
    for name, share, error in (
        ("cp", UNTESTED_CP_FRAC, errors.protein),
        ("tdn", UNTESTED_TDN_FRAC, errors.energy),
    ):
        mean = float(getattr(values[source], f"{name}_pct"))
        spread = share * mean
        percent = mean + spread * np.array(STEPS)
        usd = _costs(inquiry, source, name, percent)
        saved += saved_by_knowing(percent, usd, mean, spread, error)
    name = values[source].name
    sentence = f"{name} is untested. {worth_sentence(saved, worth.fee_usd, fed=True)}"
    return replace(worth, saved_usd=saved, sentence=sentence)


def _costs(inquiry: Inquiry, source: int, name: str, percent: FloatArray) -> FloatArray:
    """Return what the season costs, shortages at their price, if a lot had each analysis."""
    season = inquiry.problem
    usd = np.full(len(percent), inquiry.base.whole_usd)
    with inquiry.other_hay(source) as ask:
        for at in np.flatnonzero(STEPS).tolist():
            other = _other_hay(season, source, name, float(percent[at]))
            usd[at] = ask(other).whole_usd
    return usd


def _other_hay(problem: Problem, source: int, name: str, percent: float) -> Problem:
    per_kg = {nutrient: amounts.copy() for nutrient, amounts in problem.per_kg.items()}
    per_kg[name][source] = percent / 100.0
    if name == "tdn":
        per_kg["nem"][source] = float(nem_from_tdn(percent))
        per_kg["neg"][source] = float(neg_from_tdn(percent))
    return replace(problem, per_kg=per_kg)


def saved_by_knowing(
    percent: FloatArray, usd: FloatArray, mean: float, spread: float, error: float
) -> float:
    """Return what a test saves where the cost of the season is known for some values.

    ``percent``: values of the hay, rising [% DM]. ``usd``: what the season costs when it is planned
    for each. ``mean``, ``spread``: what is thought of the hay without a test, and its standard
    deviation [% DM]. ``error``: standard error of the test [% DM]. Returns US dollars; never below
    zero.

    Who plans for poorer hay than it is pays the difference of the two seasons. Who plans for
    better hay than it is pays four times the difference, because the animals go short. Without
    the test one value is planned for, with it the best one for each result.

    References
    ----------
    .. [1] Derived from `rickyard.hay.precision.testing.value_of_test`, with the cost of the season
       itself in place of a cost per unit.

    >>> rising = np.array([4.0, 8.0])
    >>> round(saved_by_knowing(rising, np.array([400.0, 0.0]), 6.0, 0.5, 0.2) / 100.0, 2)
    0.44
    """
    z = np.array([normal_quantile((at + 0.5) / VALUES) for at in range(VALUES)])
    total = float(np.hypot(spread, error))
    after = spread * error / total if is_some(total) else 0.0
    told = spread**2 / total if is_some(total) else 0.0
    blind = _least_loss(percent, usd, np.array([mean]), spread, z)
    seen = _least_loss(percent, usd, mean + told * z, after, z)
    return max(0.0, blind - seen)


def _least_loss(
    percent: FloatArray, usd: FloatArray, thought: FloatArray, spread: float, z: FloatArray
) -> float:
    """Return the mean loss when the best value is planned for each thing that may be thought."""
    shifts = np.linspace(*SHIFTS, SHIFT_STEPS)
    planned = np.interp(thought[:, None] + spread * shifts, percent, usd)
    really = np.interp(thought[:, None] + spread * z, percent, usd)
    over = planned[:, :, None] - really[:, None, :]
    loss = np.where(is_some(over), over, -UNDER_PER_OVER * over).mean(axis=2)
    return float(loss.min(axis=1).mean())
