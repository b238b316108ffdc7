"""What all rooms of labs stand on: the shapes of what is read, and the door to the science.

The rest of the program is asked through one file, so that labs can be followed by itself.
"""

# fmt: off
from rickyard.labs.common.bridge import ANALYTE_SPECS, energies_of_tdn, read_farm_folder, told_rule
from rickyard.labs.common.shapes import (
    Cell, Correction, Document, FileReading, Page, Question, Refused, Sample, Value,
)

__all__ = [
    "ANALYTE_SPECS", "Cell", "Correction", "Document", "FileReading", "Page", "Question", "Refused",
    "Sample", "Value", "energies_of_tdn", "read_farm_folder", "told_rule",
]
