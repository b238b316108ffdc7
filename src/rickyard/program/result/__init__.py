"""What a season program is, once made: its options, periods, sources, groups and money.

Plain frozen classes that every sheet, screen and file reads; nothing here computes a program.
"""

# fmt: off
from rickyard.program.result.judgement import (
    EMPTY_FRAC, Judgement, NEEDS_OF_HAY, NUTRIENT_WORDS, STANDING_NOTE, TOO_MUCH, distance_usd,
    is_clear, judge,
)
from rickyard.program.result.options import (
    FileDigest, HayUse, Made, MadeWith, PlanOptions, USUAL_EFFORT, Wish,
)
from rickyard.program.result.outcomes import (
    GoalState, Outcome, OutcomeAt, OutcomeEvent, OutcomeGoal, OutcomeKind, OutcomePoint,
)
from rickyard.program.result.rations import Ration, RationThing
from rickyard.program.result.result import (
    BindingLimits, Bound, ChangeOver, Costs, Coverage, CoverageVerdict, Delivery, DeliveryTotal,
    FarmLimit, FeedWorth, FeedingRow, GroupPeriod, HayToBuy, Kept, LotBalance, LotReason,
    LotTestWorth, LotWorth, NeedLimit, NeedRow, Period, Purchase, Remedy, RemedyKind, RuleHeld,
    SCHEMA_VERSION, Sale, SeasonProgram, Shortage, SourceKind, SourceValues, UnitWorth, WishOutcome,
)
from rickyard.program.result.winter_result import Bought, NoWinters, WinterProgram, WinterPrograms

__all__ = [
    "BindingLimits", "Bought", "Bound", "ChangeOver", "Costs", "Coverage", "CoverageVerdict",
    "Delivery", "DeliveryTotal", "EMPTY_FRAC", "FarmLimit", "FeedWorth", "FeedingRow", "FileDigest",
    "GoalState", "GroupPeriod", "HayToBuy", "HayUse", "Judgement", "Kept", "LotBalance",
    "LotReason", "LotTestWorth", "LotWorth", "Made", "MadeWith", "NEEDS_OF_HAY", "NUTRIENT_WORDS",
    "NeedLimit", "NeedRow", "NoWinters", "Outcome", "OutcomeAt", "OutcomeEvent", "OutcomeGoal",
    "OutcomeKind", "OutcomePoint", "Period", "PlanOptions", "Purchase", "Ration", "RationThing",
    "Remedy", "RemedyKind", "RuleHeld", "SCHEMA_VERSION", "STANDING_NOTE", "Sale", "SeasonProgram",
    "Shortage", "SourceKind", "SourceValues", "TOO_MUCH", "USUAL_EFFORT", "UnitWorth",
    "WinterProgram", "WinterPrograms", "Wish", "WishOutcome", "distance_usd", "is_clear", "judge",
]
