"""What cold adds to a rough plan of hay; the season program computes it from the animals instead.

A planning rule in degrees Fahrenheit, as it is published: so many percent more energy for each
degree below the temperature at which an animal begins to burn feed to keep warm.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.hay.limits import require_not_negative
from rickyard.quantities import Numeric, as_given

#: Percent more energy per degree F below the lower critical temperature, dry coat (Oklahoma
#: State). For a wet coat Kansas State and South Dakota State print 1, Oklahoma State 2.
SLOPE_PCT_PER_F: Final = 1.0

#: Most to add on one day; the rest is eaten on the mild days after it (handbook chapter on
#: storage, section 8; common practice, no published source).
MOST_PCT_A_DAY: Final = 25.0


def cold_extra_pct(
    lower_critical_f: Numeric, felt_f: Numeric, slope_pct_per_f: Numeric = SLOPE_PCT_PER_F
) -> Numeric:
    """More energy that cattle need in the cold, not capped.

    Parameters
    ----------
    lower_critical_f : float or array
        Temperature below which they burn feed to keep warm: 59 wet or in summer coat, 45 dry
        fall coat, 32 dry winter coat, 18 dry heavy winter coat. [degF]
    felt_f : float or array
        Temperature they feel, wind chill counted. [degF]
    slope_pct_per_f : float or array
        More energy for each degree. [% per degF]

    Returns
    -------
    float or array
        More energy. [%]

    Raises
    ------
    OutOfRange
        If the slope is negative.

    References
    ----------
    .. [1] Kansas State, Managing beef cows during cold stress (2024), the temperatures.
    .. [2] Oklahoma State, Cold weather boosts energy requirements, the slope.

    Examples
    --------
    >>> cold_extra_pct(32.0, 4.0)
    28.0
    """
    require_not_negative("slope", slope_pct_per_f, "% per degF")
    short = np.maximum(0.0, np.subtract(lower_critical_f, felt_f))
    return as_given(np.multiply(slope_pct_per_f, short), lower_critical_f, felt_f, slope_pct_per_f)


def hay_in_cold(hay: Numeric, extra_pct: Numeric) -> Numeric:
    """Hay of a day in the cold.

    Parameters
    ----------
    hay : float or array
        Hay of a mild day, in any one mass unit. [mass/d]
    extra_pct : float or array
        What the cold adds, from `cold_extra_pct`. [%]

    Returns
    -------
    float or array
        Hay, in the same unit. [mass/d]

    Raises
    ------
    OutOfRange
        If a number is negative.

    Examples
    --------
    >>> round(hay_in_cold(16.0, 28.0), 1)
    20.5
    """
    require_not_negative("hay", hay, "")
    require_not_negative("extra", extra_pct, "%")
    return as_given(np.multiply(hay, 1.0 + np.divide(extra_pct, 100.0)), hay, extra_pct)


def season_cold_hay(hay: float, extra_pct: Numeric) -> float:
    """Hay that the cold days of a season add.

    Parameters
    ----------
    hay : float
        Hay of a mild day, in any one mass unit. [mass/d]
    extra_pct : array, shape (days,)
        What each day's cold adds, not capped. [%]

    Returns
    -------
    float
        Hay above that of as many mild days, in the same unit. [mass]

    Raises
    ------
    OutOfRange
        If a number is negative.

    Notes
    -----
    More than 25 % is not eaten in one day. What is over it is eaten on the days after, as far
    as they have room; what is left at the end of the season is counted all the same, because it
    was needed.

    Examples
    --------
    >>> season_cold_hay(20.0, np.array([0.0, 50.0, 10.0, 0.0]))
    12.0
    """
    require_not_negative("hay", hay, "")
    require_not_negative("extra", extra_pct, "%")
    return float(hay * np.sum(np.asarray(extra_pct)) / 100.0)


def eaten_extra_pct(extra_pct: Numeric, most_pct: float = MOST_PCT_A_DAY) -> Numeric:
    """Spread what cold adds over days on which it can be eaten.

    Parameters
    ----------
    extra_pct : array, shape (days,)
        What each day's cold adds, not capped. [%]
    most_pct : float
        Most that is eaten above a mild day's hay on one day. [%]

    Returns
    -------
    array, shape (days,)
        What is eaten above a mild day's hay. [%]

    Raises
    ------
    OutOfRange
        If a number is negative.

    Examples
    --------
    >>> eaten_extra_pct(np.array([0.0, 50.0, 10.0, 0.0]))
    array([ 0., 25., 25., 10.])
    """
    require_not_negative("extra", extra_pct, "%")
    require_not_negative("most", most_pct, "%")
    waiting, eaten = 0.0, []
    for extra in np.asarray(extra_pct, dtype=np.float64).tolist():
        waiting += extra
        eaten.append(min(waiting, most_pct))
        waiting -= eaten[-1]
    return np.array(eaten)
