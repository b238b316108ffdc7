"""What all rooms of labs stand on: the shapes of what is read, which need nothing else."""

# fmt: off
from rickyard.labs.common.shapes import (
    Cell, Correction, Document, FileReading, Page, Question, Refused, Sample, Value,
)

__all__ = [
    "Cell", "Correction", "Document", "FileReading", "Page", "Question", "Refused", "Sample",
    "Value",
]
