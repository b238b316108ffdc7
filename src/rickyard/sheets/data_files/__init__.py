"""Programs and pages as JSON, written and read back.

Keys and schema of what other programs read.
"""

# fmt: off
from rickyard.sheets.data_files.plain_json import document, joined_documents
from rickyard.sheets.data_files.plan_json import plan_json, winters_json
from rickyard.sheets.data_files.plan_load import program_from_json
from rickyard.sheets.data_files.plan_read import NotAPlan, read_plan

__all__ = [
    "NotAPlan", "document", "joined_documents", "plan_json", "program_from_json", "read_plan",
    "winters_json",
]
