"""Days, gain and pregnancy of growing stock, as a grower read them and could not believe them."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner

from rickyard.cli.main import main
from rickyard.farm import Farm
from rickyard.folder import read_folder
from rickyard.program.inputs import NeedTable, needs_of
from rickyard.quantities import KG_PER_LB
from support.farm_folders import write_texts
from support.many_farms import named

GROUPS = """group,name,class,head,weight_lb,finish_weight_lb,age_months,calving_on,\
breeding_on,gain_lb_per_day,from_on,to_on
DAIRY,Dairy heifers,dairy_heifer,20,600,,8,,,1.7,,
AGED,Heifers of 20 months,dairy_heifer,20,1000,,20,,,1.5,,
OPEN,Heifers bred in May,dairy_heifer,20,1000,,16,,2026-05-20,1.5,,
BRED,Heifers in calf,dairy_heifer,20,1000,,20,2026-05-01,,1.5,,
STOCK,Stockers,stocker,30,520,1250,9,,,1.5,2025-11-17,2026-03-20
"""


def grower(place: Path) -> Path:
    texts = {**named("Grower", groups=GROUPS), "fed.csv": "day,source,group,bales,mass_lb,note\n"}
    texts.pop("needs.csv", None)
    texts["wishes.csv"] = "wish,source,group,start,end,as_fed_lb_per_head_day,note\n"
    return write_texts(place, texts)


def needs(place: Path) -> tuple[Farm, NeedTable]:
    farm = read_folder(grower(place), ["corn_grain_dry_rolled"]).farm
    return farm, needs_of(farm)


def test_first_use_13_dairy_heifers_show_the_gain_that_was_asked(tmp_path: Path) -> None:
    _, table = needs(tmp_path / "grower")
    assert table.gain_kg[0, 0] / KG_PER_LB == 1.7
    assert table.gain_kg[1, 0] / KG_PER_LB == 1.5


def test_first_use_13_bred_dairy_heifers_count_as_pregnant(tmp_path: Path) -> None:
    _, table = needs(tmp_path / "grower")
    assert table.pregnant[:, 0].tolist() == [False, True, False, True, False]
    assert table.stage[1][0].endswith("in calf")
    assert any(
        "Heifers of 20 months are counted as in calf" in one.sentence for one in table.assumptions
    )
    assert not any("bred in May are counted" in one.sentence for one in table.assumptions)


def test_first_use_13_needs_end_on_the_last_day_a_group_is_there(tmp_path: Path) -> None:
    place = str(grower(tmp_path / "grower"))
    page = CliRunner().invoke(main, ["needs", place, "--group", "STOCK"]).output
    assert "to Mar 19" in page
    assert "Nov 17 to" in page
    assert "Mar 20" not in page
