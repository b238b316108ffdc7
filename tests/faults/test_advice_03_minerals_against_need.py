"""What the mineral as fed covers of copper, selenium, magnesium and the vitamins A and E."""

from __future__ import annotations

from dataclasses import replace
from io import StringIO

import pytest
from rich.console import Console

from rickyard.animals import CLASSES
from rickyard.cli.show.reasons import print_coverage
from rickyard.farm import AnimalClass, Feed, FeedKind, Group
from rickyard.program.planning import plan_season
from rickyard.program.result import SeasonProgram
from rickyard.sheets.data_files.plan_json import plan_to_dict
from rickyard.stock.common.tables import read_rows
from support.rows import each_row
from support.season_farms import farm_of, hay, report_on
from support.weekly import WEEKLY

MINERAL = Feed(
    "mineral", "Mineral", FeedKind.MINERAL, 0.9, dm_pct=100.0, ca_pct=16.0, p_pct=8.0,
    least_kg_per_head_day=0.1, copper_ppm=1500.0, selenium_ppm=26.0, magnesium_pct=2.0,
    vitamin_a_iu_per_kg=400_000.0,
)  # fmt: skip


def covered(mineral: Feed | None, kind: AnimalClass = AnimalClass.COW) -> SeasonProgram:
    group = Group("G", "Group", kind, 30, 560.0, feeding_loss_pct=0.0)
    lot = hay("lot", 56.0, 10.0, 400.0, 60.0)
    feeds = [] if mineral is None else [mineral]
    return plan_season(farm_of([(lot, report_on(lot, 56.0, 10.0))], [group], feeds), options=WEEKLY)


def verdicts(program: SeasonProgram) -> dict[str, str]:
    return {one.nutrient: one.verdict for one in program.coverage}


def test_advice_mineral_is_set_against_need() -> None:
    program = covered(MINERAL)
    told = {one.nutrient: one for one in program.coverage}
    assert told["cu"].from_feeds == pytest.approx(150.0)
    assert told["cu"].need == pytest.approx(
        10.0 * sum(one.eaten_kg_dm_per_head_day * one.days for one in program.feeding) / 28.0,
        rel=0.25,
    )
    assert verdicts(program)["cu"] == verdicts(program)["se"] == "covered"
    assert verdicts(program)["vitamin_a"] == "covered"
    assert verdicts(program)["mg"] == "short"  # 2 g of some 14
    assert verdicts(program)["vitamin_e"] == "unknown"  # the tag does not say


def test_advice_no_mineral_covers_nothing_and_says_so() -> None:
    program = covered(None)
    assert set(verdicts(program).values()) == {"short"}
    assert all("not covered" in one.sentence for one in program.coverage)


def test_advice_too_much_is_told() -> None:
    program = covered(replace(MINERAL, selenium_ppm=120.0, copper_ppm=9000.0))
    assert verdicts(program)["se"] == "too_much"  # 12 mg against 3 mg by law
    assert verdicts(program)["cu"] == "too_much"
    out = StringIO()
    farm = farm_of([], [Group("G", "Group", AnimalClass.COW, 30, 560.0)], [])
    print_coverage(program, farm, Console(file=out, width=100))
    said = out.getvalue()
    assert "too much selenium" in said
    assert "tag?" in said


@each_row("kind", CLASSES)
def test_advice_every_class_has_a_need_of_each_with_a_source(kind: AnimalClass) -> None:
    stock = CLASSES[kind].stock.value
    rows = [row for row in read_rows("trace_needs") if row["stock"] == stock]
    assert [row["what"] for row in rows] == ["cu", "se", "mg", "vitamin_a", "vitamin_e"]
    assert all(float(row["need"]) > 0.0 and row["source"] for row in rows)


def test_advice_horses_are_told_by_their_own_needs_and_the_json_has_it() -> None:
    program = covered(MINERAL, AnimalClass.MARE)
    told = {one["nutrient"]: one for one in plan_to_dict(program)["coverage"]}
    assert told["mg"]["need"] == pytest.approx(0.015 * 560.0, rel=0.05)  # NRC 2007
    assert told["cu"]["verdict"] == "covered"
    assert told["cu"]["unit"] == "mg"
