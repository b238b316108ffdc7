"""A second reckoning of a finished program, from the farm and the result alone.

Shares nothing with the rows of the model; any violation stops the program from being shown.
"""

# fmt: off
from rickyard.program.audit import (
    assured, audit, books, ceilings, change, deliveries, fed, needs, view,
)
from rickyard.program.audit.audit import recheck

__all__ = [
    "assured", "audit", "books", "ceilings", "change", "deliveries", "fed", "needs", "recheck",
    "view",
]
