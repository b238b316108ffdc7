"""What took a ranch long: answers go on from the season that stands instead of solving anew."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rickyard.forage.plausibility import lot_profile
from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.ask.worth_by_planning import STEPS, _costs, _other_hay
from rickyard.program.model import Tangents, build_model
from rickyard.program.planning.season import plan_season
from rickyard.program.problem import problem_of
from rickyard.program.result import PlanOptions
from rickyard.safety import bindings
from support.farms import random_farm

#: Two ways to the same optimum stop within the curves' tolerance, which prices of shortages weigh.
SAME_SHARE = 1e-5


@pytest.mark.parametrize(("name", "seed"), [("cp", 6), ("cp", 10), ("tdn", 5)])
def test_first_use_slow_why_hay_of_other_value_goes_on_from_the_season_that_stands(
    name: str, seed: int
) -> None:
    farm = random_farm(seed, lots=4, groups=3, weeks=8)
    program = plan_season(farm, options=PlanOptions(effort=0.0))
    inquiry = Inquiry.of(farm, problem_of(farm), program)
    source = max(
        (at for at in range(len(farm.lots)) if len(inquiry.columns_of(at))),
        key=lambda at: program.lots[at].eaten_t,
    )
    mean = float(getattr(inquiry.problem.sources.values[source], f"{name}_pct"))
    percent = mean * (1.0 + 0.05 * np.array(STEPS))

    before = inquiry.meter.work
    goes_on = _costs(inquiry, source, name, percent)
    work = inquiry.meter.work - before

    before = inquiry.meter.work
    anew = [
        inquiry.like(_other_hay(inquiry.problem, source, name, float(one))).base.whole_usd
        for one in percent
    ]
    assert goes_on == pytest.approx(anew, rel=SAME_SHARE, abs=1.0)
    assert work < 0.75 * (inquiry.meter.work - before)
    assert np.ptp(goes_on) > 0.5
    assert inquiry.ask().whole_usd == pytest.approx(inquiry.base.whole_usd, rel=1e-9)


def test_first_use_slow_why_what_binds_and_what_a_lot_holds_are_worked_out_once() -> None:
    farm = random_farm(3, lots=4, groups=3, weeks=8)
    assert bindings(farm) is bindings(random_farm(3, lots=4, groups=3, weeks=8))
    lot = farm.lots[0]
    once = lot_profile(lot, farm.reports_of(lot.lot_id))
    assert lot_profile(lot, farm.reports) is once
    assert lot_profile(replace(lot, dm_pct=71.0), farm.reports) is not once


def test_first_use_slow_why_another_protein_moves_no_tangent(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    farm = random_farm(6, lots=4, groups=3, weeks=8)
    problem = problem_of(farm)
    inquiry = Inquiry.of(farm, problem, plan_season(farm, options=PlanOptions(effort=0.0)))
    laid: list[str] = []
    whole = Tangents._curved

    def counted(self, name, cells, touch):  # type: ignore[no-untyped-def]
        laid.append(name)
        return whole(self, name, cells, touch)

    monkeypatch.setattr(Tangents, "_curved", counted)
    for name, moves in (("cp", False), ("tdn", True)):
        other = build_model(_other_hay(problem, 0, name, 9.5 if name == "cp" else 58.5))
        laid.clear()
        inquiry.tangents.over(other)
        assert bool(laid) is moves
