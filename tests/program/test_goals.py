"""Goals of a group: its farm's own, else what is advised for it, and whether they are met."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from rickyard.display import display_for
from rickyard.farm import AnimalClass, Group
from rickyard.program.explain.goals import goal_days, goal_met
from rickyard.program.result import Outcome, OutcomePoint
from rickyard.sheets.charts.outcome_chart import outcome_svg
from rickyard.sheets.wording import words
from rickyard.web.shown.course import course_drawn
from support.rows import each_row

ON = date(2027, 3, 12)
US, METRIC = display_for("us"), display_for("metric")
COWS = Group("c", "Cows", AnimalClass.COW, 40, 590.0, calving_on=ON)


def stands(score: float | None, low: float, high: float, kg: float = 590.0) -> OutcomePoint:
    if score is None:
        return OutcomePoint(ON, kg, low, high, None, None, None)
    return OutcomePoint(ON, kg, kg, kg, score, low, high)


def test_what_a_farm_wants_comes_before_what_is_advised() -> None:
    # South Dakota State University: cows at 5 at calving, heifers with their first calf at 6.
    [(on, score, weight, source)] = goal_days(COWS)
    assert (on, score, weight) == (ON, 5.0, None)
    assert "South Dakota" in source
    first = replace(COWS, animal_class=AnimalClass.FIRST_CALF_HEIFER)
    assert [one[1] for one in goal_days(first)] == [6.0]
    own = replace(COWS, target_condition_score=5.5, target_on=date(2027, 1, 5))
    assert list(goal_days(own)) == [(date(2027, 1, 5), 5.5, None, "")]
    by_calving = replace(COWS, target_condition_score=5.5)
    assert list(goal_days(by_calving)) == [(ON, 5.5, None, "")]


def test_heifers_are_to_weigh_three_fifths_of_their_mature_weight_at_breeding() -> None:
    heifers = Group("h", "Heifers", AnimalClass.REPLACEMENT_HEIFER, 20, 260.0)
    assert list(goal_days(heifers)) == []
    grown = replace(heifers, mature_weight_kg=600.0, breeding_on=date(2027, 5, 20))
    [(on, score, weight, source)] = goal_days(grown)
    assert (on, score, weight) == (date(2027, 5, 20), None, pytest.approx(360.0))
    assert "Arkansas" in source
    own = replace(grown, target_weight_kg=380.0, target_on=date(2027, 5, 1))
    assert list(goal_days(own)) == [(date(2027, 5, 1), None, 380.0, "")]
    assert list(goal_days(replace(heifers, animal_class=AnimalClass.BULL, calving_on=ON))) == []


@each_row(
    ("point", "source", "state", "said"),
    [
        (stands(5.2, 4.9, 5.5), "", "met", "The goal of condition 5 on Mar 12 is met."),
        # A twentieth of a score is nothing.
        (stands(4.96, 4.8, 5.5), "", "met", "The goal of condition 5 on Mar 12 is met."),
        (
            stands(4.7, 4.4, 5.0),
            "",
            "unsure",
            "The goal of condition 5 on Mar 12: 0.3 under it as planned, it may still be met.",
        ),
        (
            stands(4.3, 4.0, 4.6),
            "A.",
            "missed",
            "What is advised, condition 5 on Mar 12: missed by 0.7.",
        ),
        (stands(5.5, 5.2, 5.8), "A.", "met", "What is advised, condition 5 on Mar 12, is met."),
        (
            stands(7.3, 6.8, 7.8),
            "",
            "met",
            "The goal of condition 5 on Mar 12 is met, with 2.3 to spare: fatter than they need "
            "be.",
        ),
    ],
)
def test_a_goal_is_met_in_doubt_or_missed(
    point: OutcomePoint, source: str, state: str, said: str
) -> None:
    goal = goal_met(ON, (5.0, None), point, source, US)
    assert (goal.state, goal.sentence, goal.source) == (state, said, source)


def test_a_weight_is_told_in_the_units_of_the_reader() -> None:
    light = stands(None, 340.0, 352.0, 346.0)
    missed = goal_met(ON, (None, 360.0), light, "", METRIC)
    assert missed.sentence == "The goal of 360 kg on 12 Mar: missed by 14 kg."
    near = goal_met(ON, (None, 347.0), light, "", METRIC)
    assert near.state == "met"


def test_a_goal_is_drawn_at_its_day_on_page_and_paper() -> None:
    first, last = stands(5.0, 5.0, 5.0), replace(stands(4.6, 4.3, 4.9), on=date(2027, 4, 11))
    goal = goal_met(ON, (5.0, None), stands(4.7, 4.4, 5.0), "", US)
    goal = replace(goal, on=date(2027, 3, 27))
    outcome = Outcome("c", "condition", (first, last), (), "Cows: so.", "NRC", (goal,))
    page = course_drawn(outcome, US)
    assert page.count('class="goal"') == 1
    assert ">goal 5<" in page
    assert "goal 5" in outcome_svg(outcome, "Cows", US)
    assert words.outcome_words(outcome) == f"Cows: so. {goal.sentence}"
    assert "goal" not in course_drawn(replace(outcome, goals=()), US)
