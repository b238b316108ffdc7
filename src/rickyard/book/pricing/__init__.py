"""What feeds and laboratories' tests cost, farm beside farm, and writing one of them to several.

A farm's price stays its own: what is written to several farms is written to each of them, with its
line in the trail of each, and all of it or none.
"""

# fmt: off
from rickyard.book.pricing.feeds import FeedSeen, PriceThere, read_prices, write_price
from rickyard.book.pricing.labs import (
    LabsTold, PackageThere, Turn, package_key, read_labs, write_package,
)

__all__ = [
    "FeedSeen", "LabsTold", "PackageThere", "PriceThere", "Turn", "package_key", "read_labs",
    "read_prices", "write_package", "write_price",
]
