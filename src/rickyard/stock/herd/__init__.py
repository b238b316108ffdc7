"""Any group's needs, whatever its species, and what must never be fed to it.

The one door through which the season asks what a group needs.
"""

# fmt: off
from rickyard.stock.herd import additives, condition_change, diet_change
from rickyard.stock.herd.herd import group_needs, needs_in
from rickyard.stock.herd.horse_care import care_cautions, is_risky_fescue, lot_sugars, says_fescue
from rickyard.stock.herd.outcome import condition_on_supply, gain_on_diet, needs_held
from rickyard.stock.herd.plain_minerals import may_hold_copper
from rickyard.stock.herd.prohibited_feeds import cautions
from rickyard.stock.herd.reproduction import expected_outcome, outcome_table, printed_outcome
from rickyard.stock.herd.stated import with_stated_needs
from rickyard.stock.herd.trace_needs import TraceNeed, trace_needs

__all__ = [
    "TraceNeed", "additives", "care_cautions", "cautions", "condition_change",
    "condition_on_supply", "diet_change", "expected_outcome", "gain_on_diet", "group_needs",
    "is_risky_fescue", "lot_sugars", "may_hold_copper", "needs_held", "needs_in", "outcome_table",
    "printed_outcome", "says_fescue", "trace_needs", "with_stated_needs",
]
