"""What a few small farms are answered today is what they were answered when it was looked over.

Beside ``test_as_recorded``, which solves nothing: here each farm is planned, with a little effort,
and asked further. See ``support.recorded`` for how a record is written anew.
"""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import timedelta
from functools import cache, partial
from importlib import import_module
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
    using,
)
from rickyard.program.result import PlanOptions, SeasonProgram, Wish, judge
from rickyard.program.storms import cold_page
from rickyard.program.winters import plan_winters
from support.laid_programs import tampered_programs
from support.recorded import answer_of, differences
from support.rows import few
from support.solved_farms import SOLVED, searched_farm

#: A little: a farm is planned in half a second.
EFFORT = 0.3
OPTIONS = PlanOptions(effort=EFFORT, threads=1, weekly=True)


@cache
def _planned(name: str) -> SeasonProgram:
    return plan_season(SOLVED[name], options=OPTIONS)


def _is_as_recorded(name: str, parts: dict[str, object], request: pytest.FixtureRequest) -> None:
    answers = {case: answer_of(partial(_same, part), ()) for case, part in parts.items()}
    _are_as_recorded(name, answers, request)


def _are_as_recorded(name: str, answers: dict[str, str], request: pytest.FixtureRequest) -> None:
    off = differences("solved", name, answers, request.config.getoption("--record"))
    assert off[:20] == []


def _same(answer: object) -> object:
    return answer


def _breaches(program: SeasonProgram, farm: Farm) -> object:
    return sorted(recheck(program, farm), key=str)


def _parts(whole: Any, *but: str) -> dict[str, object]:
    return {one.name: getattr(whole, one.name) for one in fields(whole) if one.name not in but}


#: In every run: stock of each kind, a promise, a shortage, wishes and cold. The rest are mixtures.
OFTEN = ("assured", "beef", "cold", "flock", "short", "stable", "wished")


@pytest.mark.parametrize("name", few(SOLVED, OFTEN))
def test_programs_are_those_recorded(name: str, request: pytest.FixtureRequest) -> None:
    farm, program = SOLVED[name], _planned(name)
    parts = {
        **_parts(program, "seconds", "made"),
        "judgement": judge(program),
        "facts": facts_of("plan", program),
        "breaches": _breaches(program, farm),
    }
    _is_as_recorded(f"{name} program", parts, request)


@pytest.mark.parametrize("name", few(SOLVED, OFTEN))
def test_further_answers_are_those_recorded(name: str, request: pytest.FixtureRequest) -> None:
    program = with_answers(SOLVED[name], _planned(name), Question(effort=0.2))
    asked = ("reasons", "remedies", "feed_worth", "lot_worth", "test_worth")
    parts = {one: getattr(program, one) for one in asked}
    _is_as_recorded(f"{name} asked", parts, request)


@pytest.mark.parametrize(
    "name", few(["assured", "beef", "stable", "odd", "mixed", "coats", "wished"], 4)
)
def test_prices_of_assurance_are_those_recorded(name: str, request: pytest.FixtureRequest) -> None:
    curve = price_of_assurance(SOLVED[name], (60.0, 90.0))
    _is_as_recorded(f"{name} assurance", _parts(curve), request)


@pytest.mark.parametrize(
    "name",
    few(["turns", "stable", "flock", "wished", "assured", "cold"], 4),
)
def test_rations_are_those_recorded(name: str, request: pytest.FixtureRequest) -> None:
    farm = SOLVED[name]
    options = PlanOptions(effort=0.2, threads=1)
    program = plan_season(farm, options=options)
    parts = {**_parts(program, "seconds", "made"), "breaches": _breaches(program, farm)}
    _is_as_recorded(f"{name} rations", parts, request)


@pytest.mark.parametrize("name", few(["cold", "coats"], 1))
def test_winters_are_those_recorded(name: str, request: pytest.FixtureRequest) -> None:
    farm = SOLVED[name]
    programs = plan_winters(farm, PlanOptions(weekly=True))
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
@pytest.mark.parametrize("name", few(["cold", "beef"], 1))
def test_what_if_is_as_recorded(name: str, case: str, request: pytest.FixtureRequest) -> None:
    farm, base = SOLVED[name], _planned(name)
    asked = _changes(farm)[case]
    program = plan_season(changed(farm, asked), options=replace(OPTIONS, effort=0.1))
    parts = {
        **_parts(answer(farm, base, asked, program), "program"),
        "compared": compare([("as it is", base), (case, program)]),
    }
    _is_as_recorded(f"{name} if {case}", parts, request)


@pytest.mark.parametrize(
    ("seed", "effort", "wide", "rations"),
    few(
        [
            (8, 0.05, False, False),
            (8, 0.6, False, False),
            (8, 0.05, True, False),
            (8, 0.05, False, True),
            (5, 0.1, False, True),
            (3, 0.2, False, False),
        ],
        4,
    ),
)
def test_searches_come_where_they_are_recorded(
    seed: int,
    effort: float,
    wide: bool,
    rations: bool,
    request: pytest.FixtureRequest,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    if wide:
        monkeypatch.setattr(import_module("rickyard.program.search.relax"), "WIDE", 30)
    said: list[str] = []
    options = PlanOptions(effort=effort, threads=1, weekly=not rations)
    program = plan_season(searched_farm(seed), said.append, options=options)
    name = f"{seed} at {effort}{' wide' * wide}{' rations' * rations}"
    _is_as_recorded(name, {**_parts(program, "seconds", "made"), "said": said}, request)


@pytest.mark.parametrize("name", few(["cold", "wished", "beef", "turns", "short"], 3))
def test_seasons_planned_again_are_those_recorded(
    name: str, request: pytest.FixtureRequest
) -> None:
    """From the tenth day on, beginning from the hays of the program before, with one more wish."""
    farm = SOLVED[name]
    options = replace(
        OPTIONS,
        effort=0.1,
        begin_from=using(_planned(name)),
        from_on=farm.season.start + timedelta(days=9),
        wishes=(Wish("feed", farm.lots[-1].lot_id, farm.groups[-1].group_id),),
        planned_without=1,
    )
    program = plan_season(farm, options=options)
    _is_as_recorded(f"{name} again", _parts(program, "seconds", "made"), request)


@pytest.mark.parametrize("name", few(["short", "turns", "assured"], 1))
def test_breaches_of_figures_a_little_off_are_those_recorded(
    name: str, request: pytest.FixtureRequest
) -> None:
    farm, answers = SOLVED[name], {}
    for case, other in tampered_programs(_planned(name)):
        answers[case] = answer_of(partial(_breaches, other, farm), (ValueError,))
    _are_as_recorded(f"{name} off", answers, request)
