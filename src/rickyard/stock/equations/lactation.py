"""Milk: how much through the weeks of lactation, and what it costs the cow."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, above_zero, as_given, not_negative

PEAK_WEEK: Final = 8.5  # NRC 2000 p.45, suckled cows
PEAK_MILK_KG: Final = 8.0  # mature beef cow; reproduces the Univ. of Nebraska cow table
LEAST_PEAK_MILK_KG: Final = 3.0  # reported peaks 4-20 kg/d, NRC 2000 p.45
MOST_PEAK_MILK_KG: Final = 20.0
FIRST_CALF_PEAK_FACTOR: Final = 0.74  # two-year-old, Univ. of Arkansas 2018
SECOND_CALF_PEAK_FACTOR: Final = 0.88  # three-year-old, from memory

# Milk composition that reproduces the printed cow table, NRC 2000.
MILK_FAT_PCT: Final = 4.0
MILK_PROTEIN_PCT: Final = 3.4
MILK_SOLIDS_NOT_FAT_PCT: Final = 8.3

# Energy of milk, NRC 2000 after Tyrrell & Reid 1965; reproduces print.
ENERGY_PER_FAT_PCT: Final = 0.092
ENERGY_PER_SOLIDS_NOT_FAT_PCT: Final = 0.049
ENERGY_INTERCEPT: Final = -0.0569

MP_EFFICIENCY: Final = 0.65  # metabolizable protein into milk protein, NRC 2000, from memory


def milk_kg(
    week: Numeric,
    peak_milk_kg_per_day: Numeric = PEAK_MILK_KG,
    peak_week: Numeric = PEAK_WEEK,
) -> Numeric:
    """Return the milk of a nursing cow in a week of her lactation.

    ``Y = PKY (n/T) exp(1 - n/T)``. Meant for peaks of 3 to 20 kg/d and about 30 weeks.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, p.45; Jenkins & Ferrell (1984), form
    of the curve.

    Parameters
    ----------
    week : float or array
        Weeks since calving, 0 or more, fractions allowed; days divided by seven. [wk]
    peak_milk_kg_per_day : float or array
        Milk at the peak, 0 or more. [kg/d]
    peak_week : float or array
        Week of the peak, above 0. [wk]

    Returns
    -------
    float or array
        Milk. [kg/d]

    Examples
    --------
    >>> milk_kg(8.5)
    8.0
    >>> round(milk_kg(4.342857), 3)
    6.666
    """
    weeks = np.asarray(week, dtype=np.float64)
    not_negative("Weeks in milk and peak milk cannot be negative.", weeks, peak_milk_kg_per_day)
    above_zero("The week of peak milk must be above zero.", peak_week)
    share = weeks / peak_week
    return as_given(
        peak_milk_kg_per_day * share * np.exp(1.0 - share), week, peak_milk_kg_per_day, peak_week
    )


def milk_energy_mcal_per_kg(
    fat_pct: Numeric = MILK_FAT_PCT, solids_not_fat_pct: Numeric = MILK_SOLIDS_NOT_FAT_PCT
) -> Numeric:
    """Return the energy of milk [Mcal/kg].

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, after Tyrrell & Reid (1965).

    >>> round(milk_energy_mcal_per_kg(), 4)
    0.7178
    """
    energy = (
        ENERGY_PER_FAT_PCT * np.asarray(fat_pct)
        + ENERGY_PER_SOLIDS_NOT_FAT_PCT * np.asarray(solids_not_fat_pct)
        + ENERGY_INTERCEPT
    )
    return as_given(energy, fat_pct, solids_not_fat_pct)


def nem_lactation_mcal(
    milk_kg_per_day: Numeric,
    fat_pct: Numeric = MILK_FAT_PCT,
    solids_not_fat_pct: Numeric = MILK_SOLIDS_NOT_FAT_PCT,
) -> Numeric:
    """Return the net energy for milk, which adds to maintenance.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    milk_kg_per_day : float or array
        Milk. [kg/d]
    fat_pct, solids_not_fat_pct : float or array
        Composition of the milk. [%]

    Returns
    -------
    float or array
        Net energy, counted as net energy for maintenance. [Mcal/d]

    Examples
    --------
    >>> round(nem_lactation_mcal(8.0), 2)
    5.74
    """
    need = np.asarray(milk_kg_per_day) * milk_energy_mcal_per_kg(fat_pct, solids_not_fat_pct)
    return as_given(need, milk_kg_per_day, fat_pct, solids_not_fat_pct)


def mp_lactation_g(milk_kg_per_day: Numeric, protein_pct: Numeric = MILK_PROTEIN_PCT) -> Numeric:
    """Return the metabolizable protein for milk.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; efficiency 0.65 from memory.

    Parameters
    ----------
    milk_kg_per_day : float or array
        Milk. [kg/d]
    protein_pct : float or array
        Protein of the milk. [%]

    Returns
    -------
    float or array
        Metabolizable protein. [g/d]

    Examples
    --------
    >>> round(mp_lactation_g(6.5), 1)
    340.0
    """
    grams_per_kg = np.asarray(protein_pct) * 10.0
    need = np.asarray(milk_kg_per_day) * grams_per_kg / MP_EFFICIENCY
    return as_given(need, milk_kg_per_day, protein_pct)
