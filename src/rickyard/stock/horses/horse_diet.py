"""What a horse's diet must and must not be: forage floor, sugars, Ca:P, and energy of hay."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given
from rickyard.stock.common import find_row

#: Forage as dry matter, of body weight: never below (NRC 2007, from memory), better above
#: (seen), least when losing weight without a veterinarian (from memory), most of all feed (seen).
LEAST_FORAGE_PCT_BW: Final = 1.0
WANTED_FORAGE_PCT_BW: Final = 1.5
LEAST_SLIMMING_PCT_BW: Final = 1.25
MOST_INTAKE_PCT_BW: Final = 3.0

#: Sugars in forage for horses prone to laminitis: Harris 2011 (seen), and a wider limit (seen).
NSC_GREEN_PCT: Final = 10.0
NSC_RED_PCT: Final = 12.0

# From memory.
LEAST_CA_TO_P: Final = 1.0
WANTED_CA_TO_P: Final = 1.5
MOST_CA_TO_P: Final = 6.0
MOST_CA_TO_P_GROWING: Final = 3.0

#: NRC 1989 equation for hays, from memory; its parabola turns up past 49 % ADF.
ADF_RANGE_PCT: Final = (20.0, 50.0)
ADF_TURN_PCT: Final = 49.0

FAT_BONUS_ABOVE_PCT: Final = 5.0
FAT_BONUS_MCAL_PER_KG: Final = 0.044  # 0.02 Mcal/lb per 1 % (seen)

# More energy in cold, from memory.
COLD_MCAL_PER_KG_C: Final = 0.00082
LOWER_CRITICAL_C: Final = 5.0
LOWER_CRITICAL_ADAPTED_C: Final = -15.0

#: Energy above need per kg gained, and weight of one condition score at 500 kg; from memory.
GAIN_MCAL_PER_KG: Final = (16.0, 24.0)
SCORE_KG_AT_500: Final = (16.0, 20.0)

Light = Literal["green", "amber", "red"]
Sugar = Literal["starch + WSC", "starch + ESC"]


@dataclass(frozen=True, slots=True)
class Verdict:
    """A judgement in one word and one sentence."""

    light: Light
    sentence: str


def judge_forage(forage_dm_kg: float, weight_kg: float) -> Verdict:
    """Judge whether a horse gets enough forage.

    Parameters
    ----------
    forage_dm_kg : float
        Forage dry matter eaten. [kg/d]
    weight_kg : float
        Body weight. [kg]

    Returns
    -------
    Verdict
        Red below 1.0 % of weight, amber below 1.5 %.

    References
    ----------
    .. [1] NRC (2007), Nutrient Requirements of Horses: 1.0 %, from memory; 1.5 % seen.

    Examples
    --------
    >>> judge_forage(6.0, 500.0).light
    'amber'
    """
    share = 100.0 * forage_dm_kg / weight_kg
    said = f"Forage is {share:.2f}% of body weight as dry matter"
    if share < LEAST_FORAGE_PCT_BW:
        return Verdict("red", f"{said}: under {LEAST_FORAGE_PCT_BW:g}%, ask a veterinarian first.")
    if share < WANTED_FORAGE_PCT_BW:
        return Verdict("amber", f"{said}; {WANTED_FORAGE_PCT_BW:g} to 2% keeps the gut healthy.")
    return Verdict("green", f"{said}, which is enough.")


def least_forage_kg(weight_kg: Numeric) -> Numeric:
    """Return the least forage a horse may get, the hard floor.

    Parameters
    ----------
    weight_kg : float or array
        Body weight. [kg]

    Returns
    -------
    float or array
        Forage dry matter. [kg/d]

    Examples
    --------
    >>> least_forage_kg(500.0)
    5.0
    """
    return as_given(LEAST_FORAGE_PCT_BW / 100.0 * np.asarray(weight_kg), weight_kg)


def horse_nsc_pct(starch_pct: Numeric, sugar_pct: Numeric) -> Numeric:
    """Return non-structural carbohydrate: starch and one measure of sugars.

    Parameters
    ----------
    starch_pct : float or array
        Starch. [% DM]
    sugar_pct : float or array
        Sugars soluble in water (WSC, fructan in it) or in ethanol (ESC, smaller). [% DM]

    Returns
    -------
    float or array
        NSC of the kind that the sugars make it. [% DM]

    Examples
    --------
    >>> round(horse_nsc_pct(1.8, 9.9), 1)
    11.7
    """
    return as_given(np.asarray(starch_pct) + np.asarray(sugar_pct), starch_pct, sugar_pct)


def judge_nsc(nsc_pct: float, counted_as: Sugar) -> Verdict:
    """Judge forage for a horse prone to laminitis, insulin resistant or with PPID.

    Parameters
    ----------
    nsc_pct : float
        Non-structural carbohydrate. [% DM]
    counted_as : {"starch + WSC", "starch + ESC"}
        Which sugars it counts. The published limits count WSC.

    Returns
    -------
    Verdict
        Green to 10 %, amber to 12 %, red above. Counted with ESC a value is never green.

    References
    ----------
    .. [1] Harris (2011): under 10 % (seen); 10-12 % (seen).

    Examples
    --------
    >>> judge_nsc(11.0, "starch + WSC").light, judge_nsc(8.0, "starch + ESC").light
    ('amber', 'amber')
    """
    if counted_as not in ("starch + WSC", "starch + ESC"):
        raise OutOfRange("NSC is counted as starch + WSC or as starch + ESC.")
    said = f"NSC ({counted_as}) is {nsc_pct:.1f}%"
    if nsc_pct > NSC_RED_PCT:
        return Verdict("red", f"{said}: over {NSC_RED_PCT:g}%, not for horses prone to laminitis.")
    if counted_as == "starch + ESC":
        return Verdict(
            "amber", f"{said}, without fructan; the limits count starch + WSC: have WSC tested."
        )
    if nsc_pct > NSC_GREEN_PCT:
        return Verdict("amber", f"{said}: between {NSC_GREEN_PCT:g} and {NSC_RED_PCT:g}%.")
    return Verdict("green", f"{said}: fit for horses prone to laminitis.")


def judge_ca_to_p(ca_g: float, p_g: float, *, growing: bool = False) -> Verdict:
    """Judge the calcium to phosphorus of a horse's diet.

    Parameters
    ----------
    ca_g, p_g : float
        Calcium and phosphorus of the whole diet. [g/d]
    growing : bool
        Whether it is for growing stock, which takes at most 3:1.

    Returns
    -------
    Verdict
        Red below 1:1, amber outside 1.5:1 to the most that is tolerated.

    References
    ----------
    .. [1] From memory of NRC (2007), Nutrient Requirements of Horses.

    Examples
    --------
    >>> judge_ca_to_p(30.0, 20.0).light, judge_ca_to_p(63.0, 10.0, growing=True).light
    ('green', 'amber')
    """
    if not p_g > 0.0:
        raise OutOfRange("A diet holds some phosphorus.")
    ratio = ca_g / p_g
    most = MOST_CA_TO_P_GROWING if growing else MOST_CA_TO_P
    said = f"Calcium to phosphorus is {ratio:.1f}:1"
    if ratio < LEAST_CA_TO_P:
        return Verdict("red", f"{said}, and must not fall below 1:1.")
    if ratio < WANTED_CA_TO_P:
        return Verdict("amber", f"{said}; aim at 1.5:1 to 2:1.")
    if ratio > most:
        return Verdict("amber", f"{said}, above the {most:g}:1 that is tolerated.")
    return Verdict("green", f"{said}.")


def intake_range_pct_bw(horse_class: str) -> tuple[float, float]:
    """Return how much all feed together a class of horse eats, air-dry.

    Parameters
    ----------
    horse_class : str
        A class of the table ``horse_intake``, such as ``maintenance`` or ``early_lactation``.

    Returns
    -------
    tuple of float
        Low and high end. [% of body weight, air-dry]

    References
    ----------
    .. [1] Virginia Tech 406-473, Table 5, after NRC 1989 (seen).

    Examples
    --------
    >>> intake_range_pct_bw("early_lactation")
    (2.0, 3.0)
    """
    row = find_row("horse_intake", **{"class": horse_class})
    return float(row["total_low_pct_bw"]), float(row["total_high_pct_bw"])


def hay_de_from_adf_mcal(adf_pct: Numeric, cp_pct: Numeric) -> Numeric:
    """Return the digestible energy of hay for horses, when only ADF and protein are known.

    Parameters
    ----------
    adf_pct : float or array
        Acid detergent fiber, from 20; counted as 49 above 49. [% DM]
    cp_pct : float or array
        Crude protein. [% DM]

    Returns
    -------
    float or array
        Digestible energy for horses. [Mcal/kg DM]

    Raises
    ------
    OutOfRange
        If ADF is below 20 % or above 70 %.

    Notes
    -----
    Fitted to hays of 20 to 50 % ADF. Past 49 % the parabola turns up, so it is held there.

    References
    ----------
    .. [1] NRC (1989), Nutrient Requirements of Horses, 5th rev. ed.; from memory.

    Examples
    --------
    >>> round(hay_de_from_adf_mcal(35.0, 12.0), 2)
    2.14
    """
    adf = np.asarray(adf_pct, dtype=np.float64)
    if not np.all((adf >= ADF_RANGE_PCT[0]) & (adf <= 70.0)):
        raise OutOfRange("The energy of hay for horses is told from 20% ADF on.")
    held = np.minimum(adf, ADF_TURN_PCT)
    energy = 4.22 - 0.11 * held + 0.0332 * np.asarray(cp_pct) + 0.00112 * held**2
    return as_given(energy, adf_pct, cp_pct)


def hay_de_from_analysis_mcal(
    cp_pct: Numeric, adf_pct: Numeric, ndf_pct: Numeric, fat_pct: Numeric, ash_pct: Numeric
) -> Numeric:
    """Return the digestible energy of hay for horses from a full analysis.

    Parameters
    ----------
    cp_pct, adf_pct, ndf_pct, fat_pct, ash_pct : float or array
        Crude protein, acid and neutral detergent fiber, fat, ash. [% DM]

    Returns
    -------
    float or array
        Digestible energy for horses. [Mcal/kg DM]

    Notes
    -----
    The NSC in this equation is what is left of 100, not starch and sugars.

    References
    ----------
    .. [1] Pagan (1998), from memory; its inputs seen at Kentucky Equine Research.

    Examples
    --------
    >>> round(hay_de_from_analysis_mcal(12.0, 35.0, 55.0, 2.5, 8.0), 2)
    2.23
    """
    cp, adf, ndf, fat, ash = (
        np.asarray(x, float) for x in (cp_pct, adf_pct, ndf_pct, fat_pct, ash_pct)
    )
    rest = 100.0 - cp - ndf - fat - ash
    energy = 2118.0 + 12.18 * cp - 9.37 * adf - 3.83 * (ndf - adf) + 47.18 * fat
    energy = (energy + 20.35 * rest - 26.3 * ash) / 1000.0
    bonus = FAT_BONUS_MCAL_PER_KG * np.maximum(fat - FAT_BONUS_ABOVE_PCT, 0.0)
    return as_given(energy + bonus, cp_pct, adf_pct, ndf_pct, fat_pct, ash_pct)


def horse_cold_mcal(
    weight_kg: Numeric, temperature_c: Numeric, *, adapted: bool = False
) -> Numeric:
    """Return the energy that cold adds.

    Parameters
    ----------
    weight_kg : float or array
        Body weight. [kg]
    temperature_c : float or array
        Air temperature of the day. [degC]
    adapted : bool
        Whether the horse has its winter coat: cold then begins at -15 rather than 5 degrees.

    Returns
    -------
    float or array
        Digestible energy. [Mcal/d]

    References
    ----------
    .. [1] NRC (2007), Nutrient Requirements of Horses; from memory.

    Examples
    --------
    >>> round(horse_cold_mcal(500.0, -5.0), 2)
    4.1
    """
    critical = LOWER_CRITICAL_ADAPTED_C if adapted else LOWER_CRITICAL_C
    below = np.maximum(critical - np.asarray(temperature_c, float), 0.0)
    return as_given(COLD_MCAL_PER_KG_C * np.asarray(weight_kg) * below, weight_kg, temperature_c)


def horse_gain_from_de_kg(de_above_need_mcal: float) -> tuple[float, float]:
    """Return the weight an adult horse gains on energy above its need.

    Parameters
    ----------
    de_above_need_mcal : float
        Digestible energy above the need. [Mcal/d]

    Returns
    -------
    tuple of float
        Least and most gain. [kg/d]

    References
    ----------
    .. [1] NRC (2007), Nutrient Requirements of Horses: 16 to 24 Mcal per kg; from memory.

    Examples
    --------
    >>> horse_gain_from_de_kg(4.8)
    (0.2, 0.3)
    """
    if de_above_need_mcal < 0.0:
        raise OutOfRange("Loss is not told: a horse is not slimmed by arithmetic alone.")
    most, least = GAIN_MCAL_PER_KG
    return round(de_above_need_mcal / least, 12), round(de_above_need_mcal / most, 12)


def days_to_gain_score(scores: float, weight_kg: float, de_above_need_mcal: float) -> float:
    """Return the days in which an adult horse gains condition, at the slow end.

    Parameters
    ----------
    scores : float
        Condition scores to gain, of nine. [-]
    weight_kg : float
        Body weight. [kg]
    de_above_need_mcal : float
        Digestible energy above the need. [Mcal/d]

    Returns
    -------
    float
        Days. [d]

    References
    ----------
    .. [1] NRC (2007), Nutrient Requirements of Horses: a score is 16-20 kg at 500 kg; from
       memory.

    Examples
    --------
    >>> days_to_gain_score(1.0, 500.0, 4.8)
    100.0
    """
    slow, _ = horse_gain_from_de_kg(de_above_need_mcal)
    if not slow > 0.0:
        raise OutOfRange("Condition is gained on energy above the need.")
    return scores * SCORE_KG_AT_500[1] * weight_kg / 500.0 / slow
