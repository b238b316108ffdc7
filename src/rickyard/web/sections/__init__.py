"""What stands on the pages of the sections of a farm: hay, tests, stock, questions, a first farm.

Pure functions from the services' answers to words and drawings, as those of the room below.
"""

# fmt: off
from rickyard.web.sections.adequacy import adequacy_shown
from rickyard.web.sections.beside import beside_shown
from rickyard.web.sections.feeding import (
    day_in, day_shown, flags_of_lines, rows_listed, week_answer,
)
from rickyard.web.sections.gaps import unweighed_shown, weigh_shown
from rickyard.web.sections.hay import hay_shown, put_up_shown
from rickyard.web.sections.labs import labs_shown, package_page
from rickyard.web.sections.prices import feed_key, feed_page, prices_shown
from rickyard.web.sections.questions import (
    RemediesShown, blanks_of, reasons_shown, remedies_shown, what_if_shown, wishes_shown,
)
from rickyard.web.sections.starting import address, ask_shown, start_wall
from rickyard.web.sections.stock import group_page, stock_shown
from rickyard.web.sections.tests import cores_text, report_shown, tests_shown
from rickyard.web.sections.today import today_shown

__all__ = [
    "RemediesShown", "address", "adequacy_shown", "ask_shown", "beside_shown", "blanks_of",
    "cores_text", "day_in", "day_shown", "feed_key", "feed_page", "flags_of_lines", "group_page",
    "hay_shown", "labs_shown", "package_page", "prices_shown", "put_up_shown", "reasons_shown",
    "remedies_shown", "report_shown", "rows_listed", "start_wall", "stock_shown", "tests_shown",
    "today_shown", "unweighed_shown", "week_answer", "weigh_shown", "what_if_shown", "wishes_shown",
]
