"""Body condition: the energy a cow carries, and the days it takes to change her score."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import KG_PER_LB, Numeric, above_zero, as_given, within
from rickyard.stock.common import empty_weight_cow_kg
from rickyard.types import FloatArray

# Composition of the empty body by condition score, NRC 2000; reproduces printed reserves.
FAT_PER_SCORE_PCT: Final = 3.7683
PROTEIN_INTERCEPT_PCT: Final = 20.0886
PROTEIN_PER_SCORE_PCT: Final = 0.66762
ASH_INTERCEPT: Final = 0.078982  # fraction; the mass of ash stays constant
ASH_PER_SCORE: Final = 0.00438
ASH_AT_SCORE_5: Final = 0.057082
FAT_MCAL_PER_KG: Final = 9.4
PROTEIN_MCAL_PER_KG: Final = 5.7
LEAST_SCORE: Final = 1.0
MOST_SCORE: Final = 9.0

#: Dietary energy that one unit of body reserve replaces.
TISSUE_EFFICIENCY: Final = 0.80  # NRC 2000, from memory

KG_PER_SCORE_RULE: Final = 75.0 * KG_PER_LB  # full weight; rule of thumb, Univ. of Nebraska


def checked_score(condition_score: Numeric) -> FloatArray:
    """Return body condition scores as an array, refusing what is no score.

    Parameters
    ----------
    condition_score : float or array
        Body condition score, 1 emaciated to 9 obese. [-]

    Returns
    -------
    array
        The same scores. [-]

    Examples
    --------
    >>> checked_score(5)
    array(5.)
    """
    said = "A body condition score of cattle must lie between 1 and 9."
    return within(condition_score, said, LEAST_SCORE, MOST_SCORE)


def body_fat_pct(condition_score: Numeric) -> Numeric:
    """Return the fat of the empty body [% of empty body weight].

    ``condition_score``: body condition score, 1 to 9. Raises ``OutOfRange`` if a score lies outside
    1 to 9.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    >>> round(body_fat_pct(5.0), 2)
    18.84
    """
    return as_given(FAT_PER_SCORE_PCT * checked_score(condition_score), condition_score)


def body_protein_pct(condition_score: Numeric) -> Numeric:
    """Return the protein of the empty body [% of empty body weight].

    ``condition_score``: body condition score, 1 to 9. Raises ``OutOfRange`` if a score lies outside
    1 to 9.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    >>> round(body_protein_pct(5.0), 2)
    16.75
    """
    protein = PROTEIN_INTERCEPT_PCT - PROTEIN_PER_SCORE_PCT * checked_score(condition_score)
    return as_given(protein, condition_score)


def relative_weight_frac(condition_score: Numeric) -> Numeric:
    """Return a cow's weight as a share of her own weight at a score of 5.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    condition_score : float or array
        Body condition score, 1 to 9. [-]

    Returns
    -------
    float or array
        Weight over weight at score 5. [fraction]

    Examples
    --------
    >>> round(relative_weight_frac(4.0), 2)
    0.93
    """
    share = ASH_AT_SCORE_5 / (ASH_INTERCEPT - ASH_PER_SCORE * checked_score(condition_score))
    return as_given(share, condition_score)


def body_energy_mcal(shrunk_weight_at_5_kg: Numeric, condition_score: Numeric) -> Numeric:
    """Return the energy in a cow's fat and protein.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    shrunk_weight_at_5_kg : float or array
        Her shrunk weight at a score of 5. [kg]
    condition_score : float or array
        Body condition score, 1 to 9. [-]

    Returns
    -------
    float or array
        Energy of the body. [Mcal]

    Examples
    --------
    >>> round(body_energy_mcal(500.0, 5.0))
    1160
    """
    empty = np.asarray(empty_weight_cow_kg(shrunk_weight_at_5_kg)) * relative_weight_frac(
        condition_score
    )
    fat = empty * body_fat_pct(condition_score) / 100.0
    protein = empty * body_protein_pct(condition_score) / 100.0
    energy = FAT_MCAL_PER_KG * fat + PROTEIN_MCAL_PER_KG * protein
    return as_given(energy, shrunk_weight_at_5_kg, condition_score)


def energy_between_scores_mcal(
    shrunk_weight_at_5_kg: Numeric, from_score: Numeric, to_score: Numeric
) -> Numeric:
    """Return the energy of the body gained from one score to another.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    shrunk_weight_at_5_kg : float or array
        Her shrunk weight at a score of 5. [kg]
    from_score, to_score : float or array
        Body condition scores, 1 to 9. [-]

    Returns
    -------
    float or array
        Energy, negative when condition is lost. [Mcal]

    Examples
    --------
    >>> round(energy_between_scores_mcal(1200.0 * 0.45359237, 4.0, 5.0))
    226
    """
    energy = np.asarray(body_energy_mcal(shrunk_weight_at_5_kg, to_score)) - body_energy_mcal(
        shrunk_weight_at_5_kg, from_score
    )
    return as_given(energy, shrunk_weight_at_5_kg, from_score, to_score)


def days_to_gain_condition(energy_mcal: Numeric, surplus_nem_mcal_per_day: Numeric) -> Numeric:
    """Return the days a surplus of feed takes to put energy on a cow.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; from memory.

    Parameters
    ----------
    energy_mcal : float or array
        Energy to gain, see ``energy_between_scores_mcal``. [Mcal]
    surplus_nem_mcal_per_day : float or array
        Net energy for maintenance fed above her need, more than 0. [Mcal/d]

    Returns
    -------
    float or array
        Days. [d]

    Examples
    --------
    >>> days_to_gain_condition(207.0, 3.0)
    69.0
    """
    above_zero("Condition is gained only on energy above the need.", surplus_nem_mcal_per_day)
    days = np.asarray(energy_mcal) / surplus_nem_mcal_per_day
    return as_given(days, energy_mcal, surplus_nem_mcal_per_day)


def weight_after_scores_kg(
    full_weight_kg: Numeric, scores: Numeric, kg_per_score: Numeric = KG_PER_SCORE_RULE
) -> Numeric:
    """Return a cow's weight after a change of condition, by the rule of thumb.

    A rule to quote; ``relative_weight_frac`` is the equation to use.

    Source: Univ. of Nebraska-Lincoln, Using Body Condition Score to Manage the Nutritional Program:
    rule of thumb.

    Parameters
    ----------
    full_weight_kg : float or array
        Full weight now. [kg]
    scores : float or array
        Change of condition score. [-]
    kg_per_score : float or array
        Full weight per score. [kg]

    Returns
    -------
    float or array
        Full weight after the change. [kg]

    Examples
    --------
    >>> round(weight_after_scores_kg(544.0, 1.0), 1)
    578.0
    """
    weight = np.asarray(full_weight_kg) + np.asarray(scores) * kg_per_score
    return as_given(weight, full_weight_kg, scores, kg_per_score)
