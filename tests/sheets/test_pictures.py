"""The pictures of the season sheet: what they show, that they can be read, and in gray alone."""

import dataclasses
import re
from datetime import date, timedelta
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from rickyard.display import Display
from rickyard.farm import Caution, Farm
from rickyard.program.planning.season import plan_season
from rickyard.program.result.result import LotBalance, SeasonProgram
from rickyard.sheets.charts import svg as elements
from rickyard.sheets.charts.canvas import SMALLEST_PT, Canvas
from rickyard.sheets.charts.charts import enough_hay_svg
from rickyard.sheets.charts.letters import text_width
from rickyard.sheets.charts.ribbon import WIDTH, ribbon_svgs
from rickyard.sheets.charts.verdict import verdict_svg
from rickyard.sheets.charts.wall import wall_parts
from support.season_example import example, large_example
from support.shipped import SHORT, farm_fed_corn, shipped_farm

NAMESPACE = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def farm() -> Farm:
    return shipped_farm()


@pytest.fixture(scope="module")
def program(farm: Farm) -> SeasonProgram:
    return plan_season(farm, options=SHORT)


def found(svg: str, tag: str) -> list[ElementTree.Element]:
    return list(ElementTree.fromstring(svg).iter(f"{NAMESPACE}{tag}"))


def said(svg: str) -> set[str]:
    return {"".join(one.itertext()) for one in found(svg, "text")}


def pictures(program: SeasonProgram, farm: Farm) -> list[str]:
    ribbon = ribbon_svgs(program, farm, Display())
    return [enough_hay_svg(program, Display()), ribbon.months, *ribbon.groups, ribbon.key]


def test_pictures_are_wide_as_the_page_and_never_tiny() -> None:
    for svg in pictures(*example()):
        assert float(ElementTree.fromstring(svg).attrib["width"]) == WIDTH
        sizes = [float(one.attrib["font-size"].removesuffix("px")) for one in found(svg, "text")]
        assert sizes
        assert min(sizes) >= SMALLEST_PT


def test_pictures_are_told_in_grays_alone() -> None:
    for svg in [*pictures(*example("hay_short")), verdict_svg("danger"), verdict_svg("enough")]:
        colors = re.findall(r"#([0-9a-fA-F]{6})", svg)
        assert colors
        assert all(one[:2] == one[2:4] == one[4:] for one in colors)


def test_the_same_program_draws_the_same_letters_and_names_are_escaped() -> None:
    program, farm = example()
    assert pictures(program, farm) == pictures(program, farm)
    nasty = '<b>R&D "Co"</b>'
    named = dataclasses.replace(
        program, lots=tuple(dataclasses.replace(one, name=nasty) for one in program.lots)
    )
    assert nasty in said(enough_hay_svg(named, Display()))
    assert elements.text(0, 0, "a<b", 9.0, "#111111").endswith(">a&lt;b</text>")


def test_every_lot_and_group_is_named_in_the_pictures() -> None:
    program, farm = example()
    assert {lot.name for lot in program.lots} <= said(enough_hay_svg(program, Display()))
    ribbon = ribbon_svgs(program, farm, Display())
    assert {group.name for group in farm.groups} <= set().union(*map(said, ribbon.groups))


def test_every_source_of_a_large_farm_has_a_row() -> None:
    program, farm = large_example(20, 10, restless=True)
    ribbon = ribbon_svgs(program, farm, Display())
    assert len(ribbon.groups) == 10
    fed = {one.source_id for one in program.feeding if one.group_id == "G1"}
    names = {one.name for one in program.sources if one.source_id in fed}
    assert len(names) > 12
    shown = said(ribbon.groups[0])
    assert all(any(name.startswith(one.rstrip("…")) for one in shown) for name in names)


def test_the_wall_counts_all_hay_once_and_sold_hay_with_it(program: SeasonProgram) -> None:
    parts = {one.mark: one.tonnes for one in wall_parts(program)}
    assert sum(parts.values()) == pytest.approx(sum(lot.start_t for lot in program.lots))
    assert parts["sold"] == pytest.approx(sum(lot.sold_t for lot in program.lots))
    assert parts["sold"] > 1.0
    dangerous = {one.about for one in program.cautions if one.level == "danger"}
    unsafe = sum(lot.left_t for lot in program.lots if lot.lot_id in dangerous)
    assert parts["danger"] == pytest.approx(unsafe)
    svg = enough_hay_svg(program, Display())
    assert {"sold", "eaten", "left", "left with a danger"} <= said(svg)
    assert Display().tons_text(parts["sold"]) in said(svg)


def test_the_curve_begins_with_the_tons_of_the_wall(program: SeasonProgram) -> None:
    whole = Display().tons_text(sum(lot.start_t for lot in program.lots))
    assert f"{whole} on Nov 2" in said(enough_hay_svg(program, Display()))


def test_a_sold_lot_has_a_bar() -> None:
    program, _ = example("enough")
    sold = LotBalance("S", "All sold", 20.0, 0.0, 0.0, 0.0, 0.0, 50.0, 0.0, 20.0)
    bare = dataclasses.replace(program, lots=(sold,), feeding=())
    with_bar = len(found(enough_hay_svg(bare, Display()), "rect"))
    gone = dataclasses.replace(bare, lots=(dataclasses.replace(sold, sold_t=0.0, left_t=0.0),))
    assert with_bar > len(found(enough_hay_svg(gone, Display()), "rect"))


def test_no_label_of_the_curve_stands_on_the_curve(program: SeasonProgram) -> None:
    svg = enough_hay_svg(program, Display())
    (curve,) = [
        one.attrib["d"]
        for one in found(svg, "path")
        if one.attrib.get("stroke-width") == "1.6" and "Z" not in one.attrib["d"]
    ]
    points = [tuple(map(float, one.split())) for one in curve[1:].split("L")]
    (label,) = [one for one in found(svg, "text") if (one.text or "").endswith("left May 3")]
    right, base = float(label.attrib["x"]), float(label.attrib["y"])
    left = right - text_width(label.text or "", 9.5, bold=True)
    for (x1, y1), (x2, y2) in pairwise(points):
        if x2 >= left and x1 <= right and x2 > x1:
            # The higher end of each piece under the label lies below the label's foot.
            at_left = y1 + (y2 - y1) * max(left - x1, 0.0) / (x2 - x1)
            assert at_left > base + 1.0


def test_a_danger_is_marked_beside_its_lot_and_beside_the_answer(
    program: SeasonProgram, farm: Farm
) -> None:
    ribbon = ribbon_svgs(program, farm, Display())
    named = [one for one in ribbon.groups if "Drought sorghum-sudan" in said(one)]
    assert named
    assert all(found(one, "path") for one in named)
    calm = dataclasses.replace(program, cautions=(Caution("note", "", "Look.", ""),))
    assert not any(found(one, "path") for one in ribbon_svgs(calm, farm, Display()).groups)
    marks = {verdict_svg(one) for one in ("danger", "enough", "need_short", "hay_short")}
    assert len(marks) == 4


def test_a_run_that_holds_from_the_start_shows_its_figure() -> None:
    """Also where its first week alone is too short for the figure."""
    farm = farm_fed_corn()
    program = plan_season(farm, options=SHORT)
    ribbon = ribbon_svgs(program, farm, Display())
    fed = [one for one in program.feeding if (one.group_id, one.source_id) == ("firsts", "corn")]
    assert fed
    (block,) = [one for one in ribbon.groups if "First-calf heifers" in said(one)]
    rows = {one.text: float(one.attrib["y"]) for one in found(block, "text")}
    figures = [
        one.text
        for one in found(block, "text")
        if re.fullmatch(r"[\d.]+", one.text or "")
        and abs(float(one.attrib["y"]) - rows["Cracked corn"]) < 3.0
    ]
    assert figures
    assert not any((one or "").startswith(".") for one in figures)


def test_the_grays_have_pounds(program: SeasonProgram, farm: Farm) -> None:
    key = " ".join(said(ribbon_svgs(program, farm, Display()).key))
    assert re.search(r"to \d+.*over \d+ lb|over \d+ lb.*to \d+", key)
    metric = " ".join(said(ribbon_svgs(program, farm, Display("metric")).key))
    assert "kg" in metric
    assert "lb" not in metric


def test_every_figure_stands_out_from_the_gray_it_is_written_on(
    program: SeasonProgram, farm: Farm
) -> None:
    counted = 0
    for block in ribbon_svgs(program, farm, Display()).groups:
        boxes = [
            (*(float(one.attrib[name]) for name in ("x", "y", "width", "height")), one.get("fill"))
            for one in found(block, "rect")
        ]
        for one in found(block, "text"):
            if one.get("font-size") != "7.5px":
                continue
            x, y = float(one.attrib["x"]), float(one.attrib["y"]) - 2.5
            fills = [
                str(fill)
                for left, top, wide, high, fill in boxes
                if left <= x < left + wide and top <= y < top + high
            ]
            fill = fills[0] if fills else "#ffffff"
            assert abs(int(fill[1:3], 16) - int(one.attrib["fill"][1:3], 16)) > 0x60
            counted += 1
    assert counted > 40


def test_letters_too_small_to_read_are_refused() -> None:
    with pytest.raises(ValueError, match="too small"):
        Canvas(10.0, 10.0, "").text(0, 0, "tiny", size=7.0)


def test_a_season_of_a_day_is_drawn() -> None:
    program, farm = example()
    day = date(2026, 11, 7)
    (period,) = [dataclasses.replace(one, days=1) for one in program.periods[:1]]
    short = dataclasses.replace(
        program,
        end=day + timedelta(days=1),
        periods=(period,),
        groups=tuple(one for one in program.groups if one.period == 0),
        feeding=tuple(one for one in program.feeding if one.period == 0),
        deliveries=(),
    )
    assert pictures(short, farm)
