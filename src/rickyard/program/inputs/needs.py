"""What each group needs in each period: the bridge from the farm's stock to plain arrays."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.animals import IN_TDN
from rickyard.farm import Assumption, Farm, Group, Season, StatedNeed
from rickyard.nutrients import AT_LEAST, NUTRIENTS, Nutrient
from rickyard.program.inputs.class_limits import (
    class_notes,
    floors_g_per_kg,
    least_ca_to_p,
    least_cp_frac,
    least_forage_kg,
    most_ndf_kg,
)
from rickyard.program.inputs.needs_by_period import season_series
from rickyard.program.inputs.said import assumed
from rickyard.program.result import Period
from rickyard.quantities import is_some
from rickyard.safety import amount_of, counts_as_pregnant
from rickyard.stock.beef import settings_of
from rickyard.stock.common import NeedSeries, size_scaled_weight_kg
from rickyard.stock.equations import CP_FLOOR_PCT, NDF_CAP_PCT_BW
from rickyard.stock.herd import with_stated_needs
from rickyard.tables import Table, Tabular, counted
from rickyard.types import BoolArray, FloatArray

#: Long forage that keeps a rumen working when hay is stretched: eXtension and Univ. of
#: Missouri.
LEAST_FORAGE_PCT_BW: Final = 0.5

#: Calcium to phosphorus by mass, at least; common practice, no published source.
LEAST_CA_TO_P: Final = 1.0


@dataclass(frozen=True, slots=True, repr=False)
class NeedTable(Tabular):
    """Needs per head and day, arrays of shape (groups, periods).

    NaN means "not constrained". ``days`` counts the days of the period on which the group is
    here. ``growing`` marks where a wanted gain makes the energy row curved. ``pregnant`` marks
    groups that count as pregnant for a hazard, all season if they ever are in it. ``least`` holds
    what must be met at least, by the keys and in the units of ``nutrients``, and ``floors`` what is
    asked of each kilogram of the diet. ``stated`` marks what
    has no equation of appetite, ``own`` what the folder itself states in place of a computed need.
    """

    groups: tuple[Group, ...]
    periods: tuple[Period, ...]
    days: FloatArray
    head: FloatArray
    stage: tuple[tuple[str, ...], ...]
    stated: BoolArray
    own: BoolArray
    growing: BoolArray
    pregnant: BoolArray
    least: dict[str, FloatArray]
    floors: dict[str, FloatArray]
    retained_mcal: FloatArray
    gain_kg: FloatArray
    cp_floor_frac: FloatArray
    ca_to_p: FloatArray
    most_dm_kg: FloatArray
    most_ndf_kg: FloatArray
    most_nitrate_ppm: FloatArray
    shrunk_weight_kg: FloatArray
    scaled_weight_kg: FloatArray
    full_weight_kg: FloatArray
    milk_kg: FloatArray
    intake_rule: tuple[tuple[str, ...], ...]
    intake_factor: FloatArray
    assumptions: tuple[Assumption, ...]

    @property
    def head_days(self) -> FloatArray:
        """Return head times days, shape (groups, periods)."""
        return self.head * self.days

    @property
    def here(self) -> BoolArray:
        """Return where a group is here on any day of a period, shape (groups, periods)."""
        return is_some(self.head_days)

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return (
            ("groups", ", ".join(group.name for group in self.groups) or "none"),
            ("", counted(len(self.periods), "period")),
        )

    def _parts(self) -> dict[str, Sequence[object] | Table]:
        return {"needs": self._by_row(), "assumptions": self.assumptions}

    def _by_row(self) -> Table:
        """Return one row for each group and period."""
        here = [(group, period) for group in self.groups for period in self.periods]
        columns = Table(
            group_id=np.array([group.group_id for group, _ in here], dtype=np.str_),
            period=np.array([period.index for _, period in here], dtype=np.int64),
            start=np.array([period.start for _, period in here], dtype="datetime64[D]"),
        )
        for one in fields(self):
            value = getattr(self, one.name)
            if isinstance(value, np.ndarray):
                columns[one.name] = value.ravel()
        for key, value in self.least.items():
            unit = NUTRIENTS[key].unit.split()[0].lower()
            columns[f"{key}_{unit}"] = value.ravel()
        columns["stage"] = np.array([word for row in self.stage for word in row], dtype=np.str_)
        return columns


def season_periods(season: Season) -> tuple[Period, ...]:
    """Cut a season into periods of equal length, the last one as short as it must be.

    Parameters
    ----------
    season : Season
        The span, and the length of a period. [d]

    Returns
    -------
    tuple of Period
        In order, without a gap.

    Examples
    --------
    >>> season = Season(start=date(2026, 11, 1), end=date(2026, 11, 18), period_days=7)
    >>> [period.days for period in season_periods(season)]
    [7, 7, 3]
    """
    periods: list[Period] = []
    day = season.start
    while day < season.end:
        length = min(season.period_days, (season.end - day).days)
        periods.append(Period(len(periods), day, length))
        day += timedelta(days=length)
    return tuple(periods)


def needs_of(farm: Farm) -> NeedTable:
    """Return what every group of a farm needs in every period of its season.

    Needs are those of the day in the middle of each period, or means over its days where cold,
    weather or spread calving make them differ. Where the folder states a need of
    its own for a group and day, that statement replaces the computed need as a whole. Small stock
    and horses are counted in TDN, so their needs are stated here where the folder does not.

    Parameters
    ----------
    farm : Farm
        Groups, season, stated needs and weather are read.

    Returns
    -------
    NeedTable
        Per head and day, shape (groups, periods).

    Raises
    ------
    OutOfRange
        If a group leaves the range of its equations; the message names it.
    """
    groups, by_folder = farm.groups, farm.needs
    farm = with_stated_needs(farm)
    periods = season_periods(farm.season)
    middles = [period.start + timedelta(days=period.days // 2) for period in periods]
    series = [season_series(farm, group, periods) for group in farm.groups]
    stated = [
        [_stated_need(farm.needs, group.group_id, day) for day in middles] for group in farm.groups
    ]
    own = np.array(
        [
            [_stated_need(by_folder, one.group_id, day) is not None for day in middles]
            for one in groups
        ],
        dtype=bool,
    ).reshape(len(groups), len(periods))
    return replace(_table(farm, periods, series, stated, own), groups=groups)


def _table(
    farm: Farm,
    periods: tuple[Period, ...],
    series: list[NeedSeries],
    stated: list[list[StatedNeed | None]],
    own_need: BoolArray,
) -> NeedTable:
    shape = (len(farm.groups), len(periods))
    is_stated = np.array([[s is not None for s in row] for row in stated], dtype=bool)
    is_stated = is_stated.reshape(shape)

    def computed(pick: Callable[[NeedSeries], FloatArray]) -> FloatArray:
        values = [np.asarray(pick(one), dtype=np.float64) for one in series]
        return np.array(values, dtype=np.float64).reshape(shape)

    def own(name: str) -> FloatArray:
        values = [[_value(need, name) for need in row] for row in stated]
        return np.array(values, dtype=np.float64).reshape(shape)

    def at_least(one: Nutrient) -> FloatArray:
        nothing = np.full(len(periods), np.nan)

        def told(series: NeedSeries) -> FloatArray:
            values = series.constituent(one.need)
            return nothing if values is None else values

        return one.need_scale * np.where(is_stated, own(one.need), computed(told))

    full = computed(lambda one: one.full_weight_kg)
    retained = np.where(is_stated, 0.0, computed(lambda one: one.retained_energy_mcal))
    least = {one.key: at_least(one) for one in AT_LEAST}
    least["forage"] = _least_forage(farm, full, own_need)
    shrunk = computed(lambda one: one.shrunk_weight_kg)
    carrying = np.array([counts_as_pregnant(group, farm) for group in farm.groups], dtype=bool)
    pregnant = _counts_as_pregnant(
        is_some(computed(lambda one: one.pregnant.astype(np.float64))) | carrying.reshape(-1, 1)
    )
    of_farm = _default(farm.season.least_ca_to_p, LEAST_CA_TO_P)
    ratio = np.array([[least_ca_to_p(group, of_farm)] for group in farm.groups]).reshape(-1, 1)
    floor = np.array([[least_cp_frac(group)] for group in farm.groups]).reshape(-1, 1)
    fills = [most_ndf_kg(*one) for one in zip(farm.groups, series, strict=True)]
    return NeedTable(
        groups=farm.groups,
        periods=periods,
        days=_days_present(farm.groups, periods),
        head=np.array([[float(group.head)] * len(periods) for group in farm.groups]).reshape(shape),
        stage=tuple(one.stage for one in series),
        stated=is_stated,
        own=own_need,
        growing=is_some(retained),
        pregnant=pregnant,
        least=least,
        floors=floors_g_per_kg(farm, periods, series, own_need),
        retained_mcal=retained,
        # Where needs are stated, no gain is asked for but the one that they are worked out for.
        gain_kg=np.where(own_need, 0.0, computed(lambda one: one.gain_kg)),
        cp_floor_frac=np.where(own_need, np.nan, floor),
        ca_to_p=np.where(own_need, np.nan, ratio),
        most_dm_kg=np.where(is_stated, own("most_dm_kg"), np.nan),
        most_ndf_kg=np.where(own_need, np.nan, np.array(fills).reshape(shape)),
        most_nitrate_ppm=np.where(
            pregnant, amount_of("nitrate-diet-pregnant"), amount_of("nitrate-diet")
        ).astype(np.float64),
        shrunk_weight_kg=shrunk,
        scaled_weight_kg=_scaled(farm.groups, shrunk),
        full_weight_kg=full,
        milk_kg=computed(lambda one: one.milk_kg),
        intake_rule=tuple(one.intake_rule for one in series),
        intake_factor=computed(lambda one: one.intake_factor),
        assumptions=_assumptions(farm, series, is_stated, own_need),
    )


def _counts_as_pregnant(pregnant: BoolArray) -> BoolArray:
    """Return where a group counts as pregnant for a hazard: all season if it ever is.

    Calving is spread around its date and breeding is not seen at once: a group with one
    pregnant animal in it is fed as a pregnant group.
    """
    return np.repeat(pregnant.any(axis=1, keepdims=True), pregnant.shape[1], axis=1)


def _scaled(groups: Sequence[Group], shrunk: FloatArray) -> FloatArray:
    """Return weights scaled to the reference size, by which gain of cattle is told from energy."""
    rows = np.full(shrunk.shape, np.nan)
    for index, group in enumerate(groups):
        if group.animal_class not in IN_TDN:
            own = settings_of(group).final_shrunk_weight_kg
            rows[index] = size_scaled_weight_kg(shrunk[index], own or shrunk[index])
    return rows


def _value(need: StatedNeed | None, name: str) -> float:
    value = getattr(need, name, None)
    return np.nan if value is None else float(value)


def _default(value: float | None, otherwise: float) -> float:
    return otherwise if value is None else value


def _least_forage(farm: Farm, full_weight: FloatArray, own: BoolArray) -> FloatArray:
    season = farm.season.least_forage_pct_bw
    rows = np.full(full_weight.shape, np.nan)
    for index, group in enumerate(farm.groups):
        share = group.least_forage_pct_bw
        if share is None and group.animal_class not in IN_TDN:
            share = _default(season, LEAST_FORAGE_PCT_BW)
        rows[index] = least_forage_kg(group, full_weight[index], share)
        if group.least_forage_pct_bw is None:
            rows[index, own[index]] = np.nan
    return rows


def _days_present(groups: Sequence[Group], periods: Sequence[Period]) -> FloatArray:
    days = np.zeros((len(groups), len(periods)))
    for g, group in enumerate(groups):
        for period in periods:
            end = period.start + timedelta(days=period.days)
            first = max(period.start, group.from_on or period.start)
            last = min(end, group.to_on or end)
            days[g, period.index] = max(0, (last - first).days)
    return days


def _stated_need(needs: Sequence[StatedNeed], group_id: str, day: date) -> StatedNeed | None:
    for need in needs:
        if need.group_id == group_id and need.start <= day < need.end:
            return need
    return None


def _assumptions(
    farm: Farm, series: Sequence[NeedSeries], stated: BoolArray, own: BoolArray
) -> tuple[Assumption, ...]:
    found = [assumption for one in series for assumption in one.assumptions]
    for index, group in enumerate(farm.groups):
        if stated[index].any() and group.animal_class not in IN_TDN:
            found.append(assumed("stated_needs", group=group.name))
    found += class_notes(farm, ~own, series)
    if not stated.all():
        found.append(assumed("protein_floor", floor=CP_FLOOR_PCT))
        found.append(assumed("fiber_cap", cap=NDF_CAP_PCT_BW))
    return tuple(dict.fromkeys(found))
