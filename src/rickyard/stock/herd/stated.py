"""Needs of small stock and horses as the rows of stated needs that the season program reads.

The season program counts cattle in net energy. These animals are counted in TDN, so that each
period of the season gets a row of its own: TDN, protein, calcium, phosphorus, and the least and
most dry matter.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from rickyard.animals import HORSES, IN_TDN
from rickyard.farm import Farm, Group, Season, StatedNeed
from rickyard.quantities import OutOfRange, not_negative
from rickyard.stock.common import DailyWeather, NeedSeries, weather_of
from rickyard.stock.herd.herd import group_needs
from rickyard.stock.horses import LEAST_FORAGE_PCT_BW
from rickyard.types import FloatArray


def stated_needs(
    group: Group,
    season: Season,
    weather: DailyWeather | None = None,
    *,
    margin_pct: float = 0.0,
) -> tuple[StatedNeed, ...]:
    """Return the needs of a group of a class of ``IN_TDN`` per head and day, a row for each period.

    The length of the periods and the rule of cold are those of the season; weather counts for
    horses under a rule of cold. The margin is added to energy, protein and minerals [%]. A period
    that crosses a stage gets the higher need of its days. Raises ``OutOfRange`` if a value that the
    class needs is not given.

    >>> from rickyard.farm import AnimalClass
    >>> ewes = Group("e", "Ewes", AnimalClass.EWE, 40, 70.0, calving_on=date(2027, 3, 1), young=2.0)
    >>> rows = stated_needs(ewes, Season(date(2027, 1, 1), date(2027, 1, 15)))
    >>> len(rows), round(rows[0].tdn_kg, 2), rows[1].start
    (2, 0.77, datetime.date(2027, 1, 8))
    """
    if group.animal_class not in IN_TDN:
        raise OutOfRange(f"{group.name}: cattle are counted in net energy, not in TDN.")
    not_negative("A margin of safety is not negative.", margin_pct)
    span = (season.end - season.start).days
    days = [season.start + timedelta(days=one) for one in range(span)]
    series = group_needs(
        group,
        days,
        weighed_on=season.weighed_on or season.start,
        weather=weather,
        cold_rule=season.cold_rule,
    )
    starts = list(range(0, span, season.period_days))
    return tuple(
        _eating(
            _row(group, series, days, at, min(at + season.period_days, span), 1 + margin_pct / 100),
            season.intake_pct / 100.0,
        )
        for at in starts
    )


def with_stated_needs(farm: Farm, *, margin_pct: float = 0.0) -> Farm:
    """Return a farm on which small stock and horses state their needs in TDN.

    Parameters
    ----------
    farm : Farm
        The farm. Needs that it states itself stand before the ones added and so hold.
    margin_pct : float
        Added to energy, protein and minerals. [%]

    Returns
    -------
    Farm
        The same farm when it has no such group. Horses and donkeys also get their forage floor,
        1.0 % of body weight, where the group gives none.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass
    >>> ewes = Group("e", "Ewes", AnimalClass.EWE, 40, 70.0)
    >>> farm = Farm("Home", Season(date(2027, 1, 1), date(2027, 1, 15)), groups=(ewes,))
    >>> len(with_stated_needs(farm).needs)
    2
    """
    small = [group for group in farm.groups if group.animal_class in IN_TDN]
    if not small:
        return farm
    season = farm.season
    first = season.weighed_on or season.start
    weather = weather_of(farm.weather, first, season.end, season.winter)
    added = [
        row
        for group in small
        for row in stated_needs(group, season, weather, margin_pct=margin_pct)
    ]
    groups = tuple(_with_forage_floor(group) for group in farm.groups)
    return replace(farm, groups=groups, needs=(*farm.needs, *added))


def _with_forage_floor(group: Group) -> Group:
    if group.animal_class not in IN_TDN or group.least_forage_pct_bw is not None:
        return group
    horses = group.animal_class in HORSES
    return replace(group, least_forage_pct_bw=LEAST_FORAGE_PCT_BW) if horses else group


def _eating(need: StatedNeed, share: float) -> StatedNeed:
    """Return a need of stock that eat a share of what is expected."""
    if need.most_dm_kg is None:
        return need
    most = need.most_dm_kg * share
    least = None if need.least_dm_kg is None else min(need.least_dm_kg, most)
    return replace(need, most_dm_kg=most, least_dm_kg=least)


def _row(
    group: Group, series: NeedSeries, days: Sequence[date], at: int, end: int, margin: float
) -> StatedNeed:
    def highest(values: FloatArray | None) -> float | None:
        if values is None or np.all(np.isnan(values[at:end])):
            return None
        return float(np.nanmax(values[at:end]))

    def needed(values: FloatArray | None) -> float | None:
        value = highest(values)
        return None if value is None else value * margin

    return StatedNeed(
        group_id=group.group_id,
        start=days[at],
        end=days[end - 1] + timedelta(days=1),
        tdn_kg=needed(series.tdn_kg),
        cp_kg=needed(series.cp_kg),
        ca_kg=needed(series.ca_kg),
        p_kg=needed(series.p_kg),
        least_dm_kg=highest(series.least.get("dm_kg")),
        most_dm_kg=highest(series.most.get("dm_kg")),
    )
