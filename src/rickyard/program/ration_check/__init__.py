"""The second look at rations, from the program alone: what is fed against what is told.

It knows nothing of how rations are found.
"""

# fmt: off
from rickyard.program.ration_check import free_choice
from rickyard.program.ration_check.constant import ration_breaches, week_may_lack
from rickyard.program.ration_check.free_choice import fill_breaches, has_free_access
from rickyard.program.ration_check.turns import waits

__all__ = [
    "fill_breaches", "free_choice", "has_free_access", "ration_breaches", "waits", "week_may_lack",
]
