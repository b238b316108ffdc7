import dataclasses
import io
import math
from datetime import date, timedelta
from typing import Any

import pytest
from rich.console import Console

from rickyard.cli.show.needs import NeedsRow, merged, print_needs
from rickyard.cli.show.plan import print_program
from rickyard.cli.show.read import print_readings
from rickyard.cli.show.reasons import changes_sentence
from rickyard.display import Display
from rickyard.farm import Caution
from rickyard.forage.reading.reading import LotReading, ReadNumber
from rickyard.program.result.result import FarmLimit, Sale
from support.season_example import CAUTIONS, example, large_example, make_farm


class AsciiFile(io.StringIO):
    encoding = "ascii"


def printed(show: Any, *what: Any, width: int = 80, file: io.StringIO | None = None) -> str:
    out = file or io.StringIO()
    show(*what, Console(file=out, width=width, highlight=False))
    return out.getvalue()


@pytest.mark.parametrize("width", [80, 120])
@pytest.mark.parametrize("kind", ["enough", "hay_short", "need_short"])
def test_a_program_is_plain_text_within_its_width(kind: Any, width: int) -> None:
    text = printed(print_program, *example(kind), width=width)
    assert "\x1b" not in text
    assert max(len(line) for line in text.splitlines()) <= width


def test_the_answer_comes_first_and_dangers_before_notes() -> None:
    text = printed(print_program, *example("hay_short"))
    assert "Hay runs short from Apr 10" in "\n".join(text.splitlines()[:3])
    assert "2 dangers below. Read them before feeding." in text
    order = [text.index(word) for word in ("Spring cows, 62", "What to buy", "Where the hay goes")]
    assert order == sorted(order)
    assert text.index("DANGER") < text.index("Warning ") < text.index("Note ")
    assert "veterinarian" in " ".join(text.split())


def test_the_bar_is_drawn_with_what_the_terminal_can_show() -> None:
    assert "█" in printed(print_program, *example("hay_short"))
    bar = printed(print_program, *example("hay_short"), file=AsciiFile())
    assert "█" not in bar
    assert "# eaten  = lost" in bar
    assert "x missing" in bar


def test_names_with_brackets_are_printed_as_they_are() -> None:
    program, farm = example()
    name = "[bold]Tarp[/] [red]"
    sources = tuple(dataclasses.replace(one, name=name) for one in program.sources)
    text = printed(print_program, dataclasses.replace(program, sources=sources), farm)
    assert name in text


def test_many_runs_are_told_as_phases() -> None:
    program, farm = large_example(restless=True)
    text = printed(print_program, program, farm, width=100)
    assert "Nov 7 to Nov 27" in text
    assert "–" in text


def test_metric_farms_read_kilograms() -> None:
    text = printed(print_program, *example(units="metric"))
    assert "kg a head" in text
    assert "short ton" not in text


def needs_row(start: date, stage: str, nem: float, days: int = 7, head: int = 62) -> NeedsRow:
    end = start + timedelta(days=days)
    return NeedsRow("Spring cows", start, end, stage, head, 590.0, nem, 0.0, 0.9, 0.02, 0.015, 12)


def test_needs_of_one_stage_and_month_are_told_as_their_mean() -> None:
    rows = [
        needs_row(date(2026, 11, 7), "mid gestation", 10.0),
        needs_row(date(2026, 11, 14), "mid gestation", 11.0),
        needs_row(date(2026, 11, 21), "late gestation", 13.0),
        needs_row(date(2026, 12, 5), "late gestation", 14.0, days=3),
        needs_row(date(2026, 12, 8), "late gestation", math.nan),
    ]
    told = merged(rows)
    assert [(row.start.day, row.end.day, row.nem_mcal) for row in told] == [
        (7, 21, 10.5),
        (21, 28, 13.0),
        (5, 15, 14.0),
    ]


def test_stages_that_only_count_days_are_one_stage() -> None:
    rows = [
        needs_row(date(2027, 3, 1), "pregnant, 8 days to calving", 14.8),
        needs_row(date(2027, 3, 8), "pregnant, 1 day to calving", 15.4),
        needs_row(date(2027, 3, 15), "nursing, week 1", 13.3),
        needs_row(date(2027, 3, 22), "nursing, week 2", 14.7),
    ]
    assert [row.stage for row in merged(rows)] == [
        "pregnant, 8–1 days to calving",
        "nursing, week 1–2",
    ]


def test_needs_fit_eighty_columns_and_show_what_is_not_asked_for() -> None:
    rows = [needs_row(date(2026, 11, 7), "[late] gestation, thin", math.nan)]
    text = printed(print_needs, rows, make_farm())
    assert max(len(line) for line in text.splitlines()) <= 80
    assert "Spring cows, 62 head" in text
    assert "[late] gestation" in " ".join(text.split())
    line = next(line for line in text.splitlines() if "Nov 7" in line)
    assert " - " in line
    assert "1,301" in line  # 590 kg in pounds
    assert " 590 " in printed(print_needs, rows, make_farm("metric"))


def reading() -> LotReading:
    return LotReading(
        lot_id="L5",
        headline="Fair hay that is dangerous to pregnant stock.",
        reasons=("Nitrate is high.", "Fiber is [closed]."),
        suits="Dry open cows, diluted.",
        lacks="Protein for cows in milk.",
        cautions=(CAUTIONS[0], CAUTIONS[1]),
        numbers=(
            ReadNumber("cp_pct", "crude protein", 8.4, "% of dry matter", 1, "lab", "printed"),
            ReadNumber("nem", "net energy", 1.12, "Mcal/kg dry matter", 2, "computed", "NRC"),
        ),
    )


def test_a_reading_gives_answer_hazard_reasons_numbers_in_this_order() -> None:
    text = printed(print_readings, [reading()], make_farm())
    places = [
        text.index(word)
        for word in (
            "Sudan, frosted end: Fair hay",
            "DANGER",
            "Fiber is [closed].",
            "Fits",
            "Lacks",
            "crude protein",
        )
    ]
    assert places == sorted(places)
    assert "0.51" in text  # 1.12 Mcal/kg in Mcal/lb
    assert "Mcal/lb" in text
    assert "Mcal/kg" in printed(print_readings, [reading()], make_farm("metric"))
    assert max(len(line) for line in text.splitlines()) <= 80


def test_loads_sales_reserve_wishes_and_changes_are_told() -> None:
    program, farm = example("need_short")
    first, *others = program.purchases
    lot, *rest = program.lots
    costs = dataclasses.replace(program.costs, feed_left=-210.0, changes=75.0)
    full = dataclasses.replace(
        program,
        costs=costs,
        purchases=(dataclasses.replace(first, loads=7, left_kg=500.0), *others),
        sales=(Sale("L1", "Tarp fescue", 9000.0, 7740.0, 22.0, 810.0),),
        lots=(dataclasses.replace(lot, sold_t=7.74), *rest),
        farm_limits=(
            FarmLimit("cash", "USD", "at_most", 9500.0, 8100.0, 0.0),
            FarmLimit("reserve", "t DM", "at_least", 10.0, 12.0, 0.0),
        ),
    )
    text = printed(print_program, full, farm)
    assert max(len(line) for line in text.splitlines()) <= 80
    said = " ".join(text.split())
    assert "loads as fed price cost" in said
    assert f"Left over on the last day: 0.6 tons of {first.name}, $" in said
    assert "of what it cost. Ask for a part load." in said
    assert "What to sell on the first day" in said
    assert "Tarp fescue 9.9 tons 22 $810" in said
    assert "Bought feed left over, value kept -$210" in said
    assert "Cost of switching hays $75" in said
    assert "8.5 tons sold, " in said
    assert "lot in yard eaten lost sold left bales fed" in said
    assert "Feed costs $8,100 of the $9,500 available." in said
    assert "13 tons of hay left on the last day, 11 tons needed in reserve." in said
    assert "Wishes - No Wheat straw to First-calf heifers all season: kept." in said
    assert "Hay changes: Dec 5, Mar 27." in said
    assert "Hay changes: Mar 6." in said
    assert "within 0.4% of the least possible cost" in said


@pytest.mark.parametrize(
    ("nutrient", "words"),
    [
        ("cash", "but money for feed runs short."),
        ("reserve", "is less than the reserve you asked for"),
    ],
)
def test_what_the_whole_farm_misses_is_the_answer_where_no_animal_goes_short(
    nutrient: str, words: str
) -> None:
    program, farm = example("need_short")
    missed = dataclasses.replace(
        program.shortages[0], group_id="", nutrient=nutrient, most_per_head_day=None
    )
    alone = dataclasses.replace(program, shortages=(missed,))
    assert words in " ".join(printed(print_program, alone, farm).split())
    both = dataclasses.replace(program, shortages=(missed, *program.shortages))
    said = " ".join(printed(print_program, both, farm).split())
    assert "Fall cows with calves are short of protein" in said


def test_a_promise_of_assurance_stands_with_the_answer() -> None:
    program, farm = example("enough")
    sure = dataclasses.replace(farm, season=dataclasses.replace(farm.season, assurance_pct=90.0))
    said = " ".join(printed(print_program, program, sure).split())
    assert said.index("90% assurance") < said.index("what to put out each day")
    assert "assurance" not in printed(print_program, program, farm)


def test_many_wishes_are_all_told_and_many_reasons_are_not() -> None:
    program, farm = example("enough")
    wishes = tuple(
        dataclasses.replace(program.wishes[0], sentence=f"Wish number {n}.") for n in range(14)
    )
    many = tuple(
        dataclasses.replace(program.limits[0], sentence=f"Limit number {n}.") for n in range(14)
    )
    text = printed(print_program, dataclasses.replace(program, wishes=wishes, limits=many), farm)
    assert "Wish number 13." in text
    assert "Limit number 7." in text
    assert "Limit number 8." not in text
    assert "6 more in the JSON file." in text


def test_no_lots_is_said() -> None:
    assert "no lots" in printed(print_readings, [], make_farm())


def test_what_is_grazed_is_no_other_hay() -> None:
    program, _ = example("enough")
    feeding = tuple(
        dataclasses.replace(row, source_id="F3") if row.period == 8 else row
        for row in program.feeding
        if row.group_id == "G1" and row.source_id.startswith("L") and row.period in (7, 8)
    )
    said = []
    for is_hay in (True, False):
        sources = tuple(
            dataclasses.replace(one, is_forage=True, is_hay=is_hay)
            if one.source_id == "F3"
            else one
            for one in program.sources
        )
        fed = dataclasses.replace(program, sources=sources, feeding=feeding)
        said.append(changes_sentence(fed, "G1", Display()))
    assert said[0].startswith("Hay changes: ")
    assert said[1] == ""


def test_a_danger_is_pointed_to_under_what_a_group_is_fed() -> None:
    program, farm = example()
    row = program.feeding[0]
    name = next(one.name for one in program.sources if one.source_id == row.source_id)
    danger = Caution("danger", row.source_id, "It kills.", "")
    told = dataclasses.replace(program, cautions=(danger,))
    assert "DANGER: read the note on" not in " ".join(
        printed(print_program, dataclasses.replace(program, cautions=()), farm).split()
    )
    assert f"DANGER: read the note on {name} below" in " ".join(
        printed(print_program, told, farm).split()
    )
