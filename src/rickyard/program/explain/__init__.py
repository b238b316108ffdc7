"""Why a program is as it is: balances, shortages, what drives the cost, what tests are worth.

Turns the solution, its prices and its slacks into tables and sentences.
"""

# fmt: off
from rickyard.program.explain import (
    balances, costly_needs, coverage, marginal_values, outcomes, shortages, why_this_lot,
    worth_of_tests,
)
from rickyard.program.explain.explain import cost_usd, explain
from rickyard.program.explain.solution_tables import eaten_of
from rickyard.program.explain.supply_alone import LotAlone, NeedPicture, need_picture
from rickyard.program.explain.worth_of_tests import (
    UNDER_PER_OVER, WorthOfTest, errors_of_test, worth_sentence, worths_of_tests,
)

__all__ = [
    "LotAlone", "NeedPicture", "UNDER_PER_OVER", "WorthOfTest", "balances", "cost_usd",
    "costly_needs", "coverage", "eaten_of", "errors_of_test", "explain", "marginal_values",
    "need_picture", "outcomes", "shortages", "why_this_lot", "worth_of_tests", "worth_sentence",
    "worths_of_tests",
]
