"""The pages that are opened every day: what to put out on a day and in a week, and what was fed."""

# fmt: off
from rickyard.web.daily.days import DayInAddress, fed, feeding, not_fed, week

__all__ = ["DayInAddress", "fed", "feeding", "not_fed", "week"]
