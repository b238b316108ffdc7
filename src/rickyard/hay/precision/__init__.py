"""How precise a mean of cores is: spread, tolerance, quantiles, and a farm's own variance.

Statistics of sampling, below the plan that uses them.
"""

# fmt: off
from rickyard.hay.precision import farm_variance, precision, quantiles, testing
from rickyard.hay.precision.farm_variance import (
    LEAST_PAIRS, Spread, chance_of_hot_bale, core_sd_from_pairs, pairs_of, spread_of,
)
from rickyard.hay.precision.precision import (
    composite_se, composite_variance, core_sd, critical_difference, samples_required,
)
from rickyard.hay.precision.quantiles import normal_quantile, two_sided_z
from rickyard.hay.precision.testing import value_of_test

__all__ = [
    "LEAST_PAIRS", "Spread", "chance_of_hot_bale", "composite_se", "composite_variance", "core_sd",
    "core_sd_from_pairs", "critical_difference", "farm_variance", "normal_quantile", "pairs_of",
    "precision", "quantiles", "samples_required", "spread_of", "testing", "two_sided_z",
    "value_of_test",
]
