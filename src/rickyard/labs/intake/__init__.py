"""Taking in the files of laboratories: read, check, match, ask, and write what is not open.

The calls of the command and of pages; nothing here prints or leaves.
"""

# fmt: off
from rickyard.labs.intake.accept import is_open, keep_corrections, report_from
from rickyard.labs.intake.as_json import reading_as_json, readings_text
from rickyard.labs.intake.taking import Intake, layout_of, match, read_file, take_in, take_to_farm

__all__ = [
    "Intake", "is_open", "keep_corrections", "layout_of", "match", "read_file", "reading_as_json",
    "readings_text", "report_from", "take_in", "take_to_farm",
]
