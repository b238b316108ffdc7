"""Two grains that rise together rise by no more a day than one of them may."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Feed, FeedKind, Group
from rickyard.program.audit import recheck
from rickyard.program.days.day_amounts import group_days
from rickyard.program.planning import plan_season
from rickyard.program.problem.problem import problem_of
from rickyard.program.result import FeedingRow, PlanOptions, SeasonProgram
from rickyard.quantities import KG_PER_LB as LB
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
    steps = [one for one in problem.steps if one.rule_id == "grain-step-horses"]
    assert [len(one.sources) for one in steps] == [1, 1, 2]
    assert [one.days for one in steps] == [10, 10, 0]


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


def test_half_a_pound_is_free_once_for_all_grains_together() -> None:
    """Two grains of 0.4 lb each were both put out in full on the first day of a week."""
    both = [0.4 * LB, 0.4 * LB]
    (days,) = group_days(laid(both), FARM)
    first = sum(days.asked[one][7] for one in ("corn", "oats")) / 10.0
    assert first <= 0.5 * LB + 1e-9
    (days,) = group_days(laid([0.3 * LB, 0.1 * LB]), FARM)
    assert sum(days.asked[one][7] for one in ("corn", "oats")) / 10.0 == pytest.approx(0.4 * LB)


def test_the_row_of_all_grains_lets_half_a_pound_in_once() -> None:
    """On the mean of its first week each grain alone may be half a pound, and so may both."""
    problem = problem_of(FARM)
    *alone, both = (one for one in problem.steps if one.rule_id == "grain-step-horses")
    assert both.free == pytest.approx(np.min([one.free for one in alone], axis=0))
    assert both.keep == pytest.approx(alone[0].keep)
    assert sorted(both.sources) == sorted(one.source for one in alone)


def test_the_second_look_knows_the_half_pound_of_all_grains() -> None:
    rich = replace(FARM, lots=(replace(LOT, bales=5000.0),))
    program = plan_season(rich, options=PlanOptions(effort=0.05, weekly=True))
    assert recheck(program, rich) == ()


def laid(kilograms: list[float]) -> SeasonProgram:
    """Return a program that adds so much of two grains to the hay from the second week on."""
    program = laid_program(FARM, 1)
    weeks = {"A": [9.0] * 6}
    weeks |= {one: [0.0, *[kg] * 5] for one, kg in zip(("corn", "oats"), kilograms, strict=True)}
    rows = tuple(
        FeedingRow("h", one.index, one.start, 7, feed, "feed", kg * 0.88, kg * 70.0, None)
        for feed, line in weeks.items()
        for one, kg in zip(program.periods, line, strict=True)
        if kg > 0.0
    )
    return replace(program, feeding=rows)
