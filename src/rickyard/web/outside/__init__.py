"""What is shown to somebody without an account: a lot or a season, by a link; who makes one, where.

A view here parses, calls one service of the room that shares, and renders.
"""

# fmt: off
from rickyard.web.outside.share import season_share, season_unshare, share, shown, unshare

__all__ = ["season_share", "season_unshare", "share", "shown", "unshare"]
