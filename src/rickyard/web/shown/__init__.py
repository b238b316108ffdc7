"""What stands on a page, in words and drawings, made of what the services return.

Pure functions; no address, no template and no database.
"""

# fmt: off
from rickyard.web.shown.farms import addresses, farm_rows, farms_answer
from rickyard.web.shown.lot import lot_shown
from rickyard.web.shown.yard import yard_shown

__all__ = ["addresses", "farm_rows", "farms_answer", "lot_shown", "yard_shown"]
