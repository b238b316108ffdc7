"""Questions put to a finished program: prices at which it changes, ways out of a shortage, wishes.

Each answer re-solves the program that stands with one thing changed.
"""

# fmt: off
from rickyard.program.ask import (
    assurance_curve, avoid_shortage, hay_lacking, hay_to_buy, on_request, price_ranges, sensitivity,
    wish_outcomes, wish_prices, without_hay, worth_by_planning,
)
from rickyard.program.ask.allowance import Allowance
from rickyard.program.ask.assurance_curve import (
    AssuranceCurve, LEVELS_PCT, assurance_answer, assurance_lines, price_of_assurance,
)
from rickyard.program.ask.hay_lacking import (
    DEARER, LACKING_DM_PCT, hay_like, hay_usd, lacking_hay, short_of_hay, with_hay,
)
from rickyard.program.ask.less_waste import OtherFeeder, may_be_limited, other_feeders
from rickyard.program.ask.on_request import (
    ANSWER_EFFORT, KINDS_OF_ANSWERS, Question, season_asked, with_answers, with_remedies,
)
from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.ask.wish_outcomes import with_outcomes
from rickyard.program.ask.wish_prices import WishCost, missed_usd

__all__ = [
    "ANSWER_EFFORT", "Allowance", "AssuranceCurve", "DEARER", "Inquiry", "KINDS_OF_ANSWERS",
    "LACKING_DM_PCT", "LEVELS_PCT", "OtherFeeder", "Question", "WishCost", "assurance_answer",
    "assurance_curve", "assurance_lines", "avoid_shortage", "hay_lacking", "hay_like", "hay_to_buy",
    "hay_usd", "lacking_hay", "may_be_limited", "missed_usd", "on_request", "other_feeders",
    "price_of_assurance", "price_ranges", "season_asked", "sensitivity", "short_of_hay",
    "wish_outcomes", "wish_prices", "with_answers", "with_hay", "with_outcomes", "with_remedies",
    "without_hay", "worth_by_planning",
]
