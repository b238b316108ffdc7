import dataclasses
import re
from datetime import date, timedelta
from typing import Any

import pypdfium2
import pytest

from rickyard.farm import Caution, Farm
from rickyard.program.planning.season import plan_season
from rickyard.program.result.result import SeasonProgram
from rickyard.sheets.paper.season_pdf import season_pdf
from rickyard.sheets.wording import without_traces
from rickyard.sheets.wording.words import proof
from support.season_example import example, large_example
from support.shipped import SHORT, farm_fed_corn, shipped_farm

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


@pytest.fixture(scope="module")
def shipped() -> tuple[SeasonProgram, Farm, list[str]]:
    farm = shipped_farm()
    program = plan_season(farm, options=SHORT)
    return program, farm, pages(season_pdf(program, farm, PRINTED))


def test_minerals_and_vitamins_are_told_of_every_group(
    shipped: tuple[SeasonProgram, Farm, list[str]],
) -> None:
    program, farm, text = shipped
    (page,) = [one for one in text if "Minerals and vitamins against need" in one]
    told = page[page.index("Minerals and vitamins against need") :]
    assert {one.nutrient for one in program.coverage} == {
        "cu",
        "se",
        "mg",
        "vitamin_a",
        "vitamin_e",
    }
    assert all(group.name in told for group in farm.groups)
    assert "tag?" in told


@pytest.mark.parametrize("kind", ["enough", "hay_short", "need_short"])
def test_letter_pages_answer_first(kind: Any) -> None:
    program, farm = example(kind)
    pdf = season_pdf(program, farm, PRINTED)
    document = pypdfium2.PdfDocument(pdf)
    assert all(page.get_size() == LETTER for page in document)
    text = pages(pdf)
    answer = {"enough": "Enough hay", "hay_short": "Hay runs short", "need_short": "but"}
    assert answer[kind] in text[0]
    assert "2 dangers: read them below before feeding: Sudan, frosted end" in text[0]
    assert text[0].count("DANGER") == 2
    assert ("What is short" in text[0]) is (kind != "enough")
    whole = " ".join(text)
    assert "Range cubes 20 %" in whole
    assert whole.index("Warning") < whole.index("Note")
    assert "extension office" in text[-1]
    assert all("printed Nov 2, 2026" in page for page in text)


def said_of(text: list[str], sentence: str) -> bool:
    """Say whether a sentence stands on the pages, however its lines and pages break."""
    return letters_of(sentence) in letters_of(" ".join(text))


def letters_of(text: str) -> str:
    """Return text without blanks and hyphens: a hyphen is lost where a line ends."""
    return re.sub(r"[^\w.,:;%$()]", "", text)


def test_every_caution_shortage_and_wish_is_on_the_sheet(
    shipped: tuple[SeasonProgram, Farm, list[str]],
) -> None:
    program, _, text = shipped
    assert len(program.cautions) > 15
    assert all(said_of(text, one.sentence) for one in program.cautions)
    assert program.wishes
    assert all(said_of(text, one.sentence) for one in program.wishes)
    short, farm = example("hay_short")
    written = pages(season_pdf(short, farm, PRINTED))
    assert all(said_of(written, one.sentence) for one in short.shortages)


def test_what_to_sell_and_loads_are_on_the_sheet(
    shipped: tuple[SeasonProgram, Farm, list[str]],
) -> None:
    program, _, text = shipped
    whole = " ".join(text)
    (sale,) = program.sales
    assert f"{sale.name} " in whole[whole.index("Sell on the first day") :]
    assert f"{sale.bales:,.0f} ${sale.revenue_usd:,.0f}" in whole
    assert "loads" in whole


def test_step_ups_are_on_the_sheet_day_by_day() -> None:
    farm = farm_fed_corn()
    program = plan_season(farm, options=SHORT)
    whole = " ".join(pages(season_pdf(program, farm, PRINTED)))
    raised = [one for one in program.change_overs if not one.from_sources]
    assert raised
    steps = whole[whole.index("Step up day by day") :]
    for change in raised:
        for number in range(change.days):
            day = change.start + timedelta(days=number)
            assert f"{day:%b} {day.day}" in steps
    changed = [one for one in program.change_overs if one.from_sources]
    assert ("New hay each day:" in whole) is bool(changed)


def test_no_trace_no_broken_word_and_no_bare_point_on_the_sheet(
    shipped: tuple[SeasonProgram, Farm, list[str]],
) -> None:
    _, _, text = shipped
    whole = " ".join(text)
    assert "lb a head" in whole
    assert "bales a week" in whole
    assert not re.search(r"0[–-]\d+ bales?|(?<![\d–])0–\d+ in ", whole)
    assert not re.search(r"(?<![\d.])\.\d", whole)
    assert not re.search(r"0\.00\d", whole)
    assert "sorghum-su" not in whole.replace("sorghum-sudan", "")


def test_traces_are_left_off_and_said_to_be(
    shipped: tuple[SeasonProgram, Farm, list[str]],
) -> None:
    program, farm, _ = shipped
    (row, *_) = (one for one in program.feeding if one.group_id == "bulls")
    trace = dataclasses.replace(
        row,
        source_id="ddgs",
        kind="feed",
        offered_kg=0.5,
        bales=None,
        eaten_kg_dm_per_head_day=0.02,
    )
    others = tuple(
        one for one in program.feeding if (one.group_id, one.source_id) != ("bulls", "ddgs")
    )
    thin = dataclasses.replace(
        program,
        feeding=(*others, trace),
        deliveries=tuple(
            one for one in program.deliveries if (one.group_id, one.source_id) != ("bulls", "ddgs")
        ),
    )
    shown, left_out = without_traces(thin)
    assert trace not in shown.feeding
    assert "ddgs" in left_out["bulls"]
    assert all(one in shown.feeding for one in program.feeding if one.bales is not None)
    whole = " ".join(pages(season_pdf(thin, farm, PRINTED)))
    assert re.search(r"Too little to weigh out, and left off: [^.]*Dried distillers grains", whole)


@pytest.mark.parametrize("restless", [False, True])
def test_a_large_farm_takes_more_pages_and_leaves_out_nothing_that_harms(restless: bool) -> None:
    program, farm = large_example(20, 10, restless=restless)
    limits = tuple(
        dataclasses.replace(one, sentence=f"{number}. {one.sentence}")
        for number, one in enumerate(program.limits)
    )
    text = pages(season_pdf(dataclasses.replace(program, limits=limits), farm, PRINTED))
    whole = " ".join(text)
    assert "2 dangers" in text[0]
    assert "9 smaller lots" in text[0]
    assert all(whole.count(f"Herd no. {number}") >= 2 for number in range(10))
    assert whole.count("DANGER") == 2  # said once, though the program says it six times
    assert whole.count("Warning") == 2
    assert "more in the JSON file" in whole
    assert "more in the JSON file" not in whole[: whole.index("Take care")]


def test_very_many_groups_all_have_their_ribbon_and_amounts() -> None:
    program, farm = large_example(40, 30)
    whole = " ".join(pages(season_pdf(program, farm, PRINTED)))
    assert all(len(re.findall(rf"Herd no. {number}\b", whole)) >= 2 for number in range(30))


def test_the_same_program_and_date_give_the_same_bytes() -> None:
    program, farm = example()
    assert season_pdf(program, farm, PRINTED) == season_pdf(program, farm, PRINTED)


def test_names_are_never_markup() -> None:
    program, farm = named(*example(), NASTY)
    text = pages(season_pdf(program, farm, PRINTED))
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
    if name.startswith("Луг"):
        assert name in text[0]


def test_a_program_with_nothing_in_it_is_still_set() -> None:
    program, farm = example("enough")
    lists = "periods sources groups feeding needs purchases lots limits lot_worth feed_worth"
    empty = dict.fromkeys([*lists.split(), "cautions", "assumptions"], ())
    bare = dataclasses.replace(program, **empty)
    text = pages(season_pdf(bare, farm, PRINTED))
    assert "Nothing is bought." in " ".join(text)


def test_metric_farms_read_metric() -> None:
    program, farm = example(units="metric")
    text = pages(season_pdf(program, farm, PRINTED))
    whole = " ".join(text)
    assert "kg a head" in whole
    assert " lb" not in whole[: whole.index("Take care")].replace("0.4 lb of protein", "")
    assert "/ton" not in whole
    assert "7 Nov 2026 to 7 May 2027" in text[0]


def test_the_proof_speaks_of_shortages_only_where_there_are_any() -> None:
    assert "shortages" in proof(0.01, short=True)
    assert "within 1.0% of the least possible cost" in proof(0.01, short=False)
    assert "not proven" in proof(5.3, short=True)
    assert "%" not in proof(5.3, short=True) + proof(0.7, short=False)


def test_dangers_are_never_cut_but_go_on_on_another_page() -> None:
    program, farm = example()
    long = "Keep it from them, and ask a veterinarian before any of it is fed. " * 5
    dangers = tuple(Caution("danger", "", f"Number {one}. {long}", "") for one in range(30))
    text = pages(season_pdf(dataclasses.replace(program, cautions=dangers), farm, PRINTED))
    assert len(text) > 5
    together = " ".join(text)
    assert all(f"Number {one}." in together for one in range(30))
