"""Cold by the factorial method: insulation, heat made, and the energy to make up the rest."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

import numpy as np

from rickyard.farm import Coat, Hide, Mud
from rickyard.quantities import Numeric, OutOfRange, as_given, not_negative
from rickyard.stock.common import LEAST_SHRUNK_WEIGHT_KG
from rickyard.stock.equations import KM_HAY, checked_score

# NRC 2000 ch. 1 and 10. Variables and units as printed on p.10; coefficients from memory,
# checked against the coat table of Kansas State Univ. and the rule of one and two percent.
AREA_COEFFICIENT: Final = 0.09
AREA_POWER: Final = 0.67
TISSUE_NEWBORN: Final = 2.5  # under one month, degC m2 d/Mcal
TISSUE_CALF: Final = 6.5  # one to six months
TISSUE_YEARLING: Final = (5.1875, 0.3125)  # six to twelve months: intercept, per score
TISSUE_GROWN: Final = (5.25, 0.75)
NEWBORN_MONTHS: Final = 1.0
CALF_MONTHS: Final = 6.0
YEARLING_MONTHS: Final = 12.0
COAT_STILL_AIR: Final = 7.36
COAT_PER_KM_H: Final = -0.296
COAT_PER_CM: Final = 2.55
BODY_TEMPERATURE_C: Final = 39.0
HEAT_SHARE: Final = 0.85

#: Range of the method: beyond the wind, the coat insulates no more; say so to the reader.
LEAST_TEMPERATURE_C: Final = -40.0
MOST_WIND_KM_PER_H: Final = 32.0

#: Energy of the conceptus per metabolizable energy of pregnancy, NRC 2000 p.43.
CONCEPTUS_EFFICIENCY: Final = 0.13
#: Net energy for gain per metabolizable energy of the 2.0 Mcal/kg hay that ``KM_HAY`` belongs
#: to: 1.42 ME - 0.174 ME^2 + 0.0122 ME^3 - 1.65 over ME, NRC 2000.
KG_HAY: Final = (1.42 * 2.0 - 0.174 * 4.0 + 0.0122 * 8.0 - 1.65) / 2.0

#: Effective depth of the coat, cm. The fall coat is the mean of its neighbours, common practice.
HAIR_CM: Final = MappingProxyType(
    {Coat.SUMMER: 0.6, Coat.FALL: 0.95, Coat.WINTER: 1.3, Coat.HEAVY_WINTER: 2.5}
)
#: What is left of the coat's insulation.
MUD_FACTOR: Final = MappingProxyType({Mud.CLEAN: 1.0, Mud.LOW: 0.8, Mud.SIDES: 0.5, Mud.CAKED: 0.2})
#: Wet or matted counts as heavily caked: NRC 2000, from memory, and doubtful. Held against print:
#: it puts the critical temperature of a dry cow in winter coat at 60 degrees Fahrenheit where the
#: table of Ames has 59; 0.5 would put it at 46.
WET_FACTOR: Final = 0.2
HIDE_FACTOR: Final = MappingProxyType({Hide.THIN: 0.8, Hide.AVERAGE: 1.0, Hide.THICK: 1.2})


def surface_area_m2(shrunk_weight_kg: Numeric) -> Numeric:
    """Return the surface of an animal [m2].

    Raises ``OutOfRange`` if a weight lies below 50 kg.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; cross-checked.

    >>> round(surface_area_m2(533.0), 2)
    6.04
    """
    weight = np.asarray(shrunk_weight_kg, dtype=np.float64)
    if np.any(weight < LEAST_SHRUNK_WEIGHT_KG):
        raise OutOfRange("The equations of cold hold from 50 kg (110 lb).")
    return as_given(AREA_COEFFICIENT * weight**AREA_POWER, shrunk_weight_kg)


def tissue_insulation(condition_score: Numeric, age_months: Numeric | None = None) -> Numeric:
    """Return how well an animal's fat and skin hold its heat.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; cross-checked.

    Parameters
    ----------
    condition_score : float or array
        Body condition score, 1 to 9. [-]
    age_months : float or array, optional
        Age; when ``None``, grown. [month]

    Returns
    -------
    float or array
        Insulation. [degC m2 d/Mcal]

    Examples
    --------
    >>> tissue_insulation(5.0), tissue_insulation(5.0, 8.0), tissue_insulation(5.0, 3.0)
    (9.0, 6.75, 6.5)
    """
    score = checked_score(condition_score)
    age = np.asarray(np.inf if age_months is None else age_months, dtype=np.float64)
    grown = TISSUE_GROWN[0] + TISSUE_GROWN[1] * score
    yearling = TISSUE_YEARLING[0] + TISSUE_YEARLING[1] * score
    held = np.where(age < YEARLING_MONTHS, yearling, grown)
    held = np.where(age < CALF_MONTHS, TISSUE_CALF, held)
    held = np.where(age < NEWBORN_MONTHS, TISSUE_NEWBORN, held)
    return as_given(held, condition_score, age_months)


def coat_insulation(
    hair_cm: Numeric,
    wind_km_per_h: Numeric = 0.0,
    mud_factor: Numeric = 1.0,
    hide_factor: Numeric = 1.0,
) -> Numeric:
    """Return how well the coat holds the heat of an animal.

    For winds up to 32 km/h; beyond, the caller says that the wind is beyond the method.

    Held at 0 in a wind that leaves no warmth in the coat.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; cross-checked.

    Parameters
    ----------
    hair_cm : float or array
        Effective depth of the coat, see ``HAIR_CM``, 0 or more. [cm]
    wind_km_per_h : float or array
        Wind at the animal, 0 or more. [km/h]
    mud_factor, hide_factor : float or array
        What mud or wet leaves of it, and the thickness of the hide. [-]

    Returns
    -------
    float or array
        Insulation, never below zero. [degC m2 d/Mcal]

    Examples
    --------
    >>> round(coat_insulation(1.3), 1), round(coat_insulation(1.3, mud_factor=0.2), 1)
    (10.7, 2.1)
    """
    wind = np.asarray(wind_km_per_h, dtype=np.float64)
    not_negative("A wind and a coat cannot be less than none.", wind, hair_cm)
    clean = COAT_STILL_AIR + COAT_PER_KM_H * wind + COAT_PER_CM * np.asarray(hair_cm)
    held = np.maximum(clean, 0.0) * mud_factor * hide_factor
    return as_given(held, hair_cm, wind_km_per_h, mud_factor, hide_factor)


def heat_made_mcal(
    nem_maintenance_mcal: Numeric,
    nem_lactation_mcal: Numeric = 0.0,
    nem_pregnancy_mcal: Numeric = 0.0,
    retained_energy_mcal: Numeric = 0.0,
    km: Numeric = KM_HAY,
) -> Numeric:
    """Return the heat an animal makes on a diet that just meets its need in mild weather.

    Told once from the diet of mild weather and not again from the diet raised for the cold,
    which would chase its own tail.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, p.10 and p.43.

    Parameters
    ----------
    nem_maintenance_mcal, nem_lactation_mcal, nem_pregnancy_mcal : float or array
        Net energy of each. [Mcal/d]
    retained_energy_mcal : float or array
        Energy kept in gain. [Mcal/d]
    km : float or array
        Net energy for maintenance per metabolizable energy of the diet. [-]

    Returns
    -------
    float or array
        Heat: what is eaten, less what goes into gain, milk and the unborn calf. [Mcal/d]

    Examples
    --------
    >>> round(heat_made_mcal(8.54), 2)
    14.83
    """
    eaten = (np.asarray(nem_maintenance_mcal) + nem_lactation_mcal + nem_pregnancy_mcal) / km
    eaten = eaten + np.asarray(retained_energy_mcal) / KG_HAY
    conceptus = CONCEPTUS_EFFICIENCY * np.asarray(nem_pregnancy_mcal) / km
    heat = eaten - retained_energy_mcal - nem_lactation_mcal - conceptus
    return as_given(
        heat, nem_maintenance_mcal, nem_lactation_mcal, nem_pregnancy_mcal, retained_energy_mcal, km
    )


def lower_critical_temperature_c(
    heat_mcal: Numeric, shrunk_weight_kg: Numeric, insulation: Numeric
) -> Numeric:
    """Return the temperature below which an animal burns feed only to stay warm.

    Bright sun lowers it by 3 to 5 °C; a clear cold night raises it by about 5 °C.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, ch. 10; cross-checked.

    Parameters
    ----------
    heat_mcal : float or array
        Heat made, see ``heat_made_mcal``. [Mcal/d]
    shrunk_weight_kg : float or array
        Shrunk weight. [kg]
    insulation : float or array
        Tissue and coat together. [degC m2 d/Mcal]

    Returns
    -------
    float or array
        Lower critical temperature. [degC]

    Examples
    --------
    >>> round(lower_critical_temperature_c(14.829, 533.0, 9.0 + coat_insulation(1.3)), 1)
    -2.0
    """
    per_area = np.asarray(heat_mcal) / surface_area_m2(shrunk_weight_kg)
    limit = BODY_TEMPERATURE_C - HEAT_SHARE * np.asarray(insulation) * per_area
    return as_given(limit, heat_mcal, shrunk_weight_kg, insulation)


def nem_cold_mcal(
    temperature_c: Numeric,
    heat_mcal: Numeric,
    shrunk_weight_kg: Numeric,
    insulation: Numeric,
    km: Numeric = KM_HAY,
) -> Numeric:
    """Return the net energy that cold adds to the need.

    For -40 to 20 °C.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, ch. 10; cross-checked.

    Parameters
    ----------
    temperature_c : float or array
        Air temperature; wind acts on the insulation, so no wind chill. [degC]
    heat_mcal : float or array
        Heat made, see ``heat_made_mcal``. [Mcal/d]
    shrunk_weight_kg : float or array
        Shrunk weight. [kg]
    insulation : float or array
        Tissue and coat together. [degC m2 d/Mcal]
    km : float or array
        Net energy for maintenance per metabolizable energy of the diet. [-]

    Returns
    -------
    float or array
        Net energy for maintenance; 0 above the lower critical temperature. [Mcal/d]

    Examples
    --------
    >>> held = tissue_insulation(5.0) + coat_insulation(1.3, 16.1)
    >>> round(nem_cold_mcal(-10.0, 14.829, 533.0, held), 3)
    4.177
    """
    limit = lower_critical_temperature_c(heat_mcal, shrunk_weight_kg, insulation)
    below = np.maximum(np.asarray(limit) - temperature_c, 0.0)
    need = km * surface_area_m2(shrunk_weight_kg) * below / np.asarray(insulation)
    return as_given(need, temperature_c, heat_mcal, shrunk_weight_kg, insulation, km)
