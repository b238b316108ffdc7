"""Llamas and alpacas, day by day.

Tables of their kind, since no factorial system is published for them.
"""

# fmt: off
from rickyard.stock.camelids.camelid import camelid
from rickyard.stock.camelids.camelid_series import camelid_needs, missing_camelid_inputs

__all__ = ["camelid", "camelid_needs", "missing_camelid_inputs"]
