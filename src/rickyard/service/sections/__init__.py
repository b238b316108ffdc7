"""What stands in the sections of a farm: its hay, lot by lot, and what is to be put up.

Plain results for pages; each says a farm as it is on a day.
"""

# fmt: off
from rickyard.service.sections import stock
from rickyard.service.sections.fits import ClassFit, LotFits, lot_fits
from rickyard.service.sections.gaps import ShownFarm, as_shown, lacking_of
from rickyard.service.sections.hay import (
    HayLine, PutUp, before_put_up, by_worth, hay_list, lot_with_code,
)
from rickyard.service.sections.starting import FarmTold, farm_told, write_told
from rickyard.service.sections.stock import GroupNeeds, HayAlone, stock_known, stock_needs
from rickyard.service.sections.tests import (
    FarmTests, UnderWay, coring_sheet, drawn_for, expected_after, farm_tests,
)

__all__ = [
    "ClassFit", "FarmTests", "FarmTold", "GroupNeeds", "HayAlone", "HayLine", "LotFits", "PutUp",
    "ShownFarm", "UnderWay", "as_shown", "before_put_up", "by_worth", "coring_sheet", "drawn_for",
    "expected_after", "farm_tests", "farm_told", "hay_list", "lacking_of", "lot_fits",
    "lot_with_code", "stock", "stock_known", "stock_needs", "write_told",
]
