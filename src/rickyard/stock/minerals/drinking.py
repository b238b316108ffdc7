"""Water that cattle of each class drink in warm weather, as one published table has it.

For a beef cow whose weight and milk are known
`rickyard.stock.minerals.water.water_litres` is finer.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import LITRE_PER_US_GALLON, Numeric, OutOfRange, as_given, unknown

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


def drinking_water_litres(animal: str, temperature_c: Numeric) -> Numeric:
    """Return the water one head drinks in a day.

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

    Notes
    -----
    Straight lines between 70, 80 and 90 degF. Below 70 degF, 1 % less for each degree
    Fahrenheit down to 70 % (common practice). Never let water run short: ask the local
    extension office before a heat wave.

    Held at 70 % of the printed value in great cold.

    References
    ----------
    .. [1] Beef Magazine, Watch summer water (from NRC 1996 and Winchester & Morris 1956).

    Examples
    --------
    >>> round(drinking_water_litres("dry_pregnant_cow", 21.1111), 1)
    40.9
    """
    if animal not in GALLONS:
        raise OutOfRange(f"no water is printed for {animal}; there is {', '.join(GALLONS)}.")
    warm = np.asarray(temperature_c, dtype=np.float64) * 1.8 + 32.0
    if not np.all(unknown(warm) | (warm <= TABLE_F[-1] + 1e-9)):
        raise OutOfRange("water above 90 degF (32.2 degC) is not printed: it rises fast there.")
    share = np.clip(1.0 - LESS_PER_F_BELOW * (TABLE_F[0] - warm), LEAST_SHARE, 1.0)
    litres = np.interp(warm, TABLE_F, GALLONS[animal]) * share * LITRE_PER_US_GALLON
    return as_given(litres, temperature_c)
