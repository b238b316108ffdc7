"""Names of the check files for forage analysis."""

from __future__ import annotations

from typing import Any, Final

from rickyard.forage import energy, hazards, values
from rickyard.forage.plausibility import rfv_disagrees
from rickyard.forage.uncertainty import rfv_sd_independent, sd_between_labs, sd_from_cv
from rickyard.quantities import UNITS
from rickyard.safety import amount_of, rule_of, rules
from rickyard.verify.quantity import Inputs, Quantity, beside, only_for


def _tdn(q: Inputs) -> float:
    return float(q["tdn"] if "tdn" in q else q["tdn_pct_dm"])


def _nrc(q: Inputs) -> tuple[Any, ...]:
    names = ("cp", "ndf", "lignin", "ash", "ee", "ndicp", "adicp", "paf")
    return tuple(q[name] for name in names)


def _rfq(q: Inputs) -> tuple[Any, ...]:
    return (q["cp"], q["ndf"], q["ndfd48"], q["ash"], q["ee"], q["ndicp"])


def _rfq_grass(q: Inputs) -> tuple[Any, ...]:
    return (q["cp"], q["adf"], q["ndf"], q["ndfd48"], q["ash"], q["ee"], q["ndicp"])


def _gross_energy(q: Inputs) -> float:
    names = ("cp", "fa", "ndf", "rom", "starch", "snpn")
    return float(energy.gross_energy_nasem2021(*(q[name] for name in names)))


def _horse_de_per_day(q: Inputs) -> float:
    """Turn daily intakes into contents, and the energy of the diet into energy a day."""
    dmi = float(q["dmi_kg"])
    cp, adf, ndf, ee = (100.0 * q[name] / dmi for name in ("cp_kg", "adf_kg", "ndf_kg", "ee_kg"))
    ash = 100.0 - 100.0 * q["om_kg"] / dmi
    return dmi * float(energy.horse_de_pagan(cp, adf, ndf, ee, ash))


def _sulfur(q: Inputs) -> float:
    names = ("feed_s", "bw_kg", "dmi_pct_bw", "water_pct_bw", "water_so4_mg_L")
    return float(hazards.total_sulfur_pct(*(q[name] for name in names)))


def _water_nitrate(q: Inputs) -> str:
    """Name the rule under which water of some nitrate falls, by either form."""
    ppm = hazards.water_no3n_mg_per_l(q.get("no3n_mg_l"), q.get("no3_mg_l"))
    named = (one for one in rules() if one.finding == "water_nitrate" and one.meets(ppm))
    return next((one.rule_id for one in named), "safe")


def _tetany_diet(q: Inputs) -> float:
    """Return the ratio of charges of a diet from shares of its parts."""
    mixed = [
        sum(share * pct for share, pct in zip(q["share_frac"], q[name], strict=True))
        for name in ("k", "ca", "mg")
    ]
    return float(values.tetany_ratio(*mixed))


def _tetany_rule(q: Inputs) -> str:
    only_for(q, animal="cow")
    return "kept" if q["ratio"] <= amount_of("tetany-diet") else "too much"


#: The rules of minerals of the whole diet by mineral and animal.
_MINERAL_RULES: Final = {
    ("ca", "ewe before birth"): "milk-fever-calcium",
    ("ca", "doe before birth"): "milk-fever-calcium",
    ("mg", "nursing ewe"): "tetany-magnesium-ewes",
    ("mg", "dry ewe"): "magnesium-sheep",
    ("k", "dairy cow before calving"): "milk-fever-diet",
}


def _mineral_pct(q: Inputs) -> float:
    """Return a mineral of a diet from the shares and contents of its parts. [% DM]."""
    return float(sum(share * pct for share, pct in zip(q["share_frac"], q["pct"], strict=True)))


def _mineral_rule(q: Inputs) -> str:
    rule = rule_of(_MINERAL_RULES[q["mineral"], q["animal"]])
    if rule.demand == "least":
        return "too little" if q["pct"] < amount_of(rule.rule_id) else "kept"
    return "too much" if q["pct"] > amount_of(rule.rule_id) else "kept"


def _heating(q: Inputs) -> float:
    fahrenheit = UNITS["degF"]
    return hazards.heating_degree_days_f([fahrenheit.to_canonical(one) for one in q["daily_max_F"]])


def _nfc(q: Inputs) -> tuple[Any, ...]:
    return (q["cp"], q["ndf"], q["ee"], q["ash"], q["ndicp"])


FORAGE: Final[dict[str, Quantity]] = {
    "ddm_pct": lambda q: energy.digestible_dry_matter_pct(q["adf"]),
    "dmi_pct_bw": lambda q: energy.dry_matter_intake_pct_bw(q["ndf"]),
    "rfv": lambda q: energy.relative_feed_value(q["adf"], q["ndf"]),
    "tdn_western_100": lambda q: energy.tdn_western_alfalfa_100(q["adf"]),
    "tdn_western_90": lambda q: energy.tdn_western_alfalfa_90(q["adf"]),
    "tdn_nrc2001_1x": lambda q: energy.tdn_nrc2001(*_nrc(q)),
    "de1x_nrc2001": lambda q: energy.de_nrc2001(*_nrc(q)),
    "tdn_rfq_legume": lambda q: energy.tdn_rfq_legume(*_rfq(q)),
    # The grass index needs ADF for intake; its TDN does not.
    "tdn_rfq_grass": beside(lambda q: energy.tdn_rfq_grass(*_rfq(q)), "adf"),
    "rfq_legume": lambda q: energy.relative_forage_quality_legume(*_rfq(q)),
    "rfq_grass": lambda q: energy.relative_forage_quality_grass(*_rfq_grass(q)),
    "nfc_pct": lambda q: energy.nfc_pct(*_nfc(q)),
    "nfc_g_per_kg": lambda q: energy.nfc_g_per_kg(*_nfc(q)),
    "nsc_pct": lambda q: energy.nsc_pct(q["starch"], q["wsc"]),
    "nsc_kg_day": lambda q: energy.nsc_pct(q["starch"], q["wsc"]),
    "available_cp_pct": lambda q: values.available_cp_pct(q["cp"], q["adicp"]),
    "adjusted_cp_pct": lambda q: values.adjusted_cp_pct(q["cp"], q["adicp"]),
    "de_from_tdn": lambda q: energy.de_from_tdn(_tdn(q)),
    "me_from_tdn": lambda q: energy.me_from_tdn(_tdn(q)),
    "me_hales2022": lambda q: energy.me_hales2022(q["de"]),
    "nem_from_tdn": lambda q: energy.nem_from_tdn(_tdn(q)),
    "neg_from_tdn": lambda q: energy.neg_from_tdn(_tdn(q)),
    "nel_from_tdn": lambda q: energy.nel_from_tdn(_tdn(q)),
    "ge_nasem2021": _gross_energy,
    "dndf_base_nasem2021": lambda q: energy.fiber_digestibility_nasem2021(q["ndf"], q["lignin"]),
    "horse_de_intake_pagan_mcal_day": _horse_de_per_day,
    "pct_to_meq_per_kg": lambda q: values.pct_to_meq_per_kg(q["element"], q["pct"]),
    "dcad_meq_per_kg": lambda q: values.dcad_meq_per_kg(q["na"], q["k"], q["cl"], q["s"]),
    "tetany_ratio": lambda q: values.tetany_ratio(q["k"], q["ca"], q["mg"]),
    "total_dietary_s_pct": _sulfur,
    "diet_no3n_ppm": lambda q: hazards.diet_no3n_ppm(
        q["share_frac"], q["no3n_ppm"], q["water_l"], q["water_no3n_mg_l"], q["dmi_kg"]
    ),
    "water_nitrate_rule": _water_nitrate,
    "tetany_diet_ratio": _tetany_diet,
    "tetany_diet_rule": _tetany_rule,
    "diet_mineral_pct": _mineral_pct,
    "diet_mineral_rule": _mineral_rule,
    "usda_alfalfa_grade_by_rfv": lambda q: energy.usda_alfalfa_grade(q["rfv"]),
    "usda_grass_grade_by_cp": lambda q: energy.usda_grass_grade(q["cp"]),
    "hcn_class_ward_wet": lambda q: values.CLASS_TABLES["hcn_ward_wet"].label(q["hcn_ppm_wet"]),
    "mold_class_psu": lambda q: hazards.mold_class(q["cfu_per_g"]),
    "fda_aflatoxin_limit_ppb": lambda q: hazards.AFLATOXIN_LIMIT_PPB[q["animal"]],
    "fda_fumonisin_diet_ppm": lambda q: hazards.FUMONISIN_DIET_LIMIT_PPM[q["animal"]],
    "external_ash_pct": lambda q: hazards.external_ash_pct(q["total_ash"], q["internal_ash"]),
    "tdn_penalty_per_pct_ash": lambda q: hazards.tdn_lost_to_ash_pct(q["extra_ash"]),
    "silage_ph_range": lambda q: hazards.silage_ph_range(q["crop"], q["dm_pct_range"]),
    "ergovaline_threshold_ppb": lambda q: hazards.ergovaline_threshold_text(q["animal"]),
    "selenium_class_forage": lambda q: hazards.selenium_class(q["se_mg_kg"]),
    "heating_degree_days_F": _heating,
    "sd_from_cv": lambda q: sd_from_cv(q["mean"], q["cv_pct"]),
    "rfv_sd_independent": lambda q: rfv_sd_independent(
        q["adf"], q["ndf"], q["sd_adf"], q["sd_ndf"]
    ),
    "sd_between_labs": lambda q: sd_between_labs(q["hay"], q["analyte"]),
    "ca_p_ratio": lambda q: energy.ca_to_p_ratio(q["ca_g"], q["p_g"]),
    "plausibility_flag_rfv_recompute": lambda q: (
        "flag" if rfv_disagrees(q["rfv_reported"], q["adf"], q["ndf"], q["limit"]) else "ok"
    ),
    "as_received_to_dm": lambda q: values.as_received_to_dm(q["value"], q["dm"]),
    "no3_ppm_to_kno3_pct": lambda q: values.kno3_pct_from_no3_ppm(q["no3_ppm"]),
    "no3n_ppm_to_no3_ppm": lambda q: values.no3_from_no3n(q["no3n_ppm"]),
    "nitrate_class_clemson": lambda q: values.nitrate_class_clemson(q["no3n_ppm_dm"]),
    "nitrate_class_servitech": lambda q: values.nitrate_class_servitech(q["no3n_ppm_dm"]),
    "hay_temp_action": lambda q: hazards.hay_temperature_label(
        UNITS["degF"].to_canonical(float(q["temp_f"]))
    ),
    "feed_table_cell": lambda q: values.cell(q["feed_id"], q["column"]),
}
