"""What a hay and a feed must hold to meet a need, without a season around them.

Mixing two feeds, the least density that carries a class of stock, and what nutrients are
worth: below the season program, which asks here for single lots and single groups.
What lies outside the range that is said of it raises ``OutOfRange``.
"""

# fmt: off
from rickyard.match.least_density import CowNeed, density_for_need, mean_cow_need
from rickyard.match.matching import (
    diet_cp_pct, extra_feed_kg, feed_for_maintenance_kg, gain_from_intake,
)
from rickyard.match.nutrient_value import (
    NutrientPrices, WORTH_SOURCE, lot_worth, prices_of_feeds, worth_sentence,
)

__all__ = [
    "CowNeed", "NutrientPrices", "WORTH_SOURCE", "density_for_need", "diet_cp_pct", "extra_feed_kg",
    "feed_for_maintenance_kg", "gain_from_intake", "lot_worth", "mean_cow_need", "prices_of_feeds",
    "worth_sentence",
]
