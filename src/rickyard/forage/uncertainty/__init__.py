"""How sure a value is: errors of sampling and laboratory carried through every equation.

Ranges, odds of a grade or a hazard, repeat tests, and how a lot stands among its peers.
"""

# fmt: off
from rickyard.forage.uncertainty import uncertainty
from rickyard.forage.uncertainty.derived_error import (
    first_order_sd, measured_derived, rfv_sd_independent,
)
from rickyard.forage.uncertainty.lot_error import (
    lot_measured, report_measured, unit_words, with_defaults,
)
from rickyard.forage.uncertainty.odds import grade_sentence, nitrate_sentence
from rickyard.forage.uncertainty.peer_comparison import place
from rickyard.forage.uncertainty.repeat_tests import repeat_sentence
from rickyard.forage.uncertainty.suitability import (
    ALMOST_SURE, DENSITY_NEEDS, DensityNeed, NURSING_CA_PCT, NURSING_P_PCT, OTHER_NEEDS,
    chance_suited, first_unmet, gap_words, needs_of_stock, suited, sure_words,
)
from rickyard.forage.uncertainty.typical import typical_values
from rickyard.forage.uncertainty.uncertainty import Labs, Measured, sd_between_labs, sd_from_cv

__all__ = [
    "ALMOST_SURE", "DENSITY_NEEDS", "DensityNeed", "Labs", "Measured", "NURSING_CA_PCT",
    "NURSING_P_PCT", "OTHER_NEEDS", "chance_suited", "first_order_sd", "first_unmet", "gap_words",
    "grade_sentence", "lot_measured", "measured_derived", "needs_of_stock", "nitrate_sentence",
    "place", "repeat_sentence", "report_measured", "rfv_sd_independent", "sd_between_labs",
    "sd_from_cv", "suited", "sure_words", "typical_values", "uncertainty", "unit_words",
    "with_defaults",
]
