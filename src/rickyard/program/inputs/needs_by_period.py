"""The needs of a group through the periods of a season, in the weather that the farm gives."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from functools import lru_cache
from typing import Final

import numpy as np

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Caution, ColdRule, Farm, Group, Season, WeatherRow, Winter
from rickyard.program.result import Period
from rickyard.stock.common import (
    Conditions,
    DailyWeather,
    NeedSeries,
    period_means,
    previous_month_mean_c,
    storm_cautions,
    weather_of,
)
from rickyard.stock.fill import access_frac
from rickyard.stock.herd import needs_in

#: How far back weather is read, so that the month before the first day is whole. [d]
MONTH_BEFORE: Final = 62

#: So many series of needs are kept: a season asks for the same ones in its rows, in its words and
#: when it is looked at again.
SERIES_KEPT: Final = 64


def season_series(farm: Farm, group: Group, periods: Sequence[Period]) -> NeedSeries:
    """Return what one head of a group needs in each period of a season.

    Parameters
    ----------
    farm : Farm
        Its season and weather are read.
    group : Group
        A group of it.
    periods : sequence of Period
        Periods of the season that follow one another.

    Returns
    -------
    NeedSeries
        Needs per head and day, one entry for each period: those of its middle day, or means
        over all its days where the days differ by cold, weather or spread calving.
    """
    season = farm.season
    cold = season.cold_rule is not ColdRule.NONE or season.intake_by_weather
    if not (cold or group.calving_spread_days):
        middles = [period.start + timedelta(days=period.days // 2) for period in periods]
        return _series(farm, group, middles)
    lengths = [period.days for period in periods]
    days = [periods[0].start + timedelta(days=one) for one in range(sum(lengths))]
    return period_means(_series(farm, group, days), lengths)


def season_days(farm: Farm, group: Group) -> NeedSeries:
    """Return what one head of a group needs on each day of the season.

    Parameters
    ----------
    farm : Farm
        Its season and weather are read.
    group : Group
        A group of it.

    Returns
    -------
    NeedSeries
        Needs per head and day, one entry for each day.
    """
    span = (farm.season.end - farm.season.start).days
    return _series(farm, group, [farm.season.start + timedelta(days=one) for one in range(span)])


def season_storms(farm: Farm, groups: Sequence[Group]) -> tuple[Caution, ...]:
    """Return cautions for the groups from which cold takes more than can be fed in time.

    Parameters
    ----------
    farm : Farm
        Its season and weather are read.
    groups : sequence of Group
        Groups of it.

    Returns
    -------
    tuple of Caution
        No storm where the farm counts no days of cold; a note where the winter it plans for
        changes nothing.
    """
    idle = _idle_winter(farm)
    if farm.season.cold_rule is ColdRule.NONE:
        return idle
    storms = (one for group in groups for one in storm_cautions(group, season_days(farm, group)))
    return (*storms, *idle)


def _idle_winter(farm: Farm) -> tuple[Caution, ...]:
    season = farm.season
    if season.winter is Winter.AS_GIVEN:
        return ()
    counts = season.cold_rule is not ColdRule.NONE or season.acclimatise or season.intake_by_weather
    if counts and farm.weather:
        return ()
    missing = (
        "there is no weather. Write days, or the normals of months, in weather.csv."
        if counts
        else "farm.toml chooses no way to count the cold. Write cold_rule or acclimatise in it."
    )
    sentence = f"A {season.winter.value} winter changes nothing here: {missing}"
    return (Caution("note", "", sentence, COMMON_PRACTICE),)


def season_weather(farm: Farm) -> DailyWeather:
    """Return the weather of a season and of the two months before it.

    Parameters
    ----------
    farm : Farm
        Its weather and the winter it plans for are read.

    Returns
    -------
    DailyWeather
        NaN where nothing is given.
    """
    return _weather(farm.season, farm.weather)


def _weather(season: Season, rows: tuple[WeatherRow, ...]) -> DailyWeather:
    first = (season.weighed_on or season.start) - timedelta(days=MONTH_BEFORE)
    return weather_of(rows, first, season.end, season.winter)


def season_conditions(farm: Farm, days: Sequence[date]) -> Conditions:
    """Return what days are like at a farm: its weather, and how it counts cold.

    Parameters
    ----------
    farm : Farm
        Its season and weather are read.
    days : sequence of date
        The days asked for.

    Returns
    -------
    Conditions
        As the needs of every group are worked out in.
    """
    return _conditions(farm.season, farm.weather, days)


def _conditions(season: Season, rows: tuple[WeatherRow, ...], days: Sequence[date]) -> Conditions:
    weather = _weather(season, rows)
    before = previous_month_mean_c(weather, days) if season.acclimatise else None
    told = season.cold_rule is not ColdRule.NONE or season.winter is not Winter.AS_GIVEN
    return Conditions(
        calibrated=season.intake_calibrated,
        previous_month_temperature_c=None if told else before,
        weighed_on=season.weighed_on or season.start,
        weather=weather,
        acclimatise=told and season.acclimatise,
        cold_rule=season.cold_rule,
        wind_chill=season.wind_chill,
        intake_by_weather=season.intake_by_weather,
        maintenance_by_condition=season.maintenance_by_condition,
    )


def _series(farm: Farm, group: Group, days: Sequence[date]) -> NeedSeries:
    return _kept_series(farm.season, _Same(farm.weather), group, tuple(days))


@dataclass(frozen=True, slots=True, eq=False)
class _Same:
    """Rows of weather, equal to themselves alone: years of days are too many to compare."""

    rows: tuple[WeatherRow, ...]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.rows is other.rows

    def __hash__(self) -> int:
        return id(self.rows)


def forget_needs() -> None:
    """Drop the needs that are kept: a farm may have asked that nothing of it stays."""
    _kept_series.cache_clear()


@lru_cache(maxsize=SERIES_KEPT)
def _kept_series(
    season: Season, weather: _Same, group: Group, days: tuple[date, ...]
) -> NeedSeries:
    """Return needs that nobody writes into, as others are given the same ones."""
    series = needs_in(group, days, _conditions(season, weather.rows, days))
    # What the farm has seen its stock eat stands beside every other thing that moves appetite.
    seen = season.intake_pct / 100.0
    told = replace(series, intake_factor=series.intake_factor * seen * access_frac(group))
    for one in fields(told):
        value = getattr(told, one.name)
        for array in value.values() if isinstance(value, Mapping) else (value,):
            if isinstance(array, np.ndarray):
                array.setflags(write=False)
    return told
