"""What the pictures share: the width of the page and the run of the season across it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from rickyard.display import MONTHS
from rickyard.sheets.charts.canvas import LIGHT, Canvas
from rickyard.sheets.charts.letters import text_width

#: The width of the text on a letter page. [pt]
WIDTH: Final = 526.0

#: The height of a row of a picture. [pt]
ROW: Final = 12.0


@dataclass(frozen=True, slots=True)
class Timeline:
    """Days from ``start`` to ``end`` laid out from ``left`` to ``right``."""

    start: date
    end: date
    left: float
    right: float

    def x(self, day: date) -> float:
        """Return where a day stands. [pt]."""
        share = (day - self.start).days / max((self.end - self.start).days, 1)
        return self.left + (self.right - self.left) * min(max(share, 0.0), 1.0)


def draw_months(
    canvas: Canvas,
    timeline: Timeline,
    label_y: float,
    top: float,
    bottom: float,
    ink: str = LIGHT,
    named: bool = True,
) -> None:
    """Draw a thin line where each month begins, and name the months that have room."""
    first = timeline.start
    while first < timeline.end:
        following = (first.replace(day=1) + timedelta(days=32)).replace(day=1)
        x, x2 = timeline.x(first), timeline.x(min(following, timeline.end))
        name = MONTHS[first.month - 1]
        if named and x2 - x > text_width(name, 8.5):
            canvas.text((x + x2) / 2, label_y, name, 8.5, "center")
        if first > timeline.start:
            canvas.line(x, top, x, bottom, thickness=0.5, ink=ink, behind=ink == LIGHT)
        first = following
