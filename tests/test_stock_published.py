"""Every cell of the printed and derived beef tables that the needs of stock must reproduce."""

import csv
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rickyard.forage.energy import nem_from_tdn
from rickyard.program.density import CowNeed, Density, cow_density, density_for_need, mean_cow_need
from rickyard.program.matching import (
    diet_cp_pct,
    extra_feed_kg,
    feed_for_maintenance_kg,
    gain_from_intake,
)
from rickyard.quantities import KG_PER_LB, LITRE_PER_US_GALLON
from rickyard.stock import growth
from rickyard.stock.by_month import DAYS_PER_MONTH, CowMonth, cow_month
from rickyard.stock.condition import (
    body_fat_pct,
    days_to_gain_condition,
    energy_between_scores_mcal,
    relative_weight_frac,
    weight_after_scores_kg,
)
from rickyard.stock.intake import appetite_kg, forage_intake_pct_bw, ndf_cap_kg
from rickyard.stock.lactation import milk_kg
from rickyard.stock.maintenance import nem_maintenance_mcal
from rickyard.stock.minerals import calcium_g, phosphorus_g
from rickyard.stock.pregnancy import conceptus_kg, mp_pregnancy_g, nem_pregnancy_mcal
from rickyard.stock.protein import cp_kg_from_mp, mp_maintenance_g
from rickyard.stock.vitamins import vitamin_a_iu_per_kg
from rickyard.stock.water import water_litres
from rickyard.stock.weights import size_scaled_weight_kg

Inputs = dict[str, Any]
TABLE = Path(__file__).parent / "published" / "beef.csv"
ROUNDING = 1e-9  # a limit that is met exactly may miss it by the spacing of floats


def kg(q: Inputs, name: str) -> float:
    return float(q[name]) * KG_PER_LB


def scaled(q: Inputs, final: str) -> float:
    return float(size_scaled_weight_kg(kg(q, "sbw_lb"), kg(q, final), q["srw_kg"]))


# ---- the mature cow ----


def unl_cow(q: Inputs) -> CowMonth:
    month, weight = q["month_since_calving"], q["sbw_kg"]
    return cow_month(month, weight, q["peak_milk_kg"], q["calf_birth_wt_kg"])


def cow_1200(q: Inputs) -> CowMonth:
    return cow_month(q["month"], kg(q, "sbw_lb"), kg(q, "peak_milk_lb"))


def diet_1200(q: Inputs) -> Density:
    return cow_density(q["month"], kg(q, "sbw_lb"), kg(q, "peak_milk_lb"))


def mean_cow(q: Inputs) -> CowNeed:
    weight = kg(q, "cow_lb") * q["shrink"]
    return mean_cow_need(q["months"], weight, kg(q, "peak_milk_lb"), q["calf_birth_wt_kg"])


# ---- heifers in calf, from the same functions that the herd uses ----


def first_calf(q: Inputs) -> dict[str, float]:
    mature = kg(q, "mature_sbw_lb")
    share = growth.SECOND_CALVING_SHARE - growth.FIRST_CALVING_SHARE
    gain = share * mature / 365.0
    weight = growth.FIRST_CALVING_SHARE * mature + gain * DAYS_PER_MONTH * q["month"]
    cow = cow_month(q["month"], weight, kg(q, "peak_milk_lb"), q["calf_birth_wt_kg"])
    size = size_scaled_weight_kg(weight, mature)
    return {
        "sbw": weight / KG_PER_LB,
        "milk": cow.milk_kg / KG_PER_LB,
        "nem": cow.nem_mcal,
        "neg": growth.retained_energy_mcal(gain, size),
        "mp": cow.mp_g + growth.mp_gain_g(gain, size),
    }


def bred_heifer(q: Inputs) -> dict[str, float]:
    mature, calf = kg(q, "mature_sbw_lb"), q["calf_birth_wt_kg"]
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


def stocker(q: Inputs) -> dict[str, float]:
    weight, gain = kg(q, "sbw_lb"), kg(q, "adg_lb")
    size = size_scaled_weight_kg(weight, kg(q, "finish_sbw_lb"))
    nem, retained = nem_maintenance_mcal(weight), growth.retained_energy_mcal(gain, size)
    # The table was solved with the gain regression, which is not the exact inverse.
    by_regression = (gain * size**0.6837 / 13.91) ** (1.0 / 0.9116)
    diet = density_for_need(nem, by_regression, weight, q["rule"])
    mp = mp_maintenance_g(weight) + growth.mp_gain_g(gain, size)
    protein = growth.net_protein_gain_g(gain, size)
    return {
        "nem": nem,
        "neg": retained,
        "dmi": diet.intake_kg / KG_PER_LB,
        "tdn": diet.tdn_pct,
        "cp": cp_kg_from_mp(mp) / KG_PER_LB,
        "cp_pct": diet_cp_pct(mp, diet.intake_kg),
        "ca": calcium_g(weight, net_protein_gain_g=protein),
        "p": phosphorus_g(weight, net_protein_gain_g=protein),
    }


def bull_tdn_pct(q: Inputs) -> float:
    weight, size = kg(q, "sbw_lb"), scaled(q, "finish_sbw_lb_energy")
    nem = nem_maintenance_mcal(weight, intact_male=q["sex"] == "bull")
    retained = growth.retained_energy_mcal(kg(q, "adg_lb"), size)
    diet = density_for_need(nem, retained, weight, "calf", intake_kg=kg(q, "dmi_lb"))
    return float(diet.tdn_pct)


def bull_cp_pct(q: Inputs) -> float:
    gain_mp = growth.mp_gain_g(kg(q, "adg_lb"), scaled(q, "finish_sbw_lb_protein"))
    return float(diet_cp_pct(mp_maintenance_g(kg(q, "sbw_lb")) + gain_mp, kg(q, "dmi_lb")))


def mature_bull(q: Inputs) -> dict[str, float]:
    weight = kg(q, "sbw_lb")
    nem = nem_maintenance_mcal(weight, intact_male=True)
    diet = density_for_need(nem, 0.0, weight, "yearling")
    return {"nem": nem, "tdn": diet.tdn_pct, "dmi": diet.intake_kg / KG_PER_LB}


def maintenance(q: Inputs) -> float:
    need = nem_maintenance_mcal(
        kg(q, "sbw_lb"),
        breed_factor=q["breed_factor"],
        condition_score=q["bcs"],
        previous_month_temperature_c=q["prev_temp_C"],
    )
    return float(need)


def energy_for_gain(q: Inputs) -> float:
    nem, neg = q["diet_nem_Mcal_kg"], q["diet_neg_Mcal_kg"]
    return float(
        gain_from_intake(q["dmi_kg"], q["nem_req_Mcal"], nem, neg, 300.0).retained_energy_mcal
    )


def calcium(q: Inputs) -> float:
    need = calcium_g(
        q["sbw_kg"],
        net_protein_gain_g=q["net_protein_gain_g"],
        milk_kg=q["milk_kg"],
        birth_weight_kg=q["calf_birth_wt_kg"],
        last_90_days=q["last_90_days"],
    )
    return float(need)


def part(of: Callable[[Inputs], dict[str, float]], name: str) -> Callable[[Inputs], float]:
    return lambda q: of(q)[name]


EVALUATE: dict[str, Callable[[Inputs], float]] = {
    "nem_maintenance_cow_month": lambda q: unl_cow(q).nem_maintenance_mcal,
    "nem_lactation_cow_month": lambda q: unl_cow(q).nem_lactation_mcal,
    "nem_pregnancy_cow_month": lambda q: unl_cow(q).nem_pregnancy_mcal,
    "nem_total_cow_month": lambda q: unl_cow(q).nem_mcal,
    "nem_pregnancy": lambda q: nem_pregnancy_mcal(
        q["gestation_day"], q["calf_birth_wt_kg"], q["km"]
    ),
    "bcs_step_energy": lambda q: energy_between_scores_mcal(
        kg(q, "sbw_at_bcs5_lb"), q["from_bcs"], q["to_bcs"]
    ),
    "days_to_change_bcs": lambda q: days_to_gain_condition(
        q["energy_Mcal"], q["feed_lb_per_day"] * q["feed_nem_Mcal_per_lb"]
    ),
    "sbw_pct_of_bcs5": lambda q: 100.0 * relative_weight_frac(q["bcs"]),
    "body_fat_pct": lambda q: body_fat_pct(q["bcs"]),
    "bcs_rule_weight": lambda q: weight_after_scores_kg(
        q["weight_lb"], q["bcs_change"], q["lb_per_bcs"]
    ),
    "nem_maintenance": maintenance,
    "feed_for_maintenance_kg": lambda q: feed_for_maintenance_kg(
        q["nem_req_Mcal"], q["diet_nem_Mcal_kg"]
    ),
    "energy_for_gain_Mcal": energy_for_gain,
    "retained_energy": lambda q: growth.retained_energy_mcal(
        kg(q, "adg_lb"), scaled(q, "finish_sbw_lb")
    ),
    "adg_from_energy": lambda q: (
        growth.gain_by_regression_kg(q["retained_energy_Mcal"], scaled(q, "finish_sbw_lb"))
        / KG_PER_LB
    ),
    "diet_cp_pct_for_target_gain": bull_cp_pct,
    "diet_tdn_for_target_gain": bull_tdn_pct,
    "dmi_growing_calf_equation": lambda q: (
        appetite_kg(q["class"], kg(q, "sbw_lb"), nem_from_tdn(q["diet_tdn_pct"])) / KG_PER_LB
    ),
    "extra_feed_dm": lambda q: extra_feed_kg(q["base_tdn_lb"], q["new_tdn_lb"], q["feed_tdn_pct"]),
    "adg_to_target": lambda q: growth.gain_to_target_kg(q["current_lb"], q["target_lb"], q["days"]),
    "target_weight": lambda q: growth.target_weight_kg(q["mature_lb"], q["fraction"]),
    "total_cp_cow_lb": lambda q: mean_cow(q).cp_kg / KG_PER_LB,
    "total_tdn_cow_lb": lambda q: mean_cow(q).tdn_kg / KG_PER_LB,
    "forage_intake_pct_bw_hibberd_thrift": lambda q: forage_intake_pct_bw(
        q["tdn_pct"], q["stage"] == "lactating", stepwise=True
    ),
    "ndf_limited_intake_lb": lambda q: ndf_cap_kg(q["weight_lb"], q["ndf_pct"], q["ndf_pct_bw"]),
    "water_gal_per_day": lambda q: (
        water_litres(kg(q, "cow_lb"), (q["avg_temp_F"] - 32.0) / 1.8, kg(q, "milk_lb"))
        / LITRE_PER_US_GALLON
    ),
    "vitamin_a_IU_per_lb_dm": lambda q: vitamin_a_iu_per_kg(q["class"]) * KG_PER_LB,
    "milk_kg_per_day": lambda q: milk_kg(q["week"], q["peak_milk_kg"], q["peak_week"]),
    "mp_maintenance_g": lambda q: mp_maintenance_g(q["sbw_kg"]),
    "mp_pregnancy_g": lambda q: mp_pregnancy_g(q["gestation_day"], q["calf_birth_wt_kg"]),
    "mp_gain_g": lambda q: growth.mp_gain_g(
        q["swg_kg"], size_scaled_weight_kg(q["sbw_kg"], q["finish_sbw_kg"])
    ),
    "calcium_g": calcium,
    "dmi_cow_kg": lambda q: appetite_kg(
        "cow_late" if q["pregnant"] else "cow_early",
        q["sbw_kg"],
        q["diet_nem_Mcal_kg"],
        q["milk_kg"],
    ),
    "cow_nem": lambda q: cow_1200(q).nem_mcal,
    "cow_dmi": lambda q: diet_1200(q).intake_kg / KG_PER_LB,
    "cow_tdn": lambda q: diet_1200(q).tdn_pct,
    "cow_cp": lambda q: diet_cp_pct(cow_1200(q).mp_g, diet_1200(q).intake_kg),
    **{
        f"first_calf_{name}": part(first_calf, name) for name in ("sbw", "milk", "nem", "neg", "mp")
    },
    **{
        f"bred_heifer_{name}": part(bred_heifer, name)
        for name in ("sbw", "conceptus", "nem_maint", "nem_preg", "neg", "mp")
    },
    **{f"mature_bull_{name}": part(mature_bull, name) for name in ("nem", "tdn", "dmi")},
    **{
        f"stocker_{name}": part(stocker, name)
        for name in ("nem", "neg", "dmi", "tdn", "cp", "cp_pct", "ca", "p")
    },
}


def rows() -> list[dict[str, str]]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["id"])
def test_a_cell_is_reproduced_within_its_tolerance(row: dict[str, str]) -> None:
    value = EVALUATE[row["quantity"]](json.loads(row["inputs_json"]))
    expected, tolerance = float(row["expected"]), float(row["tolerance"])
    assert abs(value - expected) <= tolerance + ROUNDING, f"{value} {row['unit']}, {row['source']}"


def test_every_evaluator_is_held_by_a_cell() -> None:
    assert set(EVALUATE) == {row["quantity"] for row in rows()}


def test_every_row_has_its_own_id_and_a_source() -> None:
    table = rows()
    assert len({row["id"] for row in table}) == len(table)
    assert all(row["source"] and row["kind"] in {"published", "derived"} for row in table)
