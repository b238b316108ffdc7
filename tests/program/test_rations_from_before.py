"""Rations that begin from a program there is, and what is worked out by weeks beside them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.program.ask import Question, with_answers
from rickyard.program.planning import plan_season, using
from rickyard.program.rations.told import many_rations
from rickyard.program.result import HayUse, PlanOptions, Wish
from rickyard.program.runs.spans import SpanRules, eaten_before, spans_like
from support.by_hand import one
from support.farms import random_farm

START = date(2026, 11, 1)
WEEKS = [START + timedelta(days=7 * week) for week in range(6)]

#: One ration of two weeks and one of four, and a group that is never here.
RULES = SpanRules(most=(3, 3), least=(2, 2), first=(0, -1), last=(5, -1))


@pytest.mark.parametrize(
    ("hay", "starts"),
    [
        ([1.0, 1.0, 2.0, 2.0, 2.0, 2.0], (0, 2)),
        ([1.0, 1.0 + 1e-9, 1.0, 1.0, 1.0, 1.0], (0,)),
        ([1.0, 1.0, 2.0, 2.0, 1.0, 1.0], (0, 2, 4)),
        ([1.0, 2.0, 2.0, 2.0, 2.0, 2.0], None),
    ],
)
def test_cuts_are_those_of_the_program_before(
    hay: list[float], starts: tuple[int, ...] | None
) -> None:
    eaten = np.zeros((2, 2, 6))
    eaten[0, 1] = hay
    found = spans_like(RULES, eaten)
    assert (None if found is None else found.starts) == (None if starts is None else (starts, ()))


def test_what_was_fed_before_is_read_by_name_and_by_day() -> None:
    needs = one(groups=[one(group_id="cows")], periods=[one(start=day) for day in WEEKS[:2]])
    problem: Any = one(
        shape=(1, 2, 2), needs=needs, sources=one(values=[one(source_id="A"), one(source_id="B")])
    )
    uses = [
        HayUse("cows", "B", WEEKS[1], 7, 3.0),
        HayUse("cows", "B", WEEKS[1], 7, 1.0),
        HayUse("cows", "C", WEEKS[0], 7, 5.0),
        HayUse("ewes", "A", WEEKS[0], 7, 5.0),
        HayUse("cows", "A", WEEKS[2], 7, 5.0),
    ]
    assert eaten_before(problem, uses).tolist() == [[[0.0, 0.0], [0.0, 4.0]]]


def test_a_program_there_is_is_taken_where_it_is_better() -> None:
    farm = random_farm(24, lots=3, groups=1, weeks=9)
    quick = PlanOptions(effort=0.0)
    first, best = (plan_season(farm, options=replace(quick, effort=one)) for one in (0.0, 0.1))
    other = plan_season(farm, options=replace(quick, begin_from=using(best)))
    alone, better, begun = (each.cost + each.penalty for each in (first, best, other))
    assert better < alone - 10.0
    assert begun == pytest.approx(better, rel=1e-4)


@dataclass(frozen=True)
class Asked:
    group_id: str
    name: str
    rations_at_most: int | None = None


@pytest.mark.parametrize(
    ("season", "told"),
    [(None, ["Cows have more than one ration a month"]), (9, [])],
)
def test_who_has_more_rations_than_one_a_month_is_told(season: int | None, told: list[str]) -> None:
    groups = [Asked("C", "Cows"), Asked("E", "Ewes"), Asked("H", "Heifers", 9)]
    farm: Any = one(groups=groups, season=one(rations_at_most=season))
    problem: Any = one(needs=one(periods=[one(days=7)] * 6))
    rations: Any = [one(group_id=group) for group in "CCCEEHHH"]
    found = many_rations(farm, problem, rations)
    assert [one.sentence.split(":")[0] for one in found] == told


def test_what_is_worked_out_by_weeks_beside_rations_is_said() -> None:
    farm = random_farm(2, lots=4, groups=2, weeks=9)
    wish = Wish("feed", farm.lots[0].lot_id, farm.groups[0].group_id)
    quick = PlanOptions(effort=0.0, wishes=(wish,))
    said = []
    for options in (quick, replace(quick, weekly=True)):
        program = plan_season(farm, options=options)
        answered = with_answers(farm, program, Question(effort=0.0))
        said.append([one.sentence for one in answered.assumptions if "every week" in one.sentence])
    assert [one.split(" is worked out")[0] for one in said[0]] == [
        "What a wish costs at its price",
        "What other hay, other prices and a test would change",
    ]
    assert said[1] == []
