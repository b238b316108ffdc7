"""Weight and energy that a score of condition stands for, in cattle, sheep, goats and horses."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, above_zero, as_given
from rickyard.stock.equations import TISSUE_EFFICIENCY

#: Net energy of a kilogram that a sheep gains or loses, MJ: AFRC 1993, from memory.
SHEEP_MJ_PER_KG: Final = 23.85
#: Digestible energy by which a horse of 500 kg lives, Mcal per kg: NRC 2007.
HORSE_MCAL_PER_KG: Final = 0.0333


def gain_for_score_kg(
    score_now: Numeric,
    score_wanted: Numeric,
    kg_per_score: Numeric,
    conceptus_kg: Numeric,
    days: Numeric,
) -> Numeric:
    """Return the gain of a cow that is to calve in a wanted condition [kg/d], calf and all.

    Source: Corah et al. (1991), Kansas State Univ. C-817; 80 lb a score and 100 lb of calf and
    membranes reproduce its table.

    >>> round(gain_for_score_kg(4.0, 5.0, 36.3, 45.4, 120.0), 2)
    0.68
    """
    scores = np.asarray(score_wanted) - np.asarray(score_now)
    gain = (scores * kg_per_score + np.asarray(conceptus_kg)) / _positive(days)
    return as_given(gain, score_now, score_wanted, kg_per_score, conceptus_kg, days)


def score_lost(short_mcal_per_day: Numeric, days: Numeric, step_mcal: Numeric) -> Numeric:
    """Return the change of condition of cows short of energy [scores, below zero].

    ``step_mcal``: energy of the score that is lost, see ``energy_between_scores_mcal``. A unit of
    reserve replaces 0.80 of feed.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; derived.

    >>> round(score_lost(1.5, 90.0, 226.0), 3)
    -0.747
    """
    lost = np.asarray(short_mcal_per_day) * np.asarray(days)
    return as_given(
        -lost / (TISSUE_EFFICIENCY * np.asarray(step_mcal)), short_mcal_per_day, days, step_mcal
    )


def ewe_kg_per_score(weight_kg: Numeric, share: Numeric = 0.115) -> Numeric:
    """Return the weight that one of five scores is worth in a ewe [kg]: 0.10 to 0.13 of hers.

    Source: Farm Advisory Service Scotland 2024; goats by analogy.

    >>> ewe_kg_per_score(70.0, 0.1)
    7.0
    """
    return as_given(np.asarray(weight_kg) * np.asarray(share), weight_kg, share)


def ewe_extra_me_mj(
    kg_per_score: Numeric, scores: Numeric, efficiency: Numeric, days: Numeric
) -> Numeric:
    """Return the metabolizable energy above maintenance that lets ewes gain condition [MJ/d].

    Source: AFRC (1993), 23.85 MJ a kg, from memory; derived.

    >>> round(ewe_extra_me_mj(8.0, 1.0, 0.435, 56.0), 2)
    7.83
    """
    kept = np.asarray(kg_per_score) * np.asarray(scores) * SHEEP_MJ_PER_KG
    return as_given(kept / efficiency / _positive(days), kg_per_score, scores, efficiency, days)


def score_of_nine(score_of_five: Numeric) -> Numeric:
    """Return a score of one to five on the scale of one to nine; goats and dairy cows.

    Source: Goat reproduction: nutrition impacts reproduction, eXtension; Ferguson, Univ. of
    Pennsylvania.

    >>> score_of_nine(3.5)
    6.0
    """
    return as_given(2.0 * np.asarray(score_of_five) - 1.0, score_of_five)


def horse_condition_mcal(kg_per_score: Numeric, mcal_per_kg: Numeric, scores: Numeric) -> Numeric:
    """Return the digestible energy that a change of a horse's condition takes [Mcal].

    20 kg a score and 20 Mcal a kg in a horse of 500 kg: common practice, no published source.

    >>> horse_condition_mcal(20.0, 20.0, 1.0)
    400.0
    """
    energy = np.asarray(kg_per_score) * np.asarray(mcal_per_kg) * np.asarray(scores)
    return as_given(energy, kg_per_score, mcal_per_kg, scores)


def horse_de_for_condition_mcal(weight_kg: Numeric, energy_mcal: Numeric, days: Numeric) -> Numeric:
    """Return the digestible energy of an idle horse that is to gain condition [Mcal/d].

    Source: NRC (2007), Nutrient Requirements of Horses, 0.0333 Mcal a kg; derived.

    >>> round(horse_de_for_condition_mcal(500.0, 400.0, 90.0), 1)
    21.1
    """
    upkeep = HORSE_MCAL_PER_KG * np.asarray(weight_kg)
    return as_given(
        upkeep + np.asarray(energy_mcal) / _positive(days), weight_kg, energy_mcal, days
    )


def _positive(days: Numeric) -> Numeric:
    above_zero("Condition changes over at least one day.", days)
    return days
