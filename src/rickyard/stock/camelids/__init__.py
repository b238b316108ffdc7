"""Llamas and alpacas, day by day.

Tables of their kind, since no factorial system is published for them.
"""

# fmt: off
from rickyard.stock.camelids.camelid import camelid, camelid_needs

__all__ = ["camelid", "camelid_needs"]
