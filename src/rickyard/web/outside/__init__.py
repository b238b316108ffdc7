"""What is shown to somebody without an account: one lot, by a link; and the page that makes one.

A view here parses, calls one service of the room that shares, and renders.
"""

# fmt: off
from rickyard.web.outside.share import share, shown, unshare

__all__ = ["share", "shown", "unshare"]
