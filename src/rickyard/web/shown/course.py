"""What becomes of a group by a program: its course drawn, and said."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rickyard.display import Display, clean, display_for
from rickyard.program.result import Outcome, OutcomeAt, OutcomeGoal, OutcomePoint
from rickyard.service import Planned, held_by_object
from rickyard.sheets.wording import group_name, group_order
from rickyard.web.drawn import Becoming, Goal, becomes, mark

#: The mark of a goal and its word, by how it stands.
_STATES: Final = {
    "met": ("enough", "Met"),
    "unsure": ("tight", "In doubt"),
    "missed": ("short", "Missed"),
}


@dataclass(frozen=True, slots=True)
class CourseShown:
    """What becomes of a group by a program: its course drawn, and said.

    ``goals`` say whether each goal is met, with its mark and who advises it.
    """

    name: str
    drawing: str
    words: str
    goals: tuple[tuple[str, str, str], ...] = ()


@held_by_object(64)
def courses_shown(planned: Planned) -> tuple[CourseShown, ...]:
    """Return what becomes of each group by a program.

    Parameters
    ----------
    planned : Planned
        The program with its farm.

    Returns
    -------
    tuple of CourseShown
        Words and drawings, in the order of the season's page.
    """
    display = display_for(planned.farm.units)
    found = {one.group_id: one for one in planned.program.outcomes}
    return tuple(
        CourseShown(
            clean(group_name(planned.farm, one)),
            course_drawn(found[one], display) if len(found[one].path) > 1 else "",
            display.local(found[one].sentence),
            tuple(_goal(goal, display) for goal in found[one].goals),
        )
        for one in group_order(planned.program)
        if one in found
    )


def course_drawn(outcome: Outcome, display: Display) -> str:
    """Return the course of a group.

    Parameters
    ----------
    outcome : Outcome
        Weight or condition on two days or more.
    display : Display
        The reader's units.

    Returns
    -------
    str
        SVG.
    """
    first, last = outcome.path[0].on, outcome.path[-1].on
    span = max((last - first).days, 1)
    words = {one.on: one.event for one in outcome.events}
    ends = {first: "now", last: "end"}
    points: list[Becoming] = []
    every: list[OutcomePoint | OutcomeAt] = [*outcome.path, *outcome.events]
    for one in sorted(every, key=lambda one: one.on):
        value, low, high = _values(one, outcome.kind, display)
        said = words.get(one.on) or ends.get(one.on, "")
        if points and points[-1].along == (one.on - first).days / span:
            continue
        figures = f"{value:.1f}" if outcome.kind == "condition" else f"{value:,.0f}"
        points.append(
            Becoming(
                (one.on - first).days / span,
                value,
                low,
                high,
                figures if said else "",
                f"{said} {display.day_text(one.on)}" if said else "",
            )
        )
    goals = [Goal((one.on - first).days / span, *_wanted(one, display)) for one in outcome.goals]
    return becomes(points, display.local(outcome.sentence), goals)


def _wanted(one: OutcomeGoal, display: Display) -> tuple[float, str]:
    """Return a goal as it is drawn, and its words."""
    if one.score is not None:
        return one.score, f"goal {one.score:g}"
    weight = display.mass(one.weight_kg or 0.0)
    return weight, f"goal {weight:,.0f}"


def _goal(one: OutcomeGoal, display: Display) -> tuple[str, str, str]:
    """Return a goal in words, its mark before it and who advises it behind."""
    name, word = _STATES[one.state]
    return mark(name, word), display.local(one.sentence), clean(one.source)


def _values(
    one: OutcomePoint | OutcomeAt, kind: str, display: Display
) -> tuple[float, float, float]:
    if kind == "condition" and one.score is not None:
        low = one.score if one.low_score is None else one.low_score
        high = one.score if one.high_score is None else one.high_score
        return one.score, low, high
    low, high = display.mass(one.weight_low_kg), display.mass(one.weight_high_kg)
    return display.mass(one.weight_kg), low, high
