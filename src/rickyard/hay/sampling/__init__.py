"""Which lots to core, when, which bales, how, and which tests to order.

Ends in one sampling plan a farm.
"""

# fmt: off
from rickyard.hay.sampling import (
    analyses, bale_selection, cores, lots, probing, protocols, sampling_plan, when,
)
from rickyard.hay.sampling.analyses import purpose_of, wanted_tests
from rickyard.hay.sampling.cores import PRACTICE_CORES, PROTOCOL_CORES
from rickyard.hay.sampling.coring import Coring, Sent, Tried, coring
from rickyard.hay.sampling.lab_packages import cheapest_order
from rickyard.hay.sampling.lots import (
    LotSplit, MOST_DAYS_APART, lot_code, lot_size_cautions, split_lot,
)
from rickyard.hay.sampling.probing import CAUTIONS
from rickyard.hay.sampling.protocols import Protocol, protocols_for
from rickyard.hay.sampling.sampling_plan import (
    Options, SamplePlan, UNKNOWN_RAIN_MM, farm_sample_plans, lot_spread,
)
from rickyard.hay.sampling.when import is_silage, too_hot_to_touch

__all__ = [
    "CAUTIONS", "Coring", "LotSplit", "MOST_DAYS_APART", "Options", "PRACTICE_CORES",
    "PROTOCOL_CORES", "Protocol", "SamplePlan", "Sent", "Tried", "UNKNOWN_RAIN_MM", "analyses",
    "bale_selection", "cheapest_order", "cores", "coring", "farm_sample_plans", "is_silage",
    "lot_code", "lot_size_cautions", "lot_spread", "lots", "probing", "protocols", "protocols_for",
    "purpose_of", "sampling_plan", "split_lot", "too_hot_to_touch", "wanted_tests", "when",
]
