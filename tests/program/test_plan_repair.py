"""A shortage that only the search has not yet done away with is repaired before it is shown."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from rickyard.folder import read_folder
from rickyard.program.model import uses_of
from rickyard.program.planning import plan_season
from rickyard.program.problem import problem_of, use_rules_of
from rickyard.program.result import PlanOptions
from rickyard.program.search.relax import relax
from rickyard.program.search.repair import NOTHING_SHORT_USD, gaps_of, keeps_rules, lack_usd
from rickyard.program.search.search import Search
from support.farms import random_farm
from support.weekly import WEEKLY

FOLDERS = Path(__file__).parents[1] / "folders"


def searched(seed: int) -> Search:
    """Return a season under rules, with its first program and no effort for a better one."""
    farm = random_farm(seed, lots=5, groups=3, weeks=10)
    season = replace(farm.season, hays_at_once=1, least_run_days=14, change_usd=10.0)
    farm = replace(farm, season=season)
    # Without the rule that forage may not fall fast, so that weeks can be without hay at all.
    problem = replace(problem_of(farm), descents=())
    relaxation = relax(problem, str)
    uses = uses_of(relaxation.model, use_rules_of(farm, problem))
    return Search(
        relaxation, uses, PlanOptions(effort=0.0, threads=1, weekly=True), str, problem.fixed_usd
    )


#: Farms that are not short whatever is done: where they are, little effort goes into repair.
@pytest.mark.parametrize(
    "seed", [2, 4, *(pytest.param(one, marks=pytest.mark.long) for one in (0, 6, 3, 7))]
)
def test_weeks_without_hay_are_filled_although_no_effort_is_left(seed: int) -> None:
    search = searched(seed)
    model = search._standing.model
    least = lack_usd(model, search._optimum.x)
    search._repair(searching=True)
    whole = float(lack_usd(model, search.best.x).sum())
    # The hay of the group that is fed most is taken away for two weeks.
    uses, used = search._uses, search.best.used.copy()
    fed = np.bincount(uses.group, search.best.x[uses.column] * used, minlength=3)
    used[(uses.group == np.argmax(fed)) & (uses.period >= 4) & (uses.period < 6)] = False
    search.best = search._settle(used)
    hole = float(lack_usd(model, search.best.x).sum())
    assert gaps_of(lack_usd(model, search.best.x), least), "the hole must be one"
    search._repaired = 0.0  # as if it were the first repair: its work is bounded
    search._repair(searching=True)
    short = float(lack_usd(model, search.best.x).sum())
    if float(least.sum()) > NOTHING_SHORT_USD:
        # A farm that is short whatever is done is repaired with little work, and not made worse.
        assert short <= hole
        return
    assert keeps_rules(uses, search.best.used)
    assert short <= 1.001 * whole + 1.0


def test_what_no_rule_causes_is_not_looked_into() -> None:
    lack = np.array([[0.0, 500.0, 500.0, 0.0]])
    assert gaps_of(lack, lack) == []
    moved = np.array([[500.0, 0.0, 500.0, 0.0]])
    assert gaps_of(moved, lack) == [], "as much is short without whole numbers, on other days"


@pytest.mark.long
def test_the_large_ranch_is_short_of_nothing_at_the_usual_effort() -> None:
    program = plan_season(read_folder(FOLDERS / "large_ranch").farm, options=WEEKLY)
    assert program.status == "complete"
    assert program.shortages == ()
    forage = {one.source_id for one in program.sources if one.is_forage}
    fed = {(row.group_id, row.period) for row in program.feeding if row.source_id in forage}
    assert {(one.group_id, one.period) for one in program.groups} <= fed
