"""Is it enough, week by week: a column a week on the line of the need."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from typing import Final

_STEP: Final = 12.0
_LINE: Final = 24.0
_TALL: Final = 40.0

#: More than this over the need is drawn over the line, more than that under it below: shares.
_OVER, _UNDER = 0.012, 0.006
_MOST_UP, _MOST_DOWN = 22.0, 14.0


@dataclass(frozen=True, slots=True)
class Met:
    """A week: what is supplied over what is needed, less one, and whether that is short."""

    place: int
    over: float
    is_short: bool


def adequacy_strip(weeks: Sequence[Met], many: int, label: str) -> str:
    """Return a strip of columns on the line of the need.

    Over the line green: more than is needed. Straw on it: just met. Straw under it: under, within
    what a week may lack. Red under it: short.

    Parameters
    ----------
    weeks : sequence of Met
        The weeks that are known.
    many : int
        How many weeks the season has.
    label : str
        What it shows, in words.

    Returns
    -------
    str
        SVG.

    Examples
    --------
    >>> weeks = [Met(0, 0.2, False), Met(1, -0.02, False), Met(2, -0.3, True)]
    >>> strip = adequacy_strip(weeks, 3, "")
    >>> [strip.count(one) for one in ("ok-up", "ok-just", "ok-down")]
    [1, 1, 1]
    """
    wide = _STEP * many
    told = ""
    for one in weeks:
        kind, top, tall = _column(one)
        told += (
            f'<rect class="{kind}" x="{one.place * _STEP + 0.5:.1f}" y="{top:.1f}" '
            f'width="{_STEP - 2.5:.1f}" height="{tall:.1f}"/>'
        )
    return (
        f'<svg class="strip" viewBox="0 0 {wide:.0f} {_TALL:.0f}" role="img" '
        f'aria-label="{escape(label)}"><path class="ok-need" d="M0 {_LINE:.0f}H{wide:.0f}"/>'
        f"{told}</svg>"
    )


def _column(one: Met) -> tuple[str, float, float]:
    """Return the form of a week's column, its top and its height."""
    if one.is_short:
        return "ok-down", _LINE, min(_MOST_DOWN, 2.0 - one.over * 150.0)
    if one.over > _OVER:
        tall = min(_MOST_UP, 3.0 + one.over * 110.0)
        return "ok-up", _LINE - tall, tall
    if one.over >= -_UNDER:
        return "ok-just", _LINE - 4.0, 4.0
    return "ok-just", _LINE, min(12.0, 2.0 - one.over * 150.0)
