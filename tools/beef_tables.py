"""Names of the tables of beef needs, printed and derived, that are set beside computed values.

Cells that the check files name already are computed by the functions given there.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final

import numpy as np

from rickyard.farm import WindChill
from rickyard.forage.energy.energy import neg_from_tdn, nem_from_tdn
from rickyard.match.least_density import Density, cow_density, density_for_need
from rickyard.match.matching import diet_cp_pct
from rickyard.quantities import KG_PER_LB, KM_PER_MILE, UNITS
from rickyard.stock.cold.cold import (
    coat_insulation,
    heat_made_mcal,
    lower_critical_temperature_c,
    nem_cold_mcal,
    tissue_insulation,
)
from rickyard.stock.cold.wind_chill import effective_temperature_c
from rickyard.stock.common.weights import size_scaled_weight_kg
from rickyard.stock.equations import appetite_factors, growth
from rickyard.stock.equations.by_month import DAYS_PER_MONTH, CowMonth, cow_month
from rickyard.stock.equations.condition import body_fat_pct, relative_weight_frac
from rickyard.stock.equations.lactation import milk_energy_mcal_per_kg
from rickyard.stock.equations.maintenance import BREEDS, nem_maintenance_mcal
from rickyard.stock.equations.pregnancy import (
    KM_HAY,
    conceptus_kg,
    mp_pregnancy_g,
    nem_pregnancy_mcal,
)
from rickyard.stock.equations.protein import cp_kg_from_mp, microbial_cp_g, mp_maintenance_g
from rickyard.stock.minerals.calcium_phosphorus import calcium_phosphorus_g
from rickyard.stock.minerals.diet_minerals import STAGES, minerals, most_sulfur_pct
from rickyard.stock.minerals.vitamins import vitamin_a_iu_per_kg, vitamin_d_iu, vitamin_e_iu
from rickyard.verify.names_stock import STOCK
from rickyard.verify.quantity import Inputs, Quantity

#: The cells that the check files do not hold, in the same form.
FILE: Final = Path(__file__).parent / "data" / "beef_tables.csv"


def _kg(q: Inputs, name: str) -> float:
    return float(q[name]) * KG_PER_LB


def _cow_1200(q: Inputs) -> CowMonth:
    return cow_month(q["month"], _kg(q, "sbw_lb"), _kg(q, "peak_milk_lb"))


def _diet_1200(q: Inputs) -> Density:
    return cow_density(q["month"], _kg(q, "sbw_lb"), _kg(q, "peak_milk_lb"))


def _first_calf(q: Inputs) -> dict[str, float]:
    mature = _kg(q, "mature_sbw_lb")
    share = growth.SECOND_CALVING_SHARE - growth.FIRST_CALVING_SHARE
    gain = share * mature / 365.0
    weight = growth.FIRST_CALVING_SHARE * mature + gain * DAYS_PER_MONTH * q["month"]
    cow = cow_month(q["month"], weight, _kg(q, "peak_milk_lb"), q["calf_birth_wt_kg"])
    size = size_scaled_weight_kg(weight, mature)
    return {
        "sbw": weight / KG_PER_LB,
        "milk": cow.milk_kg / KG_PER_LB,
        "nem": cow.nem_mcal,
        "neg": growth.retained_energy_mcal(gain, size),
        "mp": cow.mp_g + growth.mp_gain_g(gain, size),
    }


def _bred_heifer(q: Inputs) -> dict[str, float]:
    mature, calf = _kg(q, "mature_sbw_lb"), q["calf_birth_wt_kg"]
    share = growth.FIRST_CALVING_SHARE - growth.BREEDING_SHARE
    gain = share * mature / growth.BREEDING_TO_CALVING_DAYS
    day = DAYS_PER_MONTH * q["month_pregnant"]
    weight = growth.BREEDING_SHARE * mature + gain * day
    size = size_scaled_weight_kg(weight, mature)
    return {
        "sbw": weight / KG_PER_LB,
        "conceptus": conceptus_kg(day, calf) / KG_PER_LB,
        "nem_maint": nem_maintenance_mcal(weight),
        "nem_preg": nem_pregnancy_mcal(day, calf),
        "neg": growth.retained_energy_mcal(gain, size),
        "mp": mp_maintenance_g(weight) + mp_pregnancy_g(day, calf) + growth.mp_gain_g(gain, size),
    }


# ---- growing stock ----


def _stocker(q: Inputs) -> dict[str, float]:
    weight, gain = _kg(q, "sbw_lb"), _kg(q, "adg_lb")
    size = size_scaled_weight_kg(weight, _kg(q, "finish_sbw_lb"))
    nem, retained = nem_maintenance_mcal(weight), growth.retained_energy_mcal(gain, size)
    # The table was solved with the gain regression, which is not the exact inverse.
    by_regression = (gain * size**0.6837 / 13.91) ** (1.0 / 0.9116)
    diet = density_for_need(nem, by_regression, weight, q["rule"])
    mp = mp_maintenance_g(weight) + growth.mp_gain_g(gain, size)
    protein = growth.net_protein_gain_g(gain, size)
    calcium, phosphorus = calcium_phosphorus_g(weight, net_protein_gain_g=protein)
    return {
        "nem": nem,
        "neg": retained,
        "dmi": diet.intake_kg / KG_PER_LB,
        "tdn": diet.tdn_pct,
        "cp": cp_kg_from_mp(mp) / KG_PER_LB,
        "cp_pct": diet_cp_pct(mp, diet.intake_kg),
        "ca": calcium,
        "p": phosphorus,
    }


def _mature_bull(q: Inputs) -> dict[str, float]:
    weight = _kg(q, "sbw_lb")
    nem = nem_maintenance_mcal(weight, intact_male=True)
    diet = density_for_need(nem, 0.0, weight, "yearling")
    return {"nem": nem, "tdn": diet.tdn_pct, "dmi": diet.intake_kg / KG_PER_LB}


def _wind_chill_f(q: Inputs) -> float:
    air_c = UNITS["degF"].to_canonical(q["temp_F"])
    felt = effective_temperature_c(air_c, q["wind_mph"] * KM_PER_MILE, WindChill(q["chart"]))
    return UNITS["degF"].from_canonical(float(felt))


def _cold(q: Inputs) -> dict[str, float]:
    """Return what the factorial method says of a dry cow at maintenance."""
    weight = q["sbw_kg"]
    coat = coat_insulation(q["hair_cm"], q.get("wind_kph", 0.0), q.get("mud", 1.0))
    held = float(tissue_insulation(q["bcs"]) + coat)
    maintenance = nem_maintenance_mcal(weight, condition_score=q["bcs"])
    heat = heat_made_mcal(maintenance)
    limit = float(lower_critical_temperature_c(heat, weight, held))
    below = nem_cold_mcal(limit - 10.0, heat, weight, held)
    return {
        "coat": float(coat),
        "insulation": held,
        "lct_c": limit,
        "lct_f": UNITS["degF"].from_canonical(limit),
        "pct_per_f": 100.0 * below / maintenance / 18.0,
    }


def _tdn_for_gain(q: Inputs) -> float:
    weight, gain = _kg(q, "sbw_lb"), _kg(q, "adg_lb")
    size = size_scaled_weight_kg(weight, _kg(q, "finish_sbw_lb"))
    by_regression = (gain * size**0.6837 / 13.91) ** (1.0 / 0.9116)
    return float(
        density_for_need(nem_maintenance_mcal(weight), by_regression, weight, "calf").tdn_pct
    )


def _weight_of_a_score_lb(q: Inputs) -> float:
    change = relative_weight_frac(np.array([q["to_bcs"], q["from_bcs"]]))
    return float(q["sbw_at_bcs5_lb"] * (change[0] - change[1]))


def _mineral_need(q: Inputs) -> float:
    need = minerals(q["edition"])[q["mineral"]].need
    return float("nan") if need is None else need[STAGES.index(q["stage"])]


def _mineral_most(q: Inputs) -> float:
    most = minerals(q["edition"])[q["mineral"]].most
    return float("nan") if most is None else most


def _part(of: Callable[[Inputs], dict[str, float]], name: str) -> Quantity:
    return lambda q: of(q)[name]


#: What computes each quantity of the tables.
BEEF_TABLES: Final[dict[str, Quantity]] = {
    **STOCK,
    "body_fat_pct": lambda q: body_fat_pct(q["bcs"]),
    "cow_nem": lambda q: _cow_1200(q).nem_mcal,
    "cow_dmi": lambda q: _diet_1200(q).intake_kg / KG_PER_LB,
    "cow_tdn": lambda q: _diet_1200(q).tdn_pct,
    "cow_cp": lambda q: diet_cp_pct(_cow_1200(q).mp_g, _diet_1200(q).intake_kg),
    **{
        f"first_calf_{name}": _part(_first_calf, name)
        for name in ("sbw", "milk", "nem", "neg", "mp")
    },
    **{
        f"bred_heifer_{name}": _part(_bred_heifer, name)
        for name in ("sbw", "conceptus", "nem_maint", "nem_preg", "neg", "mp")
    },
    **{f"mature_bull_{name}": _part(_mature_bull, name) for name in ("nem", "tdn", "dmi")},
    **{
        f"stocker_{name}": _part(_stocker, name)
        for name in ("nem", "neg", "dmi", "tdn", "cp", "cp_pct", "ca", "p")
    },
    **{
        f"cold_{name}": _part(_cold, name)
        for name in ("coat", "insulation", "lct_c", "lct_f", "pct_per_f")
    },
    "wind_chill": _wind_chill_f,
    "me_pregnancy_kcal": lambda q: (
        1000.0 * nem_pregnancy_mcal(q["gestation_day"], q["calf_birth_wt_kg"]) / KM_HAY
    ),
    "microbial_cp_g": lambda q: microbial_cp_g(q["tdn_g"], q["level"]),
    "milk_energy": lambda q: milk_energy_mcal_per_kg(q["fat_pct"], q["snf_pct"]),
    "nem_of_tdn": lambda q: nem_from_tdn(q["tdn_pct"]),
    "neg_of_tdn": lambda q: neg_from_tdn(q["tdn_pct"]),
    "tdn_for_gain": _tdn_for_gain,
    "diet_mineral": _mineral_need,
    "diet_mineral_most": _mineral_most,
    "most_sulfur": lambda q: most_sulfur_pct(q["forage_pct"], q["edition"]),
    "vitamin_a_IU_per_lb_bw": lambda q: vitamin_a_iu_per_kg(q["class"], by_weight=True) * KG_PER_LB,
    "vitamin_d_IU_per_lb_bw": lambda _: vitamin_d_iu(KG_PER_LB),
    "vitamin_e_IU_per_lb_dm": lambda q: vitamin_e_iu(KG_PER_LB, stressed=q["stressed"]),
    "intake_temperature": lambda q: appetite_factors.temperature_factor(
        q["temp_C"], cool_nights=q["cool_nights"]
    ),
    "intake_breed": lambda q: appetite_factors.breed_factor(q["breed"]),
    "intake_fat": lambda q: appetite_factors.fat_factor(q["eqsbw_kg"]),
    "intake_mud": lambda q: appetite_factors.mud_factor(q["depth_cm"]),
    "breed_maintenance": lambda q: BREEDS[q["breed"]].maintenance_factor,
    "breed_birth_weight": lambda q: BREEDS[q["breed"]].birth_weight_kg,
    "breed_peak_milk": lambda q: BREEDS[q["breed"]].peak_milk_kg_per_day,
    "weight_of_a_score_lb": _weight_of_a_score_lb,
}
