"""Questions put to a finished program: prices at which it changes, ways out of a shortage, wishes.

Each answer re-solves the program that stands with one thing changed.
"""

from rickyard.program.ask.assurance_curve import (
    AssuranceCurve,
    assurance_answer,
    assurance_lines,
    price_of_assurance,
)
from rickyard.program.ask.on_request import (
    USUAL_SECONDS,
    Question,
    with_answers,
)
from rickyard.program.ask.wish_outcomes import (
    with_outcomes,
)

__all__ = [
    "USUAL_SECONDS",
    "AssuranceCurve",
    "Question",
    "assurance_answer",
    "assurance_lines",
    "price_of_assurance",
    "with_answers",
    "with_outcomes",
]
