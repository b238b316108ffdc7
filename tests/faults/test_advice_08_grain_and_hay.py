"""What grain costs in fiber digestion and in room is counted, from published equations."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group
from rickyard.forage.energy import nem_from_tdn
from rickyard.program.audit import recheck
from rickyard.program.inputs import feed_values
from rickyard.program.planning import plan_season
from rickyard.program.result import SeasonProgram
from support.season_farms import farm_of, hay, report_on
from support.weekly import WEEKLY

CORN = Feed(
    "corn", "Corn", FeedKind.GRAIN, 0.02, dm_pct=88.0, tdn_pct=88.0, cp_pct=9.0, ndf_pct=10.0,
    starch_pct=72.1, most_kg_per_head_day=9.0,
)  # fmt: skip
HULLS = replace(CORN, feed_id="hulls", kind=FeedKind.SUPPLEMENT, ndf_pct=65.0, starch_pct=1.0)
CAKE = replace(CORN, feed_id="cake", kind=FeedKind.SUPPLEMENT, cp_pct=44.0, starch_pct=0.0)


def farm_with(counted: bool) -> Farm:
    cows = Group("C", "Cows", AnimalClass.COW, 30, 560.0, feeding_loss_pct=0.0)
    lot = hay("lot", 44.0, 9.0, 400.0, 200.0)
    farm = farm_of([(lot, report_on(lot, 44.0, 9.0))], [cows], [CORN])
    return replace(farm, season=replace(farm.season, grain_on_hay=counted))


def planned(counted: bool) -> SeasonProgram:
    farm = farm_with(counted)
    program = plan_season(farm, options=WEEKLY)
    assert [str(one) for one in recheck(program, farm)] == []
    return program


def eaten(program: SeasonProgram, source: str) -> float:
    return sum(
        one.eaten_kg_dm_per_head_day * one.days
        for one in program.feeding
        if one.source_id == source
    )


def test_advice_08_corn_counts_less_for_the_fiber_that_it_leaves_undigested() -> None:
    season = farm_with(True).season
    value, _ = feed_values(CORN, season)
    # 8.06 points of digestibility for 1 % of weight, of fiber at 1.2 % of weight.
    assert value.nem_mcal_per_kg == pytest.approx(nem_from_tdn(88.0 - 8.06 * 1.2))
    assert value.tdn_pct == 88.0
    plain, _ = feed_values(CORN, replace(season, grain_on_hay=False))
    assert plain.nem_mcal_per_kg == pytest.approx(nem_from_tdn(88.0))


def test_advice_08_concentrate_takes_the_room_that_trials_say() -> None:
    season = farm_with(True).season
    corn, hulls, cake = (feed_values(one, season)[0] for one in (CORN, HULLS, CAKE))
    assert corn.room_ndf_pct == pytest.approx(60.0 * 0.7)
    assert hulls.room_ndf_pct == pytest.approx(60.0 * (0.7 + 0.3 * 71.1) / 72.1, rel=0.02)
    assert cake.room_ndf_pct == 0.0
    off = replace(season, grain_on_hay=False)
    assert [feed_values(one, off)[0].room_ndf_pct for one in (CORN, HULLS, CAKE)] == [0.0] * 3


def test_advice_08_the_plan_feeds_more_for_it_and_says_so() -> None:
    counted, plain = planned(True), planned(False)
    assert eaten(counted, "corn") > eaten(plain, "corn") * 1.001
    said = [one for one in counted.assumptions if "puts 0.7 lb of hay aside" in one.sentence]
    assert len(said) == 1
    assert "Moore et al. 1999" in said[0].source
    assert "grain_on_hay = false" in said[0].sentence
    assert any("is not counted: farm.toml says" in one.sentence for one in plain.assumptions)


def test_advice_08_the_room_of_corn_is_held_against_the_fiber_that_fills() -> None:
    program = planned(True)
    for cell in program.groups:
        here = {one.source_id: one.eaten_kg_dm_per_head_day for one in program.feeding
                if one.period == cell.period}  # fmt: skip
        room = 0.55 * here.get("lot", 0.0) + 0.42 * here.get("corn", 0.0)
        assert room <= 0.012 * cell.full_weight_kg * (1.0 + 1e-6)


def test_advice_08_another_answer_is_not_taken_for_the_counted_one() -> None:
    farm = farm_with(True)
    program = plan_season(farm, options=WEEKLY)
    other = replace(farm, season=replace(farm.season, grain_on_hay=False))
    assert any("nem_mcal_per_kg" in str(one) for one in recheck(program, other))
