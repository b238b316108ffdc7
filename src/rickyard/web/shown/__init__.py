"""What stands on a page, in words and drawings, made of what the services return.

Pure functions; no address, no template and no database.
"""

# fmt: off
from rickyard.web.shown.care import care_of
from rickyard.web.shown.farms import addresses, farm_rows, farms_answer
from rickyard.web.shown.hay import hay_shown, put_up_shown
from rickyard.web.shown.lot import lot_shown
from rickyard.web.shown.people import account_answer, browser_text, people_answer, role_text
from rickyard.web.shown.questions import (
    blanks_of, reasons_shown, remedies_shown, what_if_shown, wishes_shown,
)
from rickyard.web.shown.season import season_shown
from rickyard.web.shown.starting import address, ask_shown, start_wall
from rickyard.web.shown.stock import group_page, stock_shown
from rickyard.web.shown.tests import coring_shown, report_shown, tests_shown
from rickyard.web.shown.yard import places_shown, yard_shown

__all__ = [
    "account_answer", "address", "addresses", "ask_shown", "blanks_of", "browser_text", "care_of",
    "coring_shown", "farm_rows", "farms_answer", "group_page", "hay_shown", "lot_shown",
    "people_answer", "places_shown", "put_up_shown", "reasons_shown", "remedies_shown",
    "report_shown", "role_text", "season_shown", "start_wall", "stock_shown", "tests_shown",
    "what_if_shown", "wishes_shown", "yard_shown",
]
