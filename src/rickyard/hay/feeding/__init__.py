"""What feeding takes, hand rations, caps, how much is needed and whether it lasts.

Common sums of a feeding season, worked without a solver.
"""

# fmt: off
from rickyard.hay.feeding import caps, feeding, hand_rations, need, supply
from rickyard.hay.feeding.feeding import FEEDERS, feeding_loss_lookup, feeding_loss_pct
from rickyard.hay.feeding.hand_rations import supplied
from rickyard.hay.feeding.need import before_loss, herd_dm, lost
from rickyard.hay.feeding.planning_loss import (
    PlannedLoss, group_loss, package_of_bales, planned_loss, usual_feeder, wants_net,
)
from rickyard.hay.feeding.supply import days_until_out, reserve

__all__ = [
    "FEEDERS", "PlannedLoss", "before_loss", "caps", "days_until_out", "feeding",
    "feeding_loss_lookup", "feeding_loss_pct", "group_loss", "hand_rations", "herd_dm", "lost",
    "need", "package_of_bales", "planned_loss", "reserve", "supplied", "supply", "usual_feeder",
    "wants_net",
]
