"""A value on its limits: gray bands from safe to none, and the value with its range over them."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from itertools import pairwise
from typing import Final

_WIDE, _TALL = 560.0, 74.0
_TOP: Final = 34.0
_HIGH: Final = 34.0
#: How dark the bands are, the first not at all.
_LIGHTEST, _DARKEST = 0.0, 0.85
#: The drawing goes so far beyond the last limit, and beyond the range.
_BEYOND: Final = 1.25


def limit_band(limits: Sequence[float], value: float, low: float, high: float, label: str) -> str:
    """Return where a value stands among its limits.

    Parameters
    ----------
    limits : sequence of float
        Limits between neighbouring bands, rising.
    value : float
        The value, in their unit.
    low : float
        The low end of its range.
    high : float
        The high end.
    label : str
        What it shows, in words.

    Returns
    -------
    str
        SVG; what each band allows is said beside it.

    Examples
    --------
    >>> drawn = limit_band((1000.0, 2000.0), 1500.0, 1200.0, 1800.0, "")
    >>> drawn.count("<rect"), 'cx="336.0"' in drawn
    (4, True)
    """
    most = max(limits[-1] * _BEYOND, high * 1.05)

    def across(at: float) -> float:
        return max(0.0, min(at, most)) / most * _WIDE

    edges = [0.0, *limits, most]
    bands = ""
    for place, (start, end) in enumerate(pairwise(edges)):
        dark = _LIGHTEST + (_DARKEST - _LIGHTEST) * place / len(limits)
        bands += (
            f'<rect class="limit" x="{across(start):.1f}" y="{_TOP:.0f}" '
            f'width="{across(end) - across(start):.1f}" height="{_HIGH:.0f}" '
            f'opacity="{dark:.2f}"/>'
        )
    ends = f"{across(low):.1f}", f"{across(high):.1f}"
    return (
        f'<svg class="limits" viewBox="0 0 {_WIDE:.0f} {_TALL:.0f}" role="img" '
        f'aria-label="{escape(label)}">{bands}'
        f'<rect class="edge" x="0.6" y="{_TOP:.0f}" width="{_WIDE - 1.2:.1f}" '
        f'height="{_HIGH:.0f}"/>'
        f'<path class="lies" d="M{ends[0]} 16H{ends[1]}M{ends[0]} 8v16M{ends[1]} 8v16"/>'
        f'<circle class="lies-at" cx="{across(value):.1f}" cy="16" r="8"/></svg>'
    )
