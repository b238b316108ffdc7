"""How cold it is to an animal in wind: three charts that are in use, each by its name.

They disagree by 8 °F at 10 °F and 10 mph, so a wind chill is worth nothing without the name of
its chart. The cattle chart is the only one measured on hides.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

import numpy as np

from rickyard.farm import WindChill
from rickyard.quantities import KM_PER_MILE, Numeric, as_given, not_negative

# Degrees Fahrenheit to take off at a wind in miles per hour: Ames & Insley 1975, from memory;
# supported by "25 mph = 27 °F colder" (Drovers) and by Illinois.
CATTLE_MPH: Final = (0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0)
#: The chart begins at 5 mph; the straight line from calm air to there is common practice.
CATTLE_LESS_F: Final = (0.0, 6.0, 11.0, 15.0, 20.0, 27.0, 36.0, 50.0, 68.0)

# US National Weather Service 2001, degrees Fahrenheit and miles per hour.
WEATHER_SERVICE: Final = (35.74, 0.6215, -35.75, 0.4275, 0.16)
WEATHER_SERVICE_MOST_F: Final = 50.0
WEATHER_SERVICE_LEAST_MPH: Final = 3.0

# Siple & Passel, the index in use before 2001; reproduces a windbreak example of Kansas State.
OLD: Final = (0.0817, 3.71, 5.81, -0.25, 91.4)
OLD_LEAST_MPH: Final = 4.0  # the index equals the air temperature at a walking pace

#: What each chart is called where a number of it is shown.
CHARTS: Final = MappingProxyType(
    {
        WindChill.CATTLE: "cattle wind chill, Ames & Insley 1975, from memory",
        WindChill.WEATHER_SERVICE: "US National Weather Service wind chill of 2001, for people",
        WindChill.OLD_HUMAN: "wind chill before 2001, Siple & Passel, for people",
        WindChill.NONE: "air temperature, no wind chill",
    }
)


def effective_temperature_c(
    temperature_c: Numeric, wind_km_per_h: Numeric, chart: WindChill = WindChill.CATTLE
) -> Numeric:
    """Return how cold the air is with its wind, by a named chart.

    Cattle: straight lines between the printed winds, held at 40 mph. Weather Service: from 3 mph
    and up to 50 °F, else the air temperature. Old index: from 4 mph, else the air temperature;
    it is not valid for haired animals, especially above 40 km/h.

    Source: Ames & Insley (1975), wind-chill effect for cattle and sheep; from memory; US National
    Weather Service (2001); Siple & Passel (1945), as used in the windbreak example of D. R. Ames,
    Kansas State.

    Parameters
    ----------
    temperature_c : float or array
        Air temperature. [degC]
    wind_km_per_h : float or array
        Wind at the animal; 0 behind a windbreak, no less. [km/h]
    chart : WindChill
        Which chart. ``CHARTS`` names them in a sentence.

    Returns
    -------
    float or array
        Effective temperature. [degC]

    Examples
    --------
    >>> from rickyard.quantities import KM_PER_MILE
    >>> ten_f, ten_mph = (10.0 - 32.0) / 1.8, 10.0 * KM_PER_MILE
    >>> [round(effective_temperature_c(ten_f, ten_mph, chart) * 1.8 + 32.0) for chart in (
    ...     WindChill.WEATHER_SERVICE, WindChill.OLD_HUMAN, WindChill.CATTLE)]
    [-4, -9, -1]
    """
    air_f = np.asarray(temperature_c, dtype=np.float64) * 1.8 + 32.0
    mph = np.asarray(wind_km_per_h, dtype=np.float64) / KM_PER_MILE
    not_negative("A wind cannot be slower than still air.", mph)
    if chart is WindChill.CATTLE:
        felt_f = _cattle_f(air_f, mph)
    elif chart is WindChill.WEATHER_SERVICE:
        felt_f = _weather_service_f(air_f, mph)
    elif chart is WindChill.OLD_HUMAN:
        felt_f = _old_f(air_f, mph)
    else:
        felt_f = air_f + 0.0 * mph
    return as_given((felt_f - 32.0) / 1.8, temperature_c, wind_km_per_h)


def _cattle_f(air_f: Numeric, mph: Numeric) -> Numeric:
    return air_f - np.interp(mph, CATTLE_MPH, CATTLE_LESS_F)


def _weather_service_f(air_f: Numeric, mph: Numeric) -> Numeric:
    intercept, by_air, by_wind, by_both, power = WEATHER_SERVICE
    moved = np.maximum(mph, WEATHER_SERVICE_LEAST_MPH) ** power
    felt = intercept + by_air * air_f + by_wind * moved + by_both * air_f * moved
    holds = (mph >= WEATHER_SERVICE_LEAST_MPH) & (air_f <= WEATHER_SERVICE_MOST_F)
    return np.where(holds, felt, air_f)


def _old_f(air_f: Numeric, mph: Numeric) -> Numeric:
    scale, by_root, base, by_wind, skin_f = OLD
    felt = scale * (by_root * np.sqrt(mph) + base + by_wind * mph) * (air_f - skin_f) + skin_f
    # At 4 mph itself the index is a few hundredths above the air: wind never warms.
    return np.where(mph >= OLD_LEAST_MPH, np.minimum(felt, air_f), air_f)
