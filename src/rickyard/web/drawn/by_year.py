"""A value of hay through the years: a dot for each hay, a line of the means."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from html import escape
from typing import Final

_WIDE, _TALL = 560.0, 190.0
_LEFT, _RIGHT, _TOP, _FOOT = 60.0, 24.0, 22.0, 40.0
#: Years that can be told apart side by side; of more the last are drawn.
MOST_YEARS: Final = 8


def by_year(points: Sequence[tuple[int, float]], label: str) -> str:
    """Return a value through the years.

    Parameters
    ----------
    points : sequence of tuple of int and float
        At least one: the year and the value of it.
    label : str
        What it shows, in words.

    Returns
    -------
    str
        SVG: years from left to right, whole numbers at the side, a dot for each point and a line
        through the mean of each year.
    """
    years = sorted({year for year, _ in points})[-MOST_YEARS:]
    of_year: dict[int, list[float]] = defaultdict(list)
    for year, value in points:
        if year in years:
            of_year[year].append(value)
    every = [value for values in of_year.values() for value in values]
    low, high = math.floor(min(every)), math.ceil(max(every))
    high = max(high, low + 1)
    step = (_WIDE - _LEFT - _RIGHT) / len(years)

    def at(year: int, value: float) -> tuple[float, float]:
        across = _LEFT + (years.index(year) + 0.5) * step
        return across, _TOP + (high - value) / (high - low) * (_TALL - _TOP - _FOOT)

    means = [at(year, math.fsum(of_year[year]) / len(of_year[year])) for year in years]
    line = "L".join(f"{x:.1f} {y:.1f}" for x, y in means)
    dots = "".join(
        f'<circle class="dot" cx="{x:.1f}" cy="{y:.1f}" r="4.5"/>'
        for x, y in (at(year, value) for year in years for value in of_year[year])
    )
    words = "".join(
        f'<text class="txs" x="{at(year, low)[0]:.1f}" y="{_TALL - 14:.0f}" font-size="15" '
        f'text-anchor="middle">{year}</text>'
        for year in years
    )
    for value in (low, high):
        height = at(years[0], value)[1]
        words += (
            f'<text class="txs" x="{_LEFT - 12:.0f}" y="{height + 5:.1f}" font-size="15" '
            f'text-anchor="end">{value}%</text>'
            f'<path class="axs" d="M{_LEFT:.0f} {height:.1f}H{_WIDE - _RIGHT:.0f}"/>'
        )
    return (
        f'<svg class="becomes" viewBox="0 0 {_WIDE:.0f} {_TALL:.0f}" role="img" '
        f'aria-label="{escape(label)}">{words}<path class="ax" stroke-width="3" d="M{line}"/>'
        f"{dots}</svg>"
    )
