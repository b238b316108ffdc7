"""Runs of weeks and what the best ration of each costs, for cuts by prices and for the bound."""

# fmt: off
from rickyard.program.runs import span_costs
from rickyard.program.runs.mixed import Mixed, RATION_USD, cheapest_cuts, not_long
from rickyard.program.runs.span_costs import Runs, WeeklyPrices, priced
from rickyard.program.runs.spans import (
    LEAST_DAYS, LEAST_DAYS_OF_MANY, SpanRules, Spans, cut_finely, eaten_before, lots_soon_gone,
    other_cuts, span_rules, spans_like, usual_rations,
)
from rickyard.program.runs.steady_needs import steady_needs, with_needs_of

__all__ = [
    "LEAST_DAYS", "LEAST_DAYS_OF_MANY", "Mixed", "RATION_USD", "Runs", "SpanRules", "Spans",
    "WeeklyPrices", "cheapest_cuts", "cut_finely", "eaten_before", "lots_soon_gone", "not_long",
    "other_cuts", "priced", "span_costs", "span_rules", "spans_like", "steady_needs",
    "usual_rations", "with_needs_of",
]
