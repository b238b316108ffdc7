"""Sheep, goats, horses, dairy stock and llamas are held to limits of their own."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group, Report, StatedNeed
from rickyard.program.audit import recheck
from rickyard.program.planning import plan_season
from rickyard.program.result import SeasonProgram
from support.farms import START, analyte
from support.season_farms import farm_of, hay, report_on
from support.weekly import WEEKLY

CORN = Feed(
    "corn", "Corn", FeedKind.GRAIN, 0.05, dm_pct=88.0, tdn_pct=88.0, cp_pct=9.0, ndf_pct=10.0,
    ca_pct=0.02, p_pct=0.3,
)  # fmt: skip
LIME = Feed("lime", "Limestone", FeedKind.MINERAL, 0.2, dm_pct=100.0, ca_pct=36.0, p_pct=0.0)
MINERAL = replace(
    LIME, feed_id="mineral", name="Sheep mineral", copper_ppm=5.0, least_kg_per_head_day=0.009
)


def planned(
    kind: AnimalClass, weight: float, *feeds: Feed, ndf: float = 66.0, cp: float = 9.0, **more: Any
) -> tuple[Farm, SeasonProgram]:
    group = Group("G", "Group", kind, 10, weight, feeding_loss_pct=0.0, **more)
    lot = hay("lot", 54.0, cp, 400.0, 60.0)
    written = report_on(lot, 54.0, cp)
    values = [one for one in written.analytes if one.name != "ndf"]
    report = Report(written.report_id, lot.lot_id, (*values, analyte("ndf", ndf)), START)
    farm = farm_of([(lot, report)], [group], list(feeds))
    return farm, plan_season(farm, options=WEEKLY)


def eaten(program: SeasonProgram, source: str) -> float:
    found = [one.eaten_kg_dm_per_head_day for one in program.feeding if one.source_id == source]
    return max(found, default=0.0)


@pytest.mark.parametrize(
    ("kind", "weight", "more", "cap_pct"),
    [
        (AnimalClass.EWE, 70.0, {"calving_on": START - timedelta(days=14), "young": 1.0}, 1.5),
        (AnimalClass.EWE, 70.0, {}, 1.3),
        (AnimalClass.DOE, 60.0, {"calving_on": START - timedelta(days=14)}, 1.7),
        (AnimalClass.DAIRY_HEIFER, 300.0, {"age_months": 10.0}, 1.0),
        (AnimalClass.LLAMA, 150.0, {}, 1.0),
    ],
)
def test_advice_01_fiber_fills_each_class_at_its_own_share(
    kind: AnimalClass, weight: float, more: dict[str, Any], cap_pct: float
) -> None:
    farm, program = planned(kind, weight, CORN, LIME, ndf=75.0, **more)
    for cell in program.groups:
        rows = [one for one in program.feeding if one.period == cell.period]
        fiber = sum(one.eaten_kg_dm_per_head_day * 0.75 for one in rows if one.source_id == "lot")
        assert fiber <= cap_pct / 100.0 * cell.full_weight_kg * (1.0 + 1e-6)
    assert [str(one) for one in recheck(program, farm)] == []


def test_advice_01_a_ram_gets_two_parts_of_calcium_for_one_of_phosphorus() -> None:
    _, program = planned(AnimalClass.RAM, 100.0, CORN, LIME)
    ratio = [one for one in program.needs if one.nutrient == "ca_to_p"]
    assert ratio
    assert all(one.shortage == 0.0 for one in ratio)
    hay_kg, corn_kg, lime_kg = (eaten(program, one) for one in ("lot", "corn", "lime"))
    calcium = 6.0 * hay_kg + 0.2 * corn_kg + 360.0 * lime_kg
    phosphorus = 3.0 * hay_kg + 3.0 * corn_kg
    assert calcium >= 2.0 * phosphorus * (1.0 - 1e-6)


def test_advice_01_stones_are_of_males() -> None:
    _, program = planned(AnimalClass.KID, 20.0, LIME, gain_kg_per_day=0.05)
    _, ewes = planned(AnimalClass.EWE, 70.0)
    short = {one.nutrient: one.need / one.supplied for one in program.needs if one.supplied}
    other = {one.nutrient: one.need / one.supplied for one in ewes.needs if one.supplied}
    assert short["ca_to_p"] == pytest.approx(1.0)
    assert other["ca_to_p"] == pytest.approx(0.5)  # 1 x 0.3 of phosphorus against 0.6 of calcium


def test_advice_01_a_mineral_on_offer_goes_to_sheep_too_but_no_more_than_an_ounce() -> None:
    farm, program = planned(AnimalClass.EWE, 70.0, MINERAL)
    assert eaten(program, "mineral") == pytest.approx(0.009)
    cattle_rate = replace(MINERAL, least_kg_per_head_day=0.1)
    farm, program = planned(AnimalClass.EWE, 70.0, cattle_rate)
    assert eaten(program, "mineral") == pytest.approx(0.02835)
    assert [str(one) for one in recheck(program, farm)] == []


def test_advice_01_ruminants_keep_their_protein_floor_and_horses_have_none() -> None:
    _, ewes = planned(AnimalClass.EWE, 70.0, cp=5.0)
    assert any(one.nutrient == "cp_floor" and one.shortage > 0.0 for one in ewes.needs)
    _, horses = planned(AnimalClass.HORSE, 500.0, cp=5.0)
    assert not any(one.nutrient == "cp_floor" for one in horses.needs)
    assert any(one.nutrient == "forage" for one in ewes.needs)
    assert any(one.nutrient == "forage" for one in horses.needs)


def test_advice_01_what_the_folder_states_stands_alone() -> None:
    farm, _ = planned(AnimalClass.EWE, 70.0, MINERAL)
    need = StatedNeed("G", farm.season.start, farm.season.end, tdn_kg=0.7, most_dm_kg=1.6)
    farm = replace(farm, needs=(need,))
    program = plan_season(farm, options=WEEKLY)
    assert {one.nutrient for one in program.needs} == {"tdn", "most_dm", "nitrate"}
    assert eaten(program, "mineral") == 0.0
    assert [str(one) for one in recheck(program, farm)] == []


def test_advice_01_the_page_says_what_was_taken_of_the_class() -> None:
    _, program = planned(AnimalClass.RAM, 100.0, CORN, LIME)
    said = " ".join(one.sentence for one in program.assumptions)
    assert "fills Group is 1.3% of body weight" in said
    assert "at least 2 parts of calcium" in said
