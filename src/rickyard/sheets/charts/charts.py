"""Is there enough hay: the whole yard, each lot, and the yard week by week, in one picture.

Told apart in black and white: solid, hatched, outlined and crossed boxes, and words beside them.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from rickyard.display import Display, tons_column
from rickyard.program.result import LotBalance, SeasonProgram
from rickyard.sheets.charts.canvas import DARK, PAPER, Canvas, text_width, truncate
from rickyard.sheets.charts.ribbon import ribbon_svg
from rickyard.sheets.charts.timeline import ROW, WIDTH, Timeline, draw_months
from rickyard.sheets.wording import YardTotals, empty_on, words, yard_line, yard_totals

__all__ = ["WIDTH", "enough_hay_height", "enough_hay_svg", "ribbon_svg"]

_MOST_LOTS: Final = 12
_LEAST_LOT_ROWS: Final = 5

_BAR_TOP: Final = 0.0
_BAR_HEIGHT: Final = 30.0
_LABELS: Final = 42.0
_PANELS_TOP: Final = 62.0
_LOT_NAME: Final = 116.0
_LOT_BAR: Final = 128.0
_YARD_LEFT: Final = 344.0
_MONTHS_FOOT: Final = 14.0


def enough_hay_svg(program: SeasonProgram, display: Display) -> str:
    """Draw whether there is enough hay: the whole yard, each lot, and the yard week by week.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    display : Display
        The reader's units.

    Returns
    -------
    str
        SVG, 526 points wide.
    """
    lots = _merged_lots(program.lots)
    height = enough_hay_height(program)
    bottom = height - _MONTHS_FOOT
    canvas = Canvas(WIDTH, height, "Hay in the yard, fed, lost and left")
    _draw_total(canvas, yard_totals(program), display)
    _draw_lots(canvas, lots, display)
    _draw_yard(canvas, program, display, bottom)
    return canvas.svg()


def enough_hay_height(program: SeasonProgram) -> float:
    """Return the height of the picture of ``enough_hay_svg``. [pt]."""
    rows = max(min(len(program.lots), _MOST_LOTS), _LEAST_LOT_ROWS)
    return _PANELS_TOP + 10.0 + ROW * rows + 4.0 + _MONTHS_FOOT


def _draw_total(canvas: Canvas, totals: YardTotals, display: Display) -> None:
    whole = totals.start_t + totals.missing_t
    scale = WIDTH / whole if whole > 0 else 0.0
    eaten, lost, left = (
        scale * one for one in (totals.eaten_t, totals.lost_t, max(totals.left_t, 0.0))
    )
    missing = scale * totals.missing_t
    canvas.box(0, _BAR_TOP, eaten, _BAR_HEIGHT, DARK)
    if lost > 0:
        canvas.hatched_box(eaten, _BAR_TOP, lost, _BAR_HEIGHT)
    if left > 2.0:
        canvas.box(eaten + lost + 0.8, _BAR_TOP + 0.8, left - 1.6, 28.4, PAPER, edge_width=1.6)
    if missing > 0:
        _draw_missing(canvas, eaten + lost + left, missing)

    ends = f"left {display.tons_text(totals.left_t)}"
    if totals.missing_t > 0:
        ends = f"missing about {display.tons_text(totals.missing_t)}"
    eaten_text = f"eaten {display.tons_text(totals.eaten_t)}"
    lost_text = f"lost at the feeder and in storage {display.tons_text(totals.lost_t)}"
    end_x = WIDTH - 16.0 - text_width(ends, 11.0, bold=True)
    lost_width = 14.0 + text_width(lost_text, 9.0)
    earliest = 14.0 + text_width(eaten_text, 11.0, bold=True) + 14.0
    lost_x = min(max(eaten + lost / 2 - lost_width / 2, earliest), end_x - lost_width - 10.0)
    canvas.box(0, _LABELS - 4.5, 9, 9, DARK)
    canvas.text(13, _LABELS, eaten_text, 11.0, bold=True)
    canvas.hatched_box(lost_x, _LABELS - 4.5, 9, 9, 3.0)
    canvas.text(lost_x + 13, _LABELS, lost_text, 9.0)
    if totals.missing_t > 0:
        _draw_missing(canvas, end_x, 9.0, _LABELS - 4.5, 9.0)
    else:
        canvas.box(end_x, _LABELS - 4.5, 9, 9, PAPER, edge_width=1.6)
    canvas.text(end_x + 13, _LABELS, ends, 11.0, bold=True)


def _draw_missing(
    canvas: Canvas, x: float, width: float, y: float = _BAR_TOP, height: float = _BAR_HEIGHT
) -> None:
    """Draw hay that is not there: a broken outline, crossed out."""
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    for (x1, y1), (x2, y2) in zip(corners, (*corners[1:], corners[0]), strict=True):
        canvas.line(x1, y1, x2, y2, thickness=1.2, dashed=True)
    canvas.line(x, y, x + width, y + height, thickness=1.2)
    canvas.line(x, y + height, x + width, y, thickness=1.2)


def _merged_lots(lots: Sequence[LotBalance]) -> list[LotBalance]:
    """Return the lots, the smallest summed into one row where there are too many."""
    if len(lots) <= _MOST_LOTS:
        return list(lots)
    order = sorted(lots, key=lambda lot: -lot.start_t)
    shown, rest = order[: _MOST_LOTS - 1], order[_MOST_LOTS - 1 :]

    def total(name: str) -> float:
        return sum((float(getattr(lot, name)) for lot in rest), 0.0)

    merged = LotBalance(
        lot_id="",
        name=f"{len(rest)} smaller lots",
        start_t=total("start_t"),
        eaten_t=total("eaten_t"),
        feeding_loss_t=total("feeding_loss_t"),
        storage_loss_t=total("storage_loss_t"),
        left_t=total("left_t"),
        start_bales=None,
        fed_bales=None,
        sold_t=total("sold_t"),
    )
    return [*shown, merged]


def _draw_lots(canvas: Canvas, lots: Sequence[LotBalance], display: Display) -> None:
    top = _PANELS_TOP
    have_x, left_x = _LOT_NAME + _LOT_BAR + 36.0, _LOT_NAME + _LOT_BAR + 68.0
    unit = "tons" if display.system == "us" else "t"
    canvas.text(0, top, f"Each lot, {unit} of dry matter", 8.5, bold=True)
    canvas.text(have_x, top, "in yard", 8.0, "right")
    canvas.text(left_x, top, "left", 8.0, "right", bold=True)
    largest = max((lot.start_t for lot in lots), default=0.0)
    scale = _LOT_BAR / largest if largest > 0 else 0.0
    for index, lot in enumerate(lots):
        y = top + 10.0 + index * ROW
        middle = y + ROW / 2 - 1.0
        canvas.text(_LOT_NAME - 5, middle, truncate(lot.name, 8.5, _LOT_NAME - 6), 8.5, "right")
        eaten, left = scale * lot.eaten_t, scale * max(lot.left_t, 0.0)
        lost = scale * (lot.feeding_loss_t + lot.storage_loss_t)
        canvas.box(_LOT_NAME, y, eaten, 9.0, DARK)
        if lost > 0.5:
            canvas.hatched_box(_LOT_NAME + eaten, y, lost, 9.0, 3.0)
        if left > 1.5:
            x = _LOT_NAME + eaten + lost
            canvas.box(x + 0.5, y + 0.5, left - 1.0, 8.0, PAPER, edge_width=1.0)
        start, rest = (tons_column(display.tons(one)) for one in (lot.start_t, lot.left_t))
        canvas.text(have_x, middle, start, 8.5, "right")
        canvas.text(left_x, middle, rest, 8.5, "right", bold=True)


def _draw_yard(canvas: Canvas, program: SeasonProgram, display: Display, bottom: float) -> None:
    line = yard_line(program)
    if not line:
        return
    timeline = Timeline(program.start, line[-1].day, _YARD_LEFT, WIDTH - 1.0)
    canvas.text(_YARD_LEFT, _PANELS_TOP, "Hay standing in the yard, by week", 8.5, bold=True)
    top = _PANELS_TOP + 12.0
    most = max(point.left_t for point in line)
    scale = (bottom - top) / most if most > 0 else 0.0
    points = [(timeline.x(point.day), bottom - scale * point.left_t) for point in line]
    canvas.area(points, bottom)
    draw_months(canvas, timeline, bottom + 8.0, top, bottom)
    for (x1, y1), (x2, y2) in pairwise(points):
        canvas.line(x1, y1, x2, y2, thickness=1.6)
    canvas.line(_YARD_LEFT, bottom, WIDTH, bottom, thickness=1.0)
    canvas.text(points[0][0] + 24, top + 1, display.tons_text(line[0].left_t), 9.0)
    empty = empty_on(program)
    last = line[-1]
    if empty is None:
        label = f"{display.tons_text(last.left_t)} left on {display.day_text(last.day)}"
        x, y = points[-1]
    else:
        label = words.runs_out(display.day_text(empty))
        x, y = timeline.x(empty), bottom
    _draw_yard_label(canvas, points, label, (x, y), (top, bottom))


def _draw_yard_label(
    canvas: Canvas,
    points: Sequence[tuple[float, float]],
    label: str,
    at: tuple[float, float],
    span: tuple[float, float],
) -> None:
    """Write a label where the falling line leaves room, and tie it to its point."""
    (x, y), (top, bottom) = at, span
    width = text_width(label, 9.5, bold=True)
    right = min(x + width / 2, WIDTH - 2.0)
    left = right - width - 4.0
    line_y = max(
        (before[1] for before, after in pairwise(points) if before[0] <= left <= after[0]),
        default=top,
    )
    line_top = min((one for x1, one in points if x1 >= left), default=line_y)
    label_y = min(line_y, line_top) - 9.0
    if label_y < top + 5.0:
        canvas.text(right, bottom - 9.0, label, 9.5, "right", bold=True)
        return
    canvas.line(x - 1.0, label_y + 6.0, x - 1.0, y, thickness=0.9, dashed=True)
    canvas.text(right, label_y, label, 9.5, "right", bold=True)
