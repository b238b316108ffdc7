import dataclasses
from datetime import date

import pytest

from rickyard.display import Display
from rickyard.farm import Caution, FeedKind
from rickyard.sheets.wording.yard import (
    answer_of,
    dangerous_to,
    empty_on,
    hay_is_short,
    yard_line,
    yard_totals,
)
from support.season_example import END, START, example


def test_enough_hay_says_what_is_left_and_when() -> None:
    program, farm = example("enough")
    left = Display("us").tons_text(sum(lot.left_t for lot in program.lots))
    answer = answer_of(program, farm, Display("us"))
    assert answer.kind == "enough"
    assert answer.sentence == f"Enough hay: {left} left May 7."
    assert answer.empty_on is None


def test_short_hay_says_from_when_and_how_much() -> None:
    program, farm = example("hay_short")
    answer = answer_of(program, farm, Display("us"))
    assert answer.kind == "hay_short"
    assert answer.sentence == (
        "Hay runs short from Apr 10. Buy 23 tons of hay to last to May 7: as bought, losses "
        "counted."
    )
    assert answer.empty_on == date(2027, 4, 10)


def test_what_is_missing_is_the_dry_matter_of_the_hay_to_buy() -> None:
    program, _ = example("hay_short")
    assert yard_totals(program).missing_t == pytest.approx(20.865 * 0.88)


def test_a_need_that_is_short_while_hay_is_left_is_not_called_short_hay() -> None:
    program, farm = example("need_short")
    answer = answer_of(program, farm, Display("metric"))
    assert answer.kind == "need_short"
    assert not hay_is_short(program)
    assert "Fall cows with calves are short of protein from 27 Mar" in answer.sentence
    assert yard_totals(program).missing_t == 0.0


def test_the_line_falls_from_what_is_there_to_what_is_left() -> None:
    for kind in ("enough", "hay_short", "need_short"):
        program, _ = example(kind)
        line = yard_line(program)
        assert (line[0].day, line[-1].day) == (START, END)
        assert line[0].left_t == pytest.approx(sum(lot.start_t for lot in program.lots))
        assert line[-1].left_t == pytest.approx(sum(lot.left_t for lot in program.lots), abs=1e-6)
        masses = [point.left_t for point in line]
        assert masses == sorted(masses, reverse=True)


def test_a_yard_without_hay_is_never_called_empty_early() -> None:
    program, _ = example("enough")
    bare = dataclasses.replace(program, lots=())
    assert empty_on(bare) is None
    assert yard_line(dataclasses.replace(program, periods=())) == ()


def test_hay_that_must_be_bought_is_named_in_the_answer() -> None:
    program, farm = example("enough")
    sources = tuple(
        dataclasses.replace(one, is_forage=True, is_hay=True) if one.source_id == "F3" else one
        for one in program.sources
    )
    answer = answer_of(dataclasses.replace(program, sources=sources), farm, Display("us"))
    # 0.8 kg of dry matter a day for 14 head over 118 days are 1,322 kg, 1.46 short tons.
    assert answer.sentence.endswith("(1.5 tons of hay bought counted).")


def test_forage_grazed_is_no_hay_bought() -> None:
    program, farm = example("enough")
    sources = tuple(dataclasses.replace(one, is_forage=True) for one in program.sources)
    program = dataclasses.replace(program, sources=sources)
    feeds = tuple(
        dataclasses.replace(feed, kind=FeedKind.GRAZING) if feed.feed_id == "F3" else feed
        for feed in farm.feeds
    )
    answer = answer_of(program, dataclasses.replace(farm, feeds=feeds), Display("us"))
    assert "(1.5 tons of grazing counted)" in answer.sentence
    assert "1.5 tons of hay bought" not in answer.sentence


def test_no_hay_to_spare_is_said() -> None:
    program, farm = example("enough")
    lots = tuple(dataclasses.replace(lot, left_t=0.0) for lot in program.lots)
    answer = answer_of(dataclasses.replace(program, lots=lots), farm, Display("us"))
    assert answer.sentence == ("Enough hay, with none to spare: the yard is empty on May 7.")


def test_a_danger_is_marked_for_the_groups_it_is_for() -> None:
    program, farm = example()
    source, first, second = program.feeding[0].source_id, *farm.groups[:2]
    rows = tuple(
        dataclasses.replace(program.feeding[0], group_id=one.group_id, source_id=source)
        for one in (first, second)
    )
    kept = Caution("danger", source, "It is kept from them.", "", groups=(second.group_id,))
    for_all = Caution("danger", source, "Weigh it out.", "")
    one = dataclasses.replace(program, feeding=rows, cautions=(kept,))
    assert dangerous_to(one, farm, first.group_id) == set()
    assert dangerous_to(one, farm, second.group_id) == {source}
    assert dangerous_to(dataclasses.replace(one, cautions=(for_all,)), farm, first.group_id) == {
        source
    }


def test_of_several_shortages_the_one_felt_first_is_told() -> None:
    program, farm = example("need_short")
    one = program.shortages[0]
    for worse, milder in (("nem", "ca"), ("cp", "p"), ("nitrate", "nem"), ("nem", "cp")):
        both = tuple(dataclasses.replace(one, nutrient=what) for what in (milder, worse))
        told = answer_of(dataclasses.replace(program, shortages=both), farm, Display("us"))
        alone = answer_of(dataclasses.replace(program, shortages=both[1:]), farm, Display("us"))
        assert told.sentence == alone.sentence
