"""Names of the check files for what sheep, goats, horses and dairy stock need."""

from __future__ import annotations

from typing import Final, cast

from rickyard.quantities import KG_PER_LB, MJ_PER_MCAL, OutOfRange
from rickyard.stock import horses, sheep
from rickyard.stock.common import HorseNeed, RuminantNeed, goat_tdn_from_me_kg, tdn_from_me_kg
from rickyard.stock.goats import goat, goat_2004
from rickyard.verify.quantity import Inputs, Quantity, beside, built_in, only_for

_G_PER_KG: Final = 1000.0
_STAGE_OF_CLASS: Final = {
    "ewe_early_gest": "early_gestation",
    "ewe_late_gest": "late_gestation",
    "doe_early_lactation_parlor": "early_lactation",
}


def _edition(q: Inputs, edition: str) -> None:
    if q["edition"] != edition:
        raise OutOfRange(f"The edition {q['edition']} is not computed here; {edition} is.")


def _weight_kg(q: Inputs) -> float:
    return float(q["BW_kg"]) if "BW_kg" in q else float(q["BW_lb"]) * KG_PER_LB


def _sheep(name: str) -> Quantity:
    def cell(q: Inputs) -> float:
        _edition(q, "NRC1985")
        return float(getattr(sheep.sheep_1985(q["class"], q["BW_kg"]), name))

    return cell


def _cp_factorial(q: Inputs) -> float:
    _edition(q, "NRC1985")
    return float(
        sheep.ewe_cp_factorial_g(
            q["DMI_kg"], q["BW_kg"], q["protein_deposited_g"], q["milk_kg"], q["wool_protein_g"]
        )
    )


def _ewe_me_mcal(q: Inputs) -> float:
    """Return the energy of a ewe of the newer route, in the stage that the row names."""
    _edition(q, "NRC2007")
    density = q["diet_ME_Mcal_per_kg"] * MJ_PER_MCAL
    parts = [sheep.me_maintenance_mj(_weight_kg(q), density, q["age_y"])]
    if q["class"] == "ewe_late_gest":
        parts.append(sheep.me_pregnancy_mj(q["day"], q["total_birth_weight_kg"]))
    return float(sheep.me_total_mj(*parts)) / MJ_PER_MCAL


def _ewe_tdn_lb(q: Inputs) -> float:
    return float(tdn_from_me_kg(_ewe_me_mcal(q))) / KG_PER_LB


def _me_maintenance_mj(q: Inputs) -> float:
    only_for(q, age_y=sheep.MOST_AGE_YEARS, S=1.0)
    _edition(q, "NRC2007")
    kept = sheep.me_maintenance_mj(
        q["BW_kg"], q["diet_ME_MJ_per_kg"], q["age_y"], species_factor=q["K"]
    )
    return float(sheep.me_total_mj(kept, intake_term=q["intake_term"]))


def _me_pregnancy_mj(q: Inputs) -> float:
    only_for(q, k_preg=sheep.K_PREGNANCY)
    return float(sheep.me_pregnancy_mj(q["day"], q["total_birth_weight_kg"]))


def _goat_maintenance(q: Inputs) -> RuminantNeed:
    _edition(q, "NRC1981")
    only_for(q, diet_ME_Mcal_per_kg=2.0)
    return goat.goat_1981(q["BW_kg"], activity_factor=q["activity_factor"])


def _goat_row(quantity: Quantity) -> Quantity:
    """Return a quantity of the printed table, whose row is named by a rounded weight in pounds."""
    return beside(built_in(quantity, **{"class": "maintenance"}), "printed_row_lb")


def _goat_me(q: Inputs) -> float:
    _edition(q, "NRC1981")
    return float(goat.goat_me_maintenance_mcal(q["BW_kg"], q["activity_factor"]))


def _goat_milk_tdn_lb(q: Inputs) -> float:
    _edition(q, "NRC1981")
    return (
        float(goat_tdn_from_me_kg(goat.goat_me_milk_mcal(q["milk_kg"], q["fat_pct"]))) / KG_PER_LB
    )


def _me_coefficient(q: Inputs) -> float:
    _edition(q, "Sahlu2004")
    return goat_2004.me_maintenance_kj_per_kg075(f"{q['class']}_{q['biotype']}")


def _milk_mp_g(q: Inputs) -> float:
    # The abstract's factor belongs to an efficiency for maintenance of 0.67.
    _edition(q, "Nsahlai2004")
    return float(goat_2004.mp_milk_g(q["milk_protein_g"], 0.67))


def _calcium_2007(q: Inputs) -> float:
    _edition(q, "NRC2007")
    only_for(q, lambs=2, kids=2)
    stage = _STAGE_OF_CLASS[q["class"]]
    return sheep.printed_cells.calcium_2007_g(q["species"], stage, q["BW_kg"])


def _ewe_cp_lb(q: Inputs) -> float:
    _edition(q, "NRC2007")
    stage = _STAGE_OF_CLASS[q["class"]]
    return (
        sheep.printed_cells.printed_ewe_kg("cp", stage, q["BW_lb"] * KG_PER_LB, q["lambs"])
        / KG_PER_LB
    )


def _horse(q: Inputs) -> HorseNeed:
    _edition(q, "NRC2007")
    kind = q["class"]
    if kind == "growth":
        return horses.young_horse(q["mature_BW_kg"], q["age_months"], cast(horses.Work, q["work"]))
    weight = _weight_kg(q)
    if kind == "maintenance":
        return horses.horse_work(weight, level=cast(horses.Level, q["level"]))
    if kind == "work":
        return horses.horse_work(weight, cast(horses.Work, q["level"]))
    if kind in ("lactation", "gestation"):
        of_month = horses.mare_in_milk if kind == "lactation" else horses.mare_pregnant
        return of_month(weight, q["month"])
    return horses.stallion(
        weight, breeding={"stallion_breeding": True, "stallion_nonbreeding": False}[kind]
    )


def _horse_de_mcal(q: Inputs) -> float:
    if q["edition"] == "NRC1989":
        only_for(q, **{"class": "work" if "level" in q else "maintenance"})
        return float(
            horses.horse_1989.horse_1989_de_mcal(q["BW_kg"], q.get("level", "maintenance"))
        )
    return float(_horse(q).de_mcal)


def _horse_cp(q: Inputs) -> float:
    """Return protein in g, or in lb where the row states the weight in lb."""
    if q["edition"] == "NRC1989":
        return float(horses.horse_1989.horse_1989_cp_g(_horse_de_mcal(q)))
    return float(_horse(q).cp_g) / (
        1.0 if "BW_kg" in q or "mature_BW_kg" in q else _G_PER_KG * KG_PER_LB
    )


def _of_horse(name: str) -> Quantity:
    return lambda q: float(getattr(_horse(q), name))


_OF_SPECIES: Final[dict[str, Quantity]] = {
    "sheep_DMI_table": _sheep("dm_kg"),
    "sheep_TDN_table": _sheep("tdn_kg"),
    "sheep_ME_table": _sheep("me_mcal"),
    "sheep_CP_table": _sheep("cp_g"),
    "sheep_CP_interpolated": built_in(_sheep("cp_g"), rule="linear in BW"),
    "sheep_Ca_table": _sheep("ca_g"),
    "sheep_vitA_table": _sheep("vitamin_a_iu"),
    "sheep_CP_factorial": _cp_factorial,
    "sheep_TDN_maintenance_NRC2007": built_in(_ewe_tdn_lb, sex="female"),
    "sheep_DMI_maintenance_NRC2007": built_in(
        lambda q: _ewe_me_mcal(q) / q["diet_ME_Mcal_per_kg"] / KG_PER_LB, sex="female"
    ),
    # How many lambs is in their weight at birth.
    "sheep_TDN_late_gestation_NRC2007": beside(_ewe_tdn_lb, "lambs"),
    "sheep_CP_late_gestation_NRC2007": _ewe_cp_lb,
    "sheep_Ca_NRC2007": _calcium_2007,
    "sheep_ME_maintenance": _me_maintenance_mj,
    "sheep_ME_pregnancy": _me_pregnancy_mj,
    "goat_TDN": _goat_row(lambda q: _goat_maintenance(q).tdn_kg / KG_PER_LB),
    "goat_CP": _goat_row(lambda q: _goat_maintenance(q).cp_g / _G_PER_KG / KG_PER_LB),
    "goat_DM_at_2.0": _goat_row(
        lambda q: _goat_maintenance(q).dm_kg * q["lb_per_kg_used_by_source"]
    ),
    "goat_ME_maintenance": _goat_me,
    "goat_TDN_late_pregnancy_increment": built_in(
        lambda q: goat.goat_tdn_late_pregnancy_kg() / KG_PER_LB,
        **{"class": "late_pregnancy_addition", "edition": "NRC1981"},
    ),
    "goat_TDN_growth_increment": built_in(
        lambda q: goat_tdn_from_me_kg(goat.goat_me_gain_mcal(q["ADG_g"])) / KG_PER_LB,
        **{"class": "growth_addition", "edition": "NRC1981"},
    ),
    "goat_ME_milk": built_in(
        lambda q: goat.goat_me_milk_mcal(q["milk_kg"], q["fat_pct"]), edition="NRC1981"
    ),
    "goat_TDN_per_kg_milk": _goat_milk_tdn_lb,
    "goat_MEm_coefficient": _me_coefficient,
    "goat_MP_maintenance": built_in(
        lambda q: goat_2004.mp_growing_g(q["BW_kg"]),
        **{"class": "growing_non_angora", "edition": "Luo2004"},
    ),
    "goat_MP_milk": _milk_mp_g,
    "goat_angora_ME_maintenance": built_in(
        lambda q: goat_2004.angora_me_kj(q["BW_kg_pow_0.75"] ** (4.0 / 3.0)) / MJ_PER_MCAL,
        edition="Luo2004",
    ),
    "goat_Ca_NRC2007": _calcium_2007,
    "horse_DE": _horse_de_mcal,
    "horse_CP": _horse_cp,
    "horse_Lys": _of_horse("lysine_g"),
    "horse_Ca": _of_horse("ca_g"),
    "horse_P": _of_horse("p_g"),
    "horse_Mg": _of_horse("mg_g"),
    "horse_Na": _of_horse("na_g"),
    "horse_Cu": _of_horse("cu_mg"),
    "horse_Se": _of_horse("se_mg"),
    "horse_VE": _of_horse("vitamin_e_iu"),
    "horse_BW": built_in(
        lambda q: horses.horse_weight_at_kg(q["mature_BW_kg"], q["age_months"]),
        **{"class": "growth", "edition": "NRC2007"},
    ),
}

SMALL_STOCK: Final[dict[str, Quantity]] = {
    **{
        name: built_in(quantity, species=name.partition("_")[0])
        for name, quantity in _OF_SPECIES.items()
    },
    # The chart prints the kind of animal beside the weight and intake that make its unit.
    "animal_unit_equivalent": beside(
        lambda q: sheep.hay_rates.table_animal_units(
            q["BW_lb"] * KG_PER_LB, q["intake_pct_BW"], q["base_lb_per_year"] * KG_PER_LB
        ),
        "kind",
    ),
}
