"""A shortage under an assurance, in words: what was promised, and how likely it is all the same."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from statistics import NormalDist

from rickyard.display import Display
from rickyard.farm import Farm
from rickyard.program.problem import UNITS, asked_pct, standard_deviations
from rickyard.program.result import NUTRIENT_WORDS, NeedRow


def chance_pct(row: NeedRow, promised_pct: float) -> float:
    """Return the chance with which what is supplied meets a need.

    ``promised_pct``: the chance with which the assured supply is there.

    Notes
    -----
    The assured supply lies ``z`` standard deviations below the mean. For the energy of growing
    stock, whose error is not quite normal, this is near.
    """
    if row.assured is None or row.supplied <= row.assured:
        return 100.0 if row.supplied >= row.need else 0.0
    spread = (row.supplied - row.assured) / standard_deviations(promised_pct)
    return 100.0 * NormalDist().cdf((row.supplied - row.need) / spread)


def assured_shortage(
    farm: Farm, group_id: str, nutrient: str, run: Sequence[NeedRow], display: Display
) -> str:
    """Say what is short of a promise over neighbouring periods, and what the means say."""
    group = farm.group(group_id)
    promised = asked_pct(group, farm.season)
    if promised is None:
        raise KeyError(group_id)
    unit = UNITS[nutrient]
    most = display.nutrient_text(max(row.shortage for row in run), unit)
    when = display.during_text(run[0].start, run[-1].start + timedelta(days=run[-1].days))
    sentence = (
        f"At {promised:g}% assurance {group.name} are short of {NUTRIENT_WORDS[nutrient]} "
        f"{when}, by up to {most} per head and day"
    )
    on_means = max(row.need - row.supplied for row in run)
    if on_means > 1e-6 * max(row.need for row in run):
        return f"{sentence}; on average values it is {display.nutrient_text(on_means, unit)}."
    chance = min(chance_pct(row, promised) for row in run)
    return (
        f"{sentence}. On average values there is enough, with a chance of about "
        f"{chance:.0f}% in the worst period."
    )
