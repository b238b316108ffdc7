"""Sulfur of feed and water, and the brain disease of cattle and sheep that too much brings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from rickyard.forage.hazards.hazard import Hazard, told
from rickyard.forage.values import CLASS_TABLES
from rickyard.quantities import Numeric, OutOfRange, as_given

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
    if np.any(np.asarray(intake_kg_per_day) <= 0.0):
        raise OutOfRange("Dry matter eaten must be above 0.")
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
