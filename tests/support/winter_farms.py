"""A farm that meets mild, normal and hard winters."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from rickyard.farm import ColdRule, Farm, WeatherRow
from support.farms import random_farm


def weather(means: dict[int, float]) -> tuple[WeatherRow, ...]:
    rows = []
    for year, mean in means.items():
        day = date(year, 10, 1)
        while day < date(year + 1, 5, 1):
            rows.append(WeatherRow(day, False, mean, 10.0, 0.0))
            day += timedelta(days=1)
    return tuple(rows)


PAST = weather({2019: -2.0, 2020: -6.0, 2021: 1.0, 2022: -4.0, 2023: -12.0})


def winter_farm(seed: int, lots: int = 4, groups: int = 2, **season: object) -> Farm:
    farm = random_farm(seed, lots=lots, groups=groups, weeks=9)
    given = {"cold_rule": ColdRule.PERCENT, "late_price_pct": 20.0, **season}
    return replace(farm, weather=PAST, season=replace(farm.season, **given))  # type: ignore[arg-type]
