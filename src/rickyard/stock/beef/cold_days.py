"""What days of cold, wind and rain add to the needs of a herd, and when it can be fed."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.farm import ColdRule
from rickyard.stock.beef.herd_arrays import Days, Herd
from rickyard.stock.cold import (
    PCT_PER_F_DRY,
    PCT_PER_F_WET,
    WET_CRITICAL_F,
    WET_FACTOR,
    coat_insulation,
    cold_pct,
    effective_temperature_c,
    heat_made_mcal,
    nem_cold_mcal,
    storm_schedule,
    tissue_insulation,
)
from rickyard.stock.common import Conditions
from rickyard.stock.equations import DAYS_PER_MONTH
from rickyard.types import FloatArray

_WET_CRITICAL_C: Final = (WET_CRITICAL_F - 32.0) / 1.8


def add_cold(out: dict[str, FloatArray], herd: Herd, days: Days, chosen: Conditions) -> None:
    """Add the energy of cold to the needs of a herd.

    ``out``: needs so far; ``nem_cold_mcal`` (what is fed for the cold) and ``cold_owed_mcal`` (what
    a storm took and is still owed) are added. ``chosen``: which rule of cold, and which wind chill.

    At most a quarter of a day's energy is fed for the cold, the rest is carried over to the days
    after (common practice). Mud under the percent rule adds a fifth to maintenance on every day and
    is not carried. Days without a temperature add nothing, nor do days before a group is weighed:
    what cold took elsewhere is not owed here.
    """
    if chosen.cold_rule is ColdRule.NONE:
        out["nem_cold_mcal"] = np.zeros(out["gain_kg"].shape)
        out["cold_owed_mcal"] = out["nem_cold_mcal"]
        return
    maintenance = out["nem_maintenance_mcal"]
    mild = maintenance + out["nem_lactation_mcal"] + out["nem_pregnancy_mcal"]
    mud = 0.0 * maintenance
    if chosen.cold_rule is ColdRule.PERCENT:
        mud = herd.mud_adds[:, np.newaxis] * maintenance
        extra = _by_percent_pct(herd, days, chosen) / 100.0 * maintenance
    else:
        extra = _by_factors(out, herd, days)
    elsewhere = days.on < herd.weighed_on[:, np.newaxis]
    extra = np.where(np.isnan(days.temperature_c) | elsewhere, 0.0, extra)
    fed, owed = storm_schedule(extra, mild + mud)
    out["nem_cold_mcal"] = fed + mud
    out["cold_owed_mcal"] = owed


def _by_percent_pct(herd: Herd, days: Days, chosen: Conditions) -> FloatArray:
    air = days.temperature_c
    felt = np.asarray(
        effective_temperature_c(air, np.nan_to_num(days.wind_km_per_h), chosen.wind_chill)
    )
    felt = np.where(herd.windbreak[:, np.newaxis], air, felt)
    critical = np.where(days.wet, _WET_CRITICAL_C, herd.critical_c[:, np.newaxis])
    return np.asarray(cold_pct(felt, critical, np.where(days.wet, PCT_PER_F_WET, PCT_PER_F_DRY)))


def _by_factors(out: dict[str, FloatArray], herd: Herd, days: Days) -> FloatArray:
    weight = out["shrunk_weight_kg"]
    heat = heat_made_mcal(
        out["nem_maintenance_mcal"],
        out["nem_lactation_mcal"],
        out["nem_pregnancy_mcal"],
        out["retained_energy_mcal"],
    )
    wind = np.where(herd.windbreak[:, np.newaxis], 0.0, np.nan_to_num(days.wind_km_per_h))
    left = herd.mud_left[:, np.newaxis]
    left = np.where(days.wet, np.minimum(left, WET_FACTOR), left)
    coat = coat_insulation(herd.hair_cm[:, np.newaxis], wind, left, herd.hide_factor[:, np.newaxis])
    age = herd.age_months[:, np.newaxis] + (days.on - herd.weighed_on[:, np.newaxis]) / (
        DAYS_PER_MONTH
    )
    age = np.where(np.isnan(age), np.inf, np.maximum(age, 0.0))
    tissue = tissue_insulation(herd.condition_score[:, np.newaxis], age)
    return np.asarray(nem_cold_mcal(days.temperature_c, heat, weight, tissue + coat))
