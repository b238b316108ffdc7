"""Which of the days ahead are too cold for a group, and the energy to make up for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.animals import HORSES, IN_TDN
from rickyard.farm import Coat, ColdRule, Farm, Group, Mud
from rickyard.program.storms.storm_feeds import StormFeed, storm_feeds
from rickyard.quantities import OutOfRange
from rickyard.stock.cold import (
    PCT_PER_F_DRY,
    PCT_PER_F_WET,
    STORM_CAP,
    cold_pct,
    critical_temperature_c,
    effective_temperature_c,
    storm_schedule,
)
from rickyard.stock.common import DailyWeather, NeedSeries, weather_of
from rickyard.stock.herd import group_needs
from rickyard.stock.horses import LOWER_CRITICAL_ADAPTED_C, horse_cold_mcal
from rickyard.types import FloatArray

#: Cold that is made up for by less than this share of a mild day's energy is not spoken of.
LEAST_SHARE: Final = 0.02
#: Days after a spell over which what is owed is still fed; beyond, it has come off their backs.
MOST_DAYS_AFTER: Final = 14
#: Days after a spell within which all that it took is counted, whatever can be fed on one of them.
MOST_DAYS_OWED: Final = 60


@dataclass(frozen=True, slots=True)
class ColdDay:
    """One day on which a group is colder than it can bear without more feed.

    ``felt_c`` is the air with its wind, ``critical_c`` the lower critical temperature of the
    coat as it is that day, ``extra_mcal`` what the cold takes from one head.
    """

    day: date
    air_c: float
    wind_km_per_h: float | None
    wet: bool
    felt_c: float
    critical_c: float
    extra_mcal: float


@dataclass(frozen=True, slots=True)
class ExtraFeed:
    """What one head gets more on one day: of the hay, or of the grain in its place, as fed."""

    day: date
    mcal: float
    hay_kg: float | None
    grain_kg: float | None


@dataclass(frozen=True, slots=True)
class ColdSpell:
    """Cold days in a row of one group, and the days on which more is fed for them.

    ``owed_mcal`` is what could not be fed in time and comes off the back of each head.
    ``by_energy_mcal`` is what the whole spell takes from one head by the heat that it makes and
    loses, beside the rule by which it is fed; ``None`` where that cannot be counted. [Mcal NEm]
    """

    days: tuple[ColdDay, ...]
    feeding: tuple[ExtraFeed, ...]
    owed_mcal: float
    by_energy_mcal: float | None = None

    @property
    def by_percent_mcal(self) -> float:
        """Return what the spell takes from one head by the rule by which it is fed. [Mcal]."""
        return sum(one.extra_mcal for one in self.days)

    @property
    def begin(self) -> date:
        """Return the day on which more is fed for the first time."""
        return self.feeding[0].day


@dataclass(frozen=True, slots=True)
class GroupCold:
    """A group and the spells that are too cold for it.

    ``muddy`` and ``windbreak`` are as groups.csv says; ``counted`` is false where nothing is
    published here by which the cold of its kind could be counted.
    """

    group_id: str
    name: str
    head: int
    energy: str
    muddy: bool
    windbreak: bool
    counted: bool
    hay: StormFeed | None
    grain: StormFeed | None
    spells: tuple[ColdSpell, ...]


@dataclass(frozen=True, slots=True)
class ColdPage:
    """The days ahead, from the first to the last that weather.csv tells, and each group's cold."""

    first: date
    days: tuple[date, ...]
    groups: tuple[GroupCold, ...]


def cold_page(farm: Farm, first: date) -> ColdPage:
    """Return what the cold that is forecast asks of each group.

    Cattle by the rule of one percent of maintenance for each degree Fahrenheit, two where wet,
    under the critical temperature of the coat; at most a quarter of a day's energy is added on
    one day. What a spell leaves owed is fed the day before it, as far as the same limit allows,
    and then after it. Beside it stands what the energy equation of heat made and lost asks for.
    Horses by what their own equation adds to digestible energy.

    Raises ``OutOfRange`` if the needs of a group cannot be told; the message names it.

    Parameters
    ----------
    farm : Farm
        Its weather of days, groups, lots and feeds are read. Normals of months tell no spell.
    first : date
        The first day looked at.

    Returns
    -------
    ColdPage
        Its ``days`` are empty where no day with a temperature is written from then on.

    References
    ----------
    .. [1] Selk, Oklahoma State Univ.; D. R. Ames, Kansas State University; Ames & Insley (1975).
    .. [2] NRC (2000), Nutrient Requirements of Beef Cattle, p. 10.
    """
    days = tuple(
        sorted(
            row.day
            for row in farm.weather
            if not row.monthly and row.day >= first and row.mean_temperature_c is not None
        )
    )
    if not days:
        return ColdPage(first, (), ())
    span = [first + timedelta(days=one) for one in range((days[-1] - first).days + 1)]
    dated = [row for row in farm.weather if not row.monthly]
    weather = weather_of(dated, span[0], span[-1])
    return ColdPage(
        first, days, tuple(_group_cold(farm, group, span, weather) for group in farm.groups)
    )


def _group_cold(farm: Farm, group: Group, span: Sequence[date], weather: DailyWeather) -> GroupCold:
    horse = group.animal_class in HORSES
    counted = horse or group.animal_class not in IN_TDN
    hay, grain = storm_feeds(farm, group, span[0]) if counted else (None, None)
    cold = _horse_days(group, weather, span) if horse else _cattle_days(farm, group, weather, span)
    mild = _mild_mcal(farm, group, span) if counted else np.zeros(len(span))
    here = [(group.from_on or span[0]) <= day < (group.to_on or date.max) for day in span]
    kept = [
        one if at and counted and one.extra_mcal > LEAST_SHARE * much else None
        for one, at, much in zip(cold, here, mild, strict=True)
    ]
    spells = tuple(
        _spell([one for one in kept[a:b] if one], float(mild[a]), span[0], hay, grain)
        for a, b in _runs(kept)
    )
    if counted and not horse:
        spells = tuple(
            replace(one, by_energy_mcal=_by_energy_mcal(farm, group, one, span[0]))
            for one in spells
        )
    return GroupCold(
        group.group_id,
        group.name,
        group.head,
        "DE" if horse else "NEm",
        group.mud not in (None, Mud.CLEAN),
        group.windbreak,
        counted,
        hay,
        grain,
        spells,
    )


def _cattle_days(
    farm: Farm, group: Group, weather: DailyWeather, span: Sequence[date]
) -> list[ColdDay]:
    air, wind = weather.temperature_c, np.nan_to_num(weather.wind_km_per_h)
    felt = np.asarray(effective_temperature_c(air, wind, farm.season.wind_chill))
    felt = air if group.windbreak else felt
    wet = weather.wet
    critical = np.asarray(critical_temperature_c(group.coat or Coat.WINTER, wet))
    pct = np.asarray(cold_pct(felt, critical, np.where(wet, PCT_PER_F_WET, PCT_PER_F_DRY)))
    counted = group.animal_class not in IN_TDN
    maintenance = np.zeros(len(span))
    if counted:
        maintenance = np.asarray(_needs(farm, group, span).nem_maintenance_mcal)
    return _days(span, weather, felt, critical, np.nan_to_num(pct / 100.0 * maintenance))


def _horse_days(group: Group, weather: DailyWeather, span: Sequence[date]) -> list[ColdDay]:
    air = weather.temperature_c
    extra = np.asarray(horse_cold_mcal(group.weight_kg, air, adapted=True))
    critical = np.full(len(span), LOWER_CRITICAL_ADAPTED_C)
    return _days(span, weather, air, critical, np.nan_to_num(extra))


def _days(
    span: Sequence[date],
    weather: DailyWeather,
    felt: FloatArray,
    critical: FloatArray,
    extra: FloatArray,
) -> list[ColdDay]:
    winds = weather.wind_km_per_h
    return [
        ColdDay(
            day,
            float(weather.temperature_c[t]),
            None if np.isnan(winds[t]) else float(winds[t]),
            bool(weather.wet[t]),
            float(felt[t]),
            float(critical[t]),
            float(extra[t]),
        )
        for t, day in enumerate(span)
    ]


def _mild_mcal(farm: Farm, group: Group, span: Sequence[date]) -> FloatArray:
    """Return the energy of a mild day, NEm of cattle and digestible energy of horses."""
    needs = _needs(farm, group, span)
    return np.asarray(needs.nem_mcal if needs.energy_mcal is None else needs.energy_mcal)


def _needs(farm: Farm, group: Group, span: Sequence[date]) -> NeedSeries:
    weighed = min(farm.season.weighed_on or farm.season.start, span[0])
    return group_needs(group, span, calibrated=farm.season.intake_calibrated, weighed_on=weighed)


def _by_energy_mcal(farm: Farm, group: Group, spell: ColdSpell, first: date) -> float | None:
    """Return what a spell takes from one head by heat made and lost, over all its days.

    Days after it, of which no weather is told, take what the days of the spell cannot be fed.
    """
    cold = {one.day for one in spell.days}
    rows = [row for row in farm.weather if not row.monthly and row.day in cold]
    start = spell.days[0].day
    days = [start + timedelta(days=at) for at in range(len(spell.days) + MOST_DAYS_OWED)]
    weighed = min(farm.season.weighed_on or farm.season.start, first)
    try:
        needs = group_needs(
            replace(group, mud=group.mud or Mud.CLEAN),
            days,
            calibrated=farm.season.intake_calibrated,
            weighed_on=weighed,
            weather=weather_of(rows, weighed, days[-1]),
            cold_rule=ColdRule.FACTORIAL,
        )
    except OutOfRange:
        # The percent rule asks for less: it needs neither condition nor the heat that is made.
        return None
    return None if needs.nem_cold_mcal is None else float(np.nansum(needs.nem_cold_mcal))


def _runs(kept: Sequence[ColdDay | None]) -> list[tuple[int, int]]:
    """Return where cold days stand in a row, from a place up to another."""
    runs: list[tuple[int, int]] = []
    for at, one in enumerate(kept):
        if one is None:
            continue
        if runs and runs[-1][1] == at:
            runs[-1] = (runs[-1][0], at + 1)
        else:
            runs.append((at, at + 1))
    return runs


def _spell(
    days: list[ColdDay],
    mild_mcal: float,
    first: date,
    hay: StormFeed | None,
    grain: StormFeed | None,
) -> ColdSpell:
    extra = np.array([one.extra_mcal for one in days])
    most = STORM_CAP * mild_mcal
    owed_in_spell = float(storm_schedule(extra, np.full(len(extra), mild_mcal))[1][-1])
    # What the days of the spell cannot hold is begun the day before it, within the same limit.
    before = min(owed_in_spell, most) if days[0].day > first else 0.0
    asked = np.concatenate(([before], _less(extra, before, most), np.zeros(MOST_DAYS_AFTER)))
    fed, owed = storm_schedule(asked, np.full(len(asked), mild_mcal))
    start = days[0].day - timedelta(days=1)
    feeding = tuple(
        ExtraFeed(
            start + timedelta(days=at),
            float(mcal),
            None if hay is None else hay.kg_for(float(mcal)),
            None if grain is None else grain.kg_for(float(mcal)),
        )
        for at, mcal in enumerate(fed)
        if mcal > LEAST_SHARE / 2.0 * mild_mcal
    )
    return ColdSpell(tuple(days), feeding, float(owed[-1]))


def _less(extra: FloatArray, before: float, most: float) -> FloatArray:
    """Take what was fed before a spell off the days that ask for more than can be fed."""
    left = np.array(extra)
    for at, asked in enumerate(extra):
        used = min(before, max(0.0, float(asked) - most))
        left[at] -= used
        before -= used
    return left
