"""What stock drink beside their feed, period by period: the sulfate and nitrate of water."""

from __future__ import annotations

from datetime import timedelta
from typing import Final

import numpy as np

from rickyard.farm import Assumption, Farm
from rickyard.forage.hazards import SULFUR_PER_SULFATE, WATER_PCT_BW_BEEF, WATER_PCT_BW_LACTATING
from rickyard.program.inputs.needs import NeedTable
from rickyard.program.inputs.needs_by_period import season_weather
from rickyard.program.inputs.said import assumed
from rickyard.program.result import Period
from rickyard.quantities import is_some
from rickyard.safety import water_no3n_ppm
from rickyard.types import FloatArray

#: Air temperatures at which water drunk is printed, 40, 70 and 90 degF. [degC]
WATER_AT_C: Final = tuple((fahrenheit - 32.0) / 1.8 for fahrenheit in (40.0, 70.0, 90.0))

#: Where the folder has no weather: 70 degF, the cautious side for a season of feeding hay.
UNKNOWN_C: Final = WATER_AT_C[1]


def water_sulfur_g(farm: Farm, needs: NeedTable) -> tuple[FloatArray, tuple[Assumption, ...]]:
    """Return the sulfur each head drinks a day, and what was assumed.

    Parameters
    ----------
    farm : Farm
        The sulfate of its water and its weather are read.
    needs : NeedTable
        Weights, and who gives milk.

    Returns
    -------
    array, shape (groups, periods)
        Sulfur of the water. [g per head and day]
    tuple of Assumption
        Empty where no sulfate is stated but for a note that the water was left out.
    """
    sulfate = farm.season.water_sulfate_ppm
    if sulfate is None:
        return np.zeros(needs.head_days.shape), (assumed("no_sulfate"),)
    litres, notes = water_drunk_l(farm, needs)
    return np.asarray(litres * sulfate / 1000.0 * SULFUR_PER_SULFATE), notes


def water_no3n_mg(farm: Farm, needs: NeedTable) -> tuple[FloatArray | None, tuple[Assumption, ...]]:
    """Return the nitrate-nitrogen each head drinks a day, and what was assumed.

    Parameters
    ----------
    farm : Farm
        The nitrate of its water and its weather are read.
    needs : NeedTable
        Weights, and who gives milk.

    Returns
    -------
    array, shape (groups, periods), or None
        Nitrate-nitrogen of the water; ``None`` where nobody measured it. [mg per head and day]
    tuple of Assumption
        How much they drink, or that the water was left out.
    """
    ppm = water_no3n_ppm(farm)
    if ppm is None:
        return None, (assumed("no_water_nitrate"),)
    litres, notes = water_drunk_l(farm, needs)
    return litres * ppm, notes


def water_drunk_l(farm: Farm, needs: NeedTable) -> tuple[FloatArray, tuple[Assumption, ...]]:
    """Return the water each head drinks, and what was assumed.

    Parameters
    ----------
    farm : Farm
        Its weather is read.
    needs : NeedTable
        Weights, and who gives milk.

    Returns
    -------
    array, shape (groups, periods)
        By weight, milk and air temperature. [L per head and day]
    tuple of Assumption
        By whose table, and for which weather where there is none.
    """
    air = period_temperatures_c(farm, needs.periods)
    known = np.where(np.isnan(air), UNKNOWN_C, air)
    dry = np.interp(known, WATER_AT_C, WATER_PCT_BW_BEEF)
    nursing = np.interp(known, WATER_AT_C, WATER_PCT_BW_LACTATING)
    share = np.where(is_some(needs.milk_kg), nursing, dry) / 100.0
    notes = [assumed("water_drunk")]
    if bool(np.isnan(air).any()):
        notes.append(assumed("no_weather_water"))
    return np.asarray(share * needs.full_weight_kg), tuple(notes)


def period_temperatures_c(farm: Farm, periods: tuple[Period, ...]) -> FloatArray:
    """Return the mean air temperature of each period, NaN where a day of it is not known."""
    if not farm.weather:
        return np.full(len(periods), np.nan)
    weather = season_weather(farm)
    first = [(period.start - weather.first) // timedelta(days=1) for period in periods]
    return np.array(
        [
            float(np.mean(weather.temperature_c[at : at + period.days]))
            for at, period in zip(first, periods, strict=True)
        ]
    )
