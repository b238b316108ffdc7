"""What storage takes, hay that heats, where stacks stand, and the ledger of what is there.

Stock on any day is computed from the ledger, never kept beside it.
What lies outside the range that is said of it raises ``OutOfRange``.
"""

# fmt: off
from rickyard.hay.storage import baleage, hot_hay, ledger, siting, standing, storage
from rickyard.hay.storage.baleage import baleage_cautions
from rickyard.hay.storage.hot_hay import (
    HEATED_C, SAFE_MOISTURE_PCT, WATCH_DAYS, Watch, heat_step, lot_watch,
)
from rickyard.hay.storage.ledger import Account, DUST, DayPart, Line, LotBook, account, lot_book
from rickyard.hay.storage.siting import Advice, site_advice
from rickyard.hay.storage.standing import (
    BALE_CV_PCT, DAYS_PER_MONTH, LotOnHand, bale_weight_error_frac, bales_to_weigh, book_of,
    dry_per_bale, mean_bale_kg, standing_on,
)
from rickyard.hay.storage.storage import (
    DRY_RAIN_MM, EXPOSED, remaining_fraction, storage_loss_pct, storage_loss_remark,
)

__all__ = [
    "Account", "Advice", "BALE_CV_PCT", "DAYS_PER_MONTH", "DRY_RAIN_MM", "DUST", "DayPart",
    "EXPOSED", "HEATED_C", "Line", "LotBook", "LotOnHand", "SAFE_MOISTURE_PCT", "WATCH_DAYS",
    "Watch", "account", "bale_weight_error_frac", "baleage", "baleage_cautions", "bales_to_weigh",
    "book_of", "dry_per_bale", "heat_step", "hot_hay", "ledger", "lot_book", "lot_watch",
    "mean_bale_kg", "remaining_fraction", "site_advice", "siting", "standing", "standing_on",
    "storage", "storage_loss_pct", "storage_loss_remark",
]
