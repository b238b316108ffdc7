"""The calls that plan: a season, and the same season with something changed.

Brings the rooms below together in their order: inputs, problem, model, search, explain.
"""

# fmt: off
from rickyard.program.planning import ladder_steps, season
from rickyard.program.planning.change_words import labels_of
from rickyard.program.planning.changes import (
    Bought, Cash, Change, Condition, HeadCount, Intake, LotLoss, Price, SalePrice, SeasonEnd,
    WinterIs, changed,
)
from rickyard.program.planning.ladder import with_ladder
from rickyard.program.planning.season import plan_season, using
from rickyard.program.planning.what_if import WhatIfAnswer, answer, short_weeks

__all__ = [
    "Bought", "Cash", "Change", "Condition", "HeadCount", "Intake", "LotLoss", "Price", "SalePrice",
    "SeasonEnd", "WhatIfAnswer", "WinterIs", "answer", "changed", "labels_of", "ladder_steps",
    "plan_season", "season", "short_weeks", "using", "with_ladder",
]
