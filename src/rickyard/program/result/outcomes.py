"""What becomes of the stock on a program: weight and condition through the season."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

OutcomeKind = Literal["condition", "weight", "unknown"]
GoalState = Literal["met", "unsure", "missed"]
OutcomeEvent = Literal["start", "calving", "breeding", "weaning", "end"]


@dataclass(frozen=True, slots=True)
class OutcomePoint:
    """Weight and condition of one head on the morning of a day.

    Weights are full and without the conceptus; scores, 1 to 9, are ``None`` for stock that is
    followed by its weight. ``low`` and ``high`` are where it would stand had it eaten so much
    less or more than planned as ``outcomes.INTAKE_SPREAD_FRAC`` says.
    """

    on: date
    weight_kg: float
    weight_low_kg: float
    weight_high_kg: float
    score: float | None
    low_score: float | None
    high_score: float | None


@dataclass(frozen=True, slots=True)
class OutcomeAt:
    """Weight and condition at an event, and what a published table expects of breeding then.

    ``expected_pct`` of the mothers are in calf, with ``expected_low_pct`` and
    ``expected_high_pct`` for the low and high score; all ``None`` where no table tells.
    """

    event: OutcomeEvent
    on: date
    weight_kg: float
    weight_low_kg: float
    weight_high_kg: float
    score: float | None
    low_score: float | None
    high_score: float | None
    expected_pct: float | None
    expected_low_pct: float | None
    expected_high_pct: float | None
    expected: str
    source: str


@dataclass(frozen=True, slots=True)
class OutcomeGoal:
    """A goal of a group on a day, and whether it is met on what the program feeds.

    A condition of cows, 1 to 9, or a full weight; the other is ``None``. ``state`` is ``unsure``
    where it is missed as planned and reached within its range. ``source`` says who advises it,
    empty where the farm itself wants it.
    """

    on: date
    score: float | None
    weight_kg: float | None
    state: GoalState
    sentence: str
    source: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What becomes of a group on what the program feeds it.

    ``kind`` says whether condition or weight is followed, or neither for want of a number.
    ``path`` has a point at the start of each period and one on the last day.
    """

    group_id: str
    kind: OutcomeKind
    path: tuple[OutcomePoint, ...]
    events: tuple[OutcomeAt, ...]
    sentence: str
    source: str
    goals: tuple[OutcomeGoal, ...] = ()
