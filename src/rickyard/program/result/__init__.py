"""What a season program is, once made: its options, periods, sources, groups and money.

Plain frozen classes that every sheet, screen and file reads; nothing here computes a program.
"""

from rickyard.program.result.delivery_result import (
    ChangeOver,
    Delivery,
    DeliveryTotal,
)
from rickyard.program.result.need_words import (
    NUTRIENT_WORDS,
    STANDING_NOTE,
    TOO_MUCH,
)
from rickyard.program.result.options import (
    USUAL_SECONDS,
    PlanOptions,
    Wish,
)
from rickyard.program.result.reason_result import (
    BindingLimits,
    FeedWorth,
    LotReason,
    LotTestWorth,
    LotWorth,
    Remedy,
    UnitWorth,
)
from rickyard.program.result.result import (
    SCHEMA_VERSION,
    Bound,
    Costs,
    FarmLimit,
    FeedingRow,
    GroupPeriod,
    Kept,
    LotBalance,
    NeedLimit,
    NeedRow,
    Period,
    Purchase,
    Sale,
    SeasonProgram,
    Shortage,
    SourceKind,
    SourceValues,
    WishOutcome,
)
from rickyard.program.result.winter_result import (
    Bought,
    NoWinters,
    WinterProgram,
    WinterPrograms,
)

__all__ = [
    "NUTRIENT_WORDS",
    "SCHEMA_VERSION",
    "STANDING_NOTE",
    "TOO_MUCH",
    "USUAL_SECONDS",
    "BindingLimits",
    "Bought",
    "Bound",
    "ChangeOver",
    "Costs",
    "Delivery",
    "DeliveryTotal",
    "FarmLimit",
    "FeedWorth",
    "FeedingRow",
    "GroupPeriod",
    "Kept",
    "LotBalance",
    "LotReason",
    "LotTestWorth",
    "LotWorth",
    "NeedLimit",
    "NeedRow",
    "NoWinters",
    "Period",
    "PlanOptions",
    "Purchase",
    "Remedy",
    "Sale",
    "SeasonProgram",
    "Shortage",
    "SourceKind",
    "SourceValues",
    "UnitWorth",
    "WinterProgram",
    "WinterPrograms",
    "Wish",
    "WishOutcome",
]
