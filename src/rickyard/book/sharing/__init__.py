"""One lot shown to somebody without an account, by a link that ends on a day.

The link shows the sheet of that lot as it now is, and nothing else of the farm.
"""

# fmt: off
from rickyard.book.sharing.sharing import LONGEST, end_share, lot_shared, share_lot, shares_of

__all__ = ["LONGEST", "end_share", "lot_shared", "share_lot", "shares_of"]
