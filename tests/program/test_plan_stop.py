"""A search ends when a person asks it to, with the best program so far."""

from __future__ import annotations

from dataclasses import replace

from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.program.result.options import PlanOptions
from support.farms import random_farm

#: So often the search asks whether to stop before it is told to, and so often at most after.
LET, AFTER = 20, 10


def test_a_search_ends_soon_after_it_is_asked_to() -> None:
    farm = random_farm(3, lots=6, groups=3, weeks=10)
    season = replace(farm.season, hays_at_once=2, least_run_days=14, change_usd=15.0)
    farm = replace(farm, season=season)
    asked = []

    def stop() -> bool:
        asked.append(True)
        return len(asked) > LET

    program = plan_season(farm, options=PlanOptions(effort=1000.0, stop=stop, weekly=True))
    assert LET < len(asked) <= LET + AFTER
    assert program.gap > 1e-4  # it would have gone on
    assert recheck(program, farm) == ()
