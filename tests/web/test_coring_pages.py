"""A lot cored on its page bale by bale, and its sample sent."""

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from html import unescape
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from rickyard.book.acting import day_at
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.coring import sample_begun, samples_sent
from rickyard.book.folders import take_in
from rickyard.book.services import read_farm, read_things, write_thing
from rickyard.hay.sampling import SamplePlan
from rickyard.service.sections import coring_sheet
from support.farm_folders import GOOD, write_texts

LOT = "/hill-farm/tests/C3/"


@pytest.fixture
def hill(new_book: BookPlace, open_pages: Any, tmp_path: Path) -> Iterator[Any]:
    with opened_book(new_book):
        season = take_in(write_texts(tmp_path / "good", GOOD)).season
        open_pages(new_book)
        yield season


@pytest.fixture
def client(hill: Any) -> Client:
    return Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)


def text_of(answer: Any) -> str:
    """Return the words of a page."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", answer.content.decode())).split())


def plan_of(season: Any) -> SamplePlan:
    farm = read_farm(None, season.id)
    return coring_sheet(farm, "C3", day_at("", datetime.now(UTC)))


def test_each_press_shows_the_next_bale_until_the_bag_is_closed(hill: Any, client: Client) -> None:
    plan = plan_of(hill)
    assert plan.choice is not None
    first, second, *rest = plan.choice.bales
    each = plan.protocols[0].cores_a_bale
    spare = plan.choice.spares[0]
    page = client.get(f"{LOT}cores").content.decode()
    assert f"<title>Core 1 of {each * len(plan.choice.bales)}: bale {first}" in page
    assert f'name="cored" value="{first}"' in page
    assert f"It won’t go in: take bale {spare}" in page
    assert plan.probing.face[1:] in page
    assert client.post(f"{LOT}core", {"skip": first})["Location"] == f"{LOT}cores"
    assert f'name="cored" value="{spare}"' in client.get(f"{LOT}cores").content.decode()
    wrong = client.post(f"{LOT}core", {"cored": first})
    assert wrong.status_code == 422
    assert f"Bale {first} is done already" in text_of(wrong)
    for bale in (spare, second, *rest):
        for _ in range(each):
            client.post(f"{LOT}core", {"cored": bale, "fact": uuid4()})
    whole = client.get(f"{LOT}cores").content.decode()
    assert f"All {each * len(plan.choice.bales)} cores of" in whole
    assert 'name="cored"' not in whole
    bales = re.search(r'name="bales" value="(\d+)"', whole)
    assert bales is not None
    assert int(bales[1]) == len(plan.choice.bales)
    client.post(f"{LOT}cored", {"bales": bales[1], "fact": uuid4()})
    done = client.get(f"{LOT}cores")
    assert "was cored on" in text_of(done)
    assert "btn glove" not in done.content.decode()


def test_the_last_bale_is_taken_back_and_a_sample_begun_again(hill: Any, client: Client) -> None:
    plan = plan_of(hill)
    assert plan.choice is not None
    client.post(f"{LOT}core", {"cored": plan.choice.bales[0]})
    page = client.get(f"{LOT}cores").content.decode()
    assert f"Undo bale {plan.choice.bales[0]}" in page
    line = re.search(r'name="line" value="([^"]+)"', page)
    assert line is not None
    assert client.post(f"{LOT}core-back", {"line": line[1]}).status_code == 302
    assert "Undo bale" not in client.get(f"{LOT}cores").content.decode()
    again = client.post(f"{LOT}core-back", {"line": line[1]})
    assert again.status_code == 422
    assert client.post(f"{LOT}core-back", {"line": "x"}).status_code == 422
    assert client.post(f"{LOT}core", {"cored": "0"}).status_code == 422
    client.post(f"{LOT}core", {"cored": plan.choice.bales[0]})
    client.post(f"{LOT}core-back", {"anew": plan.sample_id})
    assert sample_begun(None, hill.id, "C3", plan.sample_id) is None


def test_nobody_is_sent_to_a_hot_stack(hill: Any, client: Client) -> None:
    thing, seen, lot = next(
        one for one in read_things(None, hill.id, "lot") if one[2].lot_id == "C3"
    )
    hot = replace(lot, highest_temperature_c=78.0)
    write_thing(None, hill.id, "lot", hot, thing=thing, seen=seen)
    answer = client.get(f"{LOT}cores")
    page = text_of(answer)
    assert "do not touch" in page
    assert "Stay away from this stack" in page
    assert "Which bales" not in page
    assert 'name="cored"' not in answer.content.decode()
    assert client.post(f"{LOT}core", {"cored": "3"}).status_code == 422


def test_a_sample_is_sent_and_says_when_its_result_comes(hill: Any, client: Client) -> None:
    refused = client.post(f"{LOT}sent", {"lab": "Hill lab"})
    assert refused.status_code == 422
    client.post(f"{LOT}cored", {"bales": "20", "fact": uuid4()})
    page = client.get("/hill-farm/tests/").content.decode()
    assert "Sent today" in page
    fact = str(uuid4())
    for _ in range(2):
        sent = client.post(f"{LOT}sent", {"lab": " Hill  lab ", "fact": fact})
        assert sent["Location"] == "/hill-farm/tests/"
    ((code, lab),) = [(one.code, one.lab) for one in samples_sent(None, hill.id)]
    assert (code, lab) == (plan_of(hill).sample_id, "Hill lab")
    after = client.get("/hill-farm/tests/").content.decode()
    assert "Sent today" not in after
    assert "to Hill lab" in text_of(client.get("/hill-farm/tests/"))


def test_what_is_sent_without_bales_names_the_buttons_of_the_sheet(
    hill: Any, client: Client
) -> None:
    told = text_of(client.post(f"{LOT}cored", {"bales": ""}))
    named = re.findall(r'"([^"]+today)"', told)
    assert len(named) == 2
    plan, buttons = plan_of(hill), set()
    assert plan.choice is not None
    for bale in (None, *plan.choice.bales):
        for _ in range(plan.protocols[0].cores_a_bale if bale else 0):
            client.post(f"{LOT}core", {"cored": bale, "fact": uuid4()})
        sheet = client.get(f"{LOT}cores").content.decode()
        buttons |= set(re.findall(r"<button[^>]*>([^<]+)</button>", sheet))
    assert set(named) <= buttons
