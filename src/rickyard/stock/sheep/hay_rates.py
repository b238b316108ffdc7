"""Animal units, and hay per head from body weight alone."""

from __future__ import annotations

from typing import Final, Literal

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given
from rickyard.stock.common import find_row

#: A cow of 1000 lb that eats 2.6 % of her weight every day of the year (Texas chart, seen).
UNIT_LB_PER_YEAR: Final = 9490.0
DAYS_PER_YEAR: Final = 365.0

#: Fiber (NDF) that hay-only stock can eat, of body weight. Common practice.
NDF_CAP_PCT_BW: Final = {
    "ewe": 1.3,
    "ewe_early_lactation": 1.5,
    "doe": 1.3,
    "doe_early_lactation": 1.5,
}
#: Dry matter that horses can eat, of body weight (seen).
HORSE_CAP_PCT_BW: Final = 3.0


def table_animal_units(
    weight_lb: Numeric, intake_pct_bw: Numeric, base_lb_per_year: float = UNIT_LB_PER_YEAR
) -> Numeric:
    """Return how many animal units one head is.

    Parameters
    ----------
    weight_lb : float or array
        Body weight. [lb]
    intake_pct_bw : float or array
        Dry matter eaten on pasture. [% of body weight]
    base_lb_per_year : float
        What one unit eats in a year. [lb/year]

    Returns
    -------
    float or array
        Animal units. [-]

    Notes
    -----
    For stocking and quick stock-takes only: the grazing rates lie above those for feeding hay.

    References
    ----------
    .. [1] Animal Unit Equivalent Chart - Texas (seen).

    Examples
    --------
    >>> round(table_animal_units(1100.0, 3.0), 2)
    1.27
    """
    eaten = np.asarray(weight_lb) * np.asarray(intake_pct_bw) / 100.0 * DAYS_PER_YEAR
    return as_given(eaten / base_lb_per_year, weight_lb, intake_pct_bw)


def animal_units_by_convention(convention: str, kind: str) -> float:
    """Return the animal units of a kind by a named convention.

    Parameters
    ----------
    convention : str
        ``federal_land``, ``jornada`` or ``practice``.
    kind : str
        Such as ``horse`` or ``sheep_or_goat``.

    Returns
    -------
    float
        Animal units. [-]

    Examples
    --------
    >>> animal_units_by_convention("jornada", "horse")
    1.25
    """
    row = find_row("animal_units_by_convention", convention=convention, kind=kind)
    return float(row["animal_units"])


def hay_per_head_kg(
    weight_kg: Numeric,
    kind: str,
    dm_pct: float,
    waste_pct: float = 0.0,
    end: Literal["low", "high"] = "high",
) -> Numeric:
    """Return hay as fed for one head from weight alone, when no energy balance is run.

    Parameters
    ----------
    weight_kg : float or array
        Body weight. [kg]
    kind : str
        A class of the table ``hay_rates``, such as ``ewe_maintenance`` or ``horse``.
    dm_pct : float
        Dry matter of the hay. [%]
    waste_pct : float
        Hay lost in feeding, of what is offered. [%]
    end : {"low", "high"}
        Which end of the published range.

    Returns
    -------
    float or array
        Hay as fed. [kg/d]

    Raises
    ------
    OutOfRange
        If dry matter or waste is no possible percentage.

    Examples
    --------
    >>> round(hay_per_head_kg(500.0, "horse", 85.0, 10.0), 2)
    13.07
    """
    if not 0.0 < dm_pct <= 100.0 or not 0.0 <= waste_pct < 100.0:
        raise OutOfRange("Dry matter is above 0 to 100%, waste 0 to below 100%.")
    rate = float(find_row("hay_rates", **{"class": kind})[f"{end}_pct_bw"])
    dry = np.asarray(weight_kg) * rate / 100.0
    return as_given(dry / (dm_pct / 100.0) / (1.0 - waste_pct / 100.0), weight_kg)


def most_hay_kg(weight_kg: Numeric, eater: str, ndf_pct: Numeric) -> Numeric:
    """Return the most hay dry matter that stock on hay alone can eat.

    Parameters
    ----------
    weight_kg : float or array
        Body weight. [kg]
    eater : str
        ``ewe``, ``ewe_early_lactation``, ``doe``, ``doe_early_lactation`` or ``horse``.
    ndf_pct : float or array
        Neutral detergent fiber of the hay; without effect for horses. [% DM]

    Returns
    -------
    float or array
        Dry matter. [kg/d]

    Examples
    --------
    >>> round(most_hay_kg(70.0, "ewe", 65.0), 2)
    1.4
    """
    weight, fiber = np.asarray(weight_kg, float), np.asarray(ndf_pct, float)
    if not np.all((fiber > 0.0) & (fiber <= 100.0)):
        raise OutOfRange("Fiber (NDF) is above 0 to 100% of dry matter.")
    if eater == "horse":
        most = HORSE_CAP_PCT_BW / 100.0 * weight + 0.0 * fiber
    elif eater in NDF_CAP_PCT_BW:
        most = NDF_CAP_PCT_BW[eater] * weight / fiber
    else:
        raise OutOfRange(f"Say horse or one of {', '.join(NDF_CAP_PCT_BW)}, not {eater}.")
    return as_given(most, weight_kg, ndf_pct)


def supplement_tdn_kg(need_tdn_kg: Numeric, hay_tdn_pct: Numeric, most_hay_kg: Numeric) -> Numeric:
    """Return the TDN that hay alone cannot bring: call for a supplement, not for more hay.

    Parameters
    ----------
    need_tdn_kg : float or array
        TDN needed. [kg/d]
    hay_tdn_pct : float or array
        TDN of the hay. [% DM]
    most_hay_kg : float or array
        Most hay that can be eaten, see ``most_hay_kg``. [kg DM/d]

    Returns
    -------
    float or array
        TDN missing; 0 when hay alone does. [kg/d]

    Examples
    --------
    >>> round(supplement_tdn_kg(1.82, 48.0, 1.62), 2)
    1.04
    """
    from_hay = np.asarray(hay_tdn_pct) / 100.0 * np.asarray(most_hay_kg)
    missing = np.maximum(np.asarray(need_tdn_kg) - from_hay, 0.0)
    return as_given(missing, need_tdn_kg, hay_tdn_pct, most_hay_kg)
