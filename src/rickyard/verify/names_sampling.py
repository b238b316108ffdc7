"""Names of the check files for sampling, cold days, stated chances and common practice."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date
from typing import Final

from rickyard.farm import Forage, Lot, Package, Storage
from rickyard.hay.common import calendar
from rickyard.hay.feeding import need, supply
from rickyard.hay.precision import farm_variance as own_spread
from rickyard.hay.precision import precision, testing, two_sided_z
from rickyard.hay.sampling import analyses, cores, probing, when
from rickyard.program.explain import worth_of_tests
from rickyard.quantities import convert
from rickyard.stock.cold import cold_pct, feed_in_cold_kg
from rickyard.verify import problems
from rickyard.verify.quantity import Inputs, Quantity


def _cold_pct(q: Inputs) -> float:
    felt, critical = (convert(q[name], "degF", "degC") for name in ("t_eff_F", "lct_F"))
    return float(cold_pct(felt, critical, q["slope_pct_per_F"]))


def core_g(q: Inputs) -> float:
    """Return the weight of a core by probe, depth and density."""
    return float(
        cores.core_mass_g(
            convert(q["tip_in"], "in", "m"),
            convert(q["depth_in"], "in", "m"),
            convert(q["density_lb_ft3"], "lb_per_ft3", "kg_per_m3"),
        )
    )


def _critical_difference(q: Inputs) -> float:
    variance = precision.composite_se(q["s_obs"], q["s_rep"], q["n"]) ** 2
    return float(precision.critical_difference(variance, variance, q["z"]))


SAMPLING: Final[dict[str, Quantity]] = {
    "core_mass": core_g,
    "cores_for_mass": lambda q: supply.bales_rounded_up(q["target_g"], core_g(q)),
    "cores_per_bale": lambda q: cores.cores_per_bale(q["bales_in_lot"], q["target_cores"]),
    "probe_depth_star": lambda q: convert(
        cores.core_depth_m(convert(q["diameter_in"], "in", "m"), convert(q["layer_in"], "in", "m")),
        "m",
        "in",
    ),
    "wet_sample_mass": lambda q: need.as_fed_from_dm(q["dm_needed_g"], 100.0 * q["dm_frac"]),
    "n_required": lambda q: precision.samples_required(q["sd"], q["E"], q["conf"], q.get("N")),
    "n_adequacy_onesided": lambda q: precision.samples_for_relative_error(
        q["values"], q["rel_E"], q["conf"]
    ),
    "range95_low": lambda q: q["mean"] - two_sided_z(0.95) * q["sd"],
    "composite_se": lambda q: precision.composite_se(
        q["s_obs"], q["s_rep"], q["n"], repeats=q["r"]
    ),
    "critical_difference": _critical_difference,
    "hot_bale_n": lambda q: own_spread.bales_to_find_hot(q["share"], q["conf"]),
    "voi_newsvendor_reduction": lambda q: (
        testing.value_of_test(q["prior_sd"], q["test_sd"], q["k_over"], q["k_under"]).saved
    ),
    "cold_pct": _cold_pct,
    "cold_hay": lambda q: feed_in_cold_kg(q["base_lb"], _cold_pct(q)),
    "chance_lp": lambda q: problems.linear_output(problems.solve_assured(q), q["output"]),
}

_LEAST: Final = ("dm", "cp", "adf", "ndf")


def _lot(forage: str, drought: bool | None = None) -> Lot:
    day = date(2026, 6, 1)
    stands = Storage.ENCLOSED_BARN
    lot = Lot("A", "Barn", Forage(forage), Package.ROUND, stands, 40.0, day, day)
    return replace(lot, drought=drought)


def _bags(q: Inputs) -> float:
    """Return the gallon freezer bags that all cores of a lot fill together."""
    return math.ceil(float(cores.bag_volume_ml(q["cores"] * core_g(q))) / cores.GALLON_ML)


def _least_tests(q: Inputs) -> str:
    wanted = {one.test for one in analyses.wanted_tests(_lot(q["forage"]), ())}
    return " ".join(one for one in _LEAST if one in wanted)


def _nitrate_too(q: Inputs) -> str:
    wanted = analyses.wanted_tests(_lot(q["forage"], q["drought"]), ())
    return "yes" if any(one.test == "nitrate" for one in wanted) else "no"


def _may_ship_wet(q: Inputs) -> str:
    places = calendar.work_calendar("")
    day = date.fromisoformat(q["day"])
    return "yes" if places.may_ship_wet(day, when.Timing().wet_mail_days) else "no"


PRACTICE: Final[dict[str, Quantity]] = {
    "practice_bales_cored": lambda q: float(cores.PRACTICE_CORES),
    "protocol_bales_cored": lambda q: float(cores.PROTOCOL_CORES),
    "square_core_depth": lambda q: convert(probing.SQUARE_DEPTH_M, "m", "in"),
    "bags_of_a_lot": _bags,
    "wet_sample_may_leave": _may_ship_wet,
    "days_of_laboratory_at_least": lambda q: "yes" if when.Timing().lab_days >= q["days"] else "no",
    "basic_test_fee": lambda q: worth_of_tests.COMMON_FEE_USD,
    "least_tests": _least_tests,
    "nitrate_asked_for": _nitrate_too,
}
