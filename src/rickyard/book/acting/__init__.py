"""Who may do what in the record book, and the frame of every action: one transaction, one line.

Nobody writes in the book but through here.
"""

# fmt: off
from rickyard.book.acting.acting import (
    Act, ONE_PERSON, acting, allow, beginning, day_at, farms_where, may, role_on, zone_of,
)
from rickyard.book.acting.heard import heard_of, held_or_read
from rickyard.book.acting.problems import (
    ChangedMeanwhile, NOT_THERE, NotAllowed, NotTaken, NotThere,
)
from rickyard.book.acting.roles import PERMISSIONS, Role

__all__ = [
    "Act", "ChangedMeanwhile", "NOT_THERE", "NotAllowed", "NotTaken", "NotThere", "ONE_PERSON",
    "PERMISSIONS", "Role", "acting", "allow", "beginning", "day_at", "farms_where", "heard_of",
    "held_or_read", "may", "role_on", "zone_of",
]
