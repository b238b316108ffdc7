"""Crude protein of mature ewes by factors."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given

# NRC 1985, Nutrient Requirements of Sheep; from memory, cross-checked against its Table 1.
FECAL_G_PER_KG_DM: Final = 33.44
URINE_G_PER_KG: Final = 0.14675
URINE_G: Final = 3.375
SKIN_G: Final = 0.1125
WOOL_G: Final = 6.8  # a fleece of 4 kg a year
MILK_G_PER_KG: Final = 47.875
NET_PROTEIN_VALUE: Final = 0.561

EARLY_PREGNANCY_G: Final = 2.95
LATE_PREGNANCY_G_PER_LAMB: Final = 16.75
GAIN_PROTEIN_G: Final = 268.0
GAIN_PROTEIN_PER_MCAL: Final = 29.4
GAIN_KCAL_PER_G: Final = 0.276  # x W^0.75

MILK_SINGLE_KG: Final = 1.74
MILK_TWIN_KG: Final = 2.60

#: Lambs that the two rows of late pregnancy stand for.
LAMBS_OF_ROW: Final = {"ewe_late_gest_130_150": 1.5, "ewe_late_gest_180_225": 2.0}


def ewe_cp_factorial_g(
    dm_kg: Numeric,
    weight_kg: Numeric,
    deposited_g: Numeric = 0.0,
    milk_kg: Numeric = 0.0,
    wool_g: Numeric = WOOL_G,
) -> Numeric:
    """Return the crude protein of a mature ewe at the dry matter she eats.

    Within 1 g of the table for maintenance and pregnancy, 7 g in milk. Not for lambs and ewe
    lambs, for which it is up to 18 % low: ``ewe_row_cp_g`` refuses them.

    Source: NRC (1985), Nutrient Requirements of Sheep; from memory, cross-checked.

    Parameters
    ----------
    dm_kg : float or array
        Dry matter eaten. [kg/d]
    weight_kg : float or array
        Body weight. [kg]
    deposited_g : float or array
        Protein laid down in lambs and body, see ``deposited_protein_g`` and
        ``gain_protein_g``. [g/d]
    milk_kg : float or array
        Milk. [kg/d]
    wool_g : float or array
        Net protein of wool. [g/d]

    Returns
    -------
    float or array
        Crude protein. [g/d]

    Examples
    --------
    >>> round(ewe_cp_factorial_g(1.4, 90.0))
    131
    """
    weight = np.asarray(weight_kg, float)
    net = FECAL_G_PER_KG_DM * np.asarray(dm_kg) + URINE_G_PER_KG * weight + URINE_G
    net = net + SKIN_G * weight**0.75 + np.asarray(wool_g) + np.asarray(deposited_g)
    net = net + MILK_G_PER_KG * np.asarray(milk_kg)
    return as_given(net / NET_PROTEIN_VALUE, dm_kg, weight_kg, deposited_g, milk_kg, wool_g)


def gain_protein_g(gain_kg: Numeric, weight_kg: Numeric) -> Numeric:
    """Return the protein in a ewe's own gain, negative when she loses [g/d].

    >>> round(gain_protein_g(0.1, 60.0), 1)
    9.3
    """
    energy = GAIN_KCAL_PER_G * np.asarray(weight_kg, float) ** 0.75
    protein = np.asarray(gain_kg) * (GAIN_PROTEIN_G - GAIN_PROTEIN_PER_MCAL * energy)
    return as_given(protein, gain_kg, weight_kg)


def ewe_row_cp_g(sheep_class: str, dm_kg: Numeric, weight_kg: Numeric, gain_kg: Numeric) -> Numeric:
    """Return the crude protein of a row of mature ewes when they eat another amount [g/d].

    ``gain_kg``: gain of the row, used for flushing and milk. Raises ``OutOfRange`` for lambs and
    ewe lambs: their protein is read from the table.

    >>> round(ewe_row_cp_g("ewe_early_gest", 1.3, 60.0, 0.03))
    121
    """
    gain = gain_protein_g(gain_kg, weight_kg)
    if sheep_class == "ewe_maintenance":
        return ewe_cp_factorial_g(dm_kg, weight_kg)
    if sheep_class == "ewe_early_gest":
        return ewe_cp_factorial_g(dm_kg, weight_kg, EARLY_PREGNANCY_G)
    if sheep_class in LAMBS_OF_ROW:
        lambs = LATE_PREGNANCY_G_PER_LAMB * LAMBS_OF_ROW[sheep_class]
        return ewe_cp_factorial_g(dm_kg, weight_kg, lambs)
    if sheep_class == "ewe_flushing":
        return ewe_cp_factorial_g(dm_kg, weight_kg, gain)
    milk = {"ewe_lact_single": MILK_SINGLE_KG, "ewe_lact_twin": MILK_TWIN_KG}.get(sheep_class)
    if milk is None:
        raise OutOfRange(
            f"The protein of {sheep_class} is read from the table: the equation is for mature "
            "ewes and falls up to 18% short for lambs and ewe lambs."
        )
    return ewe_cp_factorial_g(dm_kg, weight_kg, gain, milk)
