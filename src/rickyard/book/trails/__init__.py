"""The trail as those read it whom it concerns: what was done on a farm, and farms that are gone."""

# fmt: off
from rickyard.book.trails.reading import read_trail_page
from rickyard.book.trails.words import gone_text, line_text

__all__ = ["gone_text", "line_text", "read_trail_page"]
