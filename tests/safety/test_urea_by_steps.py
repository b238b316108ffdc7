"""Urea is raised by a fourteenth a day, as its caution says: no rise of it goes without days."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Feed, FeedKind, Group
from rickyard.program.days.day_amounts import group_days
from rickyard.program.feedout.transitions import change_overs
from rickyard.program.result import FeedingRow
from support.laid_programs import laid_program
from support.season_farms import farm_of, hay, report_on

CUBES = Feed("cubes", "Cubes", FeedKind.SUPPLEMENT, 0.3, dm_pct=90.0, tdn_pct=70.0, cp_pct=38.0,
             npn_cp_pct=12.0, ionophore=False)  # fmt: skip
LOT = hay("A", 56.0, 10.0, 60.0, 90.0)
COWS = Group("c", "Cows", AnimalClass.COW, 10, weight_kg=550.0)
FARM = farm_of([(LOT, report_on(LOT, 56.0, 10.0))], [COWS], [CUBES], weeks=6)


@pytest.mark.parametrize("pounds", [0.2, 0.5, 3.0])
def test_a_little_urea_climbs_like_much(pounds: float) -> None:
    """Colorado State 1.608; Ohio State (Little 2019): over 14 days, each a fourteenth."""
    kilograms = pounds * 0.45359237
    program = laid_program(FARM, 1)
    rows = tuple(
        FeedingRow("c", one.index, one.start, 7, "cubes", "feed", kg * 0.9, kg * 70.0, None)
        for one in program.periods
        for kg in (kilograms if one.index > 1 else 0.5 * kilograms if one.index else 0.0,)
        if kg
    ) + tuple(
        FeedingRow("c", one.index, one.start, 7, "A", "lot", 10.0, 800.0, None)
        for one in program.periods
    )
    program = replace(program, feeding=rows)
    (days,) = everybody = list(group_days(program, FARM))
    given = days.asked["cubes"] / 10.0
    assert np.diff(given, prepend=0.0).max() <= kilograms / 14.0 + 1e-9
    assert given.max() > 0.5 * kilograms
    told = [
        one.sentence for one in change_overs(program, FARM, everybody) if one.to_source == "cubes"
    ]
    assert told
    assert all("Its urea can kill" in one for one in told)
