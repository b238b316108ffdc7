"""Samples to lots of a farm: by bag, then by laboratory number; what fits nothing waits.

Others use ``match_samples`` and ``history_questions``.
"""

# fmt: off
from rickyard.labs.matching.history import history_questions
from rickyard.labs.matching.lots import Match, match_samples

__all__ = ["Match", "history_questions", "match_samples"]
