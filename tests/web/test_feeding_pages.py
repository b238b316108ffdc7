"""What to put out on a day: the printed list's column, noted at a touch, and undone by a line."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import (
    adopt,
    ask_plan,
    programs,
    read_lines,
    read_program,
    standing_dangers,
)
from rickyard.book.working.working import work_once
from rickyard.display import count_text, display_for, number_text
from rickyard.farm import Caution
from rickyard.service import Planned, PlanRequest, open_farm, plan_farm
from rickyard.sheets.paper import week_list
from rickyard.web.sections import day_in, day_shown, rows_listed
from support.farm_folders import SHORT, write_texts


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    folder = write_texts(tmp_path_factory.mktemp("made") / "good", SHORT)
    return plan_farm(open_farm(folder), PlanRequest(effort=0.01))


@pytest.fixture
def season(
    new_book: BookPlace, made: Planned, tmp_path: Path, monkeypatch: Any, open_pages: Any
) -> Iterator[Any]:
    """Return the season of a farm that is fed by a program."""
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
    with opened_book(new_book):
        open_pages(new_book)
        season = take_in(write_texts(tmp_path / "good", SHORT)).season
        ask_plan(None, season.id)
        work_once("w")
        kept = read_program(None, season.id)
        assert kept is not None
        adopt(None, season.id, kept.id)
        yield season


@pytest.fixture
def day(made: Planned) -> date:
    """Return a day on which cows are put out something."""
    return min(one.day for one in made.program.deliveries if one.group_id == "COWS")


def post(path: str, **what: Any) -> Any:
    client = Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)
    return client.post(f"/hill-farm/feeding/{path}", what)


def on(season: Any, day: date) -> list[Any]:
    return [row for _, row in read_lines(None, season.id, "fed") if row.day == day]


def test_a_day_is_a_column_of_the_printed_week(
    season: Any, made: Planned, day: date, new_book: BookPlace, open_pages: Any
) -> None:
    get = open_pages(new_book)
    week = week_list(made.program, made.farm, made.program.start)
    page = get(f"/hill-farm/feeding/{day}")
    at = (day - week.start).days
    put_out = [
        (group.name, line.name)
        for group in week.groups
        for line in group.lines
        if line.cells[at] and not line.is_share
    ]
    assert put_out
    for group, name in put_out:
        assert name in page.text.partition("Load up")[2].partition(group)[2]
    assert f"/hill-farm/feeding/week/{day}" in page.links
    assert f"/hill-farm/feeding/{day + timedelta(days=1)}" in page.links
    assert get("/hill-farm/feeding/2030-01-01").status == 422
    assert get("/hill-farm/feeding/").status == 200
    assert day_in(made.program, date(2030, 1, 1)) == made.program.end - timedelta(days=1)


def test_bales_to_haul_are_drawn_and_each_feed_has_its_sign(made: Planned, day: date) -> None:
    shown = day_shown(made.program, made.farm, day, day, (), "UTC")
    forage = {one.source_id for one in made.program.sources if one.is_forage}
    loads = [one for one in made.program.deliveries if one.day == day]
    whole = sum(one.bales or 0 for one in loads)
    assert (f'aria-label="{count_text(whole, "bale")}"' in shown.rolls) == (0 < whole <= 24)
    assert all(one.flag.startswith("<svg") for one in shown.loads)
    assert {one.source_id for one in loads} - forage
    assert any("m-sack" in one.flag or "m-tub" in one.flag for one in shown.loads)


def test_dangers_of_the_week_stand_on_each_of_its_days(
    season: Any, made: Planned, day: date, new_book: BookPlace, open_pages: Any, monkeypatch: Any
) -> None:
    """A bale put out yesterday is still being eaten: its danger is told on the days after it."""
    bales = next(one for one in made.program.deliveries if one.bales)
    harm = Caution("danger", bales.source_id, "This hay holds nitrate.", "a source")
    program = replace(made.program, cautions=(harm,))
    told = replace(made, program=program)
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: told)
    ask_plan(None, season.id)
    work_once("w")
    kept = read_program(None, season.id)
    assert kept is not None
    adopt(None, season.id, kept.id, list(standing_dangers(kept.planned)))
    start = bales.day - timedelta(days=(bales.day - program.start).days % 7)
    for number in range(7):
        page = open_pages(new_book)(f"/hill-farm/feeding/{start + timedelta(days=number)}")
        assert harm.sentence in page.text


def test_fed_writes_the_list_once_and_undo_takes_it_back_by_a_line(
    season: Any, made: Planned, day: date, new_book: BookPlace, open_pages: Any
) -> None:
    get, fact = open_pages(new_book), str(uuid4())
    before = on(season, day)
    wanted = rows_listed(made.program, made.farm, day, "COWS")
    said = {"as": "listed", "group": "COWS", "fact": fact, "anchor": "g1"}
    seen = [str(line) for line, row in read_lines(None, season.id, "fed") if row.day == day]
    for _ in range(2):
        answer = post(f"{day}/fed", **said, seen=seen)
        assert answer.headers["Location"] == f"/hill-farm/feeding/{day}#g1"
    now = on(season, day)[len(before) :]
    assert [(one.source_id, one.bales) for one in now] == [
        (one.source_id, one.bales) for one in wanted
    ]
    for one, asked in zip(now, wanted, strict=True):
        assert one.mass_kg == (asked.mass_kg and pytest.approx(asked.mass_kg, abs=0.001))
    assert "Fed. Noted" in get(f"/hill-farm/feeding/{day}").text
    other = post(f"{day}/fed", **{**said, "fact": str(uuid4())}, seen=seen)
    assert other.status_code == 422
    assert "meanwhile" in other.content.decode()
    lines = [str(line) for line, row in read_lines(None, season.id, "fed") if row in now]
    for _ in range(2):
        assert post(f"{day}/undo", line=lines, fact=fact).status_code == 302
    assert on(season, day) == before
    assert post(f"{day}/undo", line=lines, fact=str(uuid4())).status_code == 422
    assert post(f"{day}/undo", line="x").status_code == 404


def test_another_amount_is_noted_as_typed(
    season: Any, made: Planned, day: date, new_book: BookPlace, open_pages: Any
) -> None:
    before = on(season, day)
    lot, feed = made.farm.lots[0].lot_id, made.farm.feeds[0].feed_id
    seen = [str(line) for line, row in read_lines(None, season.id, "fed") if row.day == day]
    said = {"group": "COWS", "seen": seen}
    assert post(f"{day}/fed", **said).status_code == 422
    wrong = post(f"{day}/fed", **said, **{f"bales:{lot}": "two"})
    assert wrong.status_code == 422
    assert on(season, day) == before
    more = {"more": "0.5", "more_unit": "bales", "more_of": lot}
    post(f"{day}/fed", **said, **{f"bales:{lot}": "3", f"mass_kg:{feed}": "40"}, **more)
    now = on(season, day)[len(before) :]
    assert [(one.source_id, one.bales) for one in now] == [(lot, 3.0), (feed, None), (lot, 0.5)]
    assert number_text(display_for("us").mass(now[1].mass_kg)) == "40"


def test_nothing_is_noted_of_a_day_to_come(
    season: Any, made: Planned, new_book: BookPlace, open_pages: Any, monkeypatch: Any
) -> None:
    day = made.program.start
    before = on(season, day)
    monkeypatch.setattr("rickyard.web.daily.days.day_at", lambda *_: day - timedelta(days=1))
    assert "on the day itself" in open_pages(new_book)(f"/hill-farm/feeding/{day}").text
    answer = post(f"{day}/fed", group="COWS", **{"as": "listed"})
    assert answer.status_code == 422
    assert on(season, day) == before
