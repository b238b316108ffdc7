"""A mineral is no cheap calcium: a head gets what is written for it, or half as much again."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group, StatedNeed
from rickyard.program.audit import recheck
from rickyard.program.inputs import needs_of, sources_of
from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions
from support.farms import START
from support.rechecked import not_looked_at
from support.rows import each_row
from support.season_farms import farm_of, hay, report_on

AT_ONCE = PlanOptions(seconds=0.0, effort=0.0, weekly=True)
MINERAL = Feed(
    "m", "Stock mineral", FeedKind.MINERAL, 1.0, dm_pct=100.0, ca_pct=16.0, p_pct=8.0,
    copper_ppm=5.0, least_kg_per_head_day=0.01, ionophore=False,
)  # fmt: skip
UNWRITTEN = replace(MINERAL, least_kg_per_head_day=None)
OUNCE, FOUR = 0.02835, 0.113398


def farm_with(feed: Feed, kind: AnimalClass = AnimalClass.BUCK, ca_kg: float = 0.02) -> Farm:
    """Two head that want more calcium than their hay holds."""
    group = Group("g", "Group", kind, 2, 500.0 if kind is AnimalClass.BULL else 80.0)
    lot = hay("lot", 58.0, 12.0, 40.0, 60.0)
    farm = farm_of([(lot, report_on(lot, 58.0, 12.0))], [group], [feed])
    need = StatedNeed("g", START, farm.season.end, least_dm_kg=1.5, most_dm_kg=2.0, ca_kg=ca_kg)
    return replace(farm, needs=(need,))


@each_row(
    ("feed", "kind", "most"),
    [
        (MINERAL, AnimalClass.BUCK, 0.015),
        (MINERAL, AnimalClass.BULL, 0.015),
        (replace(MINERAL, selenium_ppm=0.1), AnimalClass.BUCK, OUNCE),
        (replace(MINERAL, selenium_ppm=0.1), AnimalClass.BULL, FOUR),
        (replace(MINERAL, name="Limestone"), AnimalClass.BULL, FOUR),
        (replace(MINERAL, least_kg_per_head_day=0.1), AnimalClass.LLAMA, OUNCE),
        (replace(MINERAL, least_kg_per_head_day=0.1), AnimalClass.BULL, FOUR),
        (replace(MINERAL, most_kg_per_head_day=0.05), AnimalClass.BUCK, 0.05),
        (UNWRITTEN, AnimalClass.BUCK, OUNCE),
        (UNWRITTEN, AnimalClass.BULL, FOUR),
    ],
)
def test_a_head_gets_no_more_than_half_again_what_is_written(
    feed: Feed, kind: AnimalClass, most: float
) -> None:
    farm = farm_with(feed, kind)
    assert sources_of(farm, needs_of(farm)).most_kg_dm[0, 1, 0] == pytest.approx(most)


@pytest.mark.parametrize(("feed", "most"), [(MINERAL, 0.015), (UNWRITTEN, OUNCE)])
def test_calcium_that_it_would_have_brought_is_short_and_told(feed: Feed, most: float) -> None:
    farm = farm_with(feed)
    program = plan_season(farm, options=AT_ONCE)
    rows = [one for one in program.feeding if one.source_id == "m"]
    assert [one.eaten_kg_dm_per_head_day for one in rows] == pytest.approx([most] * len(rows))
    assert any(one.nutrient == "ca" for one in program.shortages)
    rule = "mineral-untold" if feed is MINERAL else "mineral-small-stock"
    (said,) = [one for one in program.cautions if rule in one.rules]
    assert "Stock mineral" in said.sentence
    more = tuple(
        replace(one, eaten_kg_dm_per_head_day=1.1 * most) if one in rows else one
        for one in program.feeding
    )
    with not_looked_at():
        found = [one.what for one in recheck(replace(program, feeding=more), farm)]
    assert any("m to g" in what and "most a head" in what for what in found)


def test_who_gets_what_is_written_is_told_nothing() -> None:
    program = plan_season(farm_with(MINERAL, ca_kg=0.003), options=AT_ONCE)
    assert not [one for one in program.cautions if "mineral-untold" in one.rules]
