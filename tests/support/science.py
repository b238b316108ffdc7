"""Every public function of the science that takes numbers or arrays, with values it understands."""

import dataclasses
import inspect
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import numpy as np

import rickyard
from rickyard.farm import Coat, Forage, Package, Storage, Wrap

PACKAGE = Path(rickyard.__file__).parent
PARTS = ("forage", "hay", "stock", "match")

#: A value in the middle of what is met, by the name of a parameter.
TYPICAL: dict[str, Any] = {
    "a_pct": 8.0,
    "adf_pct": 36.0,
    "adf_sd": 1.2,
    "adicp_pct": 1.0,
    "age_months": 14.0,
    "air_f": 20.0,
    "alone_kg": 11.0,
    "amount": 100.0,
    "amounts": 100.0,
    "animal": "dry_pregnant_cow",
    "as_fed_kg": 20_000.0,
    "ash": 8.0,
    "ash_g_per_kg": 80.0,
    "ash_pct": 8.0,
    "at": 0.5,
    "b_pct": 20.0,
    "bale_sd": 1.0,
    "bale_weight": 500.0,
    "bale_weight_kg": 500.0,
    "bales": 20,
    "bales_given": 4.0,
    "bales_in_lot": 40,
    "base_s_pct": 0.2,
    "breeding": False,
    "ca_pct": 0.6,
    "capital": 10_000.0,
    "chance": 0.9,
    "cl_pct": 0.5,
    "coat": Coat.WINTER,
    "coefficients": (0.1, 1.2, -0.02, 0.001),
    "colonies_per_g": 200_000.0,
    "composite_ppm": 900.0,
    "concentrate_kg": 3.0,
    "concentrate_pct_bw": 0.6,
    "conceptus_kg": 40.0,
    "condition_score": 5.0,
    "confidence": 0.9,
    "copper_ppm": 12.0,
    "cores": 20,
    "cost": 500.0,
    "cost_over": 100.0,
    "cost_per_nutrient": 0.5,
    "cost_under": 300.0,
    "count": 12.0,
    "cp": 12.0,
    "cp_digestibility": 0.93,
    "cp_g_per_kg": 120.0,
    "cp_need_kg": 0.9,
    "cp_pct": 12.0,
    "critical_c": 0.0,
    "cumulative_need": 2200.0,
    "cutting": 2,
    "cv_pct": 5.0,
    "daily": 5.0,
    "dairy_class": "cow_maintenance",
    "day": 200.0,
    "day_pregnant": 120.0,
    "days": 30.0,
    "days_each": 3,
    "days_to_birth": 30.0,
    "days_to_calving": 30.0,
    "de_mcal": 20.0,
    "de_mcal_per_kg": 2.6,
    "deficit": 2.0,
    "delivered": 0.15,
    "density_as_fed_kg_m3": 160.0,
    "density_kg_m3": 180.0,
    "depth_cm": 10.0,
    "depth_m": 0.45,
    "df": 12,
    "diameter_m": 1.5,
    "diet_cp_pct": 6.0,
    "diet_me_mcal_per_kg": 2.1,
    "diet_me_mj_per_kg": 9.0,
    "diet_neg_mcal_per_kg": 0.7,
    "diet_nem_mcal_per_kg": 1.3,
    "disappeared": 100.0,
    "distance": 60.0,
    "dm": 1000.0,
    "dm_density_kg_m3": 200.0,
    "dm_kg": 1.6,
    "dm_pct": 88.0,
    "dm_pct_bw": 2.0,
    "dm_per_head_day": 11.0,
    "ee": 2.5,
    "ee_g_per_kg": 25.0,
    "ee_pct": 2.5,
    "effective_c": -10.0,
    "efficiency": 0.6,
    "element": "K",
    "ends": 1,
    "energy_mcal": 100.0,
    "extra_ash_pct": 2.0,
    "fa_pct": 1.5,
    "fat_pct": 4.0,
    "feed_kg": 10.0,
    "feed_s_pct": 0.8,
    "feed_sulfur_pct": 0.2,
    "feed_tdn_pct": 55.0,
    "final_shrunk_weight_kg": 560.0,
    "first_variance": 0.4,
    "first_weight_kg": 200.0,
    "forage": Forage.COOL_GRASS,
    "forage_alone_kg": 11.0,
    "forage_kg": 8.0,
    "forage_pct": 60.0,
    "forage_tdn_pct": 52.0,
    "from_score": 4.0,
    "full_weight_kg": 560.0,
    "g_per_kg": 0.4,
    "g_per_kg075": 90.0,
    "gain_g": 100.0,
    "gain_kg": 0.15,
    "gain_kg_per_day": 0.6,
    "given": (12.0, 60.0, 2.5, 8.0, 3.0, 5.0),
    "goat_class": "mature",
    "growing": True,
    "hair_cm": 1.0,
    "hay_ppm": 1500.0,
    "head": 40.0,
    "heat_mcal": 18.0,
    "height_m": 0.9,
    "high": 100.0,
    "hours": 6.0,
    "in_lot": 60.0,
    "insulation": 20.0,
    "intake_kg": 11.0,
    "intake_pct_bw": 2.0,
    "internal_ash_pct": 8.0,
    "interval": 365.0,
    "k_pct": 1.8,
    "kernel_gossypol_pct": 1.2,
    "kg": 500.0,
    "kg_per_score": 40.0,
    "kind": "ewe_late_gestation",
    "kno3_ppm": 4000.0,
    "lactating": True,
    "lambs": 2,
    "lambs_per_ewe": 1.8,
    "layer_m": 0.1,
    "least": 2.0,
    "length_m": 1.5,
    "less_pct": 20.0,
    "lignin_pct": 6.0,
    "limit": 12.0,
    "limit_f": 150.0,
    "limit_mg": 3.0,
    "limit_ppm": 1000.0,
    "litres_per_kg": 20.0,
    "litter_birth_weight_kg": 8.0,
    "load": 20.0,
    "loss": 3.0,
    "loss_pct": 15.0,
    "loss_with_pct": 5.0,
    "loss_without_pct": 20.0,
    "lot_id": "A",
    "low": 0.0,
    "mass": 500.0,
    "mature_kg": 560.0,
    "mature_weight_kg": 560.0,
    "mcal_per_kg": 20.0,
    "me_mcal": 20.0,
    "me_mcal_per_kg": 2.1,
    "mean": 12.0,
    "mean_temperature_c": 5.0,
    "metres_each": 0.6,
    "mg_pct": 0.2,
    "microbial_g": 900.0,
    "milk_kg": 1.2,
    "milk_kg_per_day": 8.0,
    "milk_lb": 15.0,
    "milk_protein_g": 40.0,
    "moisture_pct": 50.0,
    "month": 9.0,
    "months": 6.0,
    "months_from": 1.0,
    "months_to": 6.0,
    "more_tdn_kg": 0.5,
    "most": 3,
    "mp_g": 500.0,
    "mph": 15.0,
    "na_pct": 0.05,
    "name": "hay",
    "ndf": 60.0,
    "ndf_eaten_pct_bw": 1.2,
    "ndf_g_per_kg": 600.0,
    "ndf_pct": 60.0,
    "ndf_sd": 1.6,
    "ndfd": 55.0,
    "ndfd48_pct_of_ndf": 55.0,
    "ndicp": 3.0,
    "ndicp_pct": 3.0,
    "nem": 1.3,
    "nem_maintenance_mcal": 9.0,
    "nem_need_mcal": 10.0,
    "no3_ppm": 4000.0,
    "no3n_ppm": 900.0,
    "no3n_ppm_dm": 900.0,
    "npn_cp_pct": 20.0,
    "nsc_pct": 12.0,
    "nursing_dm_kg": 12.0,
    "nutrient_pct": 12.0,
    "observed_sd": 1.6,
    "other_alone_kg": 9.0,
    "other_kg": 2.0,
    "other_ppm": 200.0,
    "otherwise": 5.0,
    "over_days": 300.0,
    "p_pct": 0.25,
    "package": Package.ROUND,
    "parts_mj": 12.0,
    "pct": 1.5,
    "peak_milk_kg": 8.0,
    "ph": 5.0,
    "pregnant": False,
    "previous_month_temperature_c": 5.0,
    "price": 100.0,
    "prices": 2.0,
    "prior_sd": 2.0,
    "probability": 0.9,
    "quantity": "tdn",
    "rain_mm_per_year": 900.0,
    "rate": 0.5,
    "rate_pct": 6.0,
    "rate_per_distance": 4.0,
    "rdp_g": 700.0,
    "relative": False,
    "relative_error": 0.1,
    "repeat_sd": 0.3,
    "required": 10.0,
    "reserved": 20.0,
    "result_sd": 1.0,
    "retained_mcal": 1.5,
    "retained_mcal_per_day": 2.0,
    "rfv": 120.0,
    "rfv_reported": 100.0,
    "ring_diameter_m": 2.4,
    "rom_pct": 10.0,
    "rule": "cow_late",
    "s_pct": 0.2,
    "salt_kg": 0.4,
    "sample_g": 200.0,
    "sampled": 20.0,
    "samples": 12,
    "scale_weight_kg": 600.0,
    "scaled_weight_kg": 350.0,
    "score_now": 4.0,
    "score_of_five": 3.0,
    "score_wanted": 5.0,
    "scores": 1.0,
    "sd": 1.5,
    "se_ppm": 0.1,
    "second_variance": 0.4,
    "seed": 1,
    "selenium_ppm": 20.0,
    "share": 0.1,
    "sheep_class": "ewe_maintenance",
    "short_mcal_per_day": 2.0,
    "shrunk_weight_at_5_kg": 540.0,
    "shrunk_weight_kg": 540.0,
    "species": "sheep",
    "spread_days": 40,
    "stage": "late_gestation",
    "starch_pct": 2.0,
    "start": 1.0,
    "step": 0.5,
    "step_mcal": 200.0,
    "step_pct": 25.0,
    "steps": 4,
    "stock": 200.0,
    "storage": Storage.EXPOSED_GROUND,
    "study_days": 100.0,
    "sugar_pct": 8.0,
    "sulfate_mg_per_l": 300.0,
    "sulfur_pct": 0.2,
    "supplement": 2.0,
    "supplement_kg": 2.0,
    "supplement_pct_bw": 0.4,
    "supply": 8.0,
    "surplus_nem_mcal_per_day": 2.0,
    "t": 1.5,
    "table": "michigan_pregnant_60d",
    "target": 4.0,
    "target_pct": 12.0,
    "target_weight_kg": 400.0,
    "tdn": 56.0,
    "tdn_g": 6000.0,
    "tdn_kg": 5.0,
    "tdn_pct": 56.0,
    "tds_ppm": 3000.0,
    "temperature_c": 5.0,
    "temperature_f": 60.0,
    "tip_m": 0.012,
    "to_score": 5.0,
    "total": 200.0,
    "total_ash_pct": 11.0,
    "unit": "kg",
    "value": 12.0,
    "volume_m3": 2.5,
    "wanted": 20,
    "wasted": 12.0,
    "water_l_per_day": 40.0,
    "water_pct_bw": 8.0,
    "week": 8.0,
    "weight": 560.0,
    "weight_kg": 300.0,
    "weight_lb": 1200.0,
    "wet": True,
    "wet_frac": 0.3,
    "whole": 100.0,
    "width_m": 1.2,
    "wind_km_per_h": 15.0,
    "with_supplement": 10.0,
    "within_sd": 1.0,
    "without": 11.0,
    "wrap": Wrap.NET,
    "wsc_pct": 8.0,
    "years": 10.0,
}


#: What some functions are asked beside or in place of that, by their own names.
OWN: dict[str, dict[str, Any]] = {
    "dairy_1989": {"dairy_class": "dry_cow"},
    "fiber_fills_kg": {"rule": "cow_dry"},
    "forage_put_aside_kg": {"kind": "starch"},
    "intake_alone_kg": {"rule": "cow_dry"},
    "late_factor": {"rule": "cow_dry"},
    "mare_in_milk": {"month": 3.0},
    "mare_milk_kg": {"month": 3.0},
    "put_aside_rate": {"kind": "starch"},
    "remaining_fraction": {"rain_mm_per_year": 900.0},
    "sheep_1985": {"weight_kg": 70.0},
    "storage_loss_pct": {"rain_mm_per_year": 900.0},
}

#: Functions that are no formula element by element, each with its reason.
OTHERWISE: dict[str, str] = {
    "all_along": "looks up a table at points",
    "basket_cost": "sums what it is given",
    "diet_no3n_ppm": "takes any number of feeds",
    "growing_state": "gives a place in a table, where an unknown age counts as a yearling's",
    "me_total_mj": "takes any number of parts",
    "require_between": "guards and returns nothing",
    "require_dm": "guards and returns nothing",
    "require_loss": "guards and returns nothing",
    "require_not_negative": "guards and returns nothing",
    "require_positive": "guards and returns nothing",
}


def functions() -> Iterator[tuple[str, Callable[..., Any]]]:
    """Yield (dotted name, function) of what takes ``Numeric`` and comes through a room's door."""
    seen = set()
    for part in PARTS:
        for door in sorted((PACKAGE / part).rglob("__init__.py")):
            room = ".".join(("rickyard", *door.parent.relative_to(PACKAGE).parts))
            module = import_module(room)
            for name in getattr(module, "__all__", ()):
                one = getattr(module, name)
                if inspect.isfunction(one) and one not in seen and numeric_arguments(one):
                    if name in OTHERWISE:
                        continue
                    seen.add(one)
                    yield f"{room}.{name}", one


def formulas(*, inner: bool = False) -> Iterator[Callable[..., Any]]:
    """Yield every function of the science of which typical values are known.

    ``inner`` : those that are used in their own file alone, in place of the public ones.
    """
    for part in PARTS:
        for path in sorted((PACKAGE / part).rglob("*.py")):
            dotted = path.relative_to(PACKAGE).with_suffix("").parts
            if path.name == "__init__.py":
                continue
            module = import_module(".".join(("rickyard", *dotted)))
            for name, one in vars(module).items():
                own = inspect.isfunction(one) and one.__module__ == module.__name__
                if own and name.startswith("_") == inner and _takes_known_numbers(one):
                    yield one


def _takes_known_numbers(function: Callable[..., Any]) -> bool:
    given = inspect.signature(function).parameters.values()
    known = {**TYPICAL, **OWN.get(function.__name__, {})}
    numbers = [one for one in given if str(one.annotation) in ("Numeric", "float")]
    return bool(numbers) and all(one.name in known for one in given if one.default is one.empty)


def numeric_arguments(function: Callable[..., Any]) -> list[str]:
    """Return the names of the parameters that take a number or an array."""
    given = inspect.signature(function).parameters.values()
    return [one.name for one in given if str(one.annotation) == "Numeric"]


def needed(function: Callable[..., Any]) -> dict[str, Any]:
    """Return typical values of the parameters that must be given."""
    given = inspect.signature(function).parameters.values()
    usual = {one.name: TYPICAL[one.name] for one in given if one.default is one.empty}
    return {**usual, **OWN.get(function.__name__, {})}


def middle(function: Callable[..., Any], name: str) -> float | None:
    """Return a value in the middle of what a parameter means; ``None`` where none is known."""
    asked = needed(function)
    usual = inspect.signature(function).parameters[name].default
    if name in asked:
        value = asked[name]
    elif isinstance(usual, int | float) and not isinstance(usual, bool):
        value = usual
    else:
        value = TYPICAL.get(name)
    return None if value is None or isinstance(value, bool) else float(value)


def numbers_of(result: object) -> list[np.ndarray]:
    """Return the numbers of a result, also of one that is a class or holds several."""
    if dataclasses.is_dataclass(result) and not isinstance(result, type):
        result = tuple(getattr(result, one.name) for one in dataclasses.fields(result))
    if isinstance(result, dict):
        result = tuple(result.values())
    if isinstance(result, tuple):
        return [number for one in result for number in numbers_of(one)]
    if isinstance(result, float | int | np.ndarray | np.floating) and not isinstance(result, bool):
        found = np.asarray(result)
        return [found.astype(float)] if np.issubdtype(found.dtype, np.number) else []
    return []
