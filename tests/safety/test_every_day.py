"""Every day of every list, over farms of all classes, storages, hazards and feeders."""

from __future__ import annotations

import json

import pytest

from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions
from rickyard.sheets.data_files.plan_json import plan_json
from support.daily_audit import DailyAudit
from support.hazard_farms import hazard_farm
from support.rows import few
from support.shipped import shipped_farm


def broken(seed: int, *, rations: bool = False) -> list[str]:
    farm = hazard_farm(seed, weeks=8)
    program = plan_season(farm, options=PlanOptions(effort=0.05, weekly=not rations))
    return DailyAudit(json.loads(plan_json(program)), farm).breaches()


@pytest.mark.parametrize("seed", few(range(8), [1, 2, 4, 6]))
def test_every_day_of_the_list_is_safe(seed: int) -> None:
    assert broken(seed) == []


@pytest.mark.parametrize("seed", few([2, 101, 0, 35, 63, 74, 357, 46, 82, 365], 2))
def test_every_day_of_rations_is_safe(seed: int) -> None:
    assert broken(seed, rations=True) == []


@pytest.mark.long
@pytest.mark.parametrize("seed", range(400))
def test_every_day_of_the_rations_of_many_farms_is_safe(seed: int) -> None:
    assert broken(seed, rations=True) == []


@pytest.mark.long
@pytest.mark.parametrize("seed", range(8, 60))
def test_every_day_of_the_list_of_many_farms_is_safe(seed: int) -> None:
    assert broken(seed) == []


def test_every_day_of_the_demonstration_is_safe() -> None:
    farm = shipped_farm(14)
    program = plan_season(farm, options=PlanOptions(effort=0.05, weekly=True))
    assert DailyAudit(json.loads(plan_json(program)), farm).breaches() == []
