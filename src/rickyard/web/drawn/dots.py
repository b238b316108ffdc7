"""Ten dots: how many times in ten something is so."""

from __future__ import annotations

from html import escape
from typing import Final

_TEN: Final = 10
_STEP, _TALL = 14.0, 14.0
_RADIUS: Final = 5.0


def ten_dots(chance: float, label: str) -> str:
    """Return a chance as ten dots, so many filled.

    Parameters
    ----------
    chance : float
        From 0 to 1. [-]
    label : str
        What it says, in words.

    Returns
    -------
    str
        SVG.

    Examples
    --------
    >>> drawn = ten_dots(0.81, "about 8 times in 10")
    >>> drawn.count('class="dot"'), drawn.count('class="dot off"')
    (8, 2)
    """
    filled = round(_TEN * max(0.0, min(1.0, chance)))
    dots = "".join(
        f'<circle class="dot{"" if place < filled else " off"}" cx="{(place + 0.5) * _STEP:.0f}" '
        f'cy="{_TALL / 2:.0f}" r="{_RADIUS:.0f}"/>'
        for place in range(_TEN)
    )
    return (
        f'<svg class="dots" viewBox="0 0 {_TEN * _STEP:.0f} {_TALL:.0f}" role="img" '
        f'aria-label="{escape(label)}">{dots}</svg>'
    )
