"""Names of the check files for how stock really eat and what becomes of them."""

from __future__ import annotations

from typing import Final

from rickyard.forage.values import nitrate_mix_share_pct
from rickyard.hay.feeding import before_loss, feeding_loss_lookup
from rickyard.quantities import KG_PER_LB, LITRE_PER_US_GALLON, M_PER_FT, M_PER_IN
from rickyard.stock.fill import alone, shares, substitution
from rickyard.stock.herd import additives, condition_change, diet_change, printed_outcome
from rickyard.stock.minerals import dissolved_solids_class
from rickyard.verify.quantity import Inputs, Quantity

#: What the rows call a way of offering hay, and its row of the table of losses.
_WASTE: Final = {
    "beef_open_ring_minnesota": ("minnesota", "open_ring"),
    "beef_rolled_out_minnesota": ("minnesota", "rolled_out"),
    "beef_ring_free_access_minnesota_ext": ("minnesota_extension", "ring_free_access"),
    "beef_ring_8_to_12_h_minnesota_ext": ("minnesota_extension", "ring_8_to_12_h"),
    **{
        f"beef_{one}_buskirk": ("buskirk2003", one) for one in ("cone", "ring", "trailer", "cradle")
    },
}


def _dry_dairy_kg(q: Inputs) -> float:
    heifer = {"cow": False, "heifer": True}[q["parity"]]
    return float(alone.dry_dairy_intake_kg(q["bw_kg"], q["days_to_calving"], heifer=heifer))


def _horse_energy(q: Inputs) -> float:
    return float(
        condition_change.horse_condition_mcal(q["kg_per_score"], q["mcal_de_per_kg"], q["scores"])
    )


INTAKE: Final[dict[str, Quantity]] = {
    "fill_share_total": lambda q: shares.fill_share(q["amounts_kg"], q["intakes_alone_kg"]),
    "mixed_forage_intake_kg": lambda q: shares.mixed_intake_kg(
        q["shares_pct"], q["intakes_alone_kg"]
    ),
    "forage_room_kg": lambda q: shares.room_left_kg(
        q["intake_alone_kg"], q["other_kg"], q["other_intake_alone_kg"]
    ),
    "dairy_heifer_dmi_kg": lambda q: alone.dairy_heifer_intake_kg(q["bw_kg"]),
    "dry_dairy_cow_dmi_kg": _dry_dairy_kg,
    "intake_from_metabolic_weight_kg": lambda q: alone.metabolic_intake_kg(
        q["bw_kg"], q["g_per_kg_w75"]
    ),
    "as_fed_from_pct_bw_lb": lambda q: shares.as_fed_kg(
        q["bw_lb"], q["dm_pct_bw"], q["dm_pct_of_feed"]
    ),
    "cp_intake_factor": lambda q: shares.protein_factor(q["cp_pct"]),
    "late_gestation_intake_factor": lambda q: alone.late_factor("cow_dry", q["days_to_calving"]),
    "access_intake_fraction": lambda q: shares.access_share(q["hours"]),
    "forage_after_concentrate_kg": lambda q: substitution.forage_beside_kg(
        q["forage_alone_kg"], q["concentrate_kg"], q["rate"]
    ),
    "substitution_rate_zebu_steers": lambda q: substitution.growing_zebu_rate(
        q["initial_bw_kg"], q["concentrate_pct_bw"]
    ),
    "rings_needed": lambda q: shares.places_needed(
        q["head"], q["in_per_head"] * M_PER_IN, q["ring_diameter_ft"] * M_PER_FT
    ),
    "waste_lookup_pct": lambda q: feeding_loss_lookup(
        *_WASTE.get(q["method"], ("martinson2012", q["method"].removeprefix("horse_")))
    ),
    "hay_to_put_out_lb": lambda q: before_loss(q["eaten_lb"], q["waste_pct"]),
    "condition_lookup": lambda q: printed_outcome(q["table"], q["bcs"]),
    "bcs_gain_adg_lb": lambda q: condition_change.gain_for_score_kg(
        q["bcs_now"], q["bcs_target"], q["lb_per_score"], q["conceptus_lb"], q["days"]
    ),
    "bcs_change_from_deficit": lambda q: condition_change.score_lost(
        q["nem_deficit_mcal_per_day"], q["days"], q["step_mcal"]
    ),
    "heifer_puberty_pct": lambda q: printed_outcome("heifer_puberty", q["pct_mature_weight"]),
    "heifer_pregnancy_pct": lambda q: printed_outcome("heifer_pregnancy", q["pct_mature_weight"]),
    "ewe_weight_per_score_kg": lambda q: condition_change.ewe_kg_per_score(
        q["weight_kg"], q["fraction"]
    ),
    "ewe_extra_me_mj_per_day": lambda q: condition_change.ewe_extra_me_mj(
        q["kg_per_score"], q["scores"], q["k_gain"], q["days"]
    ),
    "goat_score9_from_score5": lambda q: condition_change.score_of_nine(q["score5"]),
    "horse_condition_energy_mcal": _horse_energy,
    "horse_de_for_condition_mcal_per_day": lambda q: condition_change.horse_de_for_condition_mcal(
        q["bw_kg"], _horse_energy(q), q["days"]
    ),
    "stepup_days": lambda q: diet_change.step_up_days(q["steps"], q["days_per_step"]),
    "grain_days_to_target": lambda q: diet_change.days_to_amount(
        q["start_lb"], q["target_lb"], q["lb_per_step"], q["days_per_step"]
    ),
    "swap_share_pct": lambda q: diet_change.new_share_pct(
        q["day"], q["step_pct"], q["days_per_step"]
    ),
    "nitrate_share_max_pct": lambda q: nitrate_mix_share_pct(
        q["hay_no3n_ppm"], q["other_no3n_ppm"], q["limit_no3n_ppm"]
    ),
    "early_wean_hay_saved_lb": lambda q: additives.early_weaning_saves_kg(
        q["head"], q["days"], q["wet_cow_dm_lb"], q["reduction_pct"]
    ),
    "monensin_hay_lb": lambda q: additives.monensin_forage_kg(q["hay_lb"], q["intake_change_pct"]),
    "monensin_gain_kg_per_day": lambda q: additives.monensin_gain_kg(q["study_days"]),
    "salt_limited_intake_lb": lambda q: additives.salt_limited_kg(
        q["bw_lb"], q["salt_lb_per_100_lb"]
    ),
    "salt_extra_water_gal": lambda q: (
        additives.salt_water_litres(
            q["salt_lb"] * KG_PER_LB, q["gal_per_lb"] * LITRE_PER_US_GALLON / KG_PER_LB
        )
        / LITRE_PER_US_GALLON
    ),
    "urea_dose_g": lambda q: additives.toxic_urea_g(q["bw_kg"], q["g_per_kg"]),
    "mix_g_at_selenium_limit": lambda q: additives.mix_at_selenium_limit_g(
        q["limit_mg"], q["se_ppm"]
    ),
    "water_tds_class": lambda q: dissolved_solids_class(q["tds_ppm"]),
}
