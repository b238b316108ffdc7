"""What people type into forms, read by the rules of the farm folder, each fault at its field."""

# fmt: off
from rickyard.web.typed.cells import faults_told, texts_of, typed
from rickyard.web.typed.lots import TypedLot, typed_lot

__all__ = ["TypedLot", "faults_told", "texts_of", "typed", "typed_lot"]
