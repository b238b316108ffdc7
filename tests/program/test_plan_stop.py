"""A search ends when a person asks it to, with the best program so far."""

from __future__ import annotations

import time
from dataclasses import replace

from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.program.result.options import PlanOptions
from support.farms import random_farm

#: The search is let go on for so long, and would go on for so much longer. [s]
LET, WOULD = 1.0, 40.0


def test_a_search_ends_soon_after_it_is_asked_to() -> None:
    farm = random_farm(3, lots=6, groups=3, weeks=10)
    season = replace(farm.season, hays_at_once=2, least_run_days=14, change_usd=15.0)
    farm = replace(farm, season=season)
    started = time.monotonic()
    options = PlanOptions(effort=WOULD, stop=lambda: time.monotonic() - started > LET)
    program = plan_season(farm, options=options)
    assert time.monotonic() - started < WOULD / 2.0
    assert program.gap > 1e-4  # it would have gone on
    assert recheck(program, farm) == ()
