"""The calls that plan: a season, and the same season with something changed.

Brings the rooms below together in their order: inputs, problem, model, search, explain.
"""

# fmt: off
from rickyard.program.planning import season
from rickyard.program.planning.season import plan_season
from rickyard.program.planning.what_if import (
    Change, HeadCount, Intake, LotLoss, Price, SeasonEnd, WhatIfAnswer, WinterIs, answer, changed,
    labels_of,
)

__all__ = [
    "Change", "HeadCount", "Intake", "LotLoss", "Price", "SeasonEnd", "WhatIfAnswer", "WinterIs",
    "answer", "changed", "labels_of", "plan_season", "season",
]
