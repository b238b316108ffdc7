"""What must hold between the rows of a farm folder, each rule with its sentence.

One file a table.
"""

# fmt: off
from rickyard.folder.rules.rules import folder_faults, folder_questions
from rickyard.folder.rules.rules_groups import WEIGHT_OF_CLASS
from rickyard.folder.rules.rules_lots import WEIGHT_OF_PACKAGE
from rickyard.folder.rules.rules_season import season_faults, season_questions
from rickyard.folder.rules.rules_wishes import Known, wish_faults

__all__ = [
    "Known", "WEIGHT_OF_CLASS", "WEIGHT_OF_PACKAGE", "folder_faults", "folder_questions",
    "season_faults", "season_questions", "wish_faults",
]
