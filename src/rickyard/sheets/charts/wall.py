"""The wall of bales: all the hay of the season as marks that can be counted.

Each part of it has a mark of its own form, read without color: a wound bale is to be eaten, a
full disc is left, a triangle is left of a lot with a danger, a cross is lost, a dot is sold, an
empty square is missing.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Final, Literal

from rickyard.display import Display, number_text
from rickyard.program.result import SeasonProgram
from rickyard.sheets.charts import svg
from rickyard.sheets.charts.canvas import DARK, INK, LIGHT, PAPER, Canvas
from rickyard.sheets.charts.letters import text_width
from rickyard.sheets.wording import yard_totals

Mark = Literal["sold", "eaten", "lost", "danger", "left", "missing"]

_WORDS: Final[dict[Mark, str]] = {
    "sold": "sold",
    "eaten": "eaten",
    "lost": "lost, feeder and storage",
    "danger": "left with a danger",
    "left": "left",
    "missing": "missing, about",
}

_MOST_ROWS: Final = 6
_LEAST_ROWS: Final = 3
_MOST_MARKS: Final = 360
_LARGEST_CELL: Final = 10.2
#: Less is not shown, in the reader's tons.
LEAST_TONS_SHOWN: Final = 0.05
#: Tons one mark stands for, the first of which that keeps the wall countable is taken.
_TONS_A_MARK: Final = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 500.0, 5000.0)

_LABELS_HEIGHT: Final = 44.0


@dataclass(frozen=True, slots=True)
class WallPart:
    """A part of the wall, in metric tonnes of dry matter."""

    mark: Mark
    tonnes: float


def wall_parts(program: SeasonProgram) -> tuple[WallPart, ...]:
    """Return what becomes of the hay, in the order in which the wall shows it.

    Parameters
    ----------
    program : SeasonProgram
        The program.

    Returns
    -------
    tuple of WallPart
        What there is of sold, eaten, lost, dangerous, left and missing hay, in tonnes.
    """
    totals = yard_totals(program)
    dangerous = dangerous_lots(program)
    with_danger = sum(max(lot.left_t, 0.0) for lot in program.lots if lot.lot_id in dangerous)
    parts = (
        WallPart("sold", sum(lot.sold_t for lot in program.lots)),
        WallPart("eaten", totals.eaten_t),
        WallPart("lost", totals.lost_t),
        WallPart("danger", with_danger),
        WallPart("left", max(totals.left_t - with_danger, 0.0)),
        WallPart("missing", totals.missing_t),
    )
    return tuple(one for one in parts if one.tonnes > 0.0)


def dangerous_lots(program: SeasonProgram) -> frozenset[str]:
    """Return the ids of lots and feeds of which a danger is told."""
    return frozenset(one.about for one in program.cautions if one.level == "danger" and one.about)


def draw_wall(canvas: Canvas, program: SeasonProgram, display: Display, width: float) -> None:
    """Draw the wall across a canvas, each part labeled under its first mark."""
    wall = _laid(program, display, width)
    at = 0
    starts = []
    for part, count in zip(wall.parts, wall.counts, strict=True):
        starts.append(wall.cell * (at // wall.rows))
        places = [divmod(one, wall.rows) for one in range(at, at + count)]
        corners = [(wall.cell * x, wall.cell * y) for x, y in places]
        _draw_marks(canvas, part.mark, corners, wall.cell)
        at += count
    bottom = wall.rows * wall.cell
    _draw_labels(canvas, wall.parts, starts, display, (width, bottom))
    tons = "tons" if display.system == "us" else "t"
    figure = number_text(wall.tons_a_mark)
    unit = "ton" if figure == "1" and display.system == "us" else tons
    canvas.text(width, bottom + _LABELS_HEIGHT - 4.0, f"One mark is {figure} {unit}.", 8.5, "right")


def wall_height(program: SeasonProgram, display: Display, width: float) -> float:
    """Return how high the wall is with its labels. [pt]."""
    wall = _laid(program, display, width)
    return wall.rows * wall.cell + _LABELS_HEIGHT


@dataclass(frozen=True, slots=True)
class _Laid:
    """A wall as it is laid: how many marks of each part, in how many rows of which size."""

    parts: tuple[WallPart, ...]
    counts: tuple[int, ...]
    tons_a_mark: float
    rows: int
    cell: float


def _laid(program: SeasonProgram, display: Display, width: float) -> _Laid:
    parts = tuple(
        one for one in wall_parts(program) if display.tons(one.tonnes) >= LEAST_TONS_SHOWN
    )
    whole = sum(display.tons(one.tonnes) for one in parts)
    tons_a_mark = next(
        (one for one in _TONS_A_MARK if whole / one <= _MOST_MARKS), _TONS_A_MARK[-1]
    )
    counts = _marks([display.tons(one.tonnes) / tons_a_mark for one in parts])
    # As few rows as fill the width with bales of the full size, so that every wall is long.
    rows = _LEAST_ROWS
    while rows < _MOST_ROWS and ceil(sum(counts) / rows) * _LARGEST_CELL > width:
        rows += 1
    cell = min(_LARGEST_CELL, width / max(ceil(sum(counts) / rows), 1))
    return _Laid(parts, tuple(counts), tons_a_mark, rows, cell)


def _marks(amounts: list[float]) -> list[int]:
    """Return whole marks that sum to the whole; whatever is there at all has one.

    >>> _marks([191.4, 40.4, 12.4, 64.3]), _marks([0.2, 9.8])
    ([192, 40, 12, 64], [1, 9])
    """
    whole = max(round(sum(amounts)), len(amounts))
    counts = [max(int(one), 1) for one in amounts]
    order = sorted(range(len(amounts)), key=lambda at: (-(amounts[at] % 1.0), at))
    for at in order * (whole + 1):
        if sum(counts) >= whole:
            break
        counts[at] += 1
    while sum(counts) > whole:
        counts[counts.index(max(counts))] -= 1
    return counts


def _draw_marks(
    canvas: Canvas, mark: Mark, corners: list[tuple[float, float]], cell: float
) -> None:
    """Draw all marks of a part as one path, or two where a bale is wound."""
    half = cell / 2
    middles = [(x + half, y + half) for x, y in corners]
    if mark == "eaten":
        around = "".join(svg.circle(x, y, 0.38 * cell) for x, y in middles)
        canvas.shape(around, LIGHT, DARK, 0.09 * cell)
        canvas.shape("".join(svg.circle(x, y, 0.17 * cell) for x, y in middles), "none", DARK, 0.6)
    elif mark == "left":
        canvas.shape("".join(svg.circle(x, y, 0.42 * cell) for x, y in middles), INK)
    elif mark == "sold":
        canvas.shape("".join(svg.circle(x, y, 0.16 * cell) for x, y in middles), DARK)
    elif mark == "lost":
        canvas.shape("".join(_cross(x, y, 0.27 * cell) for x, y in middles), "none", INK, 1.0)
    elif mark == "danger":
        reach = 0.4 * cell
        triangles = [
            [(x, y - reach), (x + reach, y + reach), (x - reach, y + reach)] for x, y in middles
        ]
        canvas.shape("".join(svg.outline(one) for one in triangles), PAPER, INK, 1.1)
    else:
        reach = 0.36 * cell
        squares = [
            [
                (x - reach, y - reach),
                (x + reach, y - reach),
                (x + reach, y + reach),
                (x - reach, y + reach),
            ]
            for x, y in middles
        ]
        canvas.shape("".join(svg.outline(one) for one in squares), PAPER, INK, 0.7)


def _cross(x: float, y: float, reach: float) -> str:
    down = svg.outline([(x - reach, y - reach), (x + reach, y + reach)], closed=False)
    return down + svg.outline([(x - reach, y + reach), (x + reach, y - reach)], closed=False)


def _draw_labels(
    canvas: Canvas,
    parts: tuple[WallPart, ...],
    starts: list[float],
    display: Display,
    size: tuple[float, float],
) -> None:
    """Write figure and word under the first mark of each part, side by side where it is narrow."""
    width, bottom = size
    figures = [display.tons_text(one.tonnes) for one in parts]
    wide = [
        13.0 + max(text_width(figure, 12.0, bold=True), text_width(_WORDS[part.mark], 9.0))
        for figure, part in zip(figures, parts, strict=True)
    ]
    places = list(starts)
    right = width
    for at in range(len(places) - 1, -1, -1):
        places[at] = min(places[at], right - wide[at])
        right = places[at] - 12.0
    left = 0.0
    for at, place in enumerate(places):
        places[at] = max(place, left)
        left = places[at] + wide[at] + 12.0
    for start, x, part, figure in zip(starts, places, parts, figures, strict=True):
        canvas.line(start + 0.8, bottom + 1.5, start + 0.8, bottom + 6.0, thickness=1.0)
        if abs(x - start) > 2.0:
            canvas.line(start + 0.8, bottom + 6.0, x + 0.8, bottom + 6.0, thickness=1.0)
            canvas.line(x + 0.8, bottom + 6.0, x + 0.8, bottom + 9.0, thickness=1.0)
        _draw_marks(canvas, part.mark, [(x, bottom + 11.0)], 10.0)
        canvas.text(x + 13.0, bottom + 16.0, figure, 12.0, bold=True)
        canvas.text(x + 13.0, bottom + 27.5, _WORDS[part.mark], 9.0)
