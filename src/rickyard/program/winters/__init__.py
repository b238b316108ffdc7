"""Programs for a mild, a normal and a hard winter that share one autumn.

What is decided before the winter is known is decided once for all of them.
"""

from rickyard.program.winters.winter_words import (
    winter_sentences,
)
from rickyard.program.winters.winters import (
    NoWinters,
    farm_for_winter,
    plan_winters,
)

__all__ = [
    "NoWinters",
    "farm_for_winter",
    "plan_winters",
    "winter_sentences",
]
