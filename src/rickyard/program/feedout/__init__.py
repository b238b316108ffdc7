"""From weekly amounts to what a helper puts out: deliveries, days, step-ups, changes of hay.

Whole bales with carry-forward, and the cautions that belong beside them.
"""

# fmt: off
from rickyard.program.feedout import day_amounts, diet_cautions, held_rules, step_up, transitions
from rickyard.program.feedout.deliveries import with_deliveries
from rickyard.program.feedout.diet_cautions import program_cautions
from rickyard.program.feedout.held_rules import rules_held, weighed_out
from rickyard.program.feedout.transitions import change_cautions

__all__ = [
    "change_cautions", "day_amounts", "diet_cautions", "held_rules", "program_cautions",
    "rules_held", "step_up", "transitions", "weighed_out", "with_deliveries",
]
