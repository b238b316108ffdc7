"""What all of hay stands on: believable limits, shipped tables, working days.

Imports nothing else of hay.
"""

# fmt: off
from rickyard.hay.common import calendar
from rickyard.hay.common.calendar import WorkCalendar, work_calendar
from rickyard.hay.common.limits import (
    MOST_WET_DENSITY_KG_M3, ROUND_BALE_SIDE_M, equation, require_between, require_dm, require_loss,
    require_not_negative, require_positive,
)
from rickyard.hay.common.tables import End, end_of, find, read_table

__all__ = [
    "End", "MOST_WET_DENSITY_KG_M3", "ROUND_BALE_SIDE_M", "WorkCalendar", "calendar", "end_of",
    "equation", "find", "read_table", "require_between", "require_dm", "require_loss",
    "require_not_negative", "require_positive", "work_calendar",
]
