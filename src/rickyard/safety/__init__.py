"""The rules of safety: one table, and what of it binds on a farm.

Each row says which hazard is found how, whom it binds, what it demands, and in which words and by
whose word. The rows of the season program, the cautions and the checks are made from it.
"""

# fmt: off
from rickyard.safety.binding import (
    Binding, bindings, counted_together, counts_as_pregnant, diet_rule, diet_spans, may_stand_in,
)
from rickyard.safety.found import npn_of, of_feed, water_no3n_ppm
from rickyard.safety.nitrate_words import nitrate_found, nitrate_shares
from rickyard.safety.rule import Rule, amount_of, rule_of, rules
from rickyard.safety.shortage_order import ShortagePlace, places_of, shortage_places
from rickyard.safety.told import rule_cautions, with_rules
from rickyard.safety.whom import births, classes_bound

__all__ = [
    "Binding", "Rule", "ShortagePlace", "amount_of", "bindings", "births", "classes_bound",
    "counted_together", "counts_as_pregnant", "diet_rule", "diet_spans", "may_stand_in",
    "nitrate_found", "nitrate_shares", "npn_of", "of_feed", "places_of", "rule_cautions", "rule_of",
    "rules", "shortage_places", "water_no3n_ppm", "with_rules",
]
