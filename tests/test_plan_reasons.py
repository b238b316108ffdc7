"""Why a lot is fed, what holds each ration, what a unit is worth: every number perturbed."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest

from farms import random_farm
from rickyard.farm import Farm
from rickyard.program.problem import problem_of
from rickyard.program.result import SeasonProgram
from rickyard.program.season import plan_season, solve_season
from test_plan_balance import demo_farm


@pytest.fixture(scope="module")
def demo() -> tuple[Farm, SeasonProgram]:
    farm = demo_farm(0.0)
    return farm, plan_season(farm)


@pytest.mark.parametrize("seed", [2, 4])
def test_cost_and_charges_add_up_to_the_reduced_cost(seed: int) -> None:
    solved = solve_season(problem_of(random_farm(seed)), lambda _: None)
    amounts = len(solved.model.columns.group)
    total = solved.model.cost[:amounts] + sum(solved.prices.charged.values())
    reduced = solved.optimum.reduced_cost[:amounts]
    assert np.abs(reduced).max() > 1.0
    assert total == pytest.approx(reduced, abs=1e-6)
    assert {"stock", "buying", "appetite", "gain_energy", "cp"} <= set(solved.prices.charged)


@pytest.mark.parametrize("seed", [None, 1, 4, 5])
def test_every_week_of_every_group_has_an_answer(seed: int | None) -> None:
    farm = demo_farm(1.0) if seed is None else random_farm(seed)
    program = plan_season(farm)
    told: dict[str, list[tuple[object, object]]] = {}
    for one in program.held_by:
        told.setdefault(one.group_id, []).append((one.start, one.end))
        assert farm.group(one.group_id).name in one.sentence
    for cell in program.groups:
        end = cell.start + timedelta(days=cell.days)
        here = [one for one in told[cell.group_id] if one[0] <= cell.start and end <= one[1]]  # type: ignore[operator]
        assert len(here) == 1


def test_what_is_short_is_what_holds_the_ration() -> None:
    program = plan_season(random_farm(1))
    assert program.shortages
    for short in program.shortages:
        found = [
            one
            for one in program.held_by
            if one.group_id == short.group_id and one.start < short.end and short.start < one.end
        ]
        assert found
        assert all(short.nutrient in one.nutrients for one in found)
        assert all("short of" in one.sentence for one in found)


def test_every_run_of_hay_has_its_reason(demo: tuple[Farm, SeasonProgram]) -> None:
    farm, program = demo
    lots = {lot.lot_id for lot in farm.lots}
    fed = {
        (row.group_id, row.source_id, row.start) for row in program.feeding if row.source_id in lots
    }
    reasons = [one for one in program.reasons if one.source_id in lots]
    told = {
        (one.group_id, one.source_id, period.start)
        for one in reasons
        for period in program.periods
        if one.start <= period.start < one.end
    }
    assert told == fed
    for one in reasons:
        if one.decides != "steady":
            assert one.usd_per_t_dm is None or one.usd_per_t_dm >= -0.05
        assert one.next_best_id != one.source_id
