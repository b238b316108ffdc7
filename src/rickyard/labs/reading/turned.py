"""Headings that stand turned over their columns, put into the rows of an upright page."""

from __future__ import annotations

from collections.abc import Sequence

from rickyard.labs.common import Cell
from rickyard.labs.reading.signs import TurnedText

#: Fewer turned texts beside one another head no columns: a note along the margin.
_LEAST = 2
#: Headings may stand so far over or under the upright ones of their row, in points.
_ONE_ROW = 7.0


def with_turned(
    rows: list[list[Cell]], feet: Sequence[float], turned: Sequence[TurnedText], page: int
) -> list[list[Cell]]:
    """Return the rows of a page with its turned headings as a row of their own.

    Parameters
    ----------
    rows : list of list of Cell
        The upright rows from top to bottom.
    feet : sequence of float
        Where each of them stands.
    turned : sequence of TurnedText
        The turned texts of the page.
    page : int
        Its number.
    """
    made = list(zip(feet, rows, strict=True))
    for band in _bands(turned):
        if len(band) < _LEAST:
            continue
        foot = min(one.foot for one in band)
        cells = [
            Cell(one.text, 0, one.x0, one.x1, f"page {page}, {one.x0:.0f} across, turned")
            for one in band
        ]
        beside = next((one for one in made if abs(one[0] - foot) <= _ONE_ROW), None)
        if beside is not None and not _overlaps(beside[1], cells):
            beside[1].extend(cells)
            beside[1].sort(key=lambda cell: cell.x0)
        else:
            cells.sort(key=lambda cell: cell.x0)
            place = next((n for n, one in enumerate(made) if one[0] < foot), len(made))
            made.insert(place, (foot, cells))
    for number, (_, row) in enumerate(made):
        for cell in row:
            cell.row = number
    return [row for _, row in made]


def _bands(turned: Sequence[TurnedText]) -> list[list[TurnedText]]:
    """Return texts in groups that stand beside one another."""
    bands: list[list[TurnedText]] = []
    for one in sorted(turned, key=lambda text: -text.head):
        if bands and one.head > min(other.foot for other in bands[-1]):
            bands[-1].append(one)
        else:
            bands.append([one])
    return bands


def _overlaps(row: Sequence[Cell], cells: Sequence[Cell]) -> bool:
    return any(min(a.x1, b.x1) - max(a.x0, b.x0) > 1.0 for a in row for b in cells)
