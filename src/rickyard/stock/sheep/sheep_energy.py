"""Energy of sheep by factors, for what the table has no row for: another diet, triplets.

The form is that of CSIRO, adopted by NRC 2007. Its structure was seen in the New Zealand
inventory 1990-2013, p. 158; the constants are from memory.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given, within

MAINTENANCE_MJ: Final = 0.28
AGE_DECAY_PER_YEAR: Final = 0.03
MOST_AGE_YEARS: Final = 6.0
ENTIRE_MALE_FACTOR: Final = 1.15

#: Share of the whole intake that stands for the cost of eating more (NRC 2007, from memory).
#: CSIRO and New Zealand add 0.1 of the energy for production instead: one or the other.
INTAKE_TERM: Final = 0.09

KM_SLOPE, KM_BASE = 0.02, 0.5
KL_SLOPE, KL_BASE = 0.02, 0.4
KG_SLOPE, KG_BASE = 0.042, 0.006

# AFRC 1993, the ewe.
FETAL_BASE, FETAL_SCALE, FETAL_RATE = 3.322, 4.979, 0.00643
FETAL_GAIN_SCALE: Final = 0.25
FETAL_GAIN_RATE: Final = 0.07372
K_PREGNANCY: Final = 0.133
PREGNANCY_DAYS: Final = (63.0, 147.0)

#: Birth weight of a whole litter of a 70 kg ewe. Common practice.
LITTER_BIRTH_WEIGHT_KG: Final = (0.0, 5.0, 9.0, 11.0)
LITTER_EWE_KG: Final = 70.0

MILK_MJ_PER_KG: Final = 4.7
LOSS_MJ_PER_KG: Final = 23.0
LOSS_EFFICIENCY: Final = 0.84

EMPTY_PER_FULL_GAIN: Final = 0.92


def maintenance_efficiency(diet_me_mj_per_kg: Numeric) -> Numeric:
    """Return the efficiency of metabolizable energy for maintenance.

    >>> round(maintenance_efficiency(8.0), 2)
    0.66
    """
    return as_given(KM_SLOPE * np.asarray(diet_me_mj_per_kg) + KM_BASE, diet_me_mj_per_kg)


def me_maintenance_mj(
    weight_kg: Numeric,
    diet_me_mj_per_kg: Numeric,
    age_years: Numeric = MOST_AGE_YEARS,
    *,
    entire_male: Numeric = False,
    species_factor: float = 1.0,
) -> Numeric:
    """Return the energy that keeps a confined, dry, sheltered sheep, before the intake term.

    Age is held at six years, from which maintenance falls no further.

    Source: CSIRO (1990) as in the New Zealand Greenhouse Gas Inventory 1990-2013, p. 158; constants
    from memory.

    Parameters
    ----------
    weight_kg : float or array
        Body weight, above 0. [kg]
    diet_me_mj_per_kg : float or array
        Metabolizable energy of the diet, above 0. [MJ/kg DM]
    age_years : float or array
        Age; counted as 6 when older. [year]
    entire_male : bool or array
        Entire males need 15 % more.
    species_factor : float
        1.0 for sheep, 1.4 for cattle. [-]

    Returns
    -------
    float or array
        Metabolizable energy. [MJ/d]

    Examples
    --------
    >>> round(me_total_mj(me_maintenance_mj(70.0, 8.0)), 3)
    9.424
    """
    said = "Weight and the energy of the diet are above zero."
    weight, diet = (within(one, said, positive=True) for one in (weight_kg, diet_me_mj_per_kg))
    age = np.minimum(age_years, MOST_AGE_YEARS)
    sex = np.where(entire_male, ENTIRE_MALE_FACTOR, 1.0)
    net = species_factor * sex * MAINTENANCE_MJ * weight**0.75 * np.exp(-AGE_DECAY_PER_YEAR * age)
    return as_given(
        net / maintenance_efficiency(diet), weight_kg, diet_me_mj_per_kg, age_years, entire_male
    )


def litter_birth_weight_kg(lambs: int, ewe_weight_kg: Numeric = LITTER_EWE_KG) -> Numeric:
    """Return the birth weight of a whole litter [kg].

    Raises ``OutOfRange`` if there are none or more than three.

    Common practice: 5, 9 and 11 kg at 70 kg, scaled with metabolic weight.

    >>> litter_birth_weight_kg(2)
    9.0
    """
    if lambs not in (1, 2, 3):
        raise OutOfRange("A litter counts one, two or three lambs.")
    scale = (np.asarray(ewe_weight_kg) / LITTER_EWE_KG) ** 0.75
    return as_given(LITTER_BIRTH_WEIGHT_KG[lambs] * scale, ewe_weight_kg)


def me_pregnancy_mj(day_pregnant: Numeric, litter_birth_weight_kg: Numeric) -> Numeric:
    """Return the energy for pregnancy, of ewes and in the last eight weeks of does.

    Source: AFRC (1993), the same fit as CSIRO; from memory.

    Parameters
    ----------
    day_pregnant : float or array
        Day of pregnancy, 63 to 147. [d]
    litter_birth_weight_kg : float or array
        Birth weight of the whole litter, not of one lamb. [kg]

    Returns
    -------
    float or array
        Metabolizable energy. [MJ/d]

    Examples
    --------
    >>> round(me_pregnancy_mj(140.0, 4.0), 3)
    4.476
    """
    low, high = PREGNANCY_DAYS
    said = f"The energy of pregnancy is fitted to days {low:.0f} to {high:.0f}."
    day = within(day_pregnant, said, low, high)
    fall = np.exp(-FETAL_RATE * day)
    content = 10.0 ** (FETAL_BASE - FETAL_SCALE * fall)
    stored = FETAL_GAIN_SCALE * np.asarray(litter_birth_weight_kg) * content
    stored = stored * FETAL_GAIN_RATE * fall
    return as_given(stored / K_PREGNANCY, day_pregnant, litter_birth_weight_kg)


def me_milk_mj(
    milk_kg: Numeric,
    diet_me_mj_per_kg: Numeric,
    weight_loss_kg: Numeric = 0.0,
    milk_mj_per_kg: Numeric = MILK_MJ_PER_KG,
) -> Numeric:
    """Return the energy for milk, less what lost weight, a positive number, supplies [MJ/d].

    >>> round(me_milk_mj(1.0, 10.0), 2)
    7.83
    """
    efficiency = KL_SLOPE * np.asarray(diet_me_mj_per_kg) + KL_BASE
    milk = np.asarray(milk_kg) * np.asarray(milk_mj_per_kg)
    supplied = LOSS_MJ_PER_KG * LOSS_EFFICIENCY * np.asarray(weight_loss_kg)
    return as_given(
        (milk - supplied) / efficiency, milk_kg, diet_me_mj_per_kg, weight_loss_kg, milk_mj_per_kg
    )


def me_gain_mj(
    weight_kg: Numeric, gain_kg: Numeric, mature_weight_kg: Numeric, diet_me_mj_per_kg: Numeric
) -> Numeric:
    """Return the energy for growth [MJ/d].

    Source: CSIRO (2007); from memory.

    >>> round(me_gain_mj(30.0, 0.2, 80.0, 10.0), 2)
    7.12
    """
    mature = np.asarray(mature_weight_kg, float)
    empty_gain = EMPTY_PER_FULL_GAIN * np.asarray(gain_kg, float)
    rate = 1000.0 * empty_gain / (4.0 * mature**0.75) - 1.0
    part = np.asarray(weight_kg) / mature
    per_kg = 6.7 + rate + (20.3 - rate) / (1.0 + np.exp(-6.0 * (part - 0.4)))
    efficiency = KG_SLOPE * np.asarray(diet_me_mj_per_kg) + KG_BASE
    energy = per_kg * np.maximum(empty_gain, 0.0) / efficiency
    return as_given(energy, weight_kg, gain_kg, mature_weight_kg, diet_me_mj_per_kg)


def me_total_mj(*parts_mj: Numeric, intake_term: float = INTAKE_TERM) -> Numeric:
    """Return the whole need from its parts, with the cost of eating it.

    Parameters
    ----------
    *parts_mj : float or array
        Maintenance, pregnancy, milk, gain. [MJ/d]
    intake_term : float
        Share of the whole that eating costs; 0 where the parts hold it already. [-]

    Returns
    -------
    float or array
        Metabolizable energy. [MJ/d]

    Examples
    --------
    >>> round(me_total_mj(8.0, 1.1), 6)
    10.0
    """
    total = sum((np.asarray(part, float) for part in parts_mj), start=np.asarray(0.0))
    return as_given(total / (1.0 - intake_term), *parts_mj)
