"""Sheets from pages, where hay stands, and what is written of a lot's bales on its page."""

from collections.abc import Iterator
from datetime import date
from html import unescape
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
    read_farm,
    read_program,
    standing_dangers,
)
from rickyard.book.working.working import work_once
from rickyard.display import display_for, money_text
from rickyard.farm import MoveKind
from rickyard.service import PlanRequest, lot_sheets, open_farm, plan_farm, yard_on
from rickyard.sheets.paper import lot_pdf, season_pdf, week_pdf, week_start_of
from support.farm_folders import GOOD, write_texts

DAY = date(2025, 12, 4)
ON = f"?on={DAY}"
#: The farm with a short season and no wish.
SHORT = {
    **GOOD,
    "farm.toml": GOOD["farm.toml"].replace("2026-04-15", "2025-12-20"),
    "wishes.csv": GOOD["wishes.csv"].splitlines()[0] + "\n",
}


@pytest.fixture
def hill(new_book: BookPlace, open_pages: Any, tmp_path: Path) -> Iterator[Any]:
    """Return the season of a farm in a book of the test's own, whose pages can be asked for."""
    with opened_book(new_book):
        season = take_in(write_texts(tmp_path / "good", SHORT)).season
        open_pages(new_book)
        yield season


@pytest.fixture
def client() -> Client:
    return Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)


def test_sheets_are_those_of_the_terminal(
    hill: Any, client: Client, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for address in ("feeding/week.pdf", "season/season.pdf"):
        assert client.get(f"/hill-farm/{address}").status_code == 404
    made = plan_farm(open_farm(tmp_path / "good"), PlanRequest(effort=0.01, weekly=True))
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
    ask_plan(None, hill.id)
    work_once("w")
    kept = read_program(None, hill.id)
    assert kept is not None
    adopt(None, hill.id, kept.id, standing_dangers(kept.planned))
    program, farm = kept.planned.program, kept.planned.farm
    start = week_start_of(program, DAY)
    assert start is not None
    today = date.today()
    for address, content in (
        (f"feeding/week.pdf{ON}", week_pdf(program, farm, start, today)),
        ("season/season.pdf", season_pdf(program, farm, today)),
        (f"hay/A1/sheet.pdf{ON}", lot_pdf(lot_sheets(farm, ["A1"], DAY), farm, DAY)),
    ):
        answer = client.get(f"/hill-farm/{address}")
        assert answer["Content-Type"] == "application/pdf"
        assert answer.content == content, address
    assert client.get("/hill-farm/hay/none/sheet.pdf").status_code == 404
    page = client.get(f"/hill-farm/feeding/week/{start}").content.decode()
    assert f"/hill-farm/feeding/week.pdf?on={start}" in page


def test_where_hay_stands_and_what_it_loses(hill: Any, client: Client) -> None:
    page = unescape(client.get(f"/hill-farm/yard-map{ON}").content.decode())
    yard = yard_on(read_farm(None, hill.id), DAY)
    display = display_for("us")
    assert "No hay stands in the open." in page
    for one in yard.lines:
        assert display.percent_text(one.will_lose_pct) in page
        assert one.will_lose_usd is not None
        assert money_text(one.will_lose_usd) in page
        for tip in one.advice:
            assert tip.sentence in page


def test_hay_in_the_open_is_the_answer(get: Any) -> None:
    page = get("/larkmoor-farm/yard-map?on=2026-11-28")
    assert "3 lots in the open will lose hay worth $749." in page.text


def test_bales_are_counted_and_sold_on_the_page_of_their_lot(hill: Any, client: Client) -> None:
    said = {"what": "sold", "bales": "8", "counted_on": str(DAY), "fact": str(uuid4())}
    for _ in range(2):
        assert client.post("/hill-farm/hay/A1/note", said)["Location"] == "/hill-farm/hay/A1"
    sold = [one for one in read_farm(None, hill.id).moves if one.kind is MoveKind.SOLD]
    assert [(one.lot_id, one.bales, one.day) for one in sold if one.day == DAY] == [("A1", 8, DAY)]
    client.post("/hill-farm/hay/A1/note", {**said, "what": "count", "fact": str(uuid4())})
    lot = read_farm(None, hill.id).lot("A1")
    assert (lot.bales, lot.counted_on) == (8, DAY)


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({"what": "eaten"}, "Choose what happened"),
        ({"what": "sold", "bales": "few"}, '"few" is not a number'),
        ({"what": "sold", "bales": "3", "counted_on": ""}, "Write the day."),
    ],
)
def test_what_cannot_be_written_of_bales(
    hill: Any, client: Client, said: dict[str, str], says: str
) -> None:
    before = read_farm(None, hill.id)
    answer = client.post("/hill-farm/hay/A1/note", said)
    assert answer.status_code == 422
    assert says in unescape(answer.content.decode())
    assert read_farm(None, hill.id) == before
