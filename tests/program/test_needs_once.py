"""What a group needs is worked out once for a season, however many parts of it ask."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date

import numpy as np
import pytest

from rickyard.farm import Group
from rickyard.program.ask import with_answers
from rickyard.program.audit import recheck
from rickyard.program.inputs import needs_by_period, season_days
from rickyard.program.planning.season import plan_season
from rickyard.stock.common import Conditions, NeedSeries
from support.farms import random_farm
from support.weekly import WEEKLY


def test_a_season_works_out_what_each_group_needs_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: Counter[tuple[str, tuple[date, ...]]] = Counter()
    needs_in = needs_by_period.needs_in

    def counting(group: Group, days: Sequence[date], conditions: Conditions) -> NeedSeries:
        asked[group.group_id, tuple(days)] += 1
        return needs_in(group, days, conditions)

    monkeypatch.setattr(needs_by_period, "needs_in", counting)
    needs_by_period._kept_series.cache_clear()
    farm = random_farm(4, groups=2, weeks=4)
    program = plan_season(farm, options=WEEKLY)
    assert recheck(program, farm) == ()
    with_answers(farm, program)
    assert {name for name, _ in asked} == {group.group_id for group in farm.groups}
    assert set(asked.values()) == {1}


def test_nobody_writes_into_the_needs_that_others_are_given_too() -> None:
    farm = random_farm(4, groups=2, weeks=4)
    group = farm.groups[0]
    series = season_days(farm, group)
    assert season_days(farm, group) is series
    for array in (series.nem_mcal, *series.more.values()):
        with pytest.raises(ValueError, match="read-only"):
            array[:] = np.nan
