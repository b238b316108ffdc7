"""One lot, or a season, shown to somebody without an account, by a link that ends on a day.

The link shows the sheet of that lot as it now is, or what the program that is fed by says of the
season in all, and nothing else of the farm.
"""

# fmt: off
from rickyard.book.sharing.sharing import (
    LONGEST, LotThere, SeasonSeen, end_share, share_lot, share_season, shares_of, shown_by_link,
)

__all__ = [
    "LONGEST", "LotThere", "SeasonSeen", "end_share", "share_lot", "share_season", "shares_of",
    "shown_by_link",
]
