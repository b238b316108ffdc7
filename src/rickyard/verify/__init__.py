"""Shipped check values and the functions they are checked against.

Published numbers with their sources, evaluated by the same code the program uses.
"""

# fmt: off
from rickyard.verify import registry
from rickyard.verify.evaluate import (
    CheckFileError, CheckRow, Outcome, SHIPPED, Tally, evaluate_all, read_checks, read_shipped,
    tally,
)

__all__ = [
    "CheckFileError", "CheckRow", "Outcome", "SHIPPED", "Tally", "evaluate_all", "read_checks",
    "read_shipped", "registry", "tally",
]
