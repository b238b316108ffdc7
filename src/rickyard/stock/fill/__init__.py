"""How a forage fills an animal: what it eats of it alone, and what concentrate takes the place of.

Every class of stock, each forage by its fiber and energy.
"""

# fmt: off
from rickyard.stock.fill import alone, shares, substitution
from rickyard.stock.fill.alone import LATE_DAYS, dry_dairy_intake_kg, fill_rule, ndf_cap_pct_bw
from rickyard.stock.fill.floors import floors_of
from rickyard.stock.fill.hours_at_hay import LEAST_SCORE, access_frac, hours_cautions, room_words
from rickyard.stock.fill.substitution import forage_put_aside_kg, put_aside_rate

__all__ = [
    "LATE_DAYS", "LEAST_SCORE", "access_frac", "alone", "dry_dairy_intake_kg", "fill_rule",
    "floors_of", "forage_put_aside_kg", "hours_cautions", "ndf_cap_pct_bw", "put_aside_rate",
    "room_words", "shares", "substitution",
]
