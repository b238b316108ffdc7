"""Whether a report can be believed, and the values one would feed by when it can.

Slips of unit, scale, structure and sum are named; a lot's profile is made from what stands.
"""

# fmt: off
from rickyard.forage.plausibility import plausibility
from rickyard.forage.plausibility.plausibility import Finding, RULES, error_rows, rfv_disagrees
from rickyard.forage.plausibility.profile import LotProfile, lot_profile

__all__ = [
    "Finding", "LotProfile", "RULES", "error_rows", "lot_profile", "plausibility", "rfv_disagrees",
]
