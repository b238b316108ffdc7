"""Names of the check files for what beef cattle need."""

from __future__ import annotations

from typing import Final

from rickyard.farm import Coat, WindChill
from rickyard.forage.energy import nem_from_tdn
from rickyard.match import (
    CowNeed,
    density_for_need,
    diet_cp_pct,
    extra_feed_kg,
    feed_for_maintenance_kg,
    gain_from_intake,
    mean_cow_need,
)
from rickyard.quantities import KG_PER_LB, KM_PER_MILE, LITRE_PER_US_GALLON, UNITS
from rickyard.stock import cold, equations, minerals
from rickyard.stock.common import size_scaled_weight_kg
from rickyard.verify.quantity import Inputs, Quantity, only_for

_MILK_AND_PREGNANCY: Final = {
    "km": equations.KM_HAY,
    "milk_fat_pct": equations.MILK_FAT_PCT,
    "milk_protein_pct": equations.MILK_PROTEIN_PCT,
    "milk_snf_pct": equations.MILK_SOLIDS_NOT_FAT_PCT,
}


def _kg(q: Inputs, name: str) -> float:
    return float(q[name]) * KG_PER_LB


def _cow(q: Inputs) -> equations.CowMonth:
    only_for(
        q,
        activity_Mcal=0.0,
        bcs=5.0,
        breed_factor=1.0,
        days_per_month=equations.DAYS_PER_MONTH,
        gestation_day_at_month_12=equations.DAY_PREGNANT_AT_MONTH_12,
        last_milking_month=equations.LAST_MILKING_MONTH,
        peak_week=equations.PEAK_WEEK,
        prev_temp_C=equations.THERMONEUTRAL_C,
        **_MILK_AND_PREGNANCY,
    )
    return equations.cow_month(
        q["month_since_calving"], q["sbw_kg"], q["peak_milk_kg"], q["calf_birth_wt_kg"]
    )


def _scaled(q: Inputs, final: str) -> float:
    return float(size_scaled_weight_kg(_kg(q, "sbw_lb"), _kg(q, final), q["srw_kg"]))


def _scaled_kg(q: Inputs) -> float:
    return float(size_scaled_weight_kg(q["sbw_kg"], q["finish_sbw_kg"]))


def _need_of_cow(q: Inputs) -> CowNeed:
    only_for(q, mp_to_cp=equations.MP_PER_CP, **_MILK_AND_PREGNANCY)
    weight = _kg(q, "cow_lb") * q["shrink"]
    return mean_cow_need(q["months"], weight, _kg(q, "peak_milk_lb"), q["calf_birth_wt_kg"])


def _mp_growing(q: Inputs) -> float:
    only_for(q, mp_to_cp=equations.MP_PER_CP)
    gain = equations.mp_gain_g(_kg(q, "adg_lb"), _scaled(q, "finish_sbw_lb_protein"))
    return float(equations.mp_maintenance_g(_kg(q, "sbw_lb")) + gain)


def _nem_bull(q: Inputs) -> float:
    return float(equations.nem_maintenance_mcal(_kg(q, "sbw_lb"), intact_male=q["sex"] == "bull"))


def _celsius(fahrenheit: float) -> float:
    return UNITS["degF"].to_canonical(fahrenheit)


def _fahrenheit(celsius: float) -> float:
    return UNITS["degF"].from_canonical(celsius)


_COATS: Final = {
    "summer_or_wet": Coat.SUMMER,
    "fall": Coat.FALL,
    "winter": Coat.WINTER,
    "heavy_winter": Coat.HEAVY_WINTER,
}


def _cold_pct(q: Inputs) -> float:
    felt, critical = _celsius(q["effective_temp_F"]), _celsius(q["lct_F"])
    return float(cold.cold_pct(felt, critical, q["pct_per_F"]))


def _insulation(q: Inputs) -> float:
    coat = cold.coat_insulation(q["hair_cm"], q["wind_kph"], q["mud"], q["hide"])
    return float(cold.tissue_insulation(q["bcs"]) + coat)


def _wind_chill_f(q: Inputs) -> float:
    air, wind = _celsius(q["temp_F"]), q["wind_mph"] * KM_PER_MILE
    return _fahrenheit(float(cold.effective_temperature_c(air, wind, WindChill.WEATHER_SERVICE)))


STOCK: Final[dict[str, Quantity]] = {
    "nem_maintenance_cow_month": lambda q: _cow(q).nem_maintenance_mcal,
    "nem_lactation_cow_month": lambda q: _cow(q).nem_lactation_mcal,
    "nem_pregnancy_cow_month": lambda q: _cow(q).nem_pregnancy_mcal,
    "nem_total_cow_month": lambda q: _cow(q).nem_mcal,
    "nem_pregnancy": lambda q: equations.nem_pregnancy_mcal(
        q["gestation_day"], q["calf_birth_wt_kg"], q["km"]
    ),
    "bcs_step_energy": lambda q: abs(
        equations.energy_between_scores_mcal(_kg(q, "sbw_at_bcs5_lb"), q["from_bcs"], q["to_bcs"])
    ),
    "days_to_change_bcs": lambda q: equations.days_to_gain_condition(
        q["energy_Mcal"], q["feed_lb_per_day"] * q["feed_nem_Mcal_per_lb"]
    ),
    "sbw_pct_of_bcs5": lambda q: 100.0 * equations.relative_weight_frac(q["bcs"]),
    "bcs_rule_weight": lambda q: (
        equations.weight_after_scores_kg(_kg(q, "weight_lb"), q["bcs_change"], _kg(q, "lb_per_bcs"))
        / KG_PER_LB
    ),
    "bcs_weight_lb": lambda q: (
        equations.weight_after_scores_kg(_kg(q, "weight_lb"), -q["bcs_drop"], _kg(q, "lb_per_bcs"))
        / KG_PER_LB
    ),
    "nem_maintenance": lambda q: equations.nem_maintenance_mcal(
        _kg(q, "sbw_lb"),
        intact_male=q["sex"] == "bull",
        breed_factor=q["breed_factor"],
        condition_score=q["bcs"],
        previous_month_temperature_c=q["prev_temp_C"],
    ),
    "feed_for_maintenance_kg": lambda q: feed_for_maintenance_kg(
        q["nem_req_Mcal"], q["diet_nem_Mcal_kg"]
    ),
    "energy_for_gain_Mcal": lambda q: (
        gain_from_intake(
            q["dmi_kg"],
            q["nem_req_Mcal"],
            q["diet_nem_Mcal_kg"],
            q["diet_neg_Mcal_kg"],
            300.0,  # the energy left for gain does not depend on the weight
        ).retained_energy_mcal
    ),
    "retained_energy": lambda q: equations.retained_energy_mcal(
        _kg(q, "adg_lb"), _scaled(q, "finish_sbw_lb")
    ),
    "adg_from_energy": lambda q: (
        equations.gain_kg(
            q["retained_energy_Mcal"], _scaled(q, "finish_sbw_lb"), by_regression=True
        )
        / KG_PER_LB
    ),
    "diet_cp_pct_for_target_gain": lambda q: diet_cp_pct(_mp_growing(q), _kg(q, "dmi_lb")),
    "diet_tdn_for_target_gain": lambda q: (
        density_for_need(
            _nem_bull(q),
            equations.retained_energy_mcal(_kg(q, "adg_lb"), _scaled(q, "finish_sbw_lb_energy")),
            _kg(q, "sbw_lb"),
            "calf",
            intake_kg=_kg(q, "dmi_lb"),
        ).tdn_pct
    ),
    "dmi_growing_calf_equation": lambda q: (
        equations.appetite_kg(q["class"], _kg(q, "sbw_lb"), nem_from_tdn(q["diet_tdn_pct"]))
        / KG_PER_LB
    ),
    "extra_feed_dm": lambda q: extra_feed_kg(q["base_tdn_lb"], q["new_tdn_lb"], q["feed_tdn_pct"]),
    "adg_to_target": lambda q: (
        equations.gain_to_target_kg(_kg(q, "current_lb"), _kg(q, "target_lb"), q["days"])
        / KG_PER_LB
    ),
    "target_weight": lambda q: (
        equations.target_weight_kg(_kg(q, "mature_lb"), q["fraction"]) / KG_PER_LB
    ),
    "total_cp_cow_lb": lambda q: _need_of_cow(q).cp_kg / KG_PER_LB,
    "total_tdn_cow_lb": lambda q: _need_of_cow(q).tdn_kg / KG_PER_LB,
    "forage_intake_pct_bw_hibberd_thrift": lambda q: equations.forage_intake_pct_bw(
        q["tdn_pct"], q["stage"] == "lactating", stepwise=True
    ),
    "ndf_limited_intake_lb": lambda q: (
        equations.ndf_cap_kg(_kg(q, "weight_lb"), q["ndf_pct"], q["ndf_pct_bw"]) / KG_PER_LB
    ),
    "water_gal_per_day": lambda q: (
        (
            minerals.drinking_water_litres(q["class"], UNITS["degF"].to_canonical(q["temp_f"]))
            if "class" in q
            else minerals.water_litres(
                _kg(q, "cow_lb"), UNITS["degF"].to_canonical(q["avg_temp_F"]), _kg(q, "milk_lb")
            )
        )
        / LITRE_PER_US_GALLON
    ),
    "vitamin_a_IU_per_lb_dm": lambda q: minerals.vitamin_a_iu_per_kg(q["class"]) * KG_PER_LB,
    "milk_kg_per_day": lambda q: equations.milk_kg(q["week"], q["peak_milk_kg"], q["peak_week"]),
    "mp_maintenance_g": lambda q: equations.mp_maintenance_g(q["sbw_kg"]),
    "mp_pregnancy_g": lambda q: equations.mp_pregnancy_g(q["gestation_day"], q["calf_birth_wt_kg"]),
    "mp_gain_g": lambda q: equations.mp_gain_g(q["swg_kg"], _scaled_kg(q)),
    "calcium_g": lambda q: minerals.calcium_phosphorus_g(
        q["sbw_kg"],
        net_protein_gain_g=q["net_protein_gain_g"],
        milk_kg=q["milk_kg"],
        birth_weight_kg=q["calf_birth_wt_kg"],
        last_90_days=q["last_90_days"],
    )[0],
    "lct_F_by_coat": lambda q: _fahrenheit(cold.critical_temperature_c(_COATS[q["coat"]])),
    "cold_pct_increase_rule": _cold_pct,
    "cold_feed_amount_rule": lambda q: cold.feed_in_cold_kg(q["base_feed_lb"], _cold_pct(q)),
    "wind_chill_nws2001": _wind_chill_f,
    "tdn_acclimatised": lambda q: (
        cold.acclimatised_tdn_kg(
            _kg(q, "base_tdn_lb"),
            _celsius(q["temp_F"]),
            _celsius(q["ref_temp_F"]),
            q["maintenance_share"],
        )
        / KG_PER_LB
    ),
    "lct_C": lambda q: cold.lower_critical_temperature_c(
        q["heat_production_Mcal"], q["sbw_kg"], _insulation(q)
    ),
    "nem_cold_Mcal": lambda q: cold.nem_cold_mcal(
        q["temp_C"], q["heat_production_Mcal"], q["sbw_kg"], _insulation(q), q["km"]
    ),
    "dmi_cow_kg": lambda q: equations.appetite_kg(
        "cow_late" if q["pregnant"] else "cow_early",
        q["sbw_kg"],
        q["diet_nem_Mcal_kg"],
        q["milk_kg"],
    ),
}
