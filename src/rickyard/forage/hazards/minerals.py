"""Sulfur, copper, molybdenum and selenium: too little, too much, and one against the other.

Sulfur counts in feed and water together, for the brain disease that too much brings.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

import numpy as np

from rickyard.forage.hazards.hazard import Hazard, told
from rickyard.forage.values import CLASS_TABLES
from rickyard.quantities import Numeric, above_zero, as_given

#: Sulfate is one third sulfur by mass (Colorado State University).
SULFUR_PER_SULFATE: Final = 1.0 / 3.0
#: Water drunk by air temperature, percent of body weight at 40, 70 and 90 degF (Colorado State).
WATER_PCT_BW_BEEF: Final = (8.0, 10.0, 18.0)
WATER_PCT_BW_LACTATING: Final = (10.0, 15.0, 15.0)
_SULFUR: Final = CLASS_TABLES["sulfur"]
_PCT_PER_FRACTION: Final = 100.0
_MG_PER_KG: Final = 1e6


def water_sulfur_pct(
    water_l_per_day: Numeric, sulfate_mg_per_l: Numeric, intake_kg_per_day: Numeric
) -> Numeric:
    """Return the sulfur that water adds to a diet, in percent of the dry matter eaten.

    From litres a day, milligrams a litre and kilograms a day; if nothing is
    eaten it raises ``OutOfRange``.

    >>> round(water_sulfur_pct(98.1, 1500.0, 13.625), 2)
    0.36
    """
    above_zero("Dry matter eaten must be above 0.", intake_kg_per_day)
    sulfur_mg = np.asarray(water_l_per_day) * sulfate_mg_per_l * SULFUR_PER_SULFATE
    share = sulfur_mg / _MG_PER_KG / np.asarray(intake_kg_per_day)
    return as_given(_PCT_PER_FRACTION * share, water_l_per_day, sulfate_mg_per_l, intake_kg_per_day)


def total_sulfur_pct(
    feed_sulfur_pct: Numeric,
    weight_kg: Numeric,
    intake_pct_bw: Numeric,
    water_pct_bw: Numeric,
    sulfate_mg_per_l: Numeric,
) -> Numeric:
    """Return the sulfur of feed and water together.

    Source: Colorado State University Veterinary Diagnostic Laboratory, calculating sulfur intake
    excess by hand.

    Parameters
    ----------
    feed_sulfur_pct : float or array
        Sulfur of all feed. [% DM]
    weight_kg : float or array
        Body weight. [kg]
    intake_pct_bw, water_pct_bw : float or array
        Dry matter eaten, above 0, and water drunk per day. [% of body weight]
    sulfate_mg_per_l : float or array
        Sulfate of the water. [mg/L]

    Returns
    -------
    float or array
        Total sulfur, to be held against the limits of the whole diet. [% DM]

    Examples
    --------
    >>> round(total_sulfur_pct(0.25, 545.0, 2.5, 18.0, 1500.0), 2)
    0.61
    """
    water = np.asarray(weight_kg) * np.asarray(water_pct_bw) / 100.0
    eaten = np.asarray(weight_kg) * np.asarray(intake_pct_bw) / 100.0
    added = water_sulfur_pct(water, sulfate_mg_per_l, eaten)
    inputs = (feed_sulfur_pct, weight_kg, intake_pct_bw, water_pct_bw, sulfate_mg_per_l)
    return as_given(np.asarray(feed_sulfur_pct) + added, *inputs)


def sulfur_hazards(name: str, sulfur_pct: float | None) -> Iterator[Hazard]:
    """Yield what the sulfur of a hay calls for; nothing where it is not known."""
    place = 0 if sulfur_pct is None else _SULFUR.place(sulfur_pct)
    key = ("", "", "sulfur_high", "sulfur_too_much")[place]
    if key:
        yield told(key, name, pct=sulfur_pct)


# What makes the copper of a hay marginal for cattle, and little molybdenum for sheep; from
# memory. [% DM; ppm DM]
CU_MARGINAL_S_ABOVE_PCT: Final = 0.25
CU_MARGINAL_FE_ABOVE_PPM: Final = 250.0
SHEEP_MO_BELOW_PPM: Final = 1.0
_SELENIUM: Final = CLASS_TABLES["selenium"]
_RATIO: Final = CLASS_TABLES["copper_to_molybdenum"]


def selenium_class(se_ppm: float) -> str:
    """Return the class of a forage by its selenium.

    Source: Int. J. Appl. Agric. Sci. 2016;2(6):112-125.

    Parameters
    ----------
    se_ppm : float
        Selenium. [ppm DM]

    Returns
    -------
    str
        deficient, marginal, adequate, or above the maximum tolerable.

    Examples
    --------
    >>> selenium_class(0.15)
    'marginal'
    """
    return _SELENIUM.label(se_ppm)


def trace_mineral_hazards(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what copper, molybdenum and selenium of a hay call for."""
    yield from _molybdenum(name, values)
    yield from _copper(name, values)
    se = values.get("se")
    if se is not None and _SELENIUM.place(se) == len(_SELENIUM.limits):
        yield told("selenium_toxic", name, se=se)
    elif se is not None and _SELENIUM.place(se) < _SELENIUM.labels.index("adequate"):
        yield told("selenium_short", name, se=se, label=selenium_class(se))


def _molybdenum(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    cu, mo = values.get("cu"), values.get("mo")
    if mo is None or mo <= 0.0:
        return
    beside = "" if cu is None else f" beside {cu:.0f} ppm copper, {cu / mo:.1f} to 1"
    place = len(_RATIO.limits) if cu is None else _RATIO.place(cu / mo)
    grave = place == 0 or CLASS_TABLES["molybdenum"].place(mo) == 1
    if grave or _RATIO.labels[place] == "low":
        yield told(
            "molybdenum",
            name,
            level="warning" if grave else "note",
            mo=mo,
            beside=beside,
            whom="Ask the lab to confirm both by wet chemistry." if grave else "",
        )


def _copper(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    cu, mo = values.get("cu"), values.get("mo")
    if cu is None:
        return
    if CLASS_TABLES["copper_for_sheep"].place(cu) and mo is not None and mo < SHEEP_MO_BELOW_PPM:
        yield told("copper_for_sheep", name, cu=cu, mo=mo, little_mo=SHEEP_MO_BELOW_PPM)
    locks = (("s", CU_MARGINAL_S_ABOVE_PCT), ("fe", CU_MARGINAL_FE_ABOVE_PPM))
    locked = any(name in values and values[name] > above for name, above in locks)
    if CLASS_TABLES["copper"].place(cu) == 0 and locked:
        sulfur, iron = CU_MARGINAL_S_ABOVE_PCT, CU_MARGINAL_FE_ABOVE_PPM
        yield told("copper_short", name, cu=cu, sulfur_above=sulfur, iron_above=iron)
