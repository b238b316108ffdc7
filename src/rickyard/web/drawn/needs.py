"""Needs as drawings: columns week by week, a hay alone beside what is needed, what becomes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from html import escape
from typing import Final

from rickyard.display import MONTHS

_WEEK: Final = 9
_HIGH: Final = 34
_PANEL: Final = 96
_PANEL_WIDE: Final = 220.0

#: Room under a drawing for the names of months, and the weeks that a name is as wide as.
_NAMES: Final = 16
_NAME_WEEKS: Final = 3
_WIDE, _TALL = 560.0, 200.0
_FOOT: Final = 52.0
#: The foot of the figures of a point, over that of its words.
_FIGURES: Final = 22.0
_SIDE: Final = 34.0

#: A letter of the small words is at most so wide on the average.
_LETTER: Final = 7.6


def month_names(days: Sequence[date]) -> list[tuple[int, str]]:
    """Return the months that begin among some weeks: the column of each, and its name.

    Parameters
    ----------
    days : sequence of date
        The first day of each week.

    Returns
    -------
    list of (int, str)
        As many as have room beside each other.

    Examples
    --------
    >>> month_names([date(2026, 11, 23), date(2026, 11, 30), date(2026, 12, 7)])
    []
    >>> month_names([date(2026, 11, 30), date(2026, 12, 7), *[date(2026, 12, 14)] * 3])
    [(1, 'Dec')]
    """
    begins = [at for at in range(1, len(days)) if days[at].month != days[at - 1].month]
    return [(at, MONTHS[days[at].month - 1]) for at in begins if at + _NAME_WEEKS <= len(days)]


def _names(months: Sequence[tuple[int, str]], step: float, foot: float) -> str:
    return "".join(
        f'<text class="txs" x="{at * step:.1f}" y="{foot:.0f}" font-size="13">{escape(name)}</text>'
        for at, name in months
    )


def need_columns(
    values: Sequence[float],
    most: float,
    label: str,
    months: Sequence[tuple[int, str]] = (),
    weeks: int = 0,
) -> str:
    """Return a need as columns, a week each.

    Parameters
    ----------
    values : sequence of float
        The need by week.
    most : float
        What the whole height stands for.
    label : str
        What it shows, in words.
    months : sequence of (int, str)
        Where months begin, and their names.
    weeks : int
        The weeks of the season, that one that leaves early is no wider.

    Returns
    -------
    str
        SVG.
    """
    shapes = "".join(
        f'<rect class="feedstep" x="{_WEEK * at}" y="{_HIGH - 32 * value / most:.1f}" '
        f'width="7.6" height="{32 * value / most:.1f}"/>'
        for at, value in enumerate(values)
        if most > 0.0
    )
    wide = _WEEK * max(len(values), weeks, 1)
    return (
        f'<svg class="needl" viewBox="0 0 {wide} {_HIGH + _NAMES}" role="img" '
        f'aria-label="{escape(label)}"><path class="axs" d="M0 {_HIGH}H{wide}"/>{shapes}'
        f"{_names(months, _WEEK, _HIGH + 13)}</svg>"
    )


def alone_panel(
    needs: Sequence[float],
    gives: Sequence[float],
    label: str,
    months: Sequence[tuple[int, str]] = (),
) -> str:
    """Return what a hay alone gives beside what is needed.

    Parameters
    ----------
    needs : sequence of float
        The need by week.
    gives : sequence of float
        What the hay gives by week, in the same unit.
    label : str
        What it shows, in words.
    months : sequence of (int, str)
        Where months begin, and their names.

    Returns
    -------
    str
        SVG: a black line of need, straw where the hay is enough, gray where it is not.
    """
    top = max(*needs, *gives) * 1.06
    low = min(*needs, *gives, 0.0) if min(*needs, *gives) < 0.3 * top else 0.6 * min(*needs, *gives)
    step = _PANEL_WIDE / len(needs)

    def up(value: float) -> float:
        return _PANEL - (value - low) / (top - low) * _PANEL

    areas = "".join(
        f'<path class="{"hayf0" if give >= need else "gapf"}" d="M{at * step:.1f} '
        f'{up(max(give, need)):.1f}h{step:.1f}V{up(min(give, need)):.1f}h{-step:.1f}z"/>'
        for at, (need, give) in enumerate(zip(needs, gives, strict=True))
    )

    def stairs(values: Sequence[float]) -> str:
        points = (
            f"{(at + side) * step:.1f},{up(value):.1f}"
            for at, value in enumerate(values)
            for side in (0, 1)
        )
        return " ".join(points)

    return (
        f'<svg viewBox="0 0 {_PANEL_WIDE:.0f} {_PANEL + _NAMES}" role="img" '
        f'aria-label="{escape(label)}">'
        f'{areas}<path class="supl" d="M{stairs(gives)}"/>'
        f'<path class="ax" stroke-width="2.5" d="M{stairs(needs)}"/>'
        f'<path class="ax" d="M0 {_PANEL}H{_PANEL_WIDE:.0f}" stroke-width="1.2"/>'
        f"{_names(months, step, _PANEL + 13)}</svg>"
    )


@dataclass(frozen=True, slots=True)
class Becoming:
    """A point of a course: how far along it is, from 0 to 1, its value and its range.

    ``figures`` and ``words`` stand at a point that is to be read, and are empty at others.
    """

    along: float
    value: float
    low: float
    high: float
    figures: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class Goal:
    """A goal of a course: how far along it is, from 0 to 1, its value and its words."""

    along: float
    value: float
    words: str


#: Half of the bar of a goal.
_GOAL: Final = 13.0


def becomes(points: Sequence[Becoming], label: str, goals: Sequence[Goal] = ()) -> str:
    """Return what becomes of a group: a line, its range as a gray band, and points with words.

    Parameters
    ----------
    points : sequence of Becoming
        Two or more, in their order.
    label : str
        What it shows, in words.
    goals : sequence of Goal
        Each a green bar at its day.

    Returns
    -------
    str
        SVG.
    """
    wanted = [one.value for one in goals]
    low = min(*(one.low for one in points), *wanted)
    high = max(*(one.high for one in points), *wanted)
    room = max(high - low, 0.04 * abs(high), 0.1)

    def at(one: Becoming | Goal, value: float) -> tuple[float, float]:
        across = _SIDE + one.along * (_WIDE - 2 * _SIDE)
        return across, 12.0 + (high - value) / room * (_TALL - _FOOT - 24.0)

    def through(values: Sequence[tuple[float, float]]) -> str:
        return "L".join(f"{x:.1f} {y:.1f}" for x, y in values)

    band = [at(one, one.high) for one in points] + [at(one, one.low) for one in points[::-1]]
    told = ""
    last = -99.0
    for one in points:
        if not one.figures:
            continue
        x, y = at(one, one.value)
        told += f'<circle class="dot" cx="{x:.1f}" cy="{y:.1f}" r="5.5"/>'
        # Words that would lie on those before them stand above the line instead.
        below = x - last > 88.0
        height = _TALL - _FIGURES - 8.0 if below else max(y - _FIGURES - 14.0, 16.0)
        last = x if below else last
        # Words at an end begin or end there: none is cut off.
        half, anchor, stands = _LETTER * len(one.words) / 2.0, "middle", x
        if x < half:
            anchor, stands = "start", 0.0
        elif x > _WIDE - half:
            anchor, stands = "end", _WIDE
        told += (
            f'<text class="tx" x="{stands:.1f}" y="{height:.1f}" font-size="17" font-weight="700" '
            f'text-anchor="{anchor}">{escape(one.figures)}</text>'
            f'<text class="txs" x="{stands:.1f}" y="{height + _FIGURES:.1f}" font-size="14" '
            f'text-anchor="{anchor}">{escape(one.words)}</text>'
        )
    line = through([at(one, one.value) for one in points])
    return (
        f'<svg class="becomes" viewBox="0 0 {_WIDE:.0f} {_TALL:.0f}" role="img" '
        f'aria-label="{escape(label)}"><path class="unsure" d="M{through(band)}Z"/>'
        f'<path class="ax" stroke-width="3" d="M{line}"/>'
        f"{''.join(_goal(one, *at(one, one.value)) for one in goals)}{told}</svg>"
    )


def _goal(one: Goal, x: float, y: float) -> str:
    """Return the bar of a goal; its words stand over it, and within the drawing."""
    half = _LETTER * len(one.words) / 2.0
    stands = min(max(x, half), _WIDE - half)
    green = 'stroke="var(--stand)" stroke-width="4"'
    return (
        f'<path class="goal" {green} d="M{x - _GOAL:.1f} {y:.1f}H{x + _GOAL:.1f}"/>'
        f'<text class="txs" x="{stands:.1f}" y="{max(y - 6.0, 12.0):.1f}" font-size="14" '
        f'text-anchor="middle">{escape(one.words)}</text>'
    )
