"""Shipped check values and the functions they are checked against.

Published numbers with their sources, evaluated by the same code the program uses.
"""

from rickyard.verify.evaluate import (
    SHIPPED,
    CheckFileError,
    CheckRow,
    Outcome,
    Tally,
    evaluate_all,
    read_checks,
    read_shipped,
    tally,
)

__all__ = [
    "SHIPPED",
    "CheckFileError",
    "CheckRow",
    "Outcome",
    "Tally",
    "evaluate_all",
    "read_checks",
    "read_shipped",
    "tally",
]
