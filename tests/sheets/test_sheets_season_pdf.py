import dataclasses
import re
from datetime import date
from typing import Any
from xml.etree import ElementTree

import pypdfium2
import pytest

from rickyard.display import Display
from rickyard.farm import Caution, Farm
from rickyard.program.planning.season import plan_season
from rickyard.program.result.result import SeasonProgram
from rickyard.sheets.charts.canvas import SMALLEST_PT, Canvas
from rickyard.sheets.charts.charts import WIDTH, enough_hay_height, enough_hay_svg, ribbon_svg
from rickyard.sheets.paper.season_pdf import season_pdf
from rickyard.sheets.wording.words import proof
from support.season_example import example, large_example
from support.shipped import SHORT, shipped_farm

PRINTED = date(2026, 11, 2)
LETTER = (612.0, 792.0)
NASTY = 'Lot #1 $x$ *bold* _it_ "q" \\ <tag> @ref [b] {c} `code` // no'


def pages(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]


def named(program: SeasonProgram, farm: Farm, name: str) -> tuple[SeasonProgram, Farm]:
    """Give every lot, feed and group one name."""
    return (
        dataclasses.replace(
            program,
            farm_name=name,
            sources=tuple(dataclasses.replace(one, name=name) for one in program.sources),
            lots=tuple(dataclasses.replace(one, name=name) for one in program.lots),
            purchases=tuple(dataclasses.replace(one, name=name) for one in program.purchases),
            cautions=tuple(dataclasses.replace(one, sentence=name) for one in program.cautions),
            limits=tuple(dataclasses.replace(one, sentence=name) for one in program.limits),
        ),
        dataclasses.replace(
            farm,
            name=name,
            groups=tuple(dataclasses.replace(one, name=name) for one in farm.groups),
        ),
    )


@pytest.mark.parametrize("kind", ["enough", "hay_short", "need_short"])
def test_three_letter_pages_answer_first(kind: Any) -> None:
    program, farm = example(kind)
    pdf = season_pdf(program, farm, PRINTED)
    document = pypdfium2.PdfDocument(pdf)
    assert len(document) == 3
    assert all(page.get_size() == LETTER for page in document)
    first, second, third = pages(pdf)
    answer = {"enough": "Enough hay", "hay_short": "Hay runs short", "need_short": "but"}
    assert answer[kind] in first
    assert "2 dangers on page 3" in first
    assert "Range cubes 20%" in second
    assert "31.2" in second
    assert "15–16 (257)" in second
    assert third.index("DANGER") < third.index("Warning") < third.index("Note")
    assert "extension office" in third
    assert all("printed Nov 2, 2026" in page for page in (first, second, third))


@pytest.mark.parametrize("restless", [False, True])
def test_a_large_farm_still_takes_three_pages_and_says_what_was_cut(restless: bool) -> None:
    program, farm = large_example(20, 10, restless=restless)
    text = pages(season_pdf(program, farm, PRINTED))
    assert len(text) == 3
    assert "9 smaller lots" in text[0]
    assert all(f"Herd no. {number}" in text[1] for number in range(10))
    assert ("more for later weeks: see the weekly lists" in text[1]) is restless
    assert "more in the JSON file" in text[2]
    assert text[2].count("DANGER") == 12


def test_very_many_groups_are_cut_with_a_sentence() -> None:
    program, farm = large_example(40, 60)
    text = pages(season_pdf(program, farm, PRINTED))
    assert len(text) == 3
    assert re.search(r"\d+ groups more in the JSON file", text[0])
    assert re.search(r"\d+ more in the JSON file, for other groups", text[1])


def test_the_same_program_and_date_give_the_same_bytes() -> None:
    program, farm = example()
    assert season_pdf(program, farm, PRINTED) == season_pdf(program, farm, PRINTED)


def test_names_are_never_markup() -> None:
    program, farm = named(*example(), NASTY)
    text = pages(season_pdf(program, farm, PRINTED))
    assert len(text) == 3
    assert all('Lot #1 $x$ *bold* _it_ "q" \\' in page for page in text)


@pytest.mark.parametrize(
    "name",
    [
        "Луг за рекой",
        "Άνω λιβάδι",
        "上の牧草地",
        "المرعى الأعلى",
        "a\nb\x07c\u200bd",
        "W" * 300,
        "",
    ],
)
def test_any_letters_are_set(name: str) -> None:
    program, farm = named(*example(), name)
    text = pages(season_pdf(program, farm, PRINTED))
    assert len(text) == 3
    if name.startswith("Луг"):
        assert name in text[0]


def test_a_program_with_nothing_in_it_is_still_set() -> None:
    program, farm = example("enough")
    lists = "periods sources groups feeding needs purchases lots limits lot_worth feed_worth"
    empty = dict.fromkeys([*lists.split(), "cautions", "assumptions"], ())
    bare = dataclasses.replace(program, **empty)
    text = pages(season_pdf(bare, farm, PRINTED))
    assert "Nothing is bought." in text[2]


def test_metric_farms_read_metric() -> None:
    program, farm = example(units="metric")
    text = pages(season_pdf(program, farm, PRINTED))
    assert "kg a head" in text[1]
    assert " lb" not in text[1]
    assert "/ton" not in text[2]


def letters(svg: str) -> list[ElementTree.Element]:
    root = ElementTree.fromstring(svg)
    return [one for one in root.iter() if one.tag.endswith("}text")]


def test_pictures_are_wide_as_the_page_and_never_tiny() -> None:
    program, farm = example()
    for svg in (
        enough_hay_svg(program, Display()),
        ribbon_svg(program, farm, Display()),
    ):
        root = ElementTree.fromstring(svg)
        assert float(root.attrib["width"]) == WIDTH
        sizes = [float(one.attrib["font-size"].removesuffix("px")) for one in letters(svg)]
        assert sizes
        assert min(sizes) >= SMALLEST_PT


def test_pictures_are_told_in_greys_alone() -> None:
    program, farm = example("hay_short")
    for svg in (enough_hay_svg(program, Display()), ribbon_svg(program, farm, Display())):
        for colour in re.findall(r"#([0-9a-fA-F]{6})", svg):
            assert colour[:2] == colour[2:4] == colour[4:]


def test_every_lot_and_group_is_named_in_the_pictures() -> None:
    program, farm = example()
    said = {"".join(one.itertext()) for one in letters(enough_hay_svg(program, Display()))}
    assert {lot.name for lot in program.lots} <= said
    said = {"".join(one.itertext()) for one in letters(ribbon_svg(program, farm, Display()))}
    assert {group.name for group in farm.groups} <= said


def test_the_ribbon_keeps_to_its_height() -> None:
    program, farm = large_example(20, 10)
    root = ElementTree.fromstring(ribbon_svg(program, farm, Display(), 340.0))
    assert float(root.attrib["height"]) <= 340.0
    root = ElementTree.fromstring(enough_hay_svg(program, Display()))
    assert float(root.attrib["height"]) == enough_hay_height(program)


def test_every_figure_stands_out_from_the_grey_it_is_written_on(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A run of weeks may begin in a lighter grey than its mean amount."""
    boxes: list[tuple[float, float, float, float, str]] = []
    figures: list[tuple[float, float, str]] = []

    def box(_: Canvas, x: float, y: float, width: float, height: float, fill: str) -> None:
        boxes.append((x, y, width, height, fill))

    def text(_: Canvas, x: float, y: float, words: str, *_args: Any, **style: Any) -> None:
        if "ink" in style and style.get("bold"):
            figures.append((x, y, style["ink"]))

    monkeypatch.setattr(Canvas, "box", box)
    monkeypatch.setattr(Canvas, "text", text)
    farm = shipped_farm()
    ribbon_svg(plan_season(farm, options=SHORT), farm, Display())
    assert len(figures) > 40
    for x, y, ink in figures:
        (fill,) = [one[4] for one in boxes if _inside(one, x, y)]
        assert abs(int(fill[1:3], 16) - int(ink[1:3], 16)) > 0x60, (x, y, fill, ink)


def _inside(box: tuple[float, float, float, float, str], x: float, y: float) -> bool:
    return box[0] <= x < box[0] + box[2] and box[1] <= y < box[1] + box[3]


def test_the_proof_speaks_of_shortages_only_where_there_are_any() -> None:
    assert "shortages" in proof(0.01, short=True)
    assert "within 1.0% of the least possible cost" in proof(0.01, short=False)
    assert "not proven" in proof(5.3, short=True)
    assert "%" not in proof(5.3, short=True) + proof(0.7, short=False)


def test_letters_too_small_to_read_are_refused() -> None:
    with pytest.raises(ValueError, match="too small"):
        Canvas(10.0, 10.0, "").text(0, 0, "tiny", size=7.0)


def test_dangers_are_never_cut_but_go_on_on_another_page() -> None:
    program, farm = example()
    long = "Keep it from them, and ask a veterinarian before any of it is fed. " * 5
    dangers = tuple(Caution("danger", "", f"Number {one}. {long}", "") for one in range(30))
    text = pages(season_pdf(dataclasses.replace(program, cautions=dangers), farm, PRINTED))
    assert len(text) > 3
    together = " ".join(text[2:])
    assert all(f"Number {one}." in together for one in range(30))
