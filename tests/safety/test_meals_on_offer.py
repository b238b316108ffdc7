"""A mineral that is always on offer is none where it holds what only a meal does."""

from __future__ import annotations

import pytest

from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group
from rickyard.folder.rules.rules_feeds import MOST_IN_MINERAL
from rickyard.program.inputs.source_limits import MOST_ON_OFFER
from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions
from rickyard.quantities import OutOfRange
from support.season_farms import farm_of, hay, report_on


def farm_with(kind: AnimalClass, kg: float, no3n_ppm: float = 100.0, **tag: object) -> Farm:
    """A group with one hay, and a mineral of which each takes 100 g a day."""
    lot = hay("lot", 56.0, 10.0, 40.0, 60.0)
    known = {"dm_pct": 95.0, "ca_pct": 10.0, "p_pct": 5.0, "copper_ppm": 5.0, "ionophore": False}
    known |= {"least_kg_per_head_day": 0.1}
    lick = Feed("lick", "Lick", FeedKind.MINERAL, 0.5, **(known | tag))  # type: ignore[arg-type]
    group = Group("g", "Group", kind, 10, kg, age_months=40.0)
    return farm_of([(lot, report_on(lot, 56.0, 10.0, no3n_ppm))], [group], [lick])


@pytest.mark.parametrize(
    ("tag", "said"),
    [
        ({"fat_pct": 12.0}, "12% fat"),
        ({"starch_pct": 75.0}, "75% starch"),
        ({"npn_cp_pct": 30.0, "cp_pct": 30.0}, "30% protein from urea"),
        ({"table_id": "whole_cottonseed"}, "fat"),
        ({"table_id": "corn_grain_dry_rolled"}, "starch"),
    ],
)
def test_a_meal_is_not_offered_as_a_mineral(tag: dict[str, object], said: str) -> None:
    with pytest.raises(OutOfRange, match=said) as caught:
        plan_season(
            farm_with(AnimalClass.COW, 550.0, **tag), options=PlanOptions(effort=0.0, weekly=True)
        )
    assert "supplement" in str(caught.value)
    assert "begun slowly" in str(caught.value)


@pytest.mark.parametrize(
    ("kind", "kg"),
    [(AnimalClass.COW, 550.0), (AnimalClass.EWE, 70.0), (AnimalClass.DONKEY, 180.0)],
)
@pytest.mark.parametrize("no3n_ppm", [100.0, 9000.0])
def test_a_mineral_is_offered_also_where_all_hay_is_kept_back(
    kind: AnimalClass, kg: float, no3n_ppm: float
) -> None:
    """Nothing but the mineral is left to cattle and sheep: its fat was more than they may have."""
    farm = farm_with(kind, kg, no3n_ppm, fat_pct=4.0, starch_pct=10.0)
    program = plan_season(farm, options=PlanOptions(seconds=0.0, effort=0.0, weekly=True))
    assert all(row.eaten_kg_dm_per_head_day > 0.0 for row in program.feeding)
    assert any(row.source_id == "lick" for row in program.feeding)


def test_a_folder_refuses_what_a_program_would() -> None:
    assert MOST_IN_MINERAL == MOST_ON_OFFER
