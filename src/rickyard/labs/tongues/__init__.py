"""Words of reports in tongues of the north and the east of Europe: lists alone, no rules.

Czech, Slovak, Finnish, Norwegian, Hungarian, Romanian, Estonian, Slovene, Croatian, Turkish,
Lithuanian and Latvian, without accents. The vocabulary takes them in with its own.
"""

# fmt: off
from rickyard.labs.tongues.north_east import ANALYTES, EITHER, NOT_OURS
from rickyard.labs.tongues.of_reports import (
    ARTICLES, ASIDE, ASIDE_ALONE, DATES, DRY, FIELDS, NUMBERS, RECEIVED, SAMPLE, STATES, STATING,
)

__all__ = [
    "ANALYTES", "ARTICLES", "ASIDE", "ASIDE_ALONE", "DATES", "DRY", "EITHER", "FIELDS", "NOT_OURS",
    "NUMBERS", "RECEIVED", "SAMPLE", "STATES", "STATING",
]
