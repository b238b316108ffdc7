"""Water that beef cattle drink and eat: a cow by weight and milk, other classes by a table."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import (
    KG_PER_LB,
    LITRE_PER_US_GALLON,
    Numeric,
    OutOfRange,
    as_given,
    within,
)

# Fitted to the 27 cells of the table of Kansas State Univ. (Spencer 2016), which it reproduces
# to 0.1 gallon; in the table's own units of pounds, degrees Fahrenheit and gallons.
BASE_GAL: Final = 8.2
GAL_PER_LB: Final = 0.005
GAL_PER_F: Final = 0.104
NURSING_GAL: Final = 0.77
NURSING_GAL_PER_LB: Final = 0.00375
GAL_PER_LB_MILK: Final = 0.153
REFERENCE_LB: Final = 1100.0
REFERENCE_F: Final = 40.0

WEIGHT_RANGE_LB: Final = (1100.0, 1500.0)
MOST_MILK_LB: Final = 25.0
MOST_TEMPERATURE_F: Final = 90.0
TOLERANCE: Final = 1e-9  # a limit converted to kilograms and back is still inside

# Beef Magazine, Watch summer water, compiled from NRC 1996 and Winchester & Morris 1956:
# US gallons per head and day at 70, 80 and 90 degrees Fahrenheit.
TABLE_F: Final = (70.0, 80.0, 90.0)
GALLONS: Final = {
    "calf_500lb": (6.5, 7.4, 10.6),
    "growing_800lb": (9.3, 10.6, 14.0),
    "finishing_800lb": (10.8, 12.3, 16.5),
    "pregnant_heifer_750lb": (9.0, 10.3, 14.6),
    "dry_pregnant_cow": (10.8, 12.4, 17.6),
    "lactating_cow": (16.3, 17.9, 21.6),
    "mature_bull": (12.7, 14.6, 19.5),
}

# Below the table: common practice, no published source; errs on the high side.
LESS_PER_F_BELOW: Final = 0.01
LEAST_SHARE: Final = 0.70


def water_litres(
    full_weight_kg: Numeric, mean_temperature_c: Numeric, milk_kg: Numeric = 0.0
) -> Numeric:
    """Return the water of a cow per day, the water in her feed counted.

    Held at its value at 40 degF below that temperature.

    Source: Spencer (2016), Kansas State Univ.; the formula is a fit to the printed table.

    Parameters
    ----------
    full_weight_kg : float or array
        Weight, 499 to 680. [kg]
    mean_temperature_c : float or array
        Mean air temperature of the day. [degC]
    milk_kg : float or array
        Milk; none means that she is dry. The table ends at 25 lb (11.3 kg),
        and at air of 90 degF (32.2 degC). [kg/d]

    Returns
    -------
    float or array
        Water. [L/d]

    Examples
    --------
    >>> from rickyard.quantities import KG_PER_LB, LITRE_PER_US_GALLON, within
    >>> litres = water_litres(1300.0 * KG_PER_LB, (65.0 - 32.0) / 1.8, 10.0 * KG_PER_LB)
    >>> round(litres / LITRE_PER_US_GALLON, 1)
    14.8
    """
    weight_lb = within(
        np.asarray(full_weight_kg) / KG_PER_LB,
        "The table of water covers cows of 1,100 to 1,500 lb (499 to 680 kg).",
        WEIGHT_RANGE_LB[0] - TOLERANCE,
        WEIGHT_RANGE_LB[1] + TOLERANCE,
    )
    milk_lb = within(
        np.asarray(milk_kg) / KG_PER_LB,
        "The table of water covers 0 to 25 lb (11.3 kg) of milk a day.",
        0.0,
        MOST_MILK_LB + TOLERANCE,
    )
    temperature_f = within(
        np.asarray(mean_temperature_c) * 1.8 + 32.0,
        "The table of water ends at 90 °F (32 °C); above it give a nursing cow 25 gallons (95 L) "
        "or more.",
        most=MOST_TEMPERATURE_F + TOLERANCE,
    )
    gallons = cow_gallons(weight_lb, milk_lb, temperature_f, ~(milk_lb <= 0.0))
    return as_given(gallons * LITRE_PER_US_GALLON, full_weight_kg, mean_temperature_c, milk_kg)


def cow_gallons(
    weight_lb: Numeric, milk_lb: Numeric, temperature_f: Numeric, lactating: Numeric
) -> Numeric:
    """Return the water of a cow by the fitted formula in its own units, whatever the range."""
    above_lb = weight_lb - REFERENCE_LB
    nursing = NURSING_GAL + NURSING_GAL_PER_LB * above_lb + GAL_PER_LB_MILK * milk_lb
    gallons = BASE_GAL + GAL_PER_LB * above_lb
    gallons = gallons + GAL_PER_F * np.maximum(temperature_f - REFERENCE_F, 0.0)
    return gallons + np.where(lactating, nursing, 0.0)


def drinking_water_litres(animal: str, temperature_c: Numeric) -> Numeric:
    """Return the water one head drinks in a day.

    Straight lines between 70, 80 and 90 degF. Below 70 degF, 1 % less for each degree
    Fahrenheit down to 70 % (common practice). Never let water run short: ask the local
    extension office before a heat wave.

    Held at 70 % of the printed value in great cold.

    Source: Beef Magazine, Watch summer water (from NRC 1996 and Winchester & Morris 1956).

    Parameters
    ----------
    animal : str
        A class of `GALLONS`, for example ``"dry_pregnant_cow"``.
    temperature_c : float or array
        Air temperature. [degC]

    Returns
    -------
    float or array
        Water. [L/d]

    Raises
    ------
    OutOfRange
        If the table has no such class, or the temperature is over its last column, 90 degF
        (32.2 degC): water need rises fast there and is not printed.

    Examples
    --------
    >>> round(drinking_water_litres("dry_pregnant_cow", 21.1111), 1)
    40.9
    """
    if animal not in GALLONS:
        raise OutOfRange(f"no water is printed for {animal}; there is {', '.join(GALLONS)}.")
    said = "water above 90 degF (32.2 degC) is not printed: it rises fast there."
    warm = within(np.asarray(temperature_c) * 1.8 + 32.0, said, most=TABLE_F[-1] + TOLERANCE)
    share = np.clip(1.0 - LESS_PER_F_BELOW * (TABLE_F[0] - warm), LEAST_SHARE, 1.0)
    litres = np.interp(warm, TABLE_F, GALLONS[animal]) * share * LITRE_PER_US_GALLON
    return as_given(litres, temperature_c)


#: Dissolved solids in water for livestock, ppm, each class up to its edge; at the last edge still
#: "considerable risk". Short labels of the printed bands.
TDS_EDGES_PPM: Final = (1000.0, 3000.0, 5000.0, 7000.0)
TDS_MOST_PPM: Final = 10000.0
TDS_CLASSES: Final = (
    "excellent, all stock",
    "very satisfactory",
    "satisfactory; may be refused at first",
    "reasonable safety; not pregnant or lactating",
    "considerable risk; avoid",
    "extremely high risk; do not use",
)


def dissolved_solids_class(tds_ppm: float) -> str:
    """Return the class of water for livestock by its dissolved solids.

    Source: Endecott, Montana State Univ., Cow Sense Chronicle, summer 2017.

    Parameters
    ----------
    tds_ppm : float
        Total dissolved solids, 0 or more. [ppm]

    Returns
    -------
    str
        One of ``TDS_CLASSES``.

    Examples
    --------
    >>> dissolved_solids_class(4200.0)
    'satisfactory; may be refused at first'
    """
    if not tds_ppm >= 0.0:
        raise OutOfRange("Dissolved solids are a number, 0 or more.")
    if tds_ppm > TDS_MOST_PPM:
        return TDS_CLASSES[-1]
    return TDS_CLASSES[int(np.searchsorted(TDS_EDGES_PPM, tds_ppm, side="right"))]
