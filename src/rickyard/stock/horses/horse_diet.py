"""What a horse's diet must and must not be, with its minerals, vitamins and the whole need.

Forage floor, sugars, Ca:P and energy of hay.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal

import numpy as np

from rickyard.evidence import MEMORY, SEEN
from rickyard.quantities import Numeric, OutOfRange, as_given
from rickyard.stock.common import HorseNeed, find_row, read_rows
from rickyard.types import FloatArray

#: Per kg of weight and per kg of sweat; NRC 2007, maintenance seen, the rest from memory.
SALTS: Final = {"k_g": (0.050, 2.8), "na_g": (0.020, 3.1), "cl_g": (0.080, 5.3)}


@lru_cache(maxsize=64)
def per_kg_bw(constituent: str, work: str) -> float:
    """Return a mineral or vitamin of adult horses per kg of weight, by work [g/kg or IU/kg].

    >>> per_kg_bw("ca", "none"), per_kg_bw("ca", "light")
    (0.04, 0.06)
    """
    wanted = "maintenance" if work == "none" else work
    row = find_row("horse_2007_per_kg", constituent=constituent, work=wanted)
    return float(row["per_kg_bw"])


@lru_cache(maxsize=1)
def trace_ppm() -> dict[str, float]:
    """Return the trace elements of adult horses [mg/kg DM], and sulfur [g/kg DM], by element.

    >>> trace_ppm()["zn"]
    40.0
    """
    return {row["element"]: float(row["per_kg_dm"]) for row in read_rows("horse_2007_trace")}


def horse_need(
    weight: FloatArray,
    dm_pct_bw: float,
    vitamins: Sequence[Numeric],
    *given: Numeric,
    remembered: bool = True,
    flags: tuple[str, ...] = (),
    sweat_kg: Numeric = 0.0,
    fe_ppm: float | None = None,
    **amounts: Numeric,
) -> HorseNeed:
    """Put a whole need together from what a class of horses sets and what is the usual amount.

    ``vitamins`` A, D and E are per kg of weight, ``amounts`` by the names of a ``HorseNeed``.
    ``*given`` are the inputs of the caller: all floats give floats. ``remembered`` says that a
    coefficient is from memory with no printed row that confirms it.
    """
    dm, trace = dm_pct_bw / 100.0 * weight, trace_ppm()
    if fe_ppm is not None:
        amounts["fe_mg"] = fe_ppm * dm
    for name, (per_kg, per_sweat) in SALTS.items():
        if name not in amounts:
            amounts[name] = per_kg * weight + per_sweat * sweat_kg
    for element, per_kg_dm in trace.items():
        name = "s_g" if element == "s" else f"{element}_mg"
        if name not in amounts:
            amounts[name] = per_kg_dm * dm
    for vitamin, per_kg in zip("ade", vitamins, strict=True):
        amounts[f"vitamin_{vitamin}_iu"] = per_kg * weight
    shape = np.broadcast_shapes(weight.shape, np.shape(amounts["de_mcal"]))

    def told(value: Numeric) -> Numeric:
        return as_given(np.broadcast_to(np.asarray(value, np.float64), shape).copy(), *given)

    return HorseNeed(
        evidence=MEMORY if remembered else SEEN,
        flags=flags,
        dm_kg=told(dm),
        **{name: told(value) for name, value in amounts.items()},
    )


#: Forage as dry matter, of body weight: never below (NRC 2007, from memory), better above
#: (seen), least when losing weight without a veterinarian (from memory), most of all feed (seen).
LEAST_FORAGE_PCT_BW: Final = 1.0
WANTED_FORAGE_PCT_BW: Final = 1.5
MOST_INTAKE_PCT_BW: Final = 3.0

#: Sugars in forage for horses prone to laminitis: Harris 2011 (seen), and a wider limit (seen).
NSC_GREEN_PCT: Final = 10.0
NSC_RED_PCT: Final = 12.0

# More energy in cold, from memory.
COLD_MCAL_PER_KG_C: Final = 0.00082
LOWER_CRITICAL_C: Final = 5.0
LOWER_CRITICAL_ADAPTED_C: Final = -15.0

Light = Literal["green", "amber", "red"]
Sugar = Literal["starch + WSC", "starch + ESC"]


@dataclass(frozen=True, slots=True)
class Verdict:
    """A judgement in one word and one sentence."""

    light: Light
    sentence: str


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

    Source: Harris (2011): under 10 % (seen); 10-12 % (seen).

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
        return Verdict(
            "amber",
            f"{said}, between {NSC_GREEN_PCT:g} and {NSC_RED_PCT:g}%: they may have it, but hay "
            "under the lower is safer.",
        )
    return Verdict("green", f"{said}: fit for horses prone to laminitis.")


def intake_range_pct_bw(horse_class: str) -> tuple[float, float]:
    """Return the least and most of all feed that a class of horse eats, air-dry [% of weight].

    ``horse_class``: A class of the table ``horse_intake``, such as ``maintenance`` or
    ``early_lactation``.

    Source: Virginia Tech 406-473, Table 5, after NRC 1989 (seen).

    >>> intake_range_pct_bw("early_lactation")
    (2.0, 3.0)
    """
    row = find_row("horse_intake", **{"class": horse_class})
    return float(row["total_low_pct_bw"]), float(row["total_high_pct_bw"])


def horse_cold_mcal(
    weight_kg: Numeric, temperature_c: Numeric, *, adapted: bool = False
) -> Numeric:
    """Return the energy that cold adds.

    Source: NRC (2007), Nutrient Requirements of Horses; from memory.

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
        Digestible energy; held at zero where the day is warmer than the coat needs. [Mcal/d]

    Examples
    --------
    >>> round(horse_cold_mcal(500.0, -5.0), 2)
    4.1
    """
    critical = LOWER_CRITICAL_ADAPTED_C if adapted else LOWER_CRITICAL_C
    below = np.maximum(critical - np.asarray(temperature_c, float), 0.0)
    return as_given(COLD_MCAL_PER_KG_C * np.asarray(weight_kg) * below, weight_kg, temperature_c)
