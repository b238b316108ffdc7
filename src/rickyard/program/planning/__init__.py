"""The calls that plan: a season, and the same season with something changed.

Brings the rooms below together in their order: inputs, problem, model, search, explain.
"""

from rickyard.program.planning.season import (
    plan_season,
)
from rickyard.program.planning.what_if import (
    Answer,
    Change,
    Head,
    Intake,
    Lose,
    Price,
    Until,
    WinterIs,
    answer,
    changed,
    labels_of,
)

__all__ = [
    "Answer",
    "Change",
    "Head",
    "Intake",
    "Lose",
    "Price",
    "Until",
    "WinterIs",
    "answer",
    "changed",
    "labels_of",
    "plan_season",
]
