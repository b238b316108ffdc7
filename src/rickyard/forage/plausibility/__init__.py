"""Whether a report can be believed, and the values one would feed by when it can.

Slips of unit, scale, structure and sum are named; a lot's profile is made from what stands.
"""

# fmt: off
from rickyard.forage.plausibility import plausibility, rule_tests
from rickyard.forage.plausibility.plausibility import (
    Finding, broken_rules, error_rows, report_findings, rfv_disagrees,
)
from rickyard.forage.plausibility.profile import (
    LotProfile, forget_profiles, lot_profile, lot_profiles,
)
from rickyard.forage.plausibility.rules import RULES, Rule

__all__ = [
    "Finding", "LotProfile", "RULES", "Rule", "broken_rules", "error_rows", "forget_profiles",
    "lot_profile", "lot_profiles", "plausibility", "report_findings", "rfv_disagrees", "rule_tests",
]
