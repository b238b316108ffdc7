"""The protein that rumen microbes can use: held against the energy wherever all of it is known."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from rickyard.display import Display
from rickyard.farm import Analyte, Basis
from rickyard.program.feedout.rumen_protein import rumen_protein_cautions
from rickyard.program.problem import Problem
from rickyard.program.problem.problem import problem_of
from support.farms import random_farm

US = Display("us")


@pytest.fixture(scope="module")
def problem() -> Problem:
    farm = random_farm(11, lots=2, groups=2, weeks=3)
    reports = tuple(
        replace(one, analytes=(*one.analytes, Analyte("rdp", 60.0, "pct", Basis.NONE)))
        for one in farm.reports
    )
    return problem_of(replace(farm, reports=reports))


def with_first(problem: Problem, **more: object) -> Problem:
    first, *others = problem.sources.values
    values = (replace(first, **more), *others)
    return replace(problem, sources=replace(problem.sources, values=values))


def eaten(problem: Problem, kg: float) -> np.ndarray:
    amounts = np.zeros(problem.shape)
    amounts[0, 0, :] = kg
    return amounts


def test_a_report_tells_how_much_of_the_protein_is_degradable(problem: Problem) -> None:
    assert problem.sources.values[0].rdp_pct_of_cp == pytest.approx(60.0)


def test_poor_hay_alone_starves_the_microbes(problem: Problem) -> None:
    """10 kg of 47.9 % TDN and 6.8 % protein, 60 % of it degradable: 408 g for 459 g of microbes."""
    poor = with_first(problem, tdn_pct=47.9, cp_pct=6.8, rdp_pct_of_cp=60.0)
    (said,) = rumen_protein_cautions(poor, eaten(poor, 10.0), US)
    assert said.level == "warning"
    assert "up to 0.11 lb a head and day" in said.sentence
    assert "extension office" in said.sentence


@pytest.mark.parametrize("share", [None, 75.0])
def test_enough_or_unknown_says_nothing(problem: Problem, share: float | None) -> None:
    hay = with_first(problem, tdn_pct=47.9, cp_pct=6.8, rdp_pct_of_cp=share)
    assert list(rumen_protein_cautions(hay, eaten(hay, 10.0), US)) == []


def test_less_than_a_twentieth_is_nothing(problem: Problem) -> None:
    hay = with_first(problem, tdn_pct=47.9, cp_pct=6.8, rdp_pct_of_cp=65.0)
    assert list(rumen_protein_cautions(hay, eaten(hay, 10.0), US)) == []


def test_what_brings_no_protein_need_not_be_known(problem: Problem) -> None:
    poor = with_first(problem, tdn_pct=47.9, cp_pct=6.8, rdp_pct_of_cp=60.0)
    salt = replace(poor.sources.values[1], cp_pct=0.0, rdp_pct_of_cp=None)
    values = (poor.sources.values[0], salt, *poor.sources.values[2:])
    beside = replace(poor, sources=replace(poor.sources, values=values))
    amounts = eaten(beside, 10.0)
    amounts[0, 1, :] = 0.1
    assert len(list(rumen_protein_cautions(beside, amounts, US))) == 1


def test_all_that_brings_protein_counts_by_its_amount_and_says_when(problem: Problem) -> None:
    """A kilogram of meal with 40 % protein, 70 % of it degradable, is 280 g beside 408 g."""
    poor = with_first(problem, tdn_pct=47.9, cp_pct=6.8, rdp_pct_of_cp=60.0)
    meal = replace(poor.sources.values[1], cp_pct=40.0, tdn_pct=0.0, rdp_pct_of_cp=70.0)
    values = (poor.sources.values[0], meal, *poor.sources.values[2:])
    beside = replace(poor, sources=replace(poor.sources, values=values))
    amounts = eaten(beside, 10.0)
    amounts[0, 1, 0] = 1.0
    amounts[0, 0, 2] = 12.0
    amounts[0, 1, 2] = 0.05
    (said,) = rumen_protein_cautions(beside, amounts, US)
    second, third = problem.needs.periods[1:]
    assert "up to 0.11 lb" in said.sentence
    last = third.start + timedelta(days=third.days)
    assert US.during_text(second.start, last) in said.sentence
