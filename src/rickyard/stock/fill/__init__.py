"""How a forage fills an animal: what it eats of it alone, and what concentrate takes the place of.

Every class of stock, each forage by its fiber and energy.
"""

# fmt: off
from rickyard.stock.fill import alone, shares, substitution

__all__ = ["alone", "shares", "substitution"]
