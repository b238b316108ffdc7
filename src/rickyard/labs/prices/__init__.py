"""Price lists of laboratories to rows of ``labs.csv``.

Others use ``price_list``.
"""

# fmt: off
from rickyard.labs.prices.lists import price_list

__all__ = ["price_list"]
