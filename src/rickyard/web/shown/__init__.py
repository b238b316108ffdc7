"""What stands on a page, in words and drawings, made of what the services return.

Pure functions; no address, no template and no database.
"""

# fmt: off
from rickyard.web.shown.bales import bales_drawn, marks_of_bales
from rickyard.web.shown.care import Care, care_of
from rickyard.web.shown.course import course_drawn, courses_shown
from rickyard.web.shown.district import DistrictShown, district_shown, due_shown, short_shown
from rickyard.web.shown.farms import addresses
from rickyard.web.shown.lender import lender_shown
from rickyard.web.shown.letter import letter_shown
from rickyard.web.shown.lot import lot_shown
from rickyard.web.shown.people import account_answer, browser_text, people_answer, role_text
from rickyard.web.shown.prices import without_prices
from rickyard.web.shown.season import season_shown
from rickyard.web.shown.words import STANDS, bales_text, cutting_text, put_up_text
from rickyard.web.shown.yard import (
    Key, places_shown, rough_answer, wall_label, wall_parts, yard_shown,
)

__all__ = [
    "Care", "DistrictShown", "Key", "STANDS", "account_answer", "addresses", "bales_drawn",
    "bales_text", "browser_text", "care_of", "course_drawn", "courses_shown", "cutting_text",
    "district_shown", "due_shown", "lender_shown", "letter_shown", "lot_shown", "marks_of_bales",
    "people_answer", "places_shown", "put_up_text", "role_text", "rough_answer", "season_shown",
    "short_shown", "wall_label", "wall_parts", "without_prices", "yard_shown",
]
