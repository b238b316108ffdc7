"""How the door of a large room loads what it offers: each name when it is first asked for.

Knows nothing of what any room holds.
"""

# fmt: off
from rickyard.doors.first_use import at_first_use

__all__ = ["at_first_use"]
