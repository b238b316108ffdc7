"""Bales: size, weight, density, delivery by load, and what weather takes in the field.

Geometry and mass, without a farm's ledger.
"""

# fmt: off
from rickyard.hay.bales import bales, delivery, weathering
from rickyard.hay.bales.bales import (
    bale_weight_kg, book_density_as_fed_kg_m3, round_volume_m3, square_volume_m3,
)
from rickyard.hay.bales.delivery import new_hay_share_frac

__all__ = [
    "bale_weight_kg", "bales", "book_density_as_fed_kg_m3", "delivery", "new_hay_share_frac",
    "round_volume_m3", "square_volume_m3", "weathering",
]
