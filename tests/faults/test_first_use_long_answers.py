"""What took a ranch long: answers go on from the season that stands instead of solving anew."""

from __future__ import annotations

import numpy as np
import pytest

from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.ask.worth_by_planning import STEPS, _costs, _other_hay
from rickyard.program.planning.season import plan_season
from rickyard.program.problem import problem_of
from rickyard.program.result import PlanOptions
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
