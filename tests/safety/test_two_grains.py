"""Two grains that rise together rise by no more a day than one of them may."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Feed, FeedKind, Group
from rickyard.program.feedout.day_amounts import group_days
from rickyard.program.problem.problem import problem_of
from rickyard.program.result import FeedingRow
from rickyard.safety import amount_of
from support.laid_programs import laid_program
from support.season_farms import farm_of, hay, report_on

GRAINS = (
    Feed("corn", "Corn", FeedKind.GRAIN, 0.2, table_id="corn_grain_cracked_nrc2001", dm_pct=88.0),
    Feed("oats", "Oats", FeedKind.GRAIN, 0.2, dm_pct=90.0, tdn_pct=77.0, cp_pct=12.0),
)
LOT = hay("A", 56.0, 10.0, 60.0, 90.0)
HORSES = Group("h", "Horses", AnimalClass.HORSE, 10, weight_kg=500.0)
FARM = farm_of([(LOT, report_on(LOT, 56.0, 10.0))], [HORSES], list(GRAINS), weeks=6)
RULE = "grain-rise-horses"


def test_one_row_holds_the_rise_of_all_grains() -> None:
    problem = problem_of(FARM)
    rises = [one for one in problem.steps if one.rule_id == RULE]
    names = [[problem.sources.values[i].source_id for i in one.sources] for one in rises]
    assert names == [["corn", "oats"]]
    days = problem.needs.days[0]
    assert rises[0].free == pytest.approx(amount_of(RULE) * 0.88 * (days + 1.0) / 2.0)
    steps = [one.source for one in problem.steps if one.rule_id == "grain-step-horses"]
    assert len(steps) == len(set(steps)) == 2


@pytest.mark.parametrize("oats", [2.0, 4.0])
def test_no_day_has_more_of_both_than_the_day_before_and_one_step(oats: float) -> None:
    program = laid_program(FARM, 1)
    amounts = {"A": (9.0,) * 6, "corn": (0.0, 1.0, 3.0, 4.0, 4.0, 4.0),
               "oats": tuple(oats / 4.0 * kg for kg in (0.0, 1.0, 3.0, 4.0, 4.0, 4.0))}  # fmt: skip
    rows = tuple(
        FeedingRow("h", one.index, one.start, 7, feed, "feed", kg * 0.88, kg * 70.0, None)
        for feed, weeks in amounts.items()
        for one, kg in zip(program.periods, weeks, strict=True)
        if kg > 0.0
    )
    (days,) = group_days(replace(program, feeding=rows), FARM)
    both = (days.asked["corn"] + days.asked["oats"]) / 10.0
    assert np.diff(both).max() <= amount_of(RULE) + 1e-9
    assert both.max() > 2.0
