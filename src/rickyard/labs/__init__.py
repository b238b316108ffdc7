"""Lab reports in: a file of any layout becomes checked reports, with every guess visible.

Commands and pages use what is listed here; ``take_in`` and ``take_to_farm`` are the way in.
"""

from __future__ import annotations

from rickyard.labs.as_json import reading_as_json
from rickyard.labs.intake import Intake, layout_of, read_file, take_in, take_to_farm
from rickyard.labs.shapes import FileReading, Question, Sample, Value

__all__ = [
    "FileReading",
    "Intake",
    "Question",
    "Sample",
    "Value",
    "layout_of",
    "read_file",
    "reading_as_json",
    "take_in",
    "take_to_farm",
]
