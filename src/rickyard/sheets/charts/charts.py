"""Is there enough hay: the wall of bales, each lot, and the yard week by week, in one picture.

Told apart in black and white: gray, hatched, black and dotted boxes, and words beside them.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from rickyard.display import Display, tons_column
from rickyard.program.result import LotBalance, SeasonProgram
from rickyard.sheets.charts import svg
from rickyard.sheets.charts.canvas import DARK, INK, LIGHT, PAPER, Canvas
from rickyard.sheets.charts.letters import text_width, truncate
from rickyard.sheets.charts.ribbon import ROW, WIDTH, Timeline, draw_months
from rickyard.sheets.charts.wall import dangerous_lots, draw_wall, wall_height
from rickyard.sheets.wording import empty_on, words, yard_line, yard_totals

_MOST_LOTS: Final = 12
#: The row of all smaller lots, which has figures but no bar to the scale of the others.
_MERGED: Final = ""
_LEAST_LOT_ROWS: Final = 6

_PANELS_GAP: Final = 8.0
_LOT_NAME: Final = 132.0
_LOT_BAR: Final = 126.0
_YARD_LEFT: Final = 350.0
_MONTHS_FOOT: Final = 14.0


def enough_hay_svg(program: SeasonProgram, display: Display) -> str:
    """Draw whether there is enough hay: the wall of bales, each lot, and the yard by week.

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
    top = wall_height(program, display, WIDTH) + _PANELS_GAP
    rows = max(min(len(program.lots), _MOST_LOTS), _LEAST_LOT_ROWS)
    height = top + 10.0 + ROW * rows + 4.0 + _MONTHS_FOOT
    canvas = Canvas(WIDTH, height, "Hay in the yard, sold, eaten, lost and left")
    draw_wall(canvas, program, display, WIDTH)
    _draw_lots(canvas, program, display, top)
    _draw_yard(canvas, program, display, (top, height - _MONTHS_FOOT))
    return canvas.svg()


def _merged_lots(lots: Sequence[LotBalance]) -> list[LotBalance]:
    """Return the lots, the smallest summed into one row where there are too many."""
    if len(lots) <= _MOST_LOTS:
        return list(lots)
    order = sorted(lots, key=lambda lot: -lot.start_t)
    shown, rest = order[: _MOST_LOTS - 1], order[_MOST_LOTS - 1 :]

    def total(name: str) -> float:
        return sum((float(getattr(lot, name)) for lot in rest), 0.0)

    merged = LotBalance(
        lot_id=_MERGED,
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


def _draw_lots(canvas: Canvas, program: SeasonProgram, display: Display, top: float) -> None:
    lots = _merged_lots(program.lots)
    dangerous = dangerous_lots(program)
    if dangerous & ({lot.lot_id for lot in program.lots} - {lot.lot_id for lot in lots}):
        dangerous |= {_MERGED}
    have_x, left_x = _LOT_NAME + _LOT_BAR + 36.0, _LOT_NAME + _LOT_BAR + 66.0
    unit = "tons" if display.system == "us" else "t"
    canvas.text(0, top, f"Each lot, {unit} of dry matter", 9.0, bold=True)
    canvas.text(have_x, top, "in yard", 8.5, "right")
    canvas.text(left_x, top, "left", 8.5, "right", bold=True)
    largest = max((lot.start_t for lot in lots if lot.lot_id != _MERGED), default=0.0)
    scale = _LOT_BAR / largest if largest > 0 else 0.0
    for index, lot in enumerate(lots):
        y = top + 10.0 + index * ROW
        middle = y + ROW / 2 - 1.0
        name = truncate(lot.name, 9.0, _LOT_NAME - 18.0)
        canvas.text(_LOT_NAME - 5, middle, name, 9.0, "right")
        if lot.lot_id in dangerous:
            canvas.danger(_LOT_NAME - 16.0 - text_width(name, 9.0), middle, 8.0)
        if lot.lot_id != _MERGED:
            _draw_lot_bar(canvas, lot, y, scale)
        start, rest = (tons_column(display.tons(one)) for one in (lot.start_t, lot.left_t))
        canvas.text(have_x, middle, start, 9.0, "right")
        canvas.text(left_x, middle, rest, 9.0, "right", bold=True)


def _draw_lot_bar(canvas: Canvas, lot: LotBalance, y: float, scale: float) -> None:
    """Draw what becomes of a lot in the order of the wall: sold, eaten, lost, left."""
    x = _LOT_NAME
    lost = scale * (lot.feeding_loss_t + lot.storage_loss_t)
    sold, eaten, left = (scale * max(one, 0.0) for one in (lot.sold_t, lot.eaten_t, lot.left_t))
    if sold > 0.5:
        canvas.box(x, y + 0.3, sold, 8.4, PAPER, edge_width=0.6)
        dots = range(max(int(sold / 5.0), 1))
        canvas.shape("".join(svg.circle(x + 2.5 + 5.0 * at, y + 4.5, 1.1) for at in dots), DARK)
        x += sold
    if eaten > 0.3:
        canvas.box(x, y + 0.3, eaten, 8.4, LIGHT, edge=DARK, edge_width=0.6)
        x += eaten
    if lost > 0.5:
        canvas.hatched_box(x, y + 0.3, lost, 8.4, 3.0)
        x += lost
    if left > 0.3:
        canvas.box(x, y, left, 9.0, INK)


def _draw_yard(
    canvas: Canvas, program: SeasonProgram, display: Display, span: tuple[float, float]
) -> None:
    line = yard_line(program)
    if not line:
        return
    timeline = Timeline(program.start, line[-1].day, _YARD_LEFT, WIDTH - 1.0)
    head, bottom = span
    canvas.text(_YARD_LEFT, head, "Hay standing in the yard", 9.0, bold=True)
    top = head + 20.0
    start_t = yard_totals(program).start_t
    most = max(start_t, *(point.left_t for point in line))
    scale = (bottom - top) / most if most > 0 else 0.0
    # What is sold leaves on the first morning: the line begins with it, and drops at once.
    points = [
        (timeline.x(program.start), bottom - scale * start_t),
        *((timeline.x(point.day), bottom - scale * point.left_t) for point in line),
    ]
    canvas.area(points, bottom)
    draw_months(canvas, timeline, bottom + 8.0, bottom - 4.0, bottom, ink=INK)
    canvas.shape(svg.outline(points, closed=False), "none", INK, 1.6)
    canvas.line(_YARD_LEFT, bottom, WIDTH, bottom, thickness=1.0)
    first = f"{display.tons_text(start_t)} on {display.day_text(program.start)}"
    canvas.text(_YARD_LEFT, top - 8.0, first, 9.5, bold=True)
    empty = empty_on(program)
    if empty is None:
        label = f"{display.tons_text(line[-1].left_t)} left {display.day_text(line[-1].day)}"
        at = points[-1]
    else:
        label = words.runs_out(display.day_text(empty))
        at = (timeline.x(empty), bottom)
    _draw_yard_label(canvas, points, label, at, (top, bottom))


def _draw_yard_label(
    canvas: Canvas,
    points: Sequence[tuple[float, float]],
    label: str,
    at: tuple[float, float],
    span: tuple[float, float],
) -> None:
    """Write a label clear of the falling line, and tie it to its point."""
    (x, y), (top, bottom) = at, span
    width = text_width(label, 9.5, bold=True)
    right = min(x + width / 2, WIDTH - 2.0)
    left = right - width - 4.0
    line_y = max(
        (before[1] for before, after in pairwise(points) if before[0] <= left <= after[0]),
        default=top,
    )
    line_top = min((one for x1, one in points if x1 >= left), default=line_y)
    label_y = min(line_y, line_top) - 11.0
    if label_y < top + 5.0:
        canvas.text(right, bottom - 9.0, label, 9.5, "right", bold=True)
        return
    canvas.line(x - 1.0, label_y + 6.0, x - 1.0, y, thickness=0.9, dashed=True)
    canvas.text(right, label_y, label, 9.5, "right", bold=True)
