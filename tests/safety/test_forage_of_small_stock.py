"""Ewes, does and llamas get hay: meal and grain stand in for no more than half of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group
from rickyard.program.audit import recheck
from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions, SeasonProgram
from support.rechecked import not_looked_at
from support.season_farms import farm_of, hay, report_on

AT_ONCE = PlanOptions(seconds=0.0, effort=0.0, weekly=True)
MEAL = Feed(
    "meal", "Soybean meal", FeedKind.SUPPLEMENT, 0.05, dm_pct=90.0, tdn_pct=84.0, cp_pct=50.0,
    ca_pct=0.4, p_pct=0.3, npn_cp_pct=0.0, ionophore=False, starch_pct=2.0,
)  # fmt: skip


def farm_with(kind: AnimalClass, kg: float, tonnes: float) -> Farm:
    """A group beside cheap meal and dear hay."""
    group = Group("g", "Group", kind, 10, kg, feeding_loss_pct=0.0)
    lot = hay("lot", 56.0, 11.0, tonnes, 400.0)
    return farm_of([(lot, report_on(lot, 56.0, 11.0))], [group], [MEAL])


def shares(program: SeasonProgram) -> list[tuple[float, float]]:
    """Return forage as shares of the dry matter and of body weight, by period."""
    found = []
    for cell in program.groups:
        rows = [one for one in program.feeding if one.period == cell.period]
        kg = sum(one.eaten_kg_dm_per_head_day for one in rows if one.source_id == "lot")
        every = sum(one.eaten_kg_dm_per_head_day for one in rows)
        found.append((kg / every, kg / cell.full_weight_kg))
    return found


@pytest.mark.parametrize(
    ("kind", "kg"), [(AnimalClass.EWE, 70.0), (AnimalClass.DOE, 60.0), (AnimalClass.LLAMA, 130.0)]
)
def test_half_of_what_they_eat_is_forage_however_cheap_meal_is(
    kind: AnimalClass, kg: float
) -> None:
    program = plan_season(farm_with(kind, kg, 40.0), options=AT_ONCE)
    for of_dm, of_weight in shares(program):
        assert of_dm >= 0.5 - 1e-6
        assert of_weight >= 0.01 - 1e-6
    assert not [one for one in program.shortages if one.nutrient.startswith("forage")]
    held = [one.rule_id for one in program.rules if one.demand == "least"]
    assert "forage-half" in held


def test_where_hay_is_short_they_are_fed_all_the_same_and_it_is_told() -> None:
    farm = farm_with(AnimalClass.EWE, 70.0, 0.1)
    program = plan_season(farm, options=AT_ONCE)
    (short, *_) = [one for one in program.shortages if one.nutrient == "forage_share"]
    assert "More than half of what they eat is meal and grain" in short.sentence
    assert "buy hay" in short.sentence
    meal = [one for one in program.feeding if one.source_id == "meal"]
    assert min(one.eaten_kg_dm_per_head_day for one in meal) > 0.45
    (said,) = [one for one in program.cautions if "protein-watch" in one.rules]
    assert "over 20%" in said.sentence
    hidden = replace(
        program, needs=tuple(one for one in program.needs if one.nutrient != "forage_share")
    )
    with not_looked_at():
        assert any("forage_share" in one.what for one in recheck(hidden, farm))
