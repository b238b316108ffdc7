"""Every program that any test plans is looked at again: this holds the second look itself."""

from __future__ import annotations

import sys
from dataclasses import replace
from typing import Any

import pytest

from rickyard.program.planning import season
from rickyard.program.planning.season import plan_season
from rickyard.program.result.options import PlanOptions
from rickyard.program.result.result import SeasonProgram
from rickyard.program.winters import winters
from support import rechecked
from support.farms import random_farm
from support.weekly import WEEKLY
from support.winter_farms import winter_farm


def spoiled(monkeypatch: pytest.MonkeyPatch, module: Any) -> None:
    """Let a module put a program into words that feeds a little less than it says."""
    honest = module.explain

    def explain(*args: Any) -> SeasonProgram:
        program: SeasonProgram = honest(*args)
        first, *others = program.feeding
        eaten = 0.99 * first.eaten_kg_dm_per_head_day
        return replace(program, feeding=(replace(first, eaten_kg_dm_per_head_day=eaten), *others))

    monkeypatch.setattr(module, "explain", explain)


def test_planning_in_a_test_counts_as_looked_at() -> None:
    before = rechecked.looked_at
    plan_season(random_farm(4, lots=2, groups=1, weeks=2), options=WEEKLY)
    assert rechecked.looked_at == before + 1


def test_a_program_that_does_not_hold_fails_the_test_that_planned_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    farm = random_farm(4, lots=2, groups=1, weeks=2)
    spoiled(monkeypatch, season)
    with pytest.raises(rechecked.NotSound, match="supplied"):
        plan_season(farm, options=WEEKLY)
    with rechecked.not_looked_at():
        plan_season(farm, options=WEEKLY)
    with pytest.raises(rechecked.NotSound):
        plan_season(farm, options=WEEKLY)


def test_a_season_is_planned_once_for_several_tests_and_again_for_one_that_asks_twice() -> None:
    farm = random_farm(97, lots=2, groups=1, weeks=2)
    with rechecked.running("one"):
        first, again = plan_season(farm, options=WEEKLY), plan_season(farm, options=WEEKLY)
        assert first is not again
        assert first.feeding == again.feeding
        loud = plan_season(farm, lambda _: None, options=WEEKLY)
        ended = plan_season(farm, options=PlanOptions(seconds=1e6, weekly=True))
        other = plan_season(farm, options=PlanOptions(seed=2, weekly=True))
    with rechecked.running("another"):
        assert plan_season(farm, options=WEEKLY) is again
        assert plan_season(farm, options=WEEKLY) is not again
        assert plan_season(farm, lambda _: None, options=WEEKLY) is not loud
        assert plan_season(farm, options=PlanOptions(seconds=1e6, weekly=True)) is not ended
        assert plan_season(farm, options=PlanOptions(seed=2, weekly=True)) is other
        dearer = replace(farm, season=replace(farm.season, change_usd=1.0))
        new = plan_season(dearer, options=WEEKLY)
        assert new is not first
        assert new is not again
    with rechecked.running("a third"), rechecked.not_looked_at():
        assert plan_season(farm, options=WEEKLY) is not other
    with rechecked.running(None):
        assert rechecked.current() is None
        assert plan_season(farm, options=PlanOptions(seed=2, weekly=True)) is not other


def test_a_test_that_changes_the_package_is_given_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    assert rechecked.current() is None


def test_every_winter_is_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    before = rechecked.looked_at
    farm = winter_farm(2, lots=2, groups=1)
    found = winters.plan_winters(farm)
    assert rechecked.looked_at == before + len(found.winters)
    spoiled(monkeypatch, winters)
    with pytest.raises(rechecked.NotSound):
        winters.plan_winters(farm)


def test_the_rest_of_a_season_is_looked_at_as_such() -> None:
    before = rechecked.looked_at
    farm = random_farm(4, lots=2, groups=1, weeks=4)
    middle = farm.season.start + (farm.season.end - farm.season.start) / 2
    program = plan_season(farm, options=PlanOptions(from_on=middle, weekly=True))
    assert program.start == middle
    assert rechecked.looked_at == before + 1


def test_no_module_has_the_planning_without_the_second_look() -> None:
    """A module that was imported too soon would plan unseen."""
    plain = {
        "plan_season": rechecked.PLAIN_SEASON,
        "plan_winters": rechecked.PLAIN_WINTERS,
    }
    unseen = [
        f"{name}.{planning}"
        for name, module in list(sys.modules.items())
        for planning, function in plain.items()
        if getattr(module, planning, None) is function
    ]
    assert unseen == []
    what_if = sys.modules["rickyard.program.planning.what_if"]
    assert what_if.plan_season is season.plan_season is plan_season
