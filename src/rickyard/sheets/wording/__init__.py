"""Sentences and short tables that terminal and paper share.

From results to words; no layout.
"""

# fmt: off
from rickyard.sheets.wording import words
from rickyard.sheets.wording.offer import offer_line, offered_in, work_of_offering
from rickyard.sheets.wording.openings import opening
from rickyard.sheets.wording.rations import (
    MOST_RUNS, feeding_lines, proof_of, quarters_text, ration_lines,
)
from rickyard.sheets.wording.runs import (
    LEAST_LOAD_KG, Run, RunAmount, bales_text, daily_by_period, group_order, least_load_kg,
    short_story, source_order, without_traces,
)
from rickyard.sheets.wording.said_once import said_once
from rickyard.sheets.wording.words import LEVEL_MARKS, LEVEL_ORDER
from rickyard.sheets.wording.words_sampling import LINES, STATUS, plain_test
from rickyard.sheets.wording.yard import (
    YardTotals, about_name, answer_of, concerns, dangerous_to, empty_on, group_name, subjects,
    yard_line, yard_totals,
)
from rickyard.sheets.wording.yard_now import CONFIDENCE, outlook_sentence, stands_sentence

__all__ = [
    "CONFIDENCE", "LEAST_LOAD_KG", "LEVEL_MARKS", "LEVEL_ORDER", "LINES", "MOST_RUNS", "Run",
    "RunAmount", "STATUS", "YardTotals", "about_name", "answer_of", "bales_text", "concerns",
    "daily_by_period", "dangerous_to", "empty_on", "feeding_lines", "group_name", "group_order",
    "least_load_kg", "offer_line", "offered_in", "opening", "outlook_sentence", "plain_test",
    "proof_of", "quarters_text", "ration_lines", "said_once", "short_story", "source_order",
    "stands_sentence", "subjects", "without_traces", "words", "work_of_offering", "yard_line",
    "yard_totals",
]
