"""What was read, held against itself and the forage rules.

Objections become questions; nothing is corrected here. Others use ``check``.
"""

# fmt: off
from rickyard.labs.checking.all_checks import check
from rickyard.labs.checking.bases import dry_matter_frac
from rickyard.labs.checking.forages import forage_of

__all__ = ["check", "dry_matter_frac", "forage_of"]
