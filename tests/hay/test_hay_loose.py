"""Loose hay and silage have no bales: how they are sampled, kept and told of."""

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from rickyard.cli.main import main
from rickyard.farm import Package, Storage
from rickyard.folder import read_folder
from rickyard.hay.sampling import probing, sampling_plan
from rickyard.hay.storage import hot_hay, siting
from rickyard.hay.yard import yard_page
from support.farm_folders import GOOD, write_texts

TODAY = date(2025, 11, 10)
LOTS = """\
lot,name,forage,package,storage,bales,bale_weight_lb,moisture_pct,baled_on,counted_on,drought
P1,Corn pit,corn_silage,loose,covered_ground,20,2000,65,2025-08-20,2025-11-01,yes
L1,Loose hay,prairie,loose,exposed_ground,12,2000,13,2025-07-01,2025-11-01,yes
O1,One bale,cool_grass,round,enclosed_barn,1,1000,13,2025-07-01,2025-11-01,
"""
DM = {"P1": 35.0, "L1": 87.0, "O1": 87.0}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    reports = GOOD["reports.csv"].splitlines()[0] + "\n"
    bare = {name: GOOD[name] for name in ("farm.toml", "groups.csv", "feeds.csv")}
    return write_texts(tmp_path / "farm", {**bare, "lots.csv": LOTS, "reports.csv": reports})


def page(folder: Path, lot_id: str) -> sampling_plan.SamplePlan:
    pages = sampling_plan.farm_sample_plans(read_folder(folder).farm, TODAY, DM)
    return next(one for one in pages if one.lot_id == lot_id)


def test_nobody_is_sent_to_core_the_face_of_a_silage_pit(folder: Path) -> None:
    pit = page(folder, "P1")
    assert (pit.probing.taken, pit.probing.depth_m, pit.core_g) == ("scoop", None, None)
    assert "loader" in pit.probing.face
    assert "Never take it from the face" in pit.probing.notes[0]
    assert "quarter" in pit.handling[0]


def test_a_silage_bag_is_cored_through_its_side_and_closed() -> None:
    way = probing.probing_of(Package.LOOSE, Storage.WRAPPED, silage=True)
    assert "side of the bag" in way.face
    assert "tape" in way.notes[0]


@pytest.mark.parametrize("lot_id", ["P1", "L1"])
def test_a_heap_is_sampled_at_twenty_places_and_not_by_its_loads(folder: Path, lot_id: str) -> None:
    plan = page(folder, lot_id)
    assert [(way.bales, way.cores) for way in plan.protocols] == [(20, 20), (12, 12)]
    assert plan.choice is None
    told = " ".join(plan.remarks)
    assert "bale" not in told
    assert "veterinarian" in told


def test_the_pages_speak_of_scoops_loads_and_one_bale(folder: Path) -> None:
    sampling = CliRunner().invoke(main, ["sampling", str(folder), "--on", "2025-11-10"]).output
    assert "20 scoops: silage" in sampling
    assert "20 cores: many places" in sampling
    assert "1 bale, 20 cores each" in sampling
    yard = CliRunner().invoke(main, ["yard", str(folder), "--on", "2025-11-10"]).output
    assert "Loose hay: weigh 6 loads" in yard
    assert "-0.0" not in yard
    assert "Ruppel" in yard


def test_silage_is_not_told_to_dry_or_to_stand_on_rock() -> None:
    (only,) = siting.site_advice(Storage.COVERED_GROUND, Package.LOOSE, 65.0, silage=True)
    assert "cover sealed" in only.sentence
    loose = " ".join(
        one.sentence for one in siting.site_advice(Storage.EXPOSED_GROUND, Package.LOOSE)
    )
    assert "bales on" not in loose
    assert "square" not in loose


def test_hay_is_not_hot_before_it_is_baled() -> None:
    baled = date(2026, 7, 11)
    hot = [(baled, 70.0)]
    assert hot_hay.heat_watch(Package.ROUND, baled, baled, 25.0, hot).alarm
    before = hot_hay.heat_watch(Package.ROUND, baled, date(2026, 7, 10), 25.0, hot)
    assert (before.due, before.alarm) == (False, False)


def test_hay_that_is_gone_is_not_probed_for_heat(folder: Path) -> None:
    hot = LOTS.replace("counted_on,drought", "counted_on,baled_moisture_pct").replace(
        "O1,One bale,cool_grass,round,enclosed_barn,1,1000,13,2025-07-01,2025-11-01,",
        "O1,One bale,cool_grass,round,enclosed_barn,1,1000,13,2025-10-20,2025-11-01,26",
    )
    (folder / "lots.csv").write_text(hot.replace(",yes\n", ",\n"), encoding="utf-8")
    standing = yard_page(read_folder(folder).farm, TODAY, DM)
    assert any("probe" in one.sentence for one in standing.cautions)
    (folder / "moves.csv").write_text("day,lot,kind,bales\n2025-11-05,O1,sold,1\n", "utf-8")
    sold = yard_page(read_folder(folder).farm, TODAY, DM)
    assert not any("probe" in one.sentence for one in sold.cautions)


def test_a_stack_of_which_no_bale_can_be_reached_is_told(folder: Path) -> None:
    closed = LOTS.replace("counted_on,drought", "counted_on,bales_reachable").replace(
        ",yes\n", ",\n"
    )
    closed = closed.replace("2025-11-01,\n", "2025-11-01,0\n")
    (folder / "lots.csv").write_text(closed, encoding="utf-8")
    stack = page(folder, "O1")
    assert stack.choice is None
    assert any("No bale can be reached" in remark for remark in stack.remarks)


def test_a_late_sample_that_waits_for_monday_is_not_told_to_be_taken_now(folder: Path) -> None:
    """Thursday 20 November 2025: wet forage ships early in the week."""
    told = CliRunner().invoke(main, ["sampling", str(folder), "--on", "2025-11-20", "--lot", "P1"])
    page_of_pit = " ".join(told.output.split())
    assert "Monday, Nov 24, 2025, ship it the same day" in page_of_pit
    assert "now" not in page_of_pit.split("Why")[0]
