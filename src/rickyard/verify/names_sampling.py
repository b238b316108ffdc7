"""Names of the check files for sampling, cold days and rations with a stated chance."""

from __future__ import annotations

from typing import Final

from rickyard.hay.feeding import need, supply
from rickyard.hay.precision import farm_variance as own_spread
from rickyard.hay.precision import precision, testing, two_sided_z
from rickyard.hay.sampling import cores
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
