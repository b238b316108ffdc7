"""How sure something is: a value with the line of its range on one scale, or ten dots."""

from __future__ import annotations

from html import escape
from typing import Final

_WIDE, _TALL = 180.0, 16.0
_EDGE: Final = 6.0
#: The scale goes from so much under the value to as much over it, as a share of it.
REACH: Final = 0.3


def doubt(
    value: float,
    low: float,
    high: float,
    label: str,
    before: float | None = None,
    reach: float = REACH,
) -> str:
    """Return how sure a value is.

    Parameters
    ----------
    value : float
        The value, over 0.
    low : float
        The low end of its range, in the same unit.
    high : float
        The high end.
    label : str
        What it shows, in words.
    before : float, optional
        What was believed before, drawn as a dashed line.
    reach : float
        How far the scale goes to either side, as a share of the value.

    Returns
    -------
    str
        SVG: the line ends at the edge where the range goes on beyond the scale.

    Examples
    --------
    >>> 'd="M48.0 8H132.0"' in doubt(10.0, 8.5, 11.5, "8.5 to 11.5")
    True
    """
    half = _WIDE / 2

    def across(end: float) -> float:
        share = (end - value) / value / reach
        return half + max(-1.0, min(1.0, share)) * (half - _EDGE)

    was = ""
    if before is not None:
        was = f'<path class="was" d="M{across(before):.1f} 0V{_TALL:.0f}"/>'
    return (
        f'<svg class="sureline" viewBox="0 0 {_WIDE:.0f} {_TALL:.0f}" role="img" '
        f'aria-label="{escape(label)}"><path class="axs" d="M{_EDGE:.0f} 8H{_WIDE - _EDGE:.0f}"/>'
        f'<path class="ax" stroke-width="4" d="M{across(low):.1f} 8H{across(high):.1f}"/>'
        f'{was}<circle class="dot" cx="{half:.0f}" cy="8" r="5.5"/></svg>'
    )


_TEN: Final = 10
_STEP, _HIGH = 14.0, 14.0
_RADIUS: Final = 5.0


def ten_dots(chance: float) -> str:
    """Return a chance as ten dots, so many filled.

    Parameters
    ----------
    chance : float
        From 0 to 1. [-]

    Returns
    -------
    str
        SVG, passed over by whoever hears the page: the words stand beside it.

    Examples
    --------
    >>> drawn = ten_dots(0.81)
    >>> drawn.count('class="dot"'), drawn.count('class="dot off"')
    (8, 2)
    """
    filled = round(_TEN * max(0.0, min(1.0, chance)))
    dots = "".join(
        f'<circle class="dot{"" if place < filled else " off"}" cx="{(place + 0.5) * _STEP:.0f}" '
        f'cy="{_HIGH / 2:.0f}" r="{_RADIUS:.0f}"/>'
        for place in range(_TEN)
    )
    return (
        f'<svg class="dots" viewBox="0 0 {_TEN * _STEP:.0f} {_HIGH:.0f}" aria-hidden="true">'
        f"{dots}</svg>"
    )
