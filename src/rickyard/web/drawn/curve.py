"""The hay of a season as it goes: an area from the first day to the last, labelled at its ends."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Final

_WIDE, _TALL = 560.0, 190.0
_SIDE, _TOP, _FOOT = 12.0, 30.0, 34.0

#: The days at both ends stand there, beside which no month has room.
_LEFT_FREE, _RIGHT_FREE = 72.0, 124.0

#: A word at the first or last point begins or ends there.
_ANCHORS: Final = ("start", "end")


def hay_curve(
    points: Sequence[tuple[float, float]],
    ends: Sequence[tuple[str, str]],
    label: str,
    months: Sequence[tuple[float, str]] = (),
) -> str:
    """Return how hay goes through a season.

    Parameters
    ----------
    points : sequence of tuple of float and float
        Two or more: how far along the season it is, from 0 to 1, and what then stands, in any unit.
    ends : sequence of tuple of str and str
        The figure and the day of the first point, and of the last.
    label : str
        What it shows, in words.
    months : sequence of tuple of float and str
        How far along the season a month begins, from 0 to 1, and its name.

    Returns
    -------
    str
        SVG.
    """
    most = max(max(value for _, value in points), 1e-9)
    floor = _TALL - _FOOT

    def at(along: float, value: float) -> tuple[float, float]:
        across = _SIDE + along * (_WIDE - 2 * _SIDE)
        return across, floor - max(value, 0.0) / most * (floor - _TOP)

    marked = "".join(
        f'<path class="axs" d="M{x:.1f} {_TOP:.0f}V{floor:.0f}"/>'
        f'<text class="txs" x="{x + 4.0:.1f}" y="{_TALL - 12.0:.1f}" font-size="14">'
        f"{escape(name)}</text>"
        for x, name in ((at(along, 0.0)[0], name) for along, name in months)
        if _LEFT_FREE < x < _WIDE - _RIGHT_FREE
    )
    line = "L".join(f"{x:.1f} {y:.1f}" for x, y in (at(*one) for one in points))
    told = ""
    for (figure, day), one, anchor in zip(ends, (points[0], points[-1]), _ANCHORS, strict=True):
        x, y = at(*one)
        told += (
            f'<circle class="dot" cx="{x:.1f}" cy="{y:.1f}" r="5"/>'
            f'<text class="tx" x="{x:.1f}" y="{max(y - 10.0, 18.0):.1f}" font-size="17" '
            f'font-weight="700" text-anchor="{anchor}">{escape(figure)}</text>'
            f'<text class="txs" x="{x:.1f}" y="{_TALL - 12.0:.1f}" font-size="15" '
            f'text-anchor="{anchor}">{escape(day)}</text>'
        )
    return (
        f'<svg class="becomes" viewBox="0 0 {_WIDE:.0f} {_TALL:.0f}" role="img" '
        f'aria-label="{escape(label)}">{marked}'
        f'<path class="hayf0" d="M{_SIDE:.1f} {floor:.1f}L{line}'
        f'L{_WIDE - _SIDE:.1f} {floor:.1f}Z"/><path class="ax" stroke-width="3" d="M{line}"/>'
        f"{told}</svg>"
    )
