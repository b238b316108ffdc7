"""What a few small farms are answered today is what they were answered when it was looked over.

Beside ``test_as_recorded``, which solves nothing: here each farm is planned, with a little effort,
and asked further. See ``support.recorded`` for how a record is written anew.
"""

from __future__ import annotations

from dataclasses import fields
from datetime import timedelta
from functools import cache
from typing import Any

import pytest

from rickyard.farm import Farm, Winter
from rickyard.program.ask import Question, price_of_assurance, with_answers
from rickyard.program.audit import recheck
from rickyard.program.compare import compare, facts_of
from rickyard.program.planning import (
    Bought,
    Cash,
    Change,
    HeadCount,
    Intake,
    LotLoss,
    Price,
    SalePrice,
    SeasonEnd,
    WinterIs,
    answer,
    changed,
    plan_season,
)
from rickyard.program.result import PlanOptions, SeasonProgram, judge
from rickyard.program.storms import cold_page
from rickyard.program.winters import plan_winters
from support.recorded import answer_of, differences
from support.solved_farms import SOLVED

#: A little: a farm is planned in half a second.
EFFORT = 0.3
OPTIONS = PlanOptions(effort=EFFORT, threads=1)


@cache
def _planned(name: str) -> SeasonProgram:
    return plan_season(SOLVED[name], options=OPTIONS)


def _is_as_recorded(name: str, parts: dict[str, object], request: pytest.FixtureRequest) -> None:
    answers = {case: answer_of(lambda one=part: one, ()) for case, part in parts.items()}  # type: ignore[misc]
    changed = differences("solved", name, answers, request.config.getoption("--record"))
    assert changed[:20] == []


def _parts(whole: Any, *but: str) -> dict[str, object]:
    return {one.name: getattr(whole, one.name) for one in fields(whole) if one.name not in but}


@pytest.mark.parametrize("name", SOLVED)
def test_programs_are_those_recorded(name: str, request: pytest.FixtureRequest) -> None:
    farm, program = SOLVED[name], _planned(name)
    parts = {
        **_parts(program, "seconds", "made"),
        "judgement": judge(program),
        "facts": facts_of("plan", program),
        "breaches": recheck(program, farm),
    }
    _is_as_recorded(f"{name} program", parts, request)


@pytest.mark.parametrize("name", SOLVED)
def test_further_answers_are_those_recorded(name: str, request: pytest.FixtureRequest) -> None:
    program = with_answers(SOLVED[name], _planned(name), Question(effort=0.2))
    asked = ("reasons", "remedies", "feed_worth", "lot_worth", "test_worth")
    parts = {one: getattr(program, one) for one in asked}
    _is_as_recorded(f"{name} asked", parts, request)


@pytest.mark.parametrize("name", ["mixed", "assured", "coats", "wished", "beef", "stable", "odd"])
def test_prices_of_assurance_are_those_recorded(name: str, request: pytest.FixtureRequest) -> None:
    curve = price_of_assurance(SOLVED[name], (60.0, 90.0))
    _is_as_recorded(f"{name} assurance", _parts(curve), request)


@pytest.mark.parametrize("name", ["turns", "assured", "cold", "stable", "flock", "wished"])
def test_rations_are_those_recorded(name: str, request: pytest.FixtureRequest) -> None:
    farm = SOLVED[name]
    options = PlanOptions(effort=0.2, threads=1, rations=True)
    program = plan_season(farm, options=options)
    parts = {**_parts(program, "seconds", "made"), "breaches": recheck(program, farm)}
    _is_as_recorded(f"{name} rations", parts, request)


@pytest.mark.parametrize("name", ["cold", "coats"])
def test_winters_are_those_recorded(name: str, request: pytest.FixtureRequest) -> None:
    farm = SOLVED[name]
    programs = plan_winters(farm)
    parts = {
        **_parts(programs, "farm", "winters"),
        **{
            f"{one.winter.value} {part}": answer
            for one in programs.winters
            for part, answer in {
                **_parts(one, "farm", "program"),
                **_parts(one.program, "seconds", "made"),
            }.items()
        },
        "cold": cold_page(farm, farm.season.start),
    }
    _is_as_recorded(f"{name} winters", parts, request)


def _changes(farm: Farm) -> dict[str, list[Change]]:
    lot, other = farm.lots[0].lot_id, farm.lots[-1].lot_id
    return {
        "herd": [HeadCount(farm.groups[0].group_id, 9), Intake(0.04)],
        "hay": [LotLoss(lot, 0.3), Bought(other, 3000.0), SalePrice(other, 0.14)],
        "money": [Price(farm.feeds[0].feed_id, 0.31), Cash(1800.0)],
        "time": [SeasonEnd(farm.season.end - timedelta(days=7)), WinterIs(Winter.SEVERE)],
    }


@pytest.mark.parametrize("case", ["herd", "hay", "money", "time"])
@pytest.mark.parametrize("name", ["cold", "beef"])
def test_what_if_is_as_recorded(name: str, case: str, request: pytest.FixtureRequest) -> None:
    farm, base = SOLVED[name], _planned(name)
    asked = _changes(farm)[case]
    program = plan_season(changed(farm, asked), options=PlanOptions(effort=0.1, threads=1))
    parts = {
        **_parts(answer(farm, base, asked, program), "program"),
        "compared": compare([("as it is", base), (case, program)]),
    }
    _is_as_recorded(f"{name} if {case}", parts, request)
