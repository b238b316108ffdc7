"""A report read for a person: hazards first, then what it means and for whom it fits.

Brings values, energy, hazards and uncertainty of one lot together.
"""

# fmt: off
from rickyard.forage.reading.lot_hazards import hazard_cautions
from rickyard.forage.reading.reading import LotReading, ReadNumber, read_lot
from rickyard.forage.reading.reading_all import every_number

__all__ = ["LotReading", "ReadNumber", "every_number", "hazard_cautions", "read_lot"]
