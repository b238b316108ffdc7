"""Net energy to stay alive at the same weight."""

from __future__ import annotations

from dataclasses import astuple, dataclass, fields
from types import MappingProxyType
from typing import Final

import numpy as np

from rickyard.quantities import Numeric, as_given
from rickyard.stock.common import metabolic_weight, read_rows
from rickyard.stock.equations.condition import LEAST_SCORE, checked_score

BASE_MCAL_PER_KG075: Final = 0.077  # Lofgreen & Garrett 1968; NRC 2000; reproduces print
LACTATION_FACTOR: Final = 1.2  # NRC 2000; reproduces the Univ. of Nebraska cow table
INTACT_MALE_FACTOR: Final = 1.15  # NRC 2000, from memory; checked against a printed bull table

COMPENSATION_AT_SCORE_1: Final = 0.8  # NRC 2000, from memory
COMPENSATION_PER_SCORE: Final = 0.05  # NRC 2000, from memory

# Acclimatisation to last month's temperature, NRC 2000, from memory; checked against a printed
# cold-weather table of South Dakota State Univ.
ACCLIMATISATION_MCAL_PER_C: Final = 0.0007
THERMONEUTRAL_C: Final = 20.0
LEAST_TEMPERATURE_C: Final = -20.0  # range held to, NRC 2000, from memory
MOST_TEMPERATURE_C: Final = 35.0

ACTIVITY_CONFINED: Final = 1.00  # NRC convention
ACTIVITY_HAY_OUTDOORS: Final = 1.10  # common practice, no published source


@dataclass(frozen=True, slots=True)
class Breed:
    """What a breed changes: the factor on maintenance, birth weight, and peak milk."""

    maintenance_factor: float
    birth_weight_kg: float
    peak_milk_kg_per_day: float


#: NRC 2000 Table 10-1, from memory.
BREEDS: Final = MappingProxyType(
    {
        row["breed"]: Breed(*(float(row[one.name]) for one in fields(Breed)))
        for row in read_rows("beef_breeds")
    }
)


def cross_of(*names: str) -> Breed:
    """Return the mean of the parent breeds.

    Source: common practice, no published source.

    Parameters
    ----------
    *names : str
        Keys of ``BREEDS``; a breed named twice counts twice. Another raises ``KeyError``.

    Returns
    -------
    Breed
        The plain mean of each property.

    Examples
    --------
    >>> cross_of("angus", "simmental").maintenance_factor
    1.1
    """
    parents = [astuple(BREEDS[name]) for name in names]
    return Breed(*(sum(values) / len(values) for values in zip(*parents, strict=True)))


def compensation_factor(condition_score: Numeric) -> Numeric:
    """Return how a thin or fat animal's previous feeding changes its maintenance.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; from memory.

    Parameters
    ----------
    condition_score : float or array
        Body condition score, 1 emaciated to 9 obese. [-]

    Returns
    -------
    float or array
        Factor on maintenance; 1 at a score of 5. [-]

    Examples
    --------
    >>> compensation_factor(5.0)
    1.0
    """
    above = checked_score(condition_score) - LEAST_SCORE
    factor = COMPENSATION_AT_SCORE_1 + COMPENSATION_PER_SCORE * above
    return as_given(factor, condition_score)


def acclimatisation_mcal_per_kg075(previous_month_temperature_c: Numeric) -> Numeric:
    """Return what last month's weather adds to maintenance, per metabolic weight.

    Held at its values at -20 and 35 degC outside that range. It is the answer of months; never
    add a percentage per degree of a cold spell on top of it, which would count the cold twice.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; from memory.

    Parameters
    ----------
    previous_month_temperature_c : float or array
        Mean air temperature of the previous month. [degC]

    Returns
    -------
    float or array
        Added energy, negative in heat, zero at 20 degC. [Mcal/kg^0.75/d]

    Examples
    --------
    >>> round(acclimatisation_mcal_per_kg075(0.0), 4)
    0.014
    """
    held = np.clip(previous_month_temperature_c, LEAST_TEMPERATURE_C, MOST_TEMPERATURE_C)
    added = ACCLIMATISATION_MCAL_PER_C * (THERMONEUTRAL_C - held)
    return as_given(added, previous_month_temperature_c)


def maintenance_mcal_per_kg075(
    lactating: Numeric = False,
    intact_male: Numeric = False,
    breed_factor: Numeric = 1.0,
    compensation: Numeric = 1.0,
    previous_month_temperature_c: Numeric = THERMONEUTRAL_C,
    activity_factor: Numeric = ACTIVITY_CONFINED,
    lactation_factor: Numeric = LACTATION_FACTOR,
) -> Numeric:
    """Return the net energy for maintenance per metabolic weight.

    The temperature of last month is held at the ends of its span, -20 and 35 degC.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    lactating, intact_male, breed_factor, previous_month_temperature_c : float or array
        As for ``nem_maintenance_mcal``.
    compensation : float or array
        Factor of the condition, see ``compensation_factor``. [-]
    activity_factor, lactation_factor : float or array
        As for ``nem_maintenance_mcal``.

    Returns
    -------
    float or array
        Net energy. [Mcal/kg^0.75/d]

    Examples
    --------
    >>> maintenance_mcal_per_kg075()
    0.077
    """
    idle = (
        BASE_MCAL_PER_KG075
        * np.where(lactating, lactation_factor, 1.0)
        * (breed_factor * np.where(intact_male, INTACT_MALE_FACTOR, 1.0) * compensation)
    )
    cold = acclimatisation_mcal_per_kg075(previous_month_temperature_c)
    return as_given(
        (idle + cold) * activity_factor,
        lactating,
        intact_male,
        breed_factor,
        compensation,
        previous_month_temperature_c,
        activity_factor,
        lactation_factor,
    )


def nem_maintenance_mcal(
    shrunk_weight_kg: Numeric,
    *,
    lactating: Numeric = False,
    intact_male: Numeric = False,
    breed_factor: Numeric = 1.0,
    condition_score: Numeric | None = None,
    previous_month_temperature_c: Numeric = THERMONEUTRAL_C,
    activity_factor: Numeric = ACTIVITY_CONFINED,
    lactation_factor: Numeric = LACTATION_FACTOR,
) -> Numeric:
    """Return the net energy for maintenance.

    ``NEm = W^0.75 (0.077 BE L SEX COMP + 0.0007 (20 - Tp)) activity``. Extension tables assume
    breed, condition, temperature and activity to be without effect.

    The temperature of last month is held at the ends of its span, -20 and 35 degC.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update; Lofgreen &
    Garrett (1968), J. Anim. Sci. 27:793-806.

    Parameters
    ----------
    shrunk_weight_kg : float or array
        Shrunk weight without the conceptus, 50 to 1100. [kg]
    lactating, intact_male : bool or array
        Whether she is in milk; whether he is a bull.
    breed_factor : float or array
        Factor of the breed, see ``BREEDS``. [-]
    condition_score : float or array, optional
        Body condition score, 1 to 9. When ``None``, condition does not change maintenance. [-]
    previous_month_temperature_c : float or array
        Mean temperature of the previous month; 20 has no effect. [degC]
    activity_factor : float or array
        Factor for walking and grazing on the whole. [-]
    lactation_factor : float or array
        Factor on maintenance while in milk. [-]

    Returns
    -------
    float or array
        Net energy for maintenance per day. [Mcal/d]

    Examples
    --------
    >>> round(nem_maintenance_mcal(533.0), 1)
    8.5
    >>> round(nem_maintenance_mcal(533.0, lactating=True), 1)
    10.2
    """
    compensation = 1.0 if condition_score is None else compensation_factor(condition_score)
    per_weight = maintenance_mcal_per_kg075(
        lactating,
        intact_male,
        breed_factor,
        compensation,
        previous_month_temperature_c,
        activity_factor,
        lactation_factor,
    )
    need = metabolic_weight(shrunk_weight_kg) * per_weight
    return as_given(
        need,
        shrunk_weight_kg,
        lactating,
        intact_male,
        breed_factor,
        compensation,
        previous_month_temperature_c,
        activity_factor,
        lactation_factor,
    )
