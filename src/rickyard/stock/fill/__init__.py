"""How a forage fills an animal: what it eats of it alone, and what concentrate takes the place of.

Every class of stock, each forage by its fiber and energy.
"""

# fmt: off
from rickyard.stock.fill import alone, shares, substitution
from rickyard.stock.fill.alone import LATE_DAYS, dry_dairy_intake_kg, fill_rule, ndf_cap_pct_bw
from rickyard.stock.fill.floors import floors_of

__all__ = [
    "LATE_DAYS", "alone", "dry_dairy_intake_kg", "fill_rule", "floors_of", "ndf_cap_pct_bw",
    "shares", "substitution",
]
