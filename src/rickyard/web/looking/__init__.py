"""The pages that look back: a season up to a day, and what is learned of it."""

# fmt: off
from rickyard.web.looking.look_back import intake, look_back
from rickyard.web.looking.trail import deleted, trail
from rickyard.web.looking.years import years

__all__ = ["deleted", "intake", "look_back", "trail", "years"]
