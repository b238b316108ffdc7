"""Pages print the days on which a group is there, not the whole weeks in which it is."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from rickyard.program.planning import plan_season
from rickyard.sheets.wording import short_story
from support.farms import START
from support.season_farms import CAKE, CORN, LIME, cows, farm_of, hay, report_on, steers
from support.weekly import WEEKLY


def test_a_group_that_leaves_in_the_middle_of_a_week_is_fed_to_its_last_day() -> None:
    """Stockers that leave on 20 March were printed "to 22 Mar"."""
    lot = hay("meadow", 58.0, 12.0, 60.0, 80.0)
    leaves, comes = START + timedelta(days=38), START + timedelta(days=10)
    groups = [replace(steers(), to_on=leaves), replace(cows(), from_on=comes)]
    farm = farm_of([(lot, report_on(lot, 58.0, 12.0))], groups, [CAKE, CORN, LIME], weeks=8)
    program = plan_season(farm, options=WEEKLY)
    stories = {one: short_story(program, one, 20) for one in ("steers", "cows")}
    assert stories["steers"][0].start == START
    assert stories["steers"][-1].end == leaves
    assert stories["cows"][0].start == comes
    assert stories["cows"][-1].end == farm.season.end


def test_a_shortage_ends_on_the_last_day_of_the_group() -> None:
    lot = hay("meadow", 58.0, 12.0, 2.0, 80.0)
    leaves = START + timedelta(days=38)
    farm = farm_of(
        [(lot, report_on(lot, 58.0, 12.0))], [replace(steers(), to_on=leaves)], [LIME], weeks=8
    )
    program = plan_season(farm, options=WEEKLY)
    assert program.shortages
    assert max(one.end for one in program.shortages) == leaves
    assert any("to Dec 9" in one.sentence for one in program.shortages)
