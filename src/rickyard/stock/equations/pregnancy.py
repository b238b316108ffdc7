"""The unborn calf: what it costs, and what it weighs."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, as_given
from rickyard.types import FloatArray

BIRTH_WEIGHT_KG: Final = 40.0  # 88 lb; reproduces the Univ. of Nebraska cow table
HEIFER_BIRTH_WEIGHT_FACTOR: Final = 0.9  # common practice, no published source
LAST_DAY: Final = 285.0  # the equations are held there

#: Net energy for maintenance per metabolizable energy of a hay diet of 2.0 Mcal/kg.
KM_HAY: Final = 0.576  # NRC 2000 p.43

# Net energy, NRC 2000 Table 4-2 after Ferrell et al. 1976; reproduces print to 0.001 Mcal.
ENERGY: Final = (0.4504, 0.000766, 0.03233, 0.0000275)
# Net protein and weight, NRC 2000, from memory.
PROTEIN: Final = (0.001669, 0.00000211, 0.0278, 0.0000176)
CRUDE_PROTEIN_PER_N: Final = 6.25
MP_EFFICIENCY: Final = 0.65
CONCEPTUS: Final = (0.01828, 0.02, 0.0000143)


def _since_breeding(day: FloatArray) -> FloatArray:
    """Return 1 for a day of pregnancy and 0 for one before it."""
    return np.heaviside(day, 0.0)


def _held(day: Numeric) -> FloatArray:
    return np.clip(np.asarray(day, dtype=np.float64), 0.0, LAST_DAY)


def nem_pregnancy_mcal(
    day: Numeric, birth_weight_kg: Numeric = BIRTH_WEIGHT_KG, km: Numeric = KM_HAY
) -> Numeric:
    """Return the net energy for pregnancy, which adds to maintenance.

    Valid for days 0 to 285 and held at day 285 beyond. The day stands both in the bracket and
    in the exponent: a slip of sign shows only near term.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, Table 4-2, p.43; Ferrell et al.
    (1976), metabolizable energy of pregnancy.

    Parameters
    ----------
    day : float or array
        Days pregnant. [d]
    birth_weight_kg : float or array
        Birth weight of the calf. [kg]
    km : float or array
        Net energy for maintenance per metabolizable energy of the diet. [-]

    Returns
    -------
    float or array
        Net energy, counted as net energy for maintenance; 0 up to day 0. [Mcal/d]

    Examples
    --------
    >>> round(nem_pregnancy_mcal(280.0, 38.5), 2)
    5.17
    >>> nem_pregnancy_mcal(-10.0)
    0.0
    """
    t = _held(day)
    level, level_slope, rate, rate_slope = ENERGY
    kcal = km * birth_weight_kg * (level - level_slope * t) * np.exp((rate - rate_slope * t) * t)
    return as_given(_since_breeding(t) * kcal / 1000.0, day, birth_weight_kg, km)


def mp_pregnancy_g(day: Numeric, birth_weight_kg: Numeric = BIRTH_WEIGHT_KG) -> Numeric:
    """Return the metabolizable protein for pregnancy.

    Valid for days 0 to 285 and held at day 285 beyond.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; from memory.

    Parameters
    ----------
    day : float or array
        Days pregnant. [d]
    birth_weight_kg : float or array
        Birth weight of the calf. [kg]

    Returns
    -------
    float or array
        Metabolizable protein; 0 up to day 0. [g/d]

    Examples
    --------
    >>> round(mp_pregnancy_g(280.0, 40.0), 1)
    250.6
    """
    t = _held(day)
    level, level_slope, rate, rate_slope = PROTEIN
    nitrogen = birth_weight_kg * (level - level_slope * t) * np.exp((rate - rate_slope * t) * t)
    grams = nitrogen * CRUDE_PROTEIN_PER_N / MP_EFFICIENCY
    return as_given(_since_breeding(t) * grams, day, birth_weight_kg)


def conceptus_kg(day: Numeric, birth_weight_kg: Numeric = BIRTH_WEIGHT_KG) -> Numeric:
    """Return the weight of calf, fluids and membranes, which a scale counts as cow.

    Valid for days 0 to 285 and held at day 285 beyond. Subtract it from a late-pregnancy scale
    weight before reading that weight as the cow's condition.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; from memory.

    Parameters
    ----------
    day : float or array
        Days pregnant. [d]
    birth_weight_kg : float or array
        Birth weight of the calf. [kg]

    Returns
    -------
    float or array
        Weight of the conceptus; 0 up to day 0. [kg]

    Examples
    --------
    >>> round(conceptus_kg(280.0, 40.0) / 40.0, 2)
    1.61
    """
    t = _held(day)
    level, rate, rate_slope = CONCEPTUS
    weight = birth_weight_kg * level * np.exp(rate * t - rate_slope * t**2)
    return as_given(_since_breeding(t) * weight, day, birth_weight_kg)


def weight_without_conceptus_kg(
    scale_weight_kg: Numeric, day: Numeric, birth_weight_kg: Numeric = BIRTH_WEIGHT_KG
) -> Numeric:
    """Return the weight of the cow alone from a scale weight in pregnancy [kg].

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; from memory.

    >>> round(weight_without_conceptus_kg(600.0, 280.0, 40.0))
    536
    """
    weight = np.asarray(scale_weight_kg) - conceptus_kg(day, birth_weight_kg)
    return as_given(weight, scale_weight_kg, day, birth_weight_kg)
