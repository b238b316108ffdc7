"""What if, wishes, remedies and reasons on the season's page: the services' own words and sums."""

import time
from collections.abc import Iterator
from dataclasses import replace
from html import unescape
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import ask_plan, read_farm, read_lines
from rickyard.book.working import working
from rickyard.book.working.working import work_once
from rickyard.display import money_text
from rickyard.farm import Wanted
from rickyard.program.result import Remedy
from rickyard.service import Asked, Planned, PlanRequest, changes_of, open_farm, plan_farm, what_if
from rickyard.web.sections import (
    remedies_shown,
)
from support.farm_folders import GOOD, write_texts

SEASON = "/hill-farm/season/"
#: The farm with a short season and no wish.
SHORT = {
    **GOOD,
    "farm.toml": GOOD["farm.toml"].replace("2026-04-15", "2025-12-20"),
    "wishes.csv": GOOD["wishes.csv"].splitlines()[0] + "\n",
}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    folder = write_texts(tmp_path_factory.mktemp("made") / "good", SHORT)
    return plan_farm(open_farm(folder), PlanRequest(effort=0.01))


@pytest.fixture
def hill(
    new_book: BookPlace, open_pages: Any, made: Planned, tmp_path: Path, monkeypatch: Any
) -> Iterator[Any]:
    """Return the season of a farm in an open book, for which a program is found at once."""
    monkeypatch.setattr(working, "plan_farm", lambda *_, **__: made)
    with opened_book(new_book):
        season = take_in(write_texts(tmp_path / "good", SHORT)).season
        open_pages(new_book)
        yield season


@pytest.fixture
def client() -> Client:
    return Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)


def answered(client: Client, address: str) -> tuple[int, str]:
    """Return the page of a question once it is answered."""
    end = time.monotonic() + 60.0
    while time.monotonic() < end:
        answer = client.get(address)
        if "Refresh" not in answer.headers:
            break
        assert "You may leave it and come back" in answer.content.decode()
        time.sleep(0.1)
    return answer.status_code, unescape(" ".join(answer.content.decode().split()))


def test_a_question_is_answered_as_the_service_does(
    hill: Any, client: Client, tmp_path: Path
) -> None:
    status, page = answered(client, f"{SEASON}what-if?of=head&group=COWS&head=70")
    assert status == 200
    opened = open_farm(write_texts(tmp_path / "again", SHORT))
    changes = changes_of(opened.farm, Asked(head=("COWS=70",)))
    base, (answer,) = what_if(opened, changes, PlanRequest(), together=True)
    assert answer.sentence in page
    for program in (base, answer.program):
        assert money_text(program.costs.total) in page
    assert read_farm(None, hill.id).group("COWS").head == 60


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ("of=head&group=COWS&head=many", '"many" is no number of head'),
        ("of=lost&lot=none&share=40", '"none" is no lot of this farm'),
        ("of=price&source=corn&more=much", "much"),
        ("of=grass&until=soon", '"soon" is no day'),
    ],
)
def test_a_question_that_is_not_understood(
    hill: Any, client: Client, asked: str, says: str
) -> None:
    status, page = answered(client, f"{SEASON}what-if?{asked}")
    assert status == 422
    assert says in page
    assert "--head" not in page.partition("<h2")[0]


def test_a_question_page_offers_every_name_of_the_farm(hill: Any, client: Client) -> None:
    _, page = answered(client, f"{SEASON}what-if")
    farm = read_farm(None, hill.id)
    for one in (*farm.lots, *farm.feeds, *farm.groups):
        assert one.name in page


def test_a_wish_is_written_once_and_taken_back(hill: Any, client: Client) -> None:
    said = {"wish": "keep_off", "source": "B2", "group": "STOCK", "fact": str(uuid4())}
    for _ in range(2):
        assert client.post(f"{SEASON}wish", said)["Location"] == SEASON
    ((line, row),) = read_lines(None, hill.id, "wishes")
    assert (row.wish, row.source_id, row.group_id) == (Wanted.KEEP_OFF, "B2", "STOCK")
    page = unescape(client.get(SEASON).content.decode())
    assert "None of Tarp fescue to Stockers" in page
    assert client.post(f"{SEASON}unwish", {"line": str(line)})["Location"] == SEASON
    assert read_lines(None, hill.id, "wishes") == []
    assert client.post(f"{SEASON}unwish", {"line": "x"}).status_code == 404


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({"wish": "much"}, "Choose what is wished"),
        ({"wish": "feed", "source": "none"}, "none"),
        ({"wish": "amount", "source": "corn", "as_fed_kg_per_head_day": "some"}, '"some"'),
    ],
)
def test_a_wish_that_breaks_a_rule_is_not_written(
    hill: Any, client: Client, said: dict[str, str], says: str
) -> None:
    answer = client.post(f"{SEASON}wish", said)
    assert answer.status_code == 422
    assert says in unescape(answer.content.decode())
    assert read_lines(None, hill.id, "wishes") == []


def test_reasons_of_a_program_stand_on_its_page(hill: Any, client: Client, made: Planned) -> None:
    ask_plan(None, hill.id)
    work_once("w")
    page = unescape(client.get(SEASON).content.decode())
    assert made.program.reasons
    for one in made.program.reasons:
        assert one.sentence in page
    assert "What if?" in page


def test_a_remedy_leads_to_what_it_would_do(made: Planned) -> None:
    start, end = made.program.start, made.program.end
    remedies = (
        Remedy("COWS", start, end, "tdn", "feed", "corn", 9071.85, None, 2400.0, "Buy corn."),
        Remedy("COWS", start, end, "tdn", "fewer_head", "", None, 5, -90.0, "Sell five cows."),
        Remedy("COWS", start, end, "tdn", "none", "", None, None, None, "Nothing helps."),
    )
    planned = replace(made, program=replace(made.program, remedies=remedies))
    found = remedies_shown(planned)
    assert [one.effect for one in found] == [
        "of=buy&buy=corn&tons=10.0",
        "of=head&group=COWS&head=55",
        "",
    ]
