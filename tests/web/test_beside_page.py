"""Two programs of a season side by side: the newest, and that fed by or the one before."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import (
    adopt,
    ask_plan,
    programs,
    read_program,
    read_program_before,
    standing_dangers,
)
from rickyard.book.working.working import work_once
from rickyard.display import display_for, money_text
from rickyard.service import Planned, PlanRequest, open_farm, plan_farm
from rickyard.web.sections import beside_shown
from support.farm_folders import SHORT, write_texts

BESIDE = "/hill-farm/season/beside"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    folder = write_texts(tmp_path_factory.mktemp("made") / "good", SHORT)
    return plan_farm(open_farm(folder), PlanRequest(effort=0.01))


@pytest.fixture(scope="module")
def dearer(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    """Return a program of the same farm with a third more cows."""
    texts = {**SHORT, "groups.csv": SHORT["groups.csv"].replace(",60,", ",80,")}
    folder = write_texts(tmp_path_factory.mktemp("dearer") / "good", texts)
    return plan_farm(open_farm(folder), PlanRequest(effort=0.01))


@pytest.fixture
def hill(
    new_book: BookPlace, made: Planned, dearer: Planned, tmp_path: Path, monkeypatch: Any
) -> Any:
    """Return the season of a farm for which two programs are found at once, one after the other."""
    coming = iter((made, dearer))
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: next(coming))
    with opened_book(new_book):
        yield take_in(write_texts(tmp_path / "good", SHORT)).season


def plan(hill: Any) -> Any:
    ask_plan(None, hill.id)
    assert work_once("w")
    kept = read_program(None, hill.id)
    assert kept is not None
    return kept


def test_the_first_program_has_none_beside_it(
    open_pages: Any, new_book: BookPlace, hill: Any
) -> None:
    get = open_pages(new_book)
    assert read_program_before(None, hill.id) is None
    assert "There is no other program to set beside." in get(BESIDE).text
    assert plan(hill).is_first
    assert read_program_before(None, hill.id) is None
    assert "There is no other program to set beside." in get(BESIDE).text
    assert BESIDE not in get("/hill-farm/season/").links


def test_the_newest_stands_beside_the_one_before_or_the_one_fed_by(
    open_pages: Any, new_book: BookPlace, hill: Any, made: Planned, dearer: Planned
) -> None:
    get = open_pages(new_book)
    first = plan(hill)
    assert not plan(hill).is_first
    other = read_program_before(None, hill.id)
    assert other is not None
    assert (other.id, other.is_adopted) == (first.id, False)
    assert BESIDE in get("/hill-farm/season/").links
    page = get(BESIDE).text
    for one in (made, dearer):
        assert money_text(one.program.costs.total) in page
    assert "than the one before" in page
    adopt(None, hill.id, first.id, standing_dangers(first.planned))
    other = read_program_before(None, hill.id)
    assert other is not None
    assert other.is_adopted
    assert "than the program that is fed by" in get(BESIDE).text


def test_every_figure_is_of_the_programs(made: Planned, dearer: Planned) -> None:
    shown = beside_shown(dearer, made, fed_by=False, priced=True)
    display = display_for("us")
    more = dearer.program.costs.total - made.program.costs.total
    assert more > 0.0
    assert money_text(more) in shown.answer
    assert shown.heads == ("Newest", "Before")
    tables = {one.key: one.rows for one in shown.tables}
    totals = [money_text(one.program.costs.total) for one in (dearer, made)]
    assert tables["cost"][-1] == ("Total", *totals)
    for number, planned in enumerate((dearer, made), start=1):
        for lot in planned.program.lots:
            left = [row[number] for row in tables["left"] if row[0] == lot.name]
            assert left in ([display.tons_text(lot.left_t)], ["none"])
    assert any(sentence.startswith("The newest program: ") for sentence in shown.short)


def test_who_may_not_see_costs_sees_none(made: Planned, dearer: Planned) -> None:
    shown = beside_shown(dearer, made, fed_by=False, priced=False)
    assert "$" not in shown.answer
    assert "cost" not in [one.key for one in shown.tables]


def test_the_same_program_costs_the_same(made: Planned) -> None:
    shown = beside_shown(made, made, fed_by=False, priced=True)
    assert shown.answer == "The newest program costs the same."
    assert shown.lede == "Both plan the same days."
    assert shown.other_hay == ()
    later = replace(made.program, start=made.program.periods[1].start)
    beside = beside_shown(made, replace(made, program=later), fed_by=False, priced=True)
    assert beside.lede.startswith("They plan different days, ")
