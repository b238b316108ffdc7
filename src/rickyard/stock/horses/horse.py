"""Daily needs of horses by the equations of NRC 2007: work, stallions, mares, growth.

Coefficients are from memory of the sixth revised edition; printed rows that confirm a part of
them are in the tables ``horse_2007_printed_500kg``. Weights are current weights, except in
pregnancy, where the weight before it counts.
"""

from __future__ import annotations

from typing import Final, Literal

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given, within
from rickyard.stock.common import HorseNeed, column, read_rows
from rickyard.stock.horses.horse_diet import horse_need, per_kg_bw
from rickyard.types import FloatArray

EDITION: Final = "NRC 2007 horses"

Level = Literal["minimum", "average", "elevated"]
Work = Literal["none", "light", "moderate", "heavy", "very_heavy"]

#: Digestible energy and protein for maintenance per kg of weight. Energy seen.
DE_MAINTENANCE: Final = {"minimum": 0.0303, "average": 0.0333, "elevated": 0.0363}
CP_MAINTENANCE: Final = {"minimum": 1.08, "average": 1.26, "elevated": 1.44}

WORKS: Final = ("none", "light", "moderate", "heavy", "very_heavy")
WORK_FACTOR: Final = dict(zip(WORKS, (1.0, 1.20, 1.40, 1.60, 1.90), strict=True))
MUSCLE_CP_PER_KG: Final = dict(zip(WORKS, (0.0, 0.089, 0.177, 0.266, 0.354), strict=True))
SWEAT_PER_KG: Final = dict(zip(WORKS, (0.0, 0.0025, 0.005, 0.01, 0.02), strict=True))
PROTEIN_DIGESTED: Final = 0.79
SWEAT_CP_G_PER_KG: Final = 7.8 * 2.0 / PROTEIN_DIGESTED
DM_PCT_OF_WORK: Final = dict(zip(WORKS, (2.0, 2.0, 2.25, 2.5, 2.5), strict=True))

LYSINE_PER_CP: Final = 0.043
LACTATION_LYSINE_G_PER_KG: Final = 3.3
MILK_DE_MCAL_PER_KG: Final = 0.8333  # 0.5 Mcal/kg at an efficiency of 0.60
MILK_CP_G_PER_KG: Final = 50.0
#: Milk per kg of mare by month of lactation.
MILK_PER_KG: Final = (0.0326, 0.0324, 0.0299, 0.0271, 0.0244, 0.0218)

LEAST_KG, MOST_KG = 50.0, 900.0
PRINTED_LEAST_KG: Final = 200.0
MOST_GESTATION_MONTH: Final = 11


def horse_work(weight_kg: Numeric, work: Work = "none", level: Level = "average") -> HorseNeed:
    """Return the daily need of an adult horse, idle or at work.

    Source: NRC (2007), Nutrient Requirements of Horses, 6th rev. ed.; maintenance seen, work from
    memory.

    Parameters
    ----------
    weight_kg : float or array
        Body weight. [kg]
    work : {"none", "light", "moderate", "heavy", "very_heavy"}
        One to three hours a week at a mean of 80 heartbeats a minute is light; three to five at
        90 moderate; four to five at 110 heavy; six to twelve at 110-150, or racing, very heavy.
    level : {"minimum", "average", "elevated"}
        Maintenance; work is counted on the average, so another level is for idle horses. With work
        it raises ``OutOfRange``.

    Returns
    -------
    HorseNeed
        Amounts per day.

    Examples
    --------
    >>> need = horse_work(500.0, "light")
    >>> round(need.de_mcal, 1), round(need.cp_g), round(need.ca_g)
    (20.0, 699, 30)
    """
    if work != "none" and level != "average":
        raise OutOfRange("Work is counted on average maintenance.")
    return _adult(weight_kg, work, level, remembered=work != "none")


def stallion(weight_kg: Numeric, *, breeding: bool) -> HorseNeed:
    """Return the daily need of a stallion.

    Source: NRC (2007), Nutrient Requirements of Horses, 6th rev. ed.; confirmed by the rows of
    1100-lb stallions (seen).

    Parameters
    ----------
    weight_kg : float or array
        Body weight. [kg]
    breeding : bool
        Whether it is in the breeding season, which counts as light work.

    Returns
    -------
    HorseNeed
        Amounts per day.

    Examples
    --------
    >>> need = stallion(500.0, breeding=True)
    >>> round(need.de_mcal, 1), round(need.cp_g)
    (21.8, 789)
    """
    return _adult(weight_kg, "light" if breeding else "none", "elevated", remembered=False)


def _adult(weight_kg: Numeric, work: Work, level: Level, *, remembered: bool) -> HorseNeed:
    weight = _weight(weight_kg)
    cp = _of(CP_MAINTENANCE, level) * weight + work_cp_g(weight, work)
    minerals: dict[str, Numeric] = {
        f"{one}_g": per_kg_bw(one, work) * weight for one in ("ca", "p", "mg")
    }
    return horse_need(
        weight,
        DM_PCT_OF_WORK[work],
        [per_kg_bw(f"vitamin_{one}", work) for one in "ade"],
        weight_kg,
        remembered=remembered,
        flags=_flags(weight),
        sweat_kg=SWEAT_PER_KG[work] * weight,
        de_mcal=_of(DE_MAINTENANCE, level) * weight * WORK_FACTOR[work],
        cp_g=cp,
        lysine_g=LYSINE_PER_CP * cp,
        **minerals,
    )


def gestation_month(day_pregnant: Numeric) -> Numeric:
    """Return the month of pregnancy: days 30 (n - 1) + 1 to 30 n are month n, then 11 to foaling.

    Whole months, 1 to 11. Raises ``OutOfRange`` if a day is below 1.

    >>> gestation_month(150.0), gestation_month(151.0), gestation_month(340.0)
    (5.0, 6.0, 11.0)
    """
    day = within(day_pregnant, "Pregnancy is counted from day 1.", 1.0)
    return as_given(np.minimum(np.ceil(day / 30.0), float(MOST_GESTATION_MONTH)), day_pregnant)


def mare_pregnant(weight_kg: Numeric, month: Numeric) -> HorseNeed:
    """Return the daily need of a mare in foal, by month of pregnancy.

    Source: NRC (2007), Nutrient Requirements of Horses, 6th rev. ed.; factors per kg from memory.
    The equation of the fetus could not be reproduced and is not used.

    Parameters
    ----------
    weight_kg : float or array
        Weight when not pregnant: the growth of the foal is in the factors. [kg]
    month : float or array
        Month of pregnancy, whole, 1 to 11. [-]

    Returns
    -------
    HorseNeed
        Amounts per day.

    Examples
    --------
    >>> need = mare_pregnant(500.0, 11.0)
    >>> round(need.de_mcal, 1), round(need.cp_g)
    (21.4, 893)
    """
    months = _whole(month, MOST_GESTATION_MONTH)
    weight = np.where(np.isnan(months), np.nan, _weight(weight_kg))
    rows = read_rows("horse_2007_gestation")
    at = np.searchsorted(column(rows, "from_month"), months, side="right") - 1
    cp = column(rows, "cp_g_per_kg")[at] * weight
    last, middle = months >= 9.0, months >= 7.0

    def by_third(early: float, mid: float, late: float) -> FloatArray:
        return np.asarray(np.where(last, late, np.where(middle, mid, early)) * weight)

    return horse_need(
        weight,
        2.0,
        (60.0, 6.6, 1.6),
        weight_kg,
        month,
        flags=_flags(weight),
        de_mcal=column(rows, "de_mcal_per_kg")[at] * weight,
        cp_g=cp,
        lysine_g=LYSINE_PER_CP * cp,
        ca_g=by_third(0.040, 0.056, 0.072),
        p_g=by_third(0.028, 0.040, 0.0525),
        mg_g=by_third(0.015, 0.015, 0.0153),
        k_g=by_third(0.050, 0.050, 0.0517),
        cu_mg=np.where(last, 0.25, 0.20) * weight,
    )


def mare_milk_kg(weight_kg: Numeric, month: Numeric) -> Numeric:
    """Return the milk of a mare by month since foaling [kg/d].

    ``month``: month of lactation, whole, 1 to 6.

    >>> round(mare_milk_kg(500.0, 1.0), 1)
    16.3
    """
    months = _whole(month, len(MILK_PER_KG))
    milk = np.asarray(MILK_PER_KG)[months.astype(np.int64) - 1] * _weight(weight_kg)
    return as_given(milk, weight_kg, month)


def mare_in_milk(weight_kg: Numeric, month: Numeric) -> HorseNeed:
    """Return the daily need of a mare in milk, by month since foaling.

    The magnesium of months 4 to 6 is the least certain number here.

    Source: NRC (2007), Nutrient Requirements of Horses, 6th rev. ed.; from memory.

    Parameters
    ----------
    weight_kg : float or array
        Body weight. [kg]
    month : float or array
        Month of lactation, whole, 1 to 6. [-]

    Returns
    -------
    HorseNeed
        Amounts per day.

    Examples
    --------
    >>> need = mare_in_milk(500.0, 3.0)
    >>> round(need.de_mcal, 2), round(need.ca_g, 1)
    (30.61, 55.9)
    """
    months = _whole(month, len(MILK_PER_KG))
    weight = np.where(np.isnan(months), np.nan, _weight(weight_kg))
    milk = np.asarray(mare_milk_kg(weight, months))
    kept = CP_MAINTENANCE["elevated"] * weight
    early = months <= 3.0

    def mineral(per_kg: float, first: float, later: float) -> FloatArray:
        return np.asarray(per_kg * weight + np.where(early, first, later) * milk)

    return horse_need(
        weight,
        2.5,
        (60.0, 6.6, 2.0),
        weight_kg,
        month,
        flags=_flags(weight),
        fe_ppm=50.0,
        de_mcal=DE_MAINTENANCE["elevated"] * weight + MILK_DE_MCAL_PER_KG * milk,
        cp_g=kept + MILK_CP_G_PER_KG * milk,
        lysine_g=LYSINE_PER_CP * kept + LACTATION_LYSINE_G_PER_KG * milk,
        ca_g=mineral(0.040, 2.4, 1.6),
        p_g=mineral(0.010, 0.75, 0.50) / 0.45,
        mg_g=mineral(0.015, 0.225, 0.1125),
        k_g=mineral(0.050, 1.4, 0.8),
        na_g=mineral(0.020, 0.17, 0.14),
        cl_g=0.091 * weight,
        cu_mg=0.25 * weight,
        zn_mg=1.0 * weight,
    )


def _flags(weight: FloatArray) -> tuple[str, ...]:
    flags = []
    if np.any((weight < LEAST_KG) | (weight > MOST_KG)):
        flags.append(f"outside the {LEAST_KG:.0f} to {MOST_KG:.0f} kg that the equations cover")
    elif np.any(weight < PRINTED_LEAST_KG):
        flags.append("lighter than the 200 kg at which the printed tables of adults begin")
    return tuple(flags)


def work_cp_g(weight: FloatArray, work: Work) -> FloatArray:
    """Return the protein that work adds, in muscle and sweat [g/d]."""
    sweat = _of(SWEAT_PER_KG, work) * weight
    return MUSCLE_CP_PER_KG[work] * weight + sweat * SWEAT_CP_G_PER_KG


def _weight(weight_kg: Numeric) -> FloatArray:
    return within(weight_kg, "The weight of a horse is above zero.", positive=True)


def _whole(month: Numeric, most: int) -> FloatArray:
    said = f"Months are whole numbers from 1 to {most}."
    months = within(month, said, 1.0, most)
    within(months - np.round(months), said, 0.0, 0.0)
    return months


def _of(table: dict[str, float], word: str) -> float:
    if word not in table:
        raise OutOfRange(f"Say one of {', '.join(table)}, not {word}.")
    return table[word]
