"""Growth: the energy and protein kept in gain, and the gain that an energy allows."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, above_zero, as_given
from rickyard.stock.common import EMPTY_GAIN_PER_SHRUNK_GAIN, EMPTY_PER_SHRUNK

# NRC 2000, Nutrient Requirements of Beef Cattle; all reproduce printed tables.
RETAINED_COEFFICIENT: Final = 0.0635
RETAINED_WEIGHT_POWER: Final = 0.75
RETAINED_GAIN_POWER: Final = 1.097
REGRESSION_COEFFICIENT: Final = 13.91
REGRESSION_ENERGY_POWER: Final = 0.9116
REGRESSION_WEIGHT_POWER: Final = -0.6837
PROTEIN_G_PER_KG_GAIN: Final = 268.0
PROTEIN_G_PER_MCAL: Final = 29.4

# Efficiency of metabolizable protein for gain. With 0.834 the two parts meet at 300 kg; copies
# that print 0.83 jump there.
EFFICIENCY_AT_ZERO: Final = 0.834
EFFICIENCY_PER_KG: Final = 0.00114
EFFICIENCY_HEAVY: Final = 0.492

#: Gains for which the equations were fitted; the caller marks others as extrapolated.
LEAST_FITTED_GAIN_KG: Final = 0.2
MOST_FITTED_GAIN_KG: Final = 1.8

# Target weights of heifers as shares of mature weight.
BREEDING_SHARE: Final = 0.60  # Univ. of Arkansas 2018
FIRST_CALVING_SHARE: Final = 0.85  # Univ. of Arkansas 2018; Iowa State Univ.
SECOND_CALVING_SHARE: Final = 0.92  # Iowa State Univ.
BREEDING_TO_CALVING_DAYS: Final = 280.0  # the span over which the heifer's gain is spread


def retained_energy_mcal(gain_kg_per_day: Numeric, scaled_weight_kg: Numeric) -> Numeric:
    """Return the energy kept in a gain, which is the net energy for gain that it needs.

    ``RE = 0.0635 (0.891 W)^0.75 (0.956 G)^1.097``, fitted for gains of 0.2 to 1.8 kg/d.

    Held at 0 for stock that loses weight.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    gain_kg_per_day : float or array
        Shrunk weight gain; nothing is kept at or below zero. [kg/d]
    scaled_weight_kg : float or array
        Size-scaled weight, see ``weights.size_scaled_weight_kg``. [kg]

    Returns
    -------
    float or array
        Retained energy. [Mcal/d]

    Examples
    --------
    >>> round(retained_energy_mcal(1.0, 263.1), 2)
    3.62
    """
    gain = np.maximum(gain_kg_per_day, 0.0) * EMPTY_GAIN_PER_SHRUNK_GAIN
    empty = EMPTY_PER_SHRUNK * np.asarray(scaled_weight_kg)
    energy = RETAINED_COEFFICIENT * empty**RETAINED_WEIGHT_POWER * gain**RETAINED_GAIN_POWER
    return as_given(energy, gain_kg_per_day, scaled_weight_kg)


def gain_kg(
    retained_mcal_per_day: Numeric, scaled_weight_kg: Numeric, *, by_regression: bool = False
) -> Numeric:
    """Return the gain that an energy allows, the exact inverse of ``retained_energy_mcal``.

    Solving back and forth needs directions that agree. The published regression for this
    direction is no inverse and differs by up to half a percent; do not mix the two while solving.

    Held at 0 where no energy is retained.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    retained_mcal_per_day : float or array
        Net energy available for gain; none allows no gain. [Mcal/d]
    scaled_weight_kg : float or array
        Size-scaled weight. [kg]
    by_regression : bool
        Whether to use the regression as published, ``G = 13.91 RE^0.9116 W^-0.6837``.

    Returns
    -------
    float or array
        Shrunk weight gain. [kg/d]

    Examples
    --------
    >>> round(gain_kg(retained_energy_mcal(0.9, 300.0), 300.0), 9)
    0.9
    >>> round(gain_kg(3.62, 263.1, by_regression=True), 2)
    1.0
    """
    energy = np.maximum(retained_mcal_per_day, 0.0)
    weight = np.asarray(scaled_weight_kg, dtype=np.float64)
    if by_regression:
        by_weight = weight**REGRESSION_WEIGHT_POWER
        gain = REGRESSION_COEFFICIENT * energy**REGRESSION_ENERGY_POWER * by_weight
    else:
        base = energy / (
            RETAINED_COEFFICIENT * (EMPTY_PER_SHRUNK * weight) ** RETAINED_WEIGHT_POWER
        )
        gain = base ** (1.0 / RETAINED_GAIN_POWER) / EMPTY_GAIN_PER_SHRUNK_GAIN
    return as_given(gain, retained_mcal_per_day, scaled_weight_kg)


def net_protein_gain_g(gain_kg_per_day: Numeric, scaled_weight_kg: Numeric) -> Numeric:
    """Return the protein kept in a gain [g/d].

    ``NP = 268 G - 29.4 RE``, taken as 0 where a very fat, very fast gain would make it negative.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    >>> round(net_protein_gain_g(1.0, 263.1))
    162
    """
    energy = retained_energy_mcal(gain_kg_per_day, scaled_weight_kg)
    return as_given(protein_of_gain_g(gain_kg_per_day, energy), gain_kg_per_day, scaled_weight_kg)


def protein_of_gain_g(gain_kg_per_day: Numeric, retained_mcal_per_day: Numeric) -> Numeric:
    """Return the protein kept in a gain whose retained energy is known.

    Held at 0 for stock that loses weight, or whose gain is fat alone.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    gain_kg_per_day : float or array
        Shrunk weight gain. [kg/d]
    retained_mcal_per_day : float or array
        Energy kept in it. [Mcal/d]

    Returns
    -------
    float or array
        Net protein, never below zero. [g/d]

    Examples
    --------
    >>> round(protein_of_gain_g(1.0, 3.62))
    162
    """
    gain = np.maximum(gain_kg_per_day, 0.0)
    protein = PROTEIN_G_PER_KG_GAIN * gain - PROTEIN_G_PER_MCAL * np.asarray(retained_mcal_per_day)
    return as_given(np.maximum(protein, 0.0), gain_kg_per_day, retained_mcal_per_day)


def mp_efficiency(scaled_weight_kg: Numeric) -> Numeric:
    """Return the share of metabolizable protein that becomes gain.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    scaled_weight_kg : float or array
        Size-scaled weight. [kg]

    Returns
    -------
    float or array
        Efficiency. [fraction]

    Examples
    --------
    >>> round(mp_efficiency(300.0), 3), mp_efficiency(400.0)
    (0.492, 0.492)
    """
    weight = np.asarray(scaled_weight_kg, dtype=np.float64)
    efficiency = np.maximum(EFFICIENCY_AT_ZERO - EFFICIENCY_PER_KG * weight, EFFICIENCY_HEAVY)
    return as_given(efficiency, scaled_weight_kg)


def mp_gain_g(gain_kg_per_day: Numeric, scaled_weight_kg: Numeric) -> Numeric:
    """Return the metabolizable protein for gain.

    The efficiency falls with size-scaled weight up to 300 kg and is 0.492 above.

    Held at 0 for stock that loses weight, or whose gain is fat alone.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    gain_kg_per_day : float or array
        Shrunk weight gain. [kg/d]
    scaled_weight_kg : float or array
        Size-scaled weight. [kg]

    Returns
    -------
    float or array
        Metabolizable protein. [g/d]

    Examples
    --------
    >>> round(mp_gain_g(1.0, 300.0 * 478.0 / 545.0), 1)
    302.5
    """
    net = np.asarray(net_protein_gain_g(gain_kg_per_day, scaled_weight_kg))
    return as_given(net / mp_efficiency(scaled_weight_kg), gain_kg_per_day, scaled_weight_kg)


def gain_to_target_kg(weight_kg: Numeric, target_weight_kg: Numeric, days: Numeric) -> Numeric:
    """Return the daily gain that brings an animal to a weight in a number of days.

    Parameters
    ----------
    weight_kg, target_weight_kg : float or array
        Weight now and wanted, both full or both shrunk. [kg]
    days : float or array
        Days until then, more than 0. [d]

    Returns
    -------
    float or array
        Gain, negative when the animal weighs more than the target. [kg/d]

    Examples
    --------
    >>> round(gain_to_target_kg(204.1, 306.2, 160.0), 2)
    0.64
    """
    above_zero("The day of a target weight must lie after the day of weighing.", days)
    gain = (np.asarray(target_weight_kg) - np.asarray(weight_kg)) / days
    return as_given(gain, weight_kg, target_weight_kg, days)


def target_weight_kg(mature_weight_kg: Numeric, share: Numeric = BREEDING_SHARE) -> Numeric:
    """Return the weight a heifer should have, as a share of her mature weight.

    Source: Univ. of Arkansas (2018), Beef Cattle Nutrition Series Part 3.

    Parameters
    ----------
    mature_weight_kg : float or array
        Mature weight. [kg]
    share : float or array
        Share of mature weight, for example 0.60 at breeding or 0.85 at calving. [-]

    Returns
    -------
    float or array
        Target weight, full or shrunk like the mature weight. [kg]

    Examples
    --------
    >>> target_weight_kg(600.0)
    360.0
    """
    return as_given(np.asarray(mature_weight_kg) * share, mature_weight_kg, share)
