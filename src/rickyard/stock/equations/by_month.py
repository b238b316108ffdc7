"""The mature cow by month since calving, as printed tables lay out her year.

Month m is the end of month m: in month 1 she has milked 30.4 days.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.quantities import Numeric, as_given, within
from rickyard.stock.equations.lactation import (
    PEAK_MILK_KG,
    milk_kg,
    mp_lactation_g,
    nem_lactation_mcal,
)
from rickyard.stock.equations.maintenance import nem_maintenance_mcal
from rickyard.stock.equations.pregnancy import BIRTH_WEIGHT_KG, mp_pregnancy_g, nem_pregnancy_mcal
from rickyard.stock.equations.protein import cp_kg_from_mp, mp_maintenance_g
from rickyard.stock.minerals import calcium_phosphorus_g

# Timing that reproduces the printed cow table of the Univ. of Nebraska (NRC 1996).
DAYS_PER_MONTH: Final = 30.4
MONTHS: Final = 12.0
DAY_PREGNANT_AT_MONTH_12: Final = 280.0
LAST_MILKING_MONTH: Final = 6.0  # weaned in month 7
FIRST_MONTH_OF_FETAL_MINERALS: Final = 10.0


@dataclass(frozen=True, slots=True)
class CowMonth:
    """Needs of a mature cow at the end of a month since calving, per day.

    ``late`` says that she is past the first third of pregnancy.
    """

    day_pregnant: Numeric
    milk_kg: Numeric
    nem_maintenance_mcal: Numeric
    nem_lactation_mcal: Numeric
    nem_pregnancy_mcal: Numeric
    nem_mcal: Numeric
    mp_g: Numeric
    cp_kg: Numeric
    ca_g: Numeric
    p_g: Numeric
    late: Numeric


def cow_month(
    month: Numeric,
    shrunk_weight_kg: Numeric,
    peak_milk_kg_per_day: Numeric = PEAK_MILK_KG,
    birth_weight_kg: Numeric = BIRTH_WEIGHT_KG,
) -> CowMonth:
    """Return the needs of a mature cow at the end of a month since calving.

    Breed, condition, temperature and activity are without effect, as in the printed tables.
    The calf is weaned in month 7.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update; Univ. of
    Nebraska-Lincoln, Using Body Condition Score to Manage the Nutritional Program, Table 2.

    Parameters
    ----------
    month : float or array
        Months since calving, 1 to 12. [month]
    shrunk_weight_kg : float or array
        Shrunk weight, 50 to 1100. [kg]
    peak_milk_kg_per_day : float or array
        Milk at the peak. [kg/d]
    birth_weight_kg : float or array
        Birth weight of the calf she carries. [kg]

    Returns
    -------
    CowMonth
        Needs per day, floats or arrays that broadcast together.

    Examples
    --------
    >>> cow = cow_month(4, 533.0)
    >>> round(cow.nem_lactation_mcal, 1), round(cow.nem_pregnancy_mcal, 2)
    (4.1, 0.03)
    """
    months = within(month, "Months since calving run from 1 to 12.", 1.0, MONTHS)
    given = (month, shrunk_weight_kg, peak_milk_kg_per_day, birth_weight_kg)

    def shaped(values: Numeric) -> Numeric:
        return as_given(values, *given)

    nursing = months <= LAST_MILKING_MONTH
    week = months * DAYS_PER_MONTH / 7.0
    milk = np.where(nursing, milk_kg(week, peak_milk_kg_per_day), 0.0)
    day = np.maximum(DAY_PREGNANT_AT_MONTH_12 - DAYS_PER_MONTH * (MONTHS - months), 0.0)
    maintenance = nem_maintenance_mcal(shrunk_weight_kg, lactating=nursing)
    lactation = nem_lactation_mcal(milk)
    pregnancy = nem_pregnancy_mcal(day, birth_weight_kg)
    mp = mp_maintenance_g(shrunk_weight_kg) + mp_lactation_g(milk)
    mp = mp + mp_pregnancy_g(day, birth_weight_kg)
    last_90_days = months >= FIRST_MONTH_OF_FETAL_MINERALS
    calcium, phosphorus = calcium_phosphorus_g(
        shrunk_weight_kg, milk_kg=milk, birth_weight_kg=birth_weight_kg, last_90_days=last_90_days
    )
    late = day > DAY_PREGNANT_AT_MONTH_12 / 3.0
    return CowMonth(
        day_pregnant=as_given(day, month),
        milk_kg=shaped(milk),
        nem_maintenance_mcal=shaped(maintenance),
        nem_lactation_mcal=shaped(lactation),
        nem_pregnancy_mcal=shaped(pregnancy),
        nem_mcal=shaped(maintenance + lactation + pregnancy),
        mp_g=shaped(mp),
        cp_kg=shaped(cp_kg_from_mp(mp)),
        ca_g=shaped(calcium),
        p_g=shaped(phosphorus),
        late=bool(late) if np.ndim(month) == 0 else late,
    )
