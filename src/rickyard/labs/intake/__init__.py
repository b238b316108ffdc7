"""Taking in the files of laboratories: read, check, match, ask, and write what is not open.

The calls of the command and of pages; nothing here prints or leaves.
"""

# fmt: off
from rickyard.labs.intake.as_json import reading_as_json, readings_text
from rickyard.labs.intake.taking import Intake, layout_of, read_file, take_in, take_to_farm

__all__ = [
    "Intake", "layout_of", "read_file", "reading_as_json", "readings_text", "take_in",
    "take_to_farm",
]
