"""A most that is written for a feed lowers what small stock get of it, and never raises it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group, StatedNeed
from rickyard.program.audit import recheck
from rickyard.program.planning import plan_season
from rickyard.program.result import SeasonProgram
from support.season_farms import farm_of, hay, report_on
from support.weekly import WEEKLY


def pellets_of(kind: AnimalClass, most_kg: float | None) -> tuple[Farm, SeasonProgram]:
    """Plan a group that would eat all of the pellets it may have."""
    group = Group("G", "Group", kind, 10, 80.0, feeding_loss_pct=0.0)
    lot = hay("lot", 55.0, 9.0, 40.0, 100.0)
    pellets = Feed(
        "pellets",
        "Pellets",
        FeedKind.GRAIN,
        0.001,
        dm_pct=100.0,
        tdn_pct=85.0,
        cp_pct=10.0,
        starch_pct=0.0,
        fat_pct=0.0,
        most_kg_per_head_day=most_kg,
    )
    farm = farm_of([(lot, report_on(lot, 55.0, 9.0))], [group], [pellets])
    need = StatedNeed("G", farm.season.start, farm.season.end, least_dm_kg=3.0, most_dm_kg=3.0)
    farm = replace(farm, needs=(need,))
    return farm, plan_season(farm, options=WEEKLY)


@pytest.mark.parametrize("kind", [AnimalClass.EWE, AnimalClass.DOE, AnimalClass.LLAMA])
@pytest.mark.parametrize(("most_kg", "given"), [(None, 0.4), (1.4, 0.4), (0.2, 0.2)])
def test_first_use_12_a_cap_never_raises_the_pellets_of_small_stock(
    kind: AnimalClass, most_kg: float | None, given: float
) -> None:
    farm, program = pellets_of(kind, most_kg)
    fed = [row.eaten_kg_dm_per_head_day for row in program.feeding if row.source_id == "pellets"]
    assert max(fed) == pytest.approx(given)
    assert [str(one) for one in recheck(program, farm)] == []


@pytest.mark.parametrize(("most_kg", "given"), [(None, 0.4), (1.4, 1.4), (0.2, 0.2)])
def test_first_use_12_only_cattle_are_fed_more_and_are_warned_of(
    most_kg: float | None, given: float
) -> None:
    """Who states more for cattle has fed it; it is warned of, and stepped up slowly."""
    farm, program = pellets_of(AnimalClass.COW, most_kg)
    fed = [row.eaten_kg_dm_per_head_day for row in program.feeding if row.source_id == "pellets"]
    assert max(fed) == pytest.approx(given)
    assert [str(one) for one in recheck(program, farm)] == []
    warned = [one for one in program.cautions if "acidosis, bloat and founder" in one.sentence]
    assert bool(warned) is (given > 0.2)
