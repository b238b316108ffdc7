"""How a test plans that looks at amounts that may change every week."""

from __future__ import annotations

from rickyard.program.result import PlanOptions

#: Amounts may change every week; all else as usual.
WEEKLY = PlanOptions(weekly=True)
