"""The weather of the days of a season, from a daily series, monthly normals, or a past winter."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Assumption, WeatherRow, Winter
from rickyard.quantities import OutOfRange
from rickyard.types import BoolArray, FloatArray, IntArray

#: A coat is wet on a day with this much rain and air above freezing: common practice. Snow on a
#: cold coat does not wet it.
WET_MM: Final = 5.0
WET_ABOVE_C: Final = 0.0

#: A winter runs from 1 November to 31 March, south of the equator from 1 May to 30 September, and
#: counts when this share of its days is known: common practice.
WINTER_MONTHS: Final = (11, 12, 1, 2, 3)
SOUTHERN_WINTER_MONTHS: Final = (5, 6, 7, 8, 9)
WINTER_DAYS: Final = 151
KNOWN_SHARE: Final = 0.9
#: Which of the winters in order of frost stands for each scenario: common practice.
RANK: Final[Mapping[Winter, float]] = {Winter.MILD: 0.1, Winter.NORMAL: 0.5, Winter.SEVERE: 0.9}
FEWEST_WINTERS: Final = 3
#: With too few winters to choose from, the whole series is moved: common practice.
SHIFT_C: Final[Mapping[Winter, float]] = {
    Winter.MILD: 3.0,
    Winter.NORMAL: 0.0,
    Winter.SEVERE: -3.0,
}


@dataclass(frozen=True, slots=True)
class DailyWeather:
    """The weather of N days in a row, arrays of shape (N,); NaN where it is not known.

    ``daily`` says that a day has a row of its own and is not told by the normal of its month.
    """

    first: date
    temperature_c: FloatArray
    wind_km_per_h: FloatArray
    precipitation_mm: FloatArray
    daily: BoolArray
    assumptions: tuple[Assumption, ...] = ()

    @property
    def wet(self) -> BoolArray:
        """Return on which days rain wets the coat; a month's normal never says so."""
        rain = self.daily & (np.nan_to_num(self.precipitation_mm) >= WET_MM)
        return rain & (np.nan_to_num(self.temperature_c, nan=-np.inf) > WET_ABOVE_C)

    def places(self, days: Sequence[date]) -> IntArray:
        """Return the index of each day.

        Raises
        ------
        OutOfRange
            If a day lies outside the series.
        """
        at = np.array([(day - self.first).days for day in days], dtype=np.int64)
        if np.any((at < 0) | (at >= len(self.temperature_c))):
            raise OutOfRange("The weather does not reach over the days asked for.")
        return at


def weather_of(
    rows: Sequence[WeatherRow], first: date, last: date, winter: Winter = Winter.AS_GIVEN
) -> DailyWeather:
    """Return the weather of every day from the first to the last.

    Built from three winters or more, a scenario is a winter that was: the one at a tenth, half
    or nine tenths in order of degree-days of frost, and of mean temperature where frost is alike,
    its days moved to the season's. From fewer winters or from normals, all temperatures are moved
    by 3 °C (common practice). Where May to September is colder than November to March, that is
    the winter.

    Parameters
    ----------
    rows : sequence of WeatherRow
        Days and monthly normals, in any order.
    first, last : date
        The days, both counted. The last is not before the first.
    winter : Winter
        Which winter: the days as given, or a mild, normal or severe one built from the series.

    Returns
    -------
    DailyWeather
        Its values are NaN where neither the day nor its month is given.

    Examples
    --------
    >>> rows = [WeatherRow(date(2026, 1, 1), True, -4.0), WeatherRow(date(2026, 1, 2), False, -9.0)]
    >>> weather_of(rows, date(2026, 1, 1), date(2026, 1, 3)).temperature_c.tolist()
    [-4.0, -9.0, -4.0]
    """
    if last < first:
        raise OutOfRange("The last day of weather lies before the first.")
    days = [first + timedelta(days=one) for one in range((last - first).days + 1)]
    by_day = {row.day: row for row in rows if not row.monthly}
    normals = {row.day.month: row for row in rows if row.monthly}
    if winter is Winter.AS_GIVEN:
        return _daily(days, [by_day.get(day) for day in days], normals, 0.0, ())
    months = _winter_months(rows)
    years = _winters(by_day, months)
    if len(years) >= FEWEST_WINTERS:
        year = years[round(RANK[winter] * (len(years) - 1))]
        years_on = _winter_year(days[len(days) // 2], months) - year
        taken = [by_day.get(_years_before(day, years_on)) for day in days]
        name = f"{year}/{(year + 1) % 100:02d}" if months is WINTER_MONTHS else f"{year}"
        said = Assumption(
            f"The {winter.value} winter is that of {name}, chosen by its "
            f"frost among {len(years)} winters of weather.csv.",
            COMMON_PRACTICE,
        )
        return _daily(days, taken, normals, 0.0, (said,))
    shift = SHIFT_C[winter]
    moved = f", moved by {1.8 * shift:+.0f} °F ({shift:+.0f} °C)" if shift else " as it is"
    said = Assumption(
        f"The {winter.value} winter is the weather given{moved}, because weather.csv holds fewer "
        f"than {FEWEST_WINTERS} winters.",
        COMMON_PRACTICE,
    )
    return _daily(days, [by_day.get(day) for day in days], normals, shift, (said,))


def previous_month_mean_c(weather: DailyWeather, days: Sequence[date]) -> FloatArray:
    """Return the mean temperature of the month before each day.

    Parameters
    ----------
    weather : DailyWeather
        Weather that reaches back to the first of that month. Less raises ``OutOfRange``.
    days : sequence of date, length T
        The days.

    Returns
    -------
    array, shape (T,)
        Mean temperature, NaN where no day of that month is known. [degC]

    Examples
    --------
    >>> rows = [WeatherRow(date(2026, 1, 1), True, -4.0)]
    >>> weather = weather_of(rows, date(2026, 1, 1), date(2026, 2, 28))
    >>> previous_month_mean_c(weather, [date(2026, 2, 20)]).tolist()
    [-4.0]
    """
    months = {day.replace(day=1) for day in days}
    means = {}
    for month in months:
        last = month - timedelta(days=1)
        start, end = weather.places((last.replace(day=1), last))
        known = weather.temperature_c[start : end + 1]
        known = known[~np.isnan(known)]
        means[month] = float(known.mean()) if known.size else np.nan
    return np.array([means[day.replace(day=1)] for day in days], dtype=np.float64)


def _daily(
    days: Sequence[date],
    rows: Sequence[WeatherRow | None],
    normals: Mapping[int, WeatherRow],
    shift_c: float,
    said: tuple[Assumption, ...],
) -> DailyWeather:
    def values(name: str, *, normal_too: bool = True) -> FloatArray:
        found = np.full(len(days), np.nan)
        for at, (day, row) in enumerate(zip(days, rows, strict=True)):
            own = None if row is None else getattr(row, name)
            if own is None and normal_too and day.month in normals:
                own = getattr(normals[day.month], name)
            if own is not None:
                found[at] = own
        return found

    return DailyWeather(
        first=days[0],
        temperature_c=values("mean_temperature_c") + shift_c,
        wind_km_per_h=values("wind_km_per_h"),
        precipitation_mm=values("precipitation_mm", normal_too=False),
        daily=np.array([row is not None for row in rows], dtype=np.bool_),
        assumptions=said,
    )


def _winter_months(rows: Sequence[WeatherRow]) -> tuple[int, ...]:
    """Return the months of winter: the colder half of the year that the rows tell of."""

    def mean_c(months: tuple[int, ...]) -> float:
        known = [
            row.mean_temperature_c
            for row in rows
            if row.mean_temperature_c is not None and row.day.month in months
        ]
        return float(np.mean(known)) if known else np.nan

    southern = mean_c(SOUTHERN_WINTER_MONTHS) < mean_c(WINTER_MONTHS)
    return SOUTHERN_WINTER_MONTHS if southern else WINTER_MONTHS


def _winters(by_day: Mapping[date, WeatherRow], months: tuple[int, ...]) -> list[int]:
    """Return the years in which the winters that are known begin, the mildest first."""
    known: dict[int, list[float]] = {}
    for day, row in by_day.items():
        if row.mean_temperature_c is not None and day.month in months:
            known.setdefault(_winter_year(day, months), []).append(row.mean_temperature_c)
    order = {
        year: (sum(max(-one, 0.0) for one in found), -float(np.mean(found)))
        for year, found in known.items()
        if len(found) >= KNOWN_SHARE * WINTER_DAYS
    }
    return sorted(order, key=lambda year: order[year])


def _winter_year(day: date, months: tuple[int, ...]) -> int:
    if months is SOUTHERN_WINTER_MONTHS:
        return day.year
    return day.year if day.month > 6 else day.year - 1


def _years_before(day: date, years: int) -> date:
    """Return the same day of the calendar some years before; 28 February for a leap day."""
    if day.month == 2 and day.day == 29:
        return date(day.year - years, 2, 28)
    return day.replace(year=day.year - years)
