"""Llamas and alpacas, day by day.

Tables of their kind.
"""

from rickyard.stock.camelids.camelid_series import (
    camelid_needs,
    missing_camelid_inputs,
)

__all__ = [
    "camelid_needs",
    "missing_camelid_inputs",
]
