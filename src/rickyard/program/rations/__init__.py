"""Rations: runs of weeks with the same amounts, in place of amounts that change every week."""

# fmt: off
from rickyard.program.rations import held, other_things, plan, pricing, told
from rickyard.program.rations.offered import offered_to, with_free_choice
from rickyard.program.rations.plan import plan_rations
from rickyard.program.rations.pricing import Apart
from rickyard.program.rations.told import many_rations, rations_told

__all__ = [
    "Apart", "held", "many_rations", "offered_to", "other_things", "plan", "plan_rations",
    "pricing", "rations_told", "told", "with_free_choice",
]
