"""Looking after a record book: backups that any database takes back, and a doctor.

A backup is one file with every table and every file that came in.
"""

# fmt: off
from typing import TYPE_CHECKING

from rickyard.doors import at_first_use

if TYPE_CHECKING:
    from rickyard.book.keeping import office
    from rickyard.book.keeping.backup import check_backup, make_backup, restore_backup
    from rickyard.book.keeping.doctor import examine
    from rickyard.book.keeping.found import left_open, told_at_start
    from rickyard.book.keeping.leaving import Gone, delete_farm, read_gone
    from rickyard.book.keeping.office import office_folders, write_office, write_seasons

__getattr__ = at_first_use(__name__, {
    "": "office",
    "backup": "check_backup make_backup restore_backup",
    "doctor": "examine",
    "found": "left_open told_at_start",
    "leaving": "Gone delete_farm read_gone",
    "office": "office_folders write_office write_seasons",
})

__all__ = [
    "Gone", "check_backup", "delete_farm", "examine", "left_open", "make_backup", "office",
    "office_folders", "read_gone", "restore_backup", "told_at_start", "write_office",
    "write_seasons",
]
