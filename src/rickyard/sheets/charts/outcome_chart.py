"""What becomes of a group: its condition or weight through the season, as a line with its range.

Told apart in black and white: the line is what is planned, the gray band what a little less or
more eaten would make of it; events are dots with their words.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from math import ceil, floor
from typing import Final

from rickyard.display import Display
from rickyard.program.result import Outcome, OutcomePoint
from rickyard.sheets.charts import svg
from rickyard.sheets.charts.canvas import DARK, INK, LIGHT, PALE, Canvas
from rickyard.sheets.charts.letters import text_width, truncate

_WIDTH: Final = 540.0
_HEIGHT: Final = 92.0
_LEFT: Final = 40.0
_TOP: Final = 22.0
_BOTTOM: Final = 14.0
_LETTERS: Final = 8.0
#: No scale is narrower: a change of a tenth of a score is not to look like a cliff.
_LEAST_SCORES: Final = 2.0
_LEAST_WEIGHT_SHARE: Final = 0.15
_WORDS: Final = {"calving": "calving", "breeding": "breeding", "weaning": "weaning"}

_Triple = tuple[float, float, float]


#: Half of the bar of a goal.
_GOAL: Final = 8.0


def outcome_svg(outcome: Outcome, name: str, display: Display) -> str:
    """Draw what becomes of a group.

    Parameters
    ----------
    outcome : Outcome
        A group that is followed: its path has two points or more.
    name : str
        What the group is called.
    display : Display
        The reader's units.

    Returns
    -------
    str
        SVG as wide as a letter page; its description says the same in words.
    """
    canvas = Canvas(_WIDTH, _HEIGHT, outcome.sentence)
    path = outcome.path
    values = [_values(one, display) for one in path]
    least, most, step = _scale(values, outcome.kind == "condition")
    first, last = path[0].on, path[-1].on

    def across(on: date) -> float:
        return _LEFT + (_WIDTH - _LEFT - 6.0) * (on - first).days / (last - first).days

    def up(value: float) -> float:
        return _HEIGHT - _BOTTOM - (_HEIGHT - _TOP - _BOTTOM) * (value - least) / (most - least)

    unit = "condition" if outcome.kind == "condition" else f"weight, {display.mass_unit}"
    canvas.text(0.0, 7.0, truncate(f"{name}: {unit}", 9.0, _WIDTH, bold=True), 9.0, bold=True)
    _grid(canvas, (least, most, step), up)
    _months(canvas, first, last, across)
    xs = [across(one.on) for one in path]
    low = [(x, up(one[0])) for x, one in zip(xs, values, strict=True)]
    high = [(x, up(one[2])) for x, one in zip(xs, values, strict=True)]
    line = [(x, up(one[1])) for x, one in zip(xs, values, strict=True)]
    canvas.shape(svg.outline([*low, *reversed(high)]), PALE, LIGHT, 0.4)
    canvas.shape(svg.outline(line, closed=False), ink=INK, thickness=1.6)
    for event in outcome.events:
        point = display.mass(event.weight_kg) if event.score is None else event.score
        canvas.shape(svg.circle(across(event.on), up(point), 2.4), INK)
        if event.event in _WORDS:
            words = f"{_WORDS[event.event]}, {display.day_text(event.on)}"
            half = text_width(words, _LETTERS) / 2.0
            x = min(max(across(event.on), _LEFT + half), _WIDTH - half)
            canvas.line(across(event.on), _TOP, across(event.on), _HEIGHT - _BOTTOM, dashed=True)
            canvas.text(x, _TOP - 5.0, words, _LETTERS, "center")
    for goal in outcome.goals:
        wanted = display.mass(goal.weight_kg or 0.0) if goal.score is None else goal.score
        x, y = across(goal.on), up(min(max(wanted, least), most))
        canvas.line(x - _GOAL, y, min(x + _GOAL, _WIDTH), y, thickness=2.4)
        figures = f"goal {wanted:g}" if goal.score is not None else f"goal {wanted:,.0f}"
        # Beside its bar, and before it where the sheet ends: the line of the day stays clear.
        wide = text_width(figures, _LETTERS) + 3.0
        beside = x + _GOAL + 3.0
        canvas.text(
            beside if beside + wide < _WIDTH else x - _GOAL - wide, y + 2.5, figures, _LETTERS
        )
    return canvas.svg()


def _values(point: OutcomePoint, display: Display) -> _Triple:
    """Return what is drawn of a point: low, planned and high."""
    scores = point.low_score, point.score, point.high_score
    if scores[0] is not None and scores[1] is not None and scores[2] is not None:
        return scores[0], scores[1], scores[2]
    low, high = display.mass(point.weight_low_kg), display.mass(point.weight_high_kg)
    return low, display.mass(point.weight_kg), high


def _scale(values: list[_Triple], scores: bool) -> _Triple:
    """Return the least and the most of a scale, and the step of its lines."""
    least, most = min(one[0] for one in values), max(one[2] for one in values)
    if scores:
        step = 1.0
        room = max(most - least, _LEAST_SCORES)
    else:
        room = max(most - least, _LEAST_WEIGHT_SHARE * most)
        step = next(one for one in (5.0, 10.0, 25.0, 50.0, 100.0, 250.0, 1e3) if room / one <= 5.0)
    middle = (least + most) / 2.0
    return (
        step * floor(min(least, middle - room / 2.0) / step),
        step * ceil(max(most, middle + room / 2.0) / step),
        step,
    )


def _grid(canvas: Canvas, scale: _Triple, up: Callable[[float], float]) -> None:
    least, most, step = scale
    for at in range(round((most - least) / step) + 1):
        value = least + at * step
        canvas.line(_LEFT, up(value), _WIDTH - 6.0, up(value), 0.4, LIGHT, behind=True)
        canvas.text(_LEFT - 5.0, up(value), f"{value:,.0f}", _LETTERS, "right", ink=DARK)


def _months(canvas: Canvas, first: date, last: date, across: Callable[[date], float]) -> None:
    """Write the months under the line, each where it begins."""
    month = date(first.year, first.month, 1)
    while month < last:
        if month >= first:
            x = across(month)
            canvas.line(x, _HEIGHT - _BOTTOM, x, _HEIGHT - _BOTTOM + 3.0, 0.6)
            if x < _WIDTH - 20.0:
                canvas.text(x + 2.0, _HEIGHT - 6.0, f"{month:%b}", _LETTERS)
        month = date(month.year + month.month // 12, month.month % 12 + 1, 1)
