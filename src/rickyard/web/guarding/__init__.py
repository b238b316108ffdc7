"""What stands before every page of a shared book: limits of what is sent, and a journal.

The server names these by their place; no page knows them.
"""

# fmt: off
from rickyard.web.guarding.journal import keep_journal

__all__ = ["keep_journal"]
