"""Programs for a mild, a normal and a hard winter that share one autumn.

What is decided before the winter is known is decided once for all of them.
"""

# fmt: off
from rickyard.program.winters import two_stage, winters
from rickyard.program.winters.winter_farms import farm_for_winter
from rickyard.program.winters.winter_words import winter_sentences
from rickyard.program.winters.winters import plan_winters

__all__ = ["farm_for_winter", "plan_winters", "two_stage", "winter_sentences", "winters"]
