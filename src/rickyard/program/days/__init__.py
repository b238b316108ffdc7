"""What each group is put out on each day, so that no day breaks a rule of safety.

Feeds climb, hay with nitrate begins low, and safe hay makes up for what is held back.
"""

# fmt: off
from rickyard.program.days import day_amounts, held_rules, safe_days, step_up
from rickyard.program.days.bale_stock import BaleStock, WHOLE_WITHIN, bale_stocks, hay_ids
from rickyard.program.days.day_amounts import GroupDays, group_days
from rickyard.program.days.held_rules import (
    DIET_RULES, PROTEIN_RULE, only_mixed, poisons_mixed, rules_held, weighed_out,
)
from rickyard.program.days.making_up import day_kg_dm, stand_ins
from rickyard.program.days.step_up import free_step_kg

__all__ = [
    "BaleStock", "DIET_RULES", "GroupDays", "PROTEIN_RULE", "WHOLE_WITHIN", "bale_stocks",
    "day_amounts", "day_kg_dm", "free_step_kg", "group_days", "hay_ids", "held_rules", "only_mixed",
    "poisons_mixed", "rules_held", "safe_days", "stand_ins", "step_up", "weighed_out",
]
