"""What is printed or put into a calendar: season sheet, weekly list, sampling days.

Lays out what wording and charts made.
"""

# fmt: off
from rickyard.sheets.paper import calendar
from rickyard.sheets.paper.calendar import (
    Event, calendar_bytes, feed_by_events, heat_events, sampling_events,
)
from rickyard.sheets.paper.day import day_list
from rickyard.sheets.paper.for_buyers import LotSheet, lot_sheet
from rickyard.sheets.paper.lot_pdf import lot_pdf
from rickyard.sheets.paper.on_farm import is_here
from rickyard.sheets.paper.season_pdf import season_pdf
from rickyard.sheets.paper.week import WeekGroup, WeekLine, WeekList, week_list
from rickyard.sheets.paper.week_days import last_day, week_start_of
from rickyard.sheets.paper.week_pdf import joined_pdf, week_pdf, weeks_pdf

__all__ = [
    "Event", "LotSheet", "WeekGroup", "WeekLine", "WeekList", "calendar", "calendar_bytes",
    "day_list", "feed_by_events", "heat_events", "is_here", "joined_pdf", "last_day", "lot_pdf",
    "lot_sheet", "sampling_events", "season_pdf", "week_list", "week_pdf", "week_start_of",
    "weeks_pdf",
]
