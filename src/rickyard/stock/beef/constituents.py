"""Minerals, vitamins, salt and water of a herd through the season, per head and day.

Needs that are printed as a share of the diet are told for what is eaten of a usual hay.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import KG_PER_LB, LITRE_PER_US_GALLON
from rickyard.stock.beef.herd_arrays import Days, Herd
from rickyard.stock.common import Cycle
from rickyard.stock.minerals import MINERALS_2016, SALT_PCT, STAGES, vitamins, water
from rickyard.types import FloatArray

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
