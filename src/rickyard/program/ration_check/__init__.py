"""The second look at rations, from the program alone: what is fed against what is told.

It knows nothing of how rations are found.
"""

# fmt: off
from rickyard.program.ration_check.constant import ration_breaches, week_may_lack

__all__ = ["ration_breaches", "week_may_lack"]
