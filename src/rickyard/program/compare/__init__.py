"""Two programs side by side, and what was fed beside what was planned.

Works from summaries, so that a program read from a file compares as well as a fresh one.
"""

# fmt: off
from rickyard.program.compare.compare import (
    ComparedRow, Comparison, compare, compare_facts, differs_from_first,
)
from rickyard.program.compare.fed_vs_planned import FedAgainst, NOTHING_KG, TWICE, fed_against
from rickyard.program.compare.summary import Facts, Fed, Missing, facts_of

__all__ = [
    "ComparedRow", "Comparison", "Facts", "Fed", "FedAgainst", "Missing", "NOTHING_KG", "TWICE",
    "compare", "compare_facts", "differs_from_first", "facts_of", "fed_against",
]
