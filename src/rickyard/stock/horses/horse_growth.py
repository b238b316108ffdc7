"""Growing horses by the equations of NRC 2007: weight by age, gain, and daily need."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given, within
from rickyard.stock.common import HorseNeed
from rickyard.stock.horses.horse import (
    CP_MAINTENANCE,
    LYSINE_PER_CP,
    PROTEIN_DIGESTED,
    SWEAT_PER_KG,
    WORK_FACTOR,
    Work,
    work_cp_g,
)
from rickyard.stock.horses.horse_diet import SALTS, horse_need
from rickyard.types import FloatArray

BIRTH_PCT, GROWN_PCT, GROWTH_RATE = 9.7, 90.3, 0.0772
DAYS_PER_MONTH: Final = 30.4
LEAST_GROWTH_MONTHS, MOST_GROWTH_MONTHS = 4.0, 24.0
GROWTH_DE_SCALE, GROWTH_DE_POWER = 0.0565, -0.145
GAIN_DE: Final = (1.99, 1.21, -0.021)
GAIN_PROTEIN_FRAC: Final = 0.20
#: Efficiency of protein for gain from an age on. Ages between whole months count as the younger.
GAIN_EFFICIENCY: Final = ((0.0, 0.50), (7.0, 0.45), (9.0, 0.40), (11.0, 0.35), (12.0, 0.30))
VITAMIN_D_OF_AGE: Final = ((0.0, 22.2), (7.0, 17.4), (13.0, 15.9), (19.0, 13.7))

# Per kg of weight, and per kg of gain a day; NRC 2007, from memory.
CA_PER_KG, CA_PER_GAIN = 0.072, 32.0
P_PER_KG, P_PER_GAIN = 0.040, 17.8
MG_PER_KG, MG_PER_GAIN = 0.015, 1.25
SALTS_PER_KG_AND_GAIN: Final = {"k_g": (0.050, 3.0), "na_g": (0.020, 1.0), "cl_g": (0.0825, 0.0)}
CU_MG_PER_KG, ZN_MG_PER_KG, FE_PPM = 0.25, 1.0, 50.0
VITAMIN_A_IU_PER_KG, VITAMIN_E_IU_PER_KG = 45.0, 2.0
DM_PCT_BW = 2.5


def horse_weight_at_kg(mature_kg: Numeric, age_months: Numeric) -> Numeric:
    """Return the weight of a young horse by age.

    Source: NRC (2007), Nutrient Requirements of Horses, 6th rev. ed.; from memory.

    Parameters
    ----------
    mature_kg : float or array
        Mature weight. [kg]
    age_months : float or array
        Age, 0 to 24. [month]

    Returns
    -------
    float or array
        Weight. [kg]

    Examples
    --------
    >>> round(horse_weight_at_kg(500.0, 12.0), 2)
    321.22
    """
    age = _age(age_months, 0.0)
    share = BIRTH_PCT + GROWN_PCT * (1.0 - np.exp(-GROWTH_RATE * age))
    return as_given(np.asarray(mature_kg) * share / 100.0, mature_kg, age_months)


def horse_gain_at_kg(mature_kg: Numeric, age_months: Numeric) -> Numeric:
    """Return the daily gain of a young horse by age [kg/d].

    ``age_months``: age, 0 to 24.

    >>> round(horse_gain_at_kg(500.0, 12.0), 2)
    0.45
    """
    age = _age(age_months, 0.0)
    rate = GROWN_PCT / 100.0 * GROWTH_RATE * np.exp(-GROWTH_RATE * age) / DAYS_PER_MONTH
    return as_given(np.asarray(mature_kg) * rate, mature_kg, age_months)


def young_horse(
    mature_kg: Numeric,
    age_months: Numeric,
    work: Work = "none",
    *,
    weight_kg: Numeric | None = None,
    gain_kg: Numeric | None = None,
) -> HorseNeed:
    """Return the daily need of a growing horse.

    Source: NRC (2007), Nutrient Requirements of Horses, 6th rev. ed.; from memory.

    Parameters
    ----------
    mature_kg : float or array
        Mature weight. [kg]
    age_months : float or array
        Age, 4 to 24: older horses are adults. [month]
    work : {"none", "light", "moderate", "heavy", "very_heavy"}
        Training; it multiplies the upkeep and not the energy of gain.
    weight_kg, gain_kg : float or array, optional
        As measured; by default from the curve. A weight alone leaves the gain of the curve.
        [kg, kg/d]

    Returns
    -------
    HorseNeed
        Amounts per day.

    Examples
    --------
    >>> need = young_horse(500.0, 12.0)
    >>> round(need.de_mcal, 1), round(need.cp_g)
    (18.8, 846)
    """
    if work not in WORK_FACTOR:
        raise OutOfRange(f"Say one of {', '.join(WORK_FACTOR)}, not {work}.")
    age = _age(age_months, LEAST_GROWTH_MONTHS)
    curve = horse_weight_at_kg(mature_kg, age)
    weight = np.asarray(curve if weight_kg is None else weight_kg, dtype=np.float64) + 0.0 * age
    rate = np.asarray(horse_gain_at_kg(mature_kg, age) if gain_kg is None else gain_kg, float)
    sweat = SWEAT_PER_KG[work] * weight
    kept = GROWTH_DE_SCALE * age**GROWTH_DE_POWER * weight * WORK_FACTOR[work]
    per_gain = GAIN_DE[0] + GAIN_DE[1] * age + GAIN_DE[2] * age**2
    gained = 1000.0 * rate * GAIN_PROTEIN_FRAC / _step(GAIN_EFFICIENCY, age) / PROTEIN_DIGESTED
    cp = CP_MAINTENANCE["elevated"] * weight + gained + work_cp_g(weight, work)
    salts: dict[str, Numeric] = {
        name: per_kg * weight + per_gain_kg * rate + SALTS[name][1] * sweat
        for name, (per_kg, per_gain_kg) in SALTS_PER_KG_AND_GAIN.items()
    }
    return horse_need(
        weight,
        DM_PCT_BW,
        (VITAMIN_A_IU_PER_KG, _step(VITAMIN_D_OF_AGE, age), VITAMIN_E_IU_PER_KG),
        *(mature_kg, age_months, *(x for x in (weight_kg, gain_kg) if x is not None)),
        fe_ppm=FE_PPM,
        de_mcal=kept + per_gain * rate,
        cp_g=cp,
        lysine_g=LYSINE_PER_CP * cp,
        ca_g=CA_PER_KG * weight + CA_PER_GAIN * rate,
        p_g=P_PER_KG * weight + P_PER_GAIN * rate,
        mg_g=MG_PER_KG * weight + MG_PER_GAIN * rate,
        cu_mg=CU_MG_PER_KG * weight,
        zn_mg=ZN_MG_PER_KG * weight,
        **salts,
    )


def _age(age_months: Numeric, least: float) -> FloatArray:
    said = (
        f"The growth of horses is known from {least:.0f} to {MOST_GROWTH_MONTHS:.0f} months of "
        "age; older horses are adults."
    )
    return within(age_months, said, least, MOST_GROWTH_MONTHS)


def _step(steps: tuple[tuple[float, float], ...], age: FloatArray) -> FloatArray:
    starts = np.array([start for start, _ in steps])
    values = np.array([value for _, value in steps])
    return np.asarray(values[np.searchsorted(starts, age, side="right") - 1])
