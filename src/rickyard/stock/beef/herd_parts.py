"""Groups and days as arrays, and what they eat, what cold adds, minerals, vitamins and water.

``Herd`` holds a row for each of N groups, ``Days`` an entry for each of T days. Needs that are
printed as a share of the diet are told for what is eaten of a usual hay.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import ColdRule
from rickyard.quantities import KG_PER_LB, LITRE_PER_US_GALLON
from rickyard.stock.beef.defaults import GESTATION_DAYS
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
from rickyard.stock.common import Breeding, Conditions, Cycle
from rickyard.stock.equations import (
    CALIBRATION_DRY_PREGNANT,
    CALIBRATION_LACTATING,
    DAYS_PER_MONTH,
    INTAKE_PER_MILK,
    RULES,
    appetite_per_kg075,
    growing_state,
    temperature_factor,
)
from rickyard.stock.minerals import MINERALS_2016, SALT_PCT, STAGES, vitamins, water
from rickyard.types import BoolArray, FloatArray


@dataclass(frozen=True, slots=True)
class Herd(Breeding):
    """What decides the needs of N groups beside their breeding years, arrays of shape (N,).

    ``stated_gain_kg`` is the gain that was asked for, NaN for none; it holds until the next calving
    of an animal that calves. The gains before the first calving and in the year after it are by
    rule. ``final_shrunk_weight_kg`` is NaN for stock that does not grow, ``age_months`` (on the
    day of weighing) where it is not known. ``is_cow`` marks classes that eat by the equations of
    cows, ``is_heifer`` those in calf for the first time, ``is_breeding_bull`` mature bulls.
    ``mud_adds`` is what mud adds to maintenance under the percent rule, ``mud_left`` what it
    leaves of the coat under the factorial one. ``condition_mcal`` is fed each day before
    ``condition_until`` to change condition.
    """

    shrunk_weight_kg: FloatArray
    weighed_on: FloatArray
    stated_gain_kg: FloatArray
    gain_before_calving_kg: FloatArray
    gain_after_calving_kg: FloatArray
    final_shrunk_weight_kg: FloatArray
    age_months: FloatArray
    is_cow: BoolArray
    is_heifer: BoolArray
    is_breeding_bull: BoolArray
    intact_male: BoolArray
    breed_factor: FloatArray
    activity_factor: FloatArray
    heat_factor: FloatArray
    peak_milk_kg: FloatArray
    birth_weight_kg: FloatArray
    first_birth_weight_kg: FloatArray
    condition_score: FloatArray
    condition_mcal: FloatArray
    condition_until: FloatArray
    critical_c: FloatArray
    hair_cm: FloatArray
    hide_factor: FloatArray
    mud_left: FloatArray
    mud_adds: FloatArray
    windbreak: BoolArray
    appetite_factor: FloatArray

    def rows(self, first: int, last: int) -> Herd:
        """Return the groups from one index up to another."""
        return Herd(*(getattr(self, entry.name)[first:last] for entry in fields(self)))


@dataclass(frozen=True, slots=True)
class Days:
    """The T days asked for, arrays of shape (T,); NaN where the weather is not known.

    ``on`` are ordinals. Under a rule of cold the days must follow one another, because what
    cannot be fed inside a storm is carried over.
    """

    on: FloatArray
    previous_month_c: FloatArray
    temperature_c: FloatArray
    wind_km_per_h: FloatArray
    wet: BoolArray


@dataclass(frozen=True, slots=True)
class HerdNeeds:
    """Needs per head and day of N groups on T days, arrays of shape (N, T).

    ``intake_state`` indexes ``intake.RULES``. ``values`` holds every need by its name with
    unit; ``cold_owed_mcal`` is the energy of storms that could not be fed yet.
    """

    cycle: Cycle
    intake_state: NDArray[np.int8]
    values: dict[str, FloatArray]

    def __getitem__(self, name: str) -> FloatArray:
        """Return one need."""
        return self.values[name]


#: Where each rule of intake stands in ``intake.RULES``.
COW_EARLY: Final = RULES.index("cow_early")
COW_LATE: Final = RULES.index("cow_late")

#: An ordinary hay of about 55 % TDN, for needs that are a share of what is eaten. [Mcal/kg DM]
USUAL_HAY_NEM: Final = 1.14


def add_intake(
    out: dict[str, FloatArray],
    herd: Herd,
    days: Days,
    chosen: Conditions,
    cycle: Cycle,
    metabolic: FloatArray,
) -> NDArray[np.int8]:
    """Add what a herd eats of a usual hay to its needs, and return by which rule.

    ``out``: needs so far; ``intake_factor`` and ``usual_hay_dm_kg`` are added. ``chosen``: whether
    intake is calibrated, and follows the weather. ``cycle``: where each group stands in its
    breeding year.

    Only cows were measured, so a heifer is calibrated from her first calving.
    """
    cow = herd.is_cow[:, np.newaxis]
    late = cycle.day_pregnant > GESTATION_DAYS / 3.0
    age = herd.age_months[:, np.newaxis] + (days.on - herd.weighed_on[:, np.newaxis]) / (
        DAYS_PER_MONTH
    )
    growing = growing_state(age)
    state = np.where(cow, np.where(late, COW_LATE, COW_EARLY), growing).astype(np.int8)
    factor = np.ones(metabolic.shape)
    if chosen.calibrated:
        applies = cow & (~herd.is_heifer[:, np.newaxis] | (cycle.births > 0.0))
        dry = np.where(cycle.pregnant & late, CALIBRATION_DRY_PREGNANT, 1.0)
        factor = np.where(applies, np.where(cycle.nursing, CALIBRATION_LACTATING, dry), 1.0)
    factor = factor * herd.appetite_factor[:, np.newaxis]
    if chosen.intake_by_weather:
        # A day whose weather nobody knows changes nothing.
        by_day = temperature_factor(days.temperature_c)
        factor = factor * np.where(np.isnan(by_day), 1.0, by_day)
    out["intake_factor"] = factor
    share = np.array([appetite_per_kg075(rule, USUAL_HAY_NEM) for rule in RULES])
    extra = np.where(cow, INTAKE_PER_MILK, 0.0) * out["milk_kg"]
    out["usual_hay_dm_kg"] = (metabolic * share[state] + extra) * factor
    return state


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


MG_PER_KG_PPM: Final = 1.0  # milligrams in a kilogram at one ppm
G_PER_KG_PCT: Final = 10.0  # grams in a kilogram at one percent

#: What each mineral is called as a daily need, with its unit.
MINERAL_NAMES: Final = {
    symbol: f"{symbol}_{'g' if mineral.unit == 'pct' else 'mg'}"
    for symbol, mineral in MINERALS_2016.items()
}
#: Every constituent that is told beside energy, protein, calcium and phosphorus.
NAMES: Final = (
    "conceptus_kg",
    "cold_owed_mcal",
    "usual_hay_dm_kg",
    *MINERAL_NAMES.values(),
    "salt_g",
    "vitamin_a_iu",
    "vitamin_d_iu",
    "vitamin_e_iu",
    "water_l",
)

#: Weights of the two classes of growing cattle in the table of water. [kg]
_LIGHT_KG: Final = 500.0 * KG_PER_LB
_HEAVY_KG: Final = 800.0 * KG_PER_LB
_MOST_C: Final = (water.MOST_TEMPERATURE_F - 32.0) / 1.8


def add_constituents(out: dict[str, FloatArray], herd: Herd, days: Days, cycle: Cycle) -> None:
    """Add minerals, vitamins, salt and water to the needs of a herd.

    ``out``: needs so far, with ``usual_hay_dm_kg``; the constituents of ``NAMES`` are added,
    minerals in g or mg, vitamins in IU, water in L. ``cycle``: where each group stands in its
    breeding year.

    Minerals of NASEM 2016. A dry cow that is not pregnant counts as gestating. Water is held at the
    ends of its table (1,100 to 1,500 lb, 25 lb of milk, 90 °F) and NaN on days without a
    temperature.
    """
    eaten, weight = out["usual_hay_dm_kg"], out["full_weight_kg"]
    cow = herd.is_cow[:, np.newaxis]
    stage = np.where(cycle.nursing, 2, np.where(cow, 1, 0))
    for symbol, mineral in MINERALS_2016.items():
        need = mineral.need
        assert need is not None  # every mineral of this edition has one
        per_kg = G_PER_KG_PCT if mineral.unit == "pct" else MG_PER_KG_PPM
        same = len(set(need)) == 1
        density = need[0] * per_kg if same else (np.array(need) * per_kg)[stage]
        out[MINERAL_NAMES[symbol]] = density * eaten
    out["salt_g"] = SALT_PCT * G_PER_KG_PCT * eaten
    stage = np.where(herd.is_breeding_bull[:, np.newaxis], 2, stage)
    per_lb = np.array([vitamins.VITAMIN_A_IU_PER_LB_BW[_A_STAGE[name]] for name in STAGES])
    out["vitamin_a_iu"] = (per_lb / KG_PER_LB)[stage] * weight
    out["vitamin_d_iu"] = vitamins.VITAMIN_D_IU_PER_LB_BW / KG_PER_LB * weight
    out["vitamin_e_iu"] = vitamins.VITAMIN_E_IU_PER_LB_DM / KG_PER_LB * eaten
    out["water_l"] = _water_litres(herd, days, cycle, weight, out["milk_kg"])


_A_STAGE: Final = {"growing": "growing", "gestating": "pregnant", "lactating": "lactating"}


def _water_litres(
    herd: Herd, days: Days, cycle: Cycle, weight: FloatArray, milk: FloatArray
) -> FloatArray:
    weight_lb = np.clip(weight / KG_PER_LB, *water.WEIGHT_RANGE_LB)
    milk_lb = np.minimum(milk / KG_PER_LB, water.MOST_MILK_LB)
    air = np.minimum(days.temperature_c, _MOST_C)
    gallons = water.cow_gallons(weight_lb, milk_lb, air * 1.8 + 32.0, cycle.nursing)
    litres: FloatArray = gallons * LITRE_PER_US_GALLON
    if np.all(herd.is_cow):
        return litres
    known = np.where(np.isnan(air), 0.0, air)
    light, heavy, bull = (
        np.asarray(water.drinking_water_litres(animal, known))
        for animal in ("calf_500lb", "growing_800lb", "mature_bull")
    )
    share = (weight - _LIGHT_KG) / (_HEAVY_KG - _LIGHT_KG)
    growing = light + np.maximum(share, 0.0) * (heavy - light)
    growing = np.where(herd.is_breeding_bull[:, np.newaxis], bull, growing)
    growing = np.where(np.isnan(air), np.nan, growing)
    return np.where(herd.is_cow[:, np.newaxis], litres, growing)
