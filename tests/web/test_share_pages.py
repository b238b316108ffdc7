"""The page of a lot that is shown by a link: the lot's own sheet, and nothing else of the farm."""

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from rickyard.book.accounts import add_account
from rickyard.book.acting import Role, day_at
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import (
    adopt,
    ask_plan,
    let_in,
    programs,
    read_farm,
    read_program,
    standing_dangers,
)
from rickyard.book.working.working import work_once
from rickyard.display import display_for, money_text
from rickyard.service import PlanRequest, lot_sheets, open_farm, plan_farm
from rickyard.web.serving import Access, make_application
from support.books import quick_passwords
from support.farm_folders import GOOD, write_texts

HOST = "hay.example.org"
PASSWORD = "four dry bales of hay"
SHARE = "/hill-farm/hay/A1/share"


@pytest.fixture
def season(new_book: BookPlace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    quick_passwords(monkeypatch)
    with opened_book(new_book):
        make_application(new_book, "x" * 50 + "abcdefgh", Access(HOST, Path("c"), Path("k")))
        yield take_in(write_texts(tmp_path / "good", dict(GOOD))).season


def browser() -> Client:
    return Client(SERVER_NAME=HOST, raise_request_exception=False)


def owner_of(season: Any) -> Client:
    """Return the browser of the farm's producer."""
    client = browser()
    let_in(None, season.farm_id, add_account("Lee", "l@example.org", PASSWORD), Role.PRODUCER)
    told = {"email": "l@example.org", "password": PASSWORD}
    assert client.post("/sign-in", told, secure=True).status_code == 302
    return client


def text_of(answer: Any) -> str:
    return " ".join(unescape(answer.content.decode()).split())


def test_a_buyer_sees_one_lot_and_no_more(season: Any) -> None:
    owner, today = owner_of(season), day_at("", datetime.now(UTC))
    assert SHARE in text_of(owner.get("/hill-farm/hay/A1", secure=True))
    last = today + timedelta(days=3)
    made = text_of(owner.post(SHARE, {"last": str(last)}, secure=True))
    link = re.findall(rf'href="https://{HOST}(/s/[^"]+)"', made)[0]
    answer = browser().get(link, secure=True)
    assert answer.status_code == 200
    assert answer.headers["X-Robots-Tag"] == "noindex, nofollow"
    assert answer.headers["Cache-Control"] == "no-store"
    page, farm = text_of(answer), read_farm(None, season.id)
    (sheet,) = lot_sheets(farm, ["A1"], today)
    for said in (
        sheet.answer,
        sheet.farm,
        *sheet.good_for,
        sheet.standing,
        *sheet.buyers,
        *sheet.unknown,
    ):
        assert said in page
    for word, told in sheet.facts:
        assert f"<dt>{word}</dt><dd>{told}</dd>" in page
    for value in sheet.values:
        assert value.value in page
    for figure, words in sheet.figures:
        assert f"<b>{figure}</b> {words}" in page
    # No other lot, no group, no feed, and no way into the book.
    others = [one.name for one in farm.lots if one.lot_id != "A1"]
    others += [one.name for one in (*farm.groups, *farm.feeds)]
    assert [one for one in others if one in page] == []
    assert "/hill-farm/" not in page
    assert "Sign out" not in page


def test_every_danger_of_the_lot_stands_on_the_page(season: Any) -> None:
    owner = owner_of(season)
    farm, today = read_farm(None, season.id), day_at("", datetime.now(UTC))
    for lot in farm.lots:
        (sheet,) = lot_sheets(farm, [lot.lot_id], today)
        made = owner.post(f"/hill-farm/hay/{lot.lot_id}/share", {"last": str(today)}, secure=True)
        link = re.findall(rf'href="https://{HOST}(/s/[^"]+)"', text_of(made))[0]
        page = text_of(browser().get(link, secure=True))
        for caution in sheet.cautions:
            assert caution.sentence in page


def test_links_are_listed_without_their_secret_and_ended(season: Any) -> None:
    owner, today = owner_of(season), day_at("", datetime.now(UTC))
    made = text_of(owner.post(SHARE, {"last": str(today)}, secure=True))
    link = re.findall(rf'href="https://{HOST}(/s/[^"]+)"', made)[0]
    page = text_of(owner.get(SHARE, secure=True))
    assert link not in page
    which = re.findall('name="link" value="([^"]+)"', page)
    assert len(which) == 1
    ended = owner.post(f"{SHARE}/end", {"link": which[0]}, secure=True)
    assert (ended.status_code, ended["Location"]) == (302, SHARE)
    assert browser().get(link, secure=True).status_code == 404
    assert 'name="link"' not in text_of(owner.get(SHARE, secure=True))


@pytest.mark.parametrize(
    ("last", "says"), [("", "Choose the last day"), ("1999-01-01", "Choose a last day from")]
)
def test_a_day_that_cannot_be_is_said_at_its_question(season: Any, last: str, says: str) -> None:
    answer = owner_of(season).post(SHARE, {"last": last}, secure=True)
    assert answer.status_code == 422
    assert says in text_of(answer)


def test_a_lender_sees_the_season_in_all_and_no_more(
    season: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    owner, today, share = owner_of(season), day_at("", datetime.now(UTC)), "/hill-farm/season/share"
    told = {"last": str(today + timedelta(days=3))}
    refused = owner.post(share, told, secure=True)
    assert refused.status_code == 422
    assert "Choose first which program you feed by" in text_of(refused)
    made = plan_farm(open_farm(tmp_path / "good"), PlanRequest(effort=0.01, weekly=True))
    farm = made.farm
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
    ask_plan(None, season.id)
    work_once("w")
    kept = read_program(None, season.id)
    assert kept is not None
    adopt(None, season.id, kept.id, list(standing_dangers(kept.planned)))
    assert share in text_of(owner.get("/hill-farm/season/", secure=True))
    answer = owner.post(share, told, secure=True)
    link = re.findall(rf'href="https://{HOST}(/s/[^"]+)"', text_of(answer))[0]
    shown = browser().get(link, secure=True)
    assert shown.status_code == 200
    assert shown.headers["X-Robots-Tag"] == "noindex, nofollow"
    page, program = text_of(shown), made.program
    assert money_text(program.costs.total) in page
    left = display_for(farm.units).tons_text(sum(one.left_t for one in program.lots))
    assert f"<dt>Left on the last day</dt><dd>{left}</dd>" in page
    for group in farm.groups:
        assert f"<dt>{group.name}</dt><dd>{group.head} head</dd>" in page
    for one in program.cautions:
        assert (one.sentence in page) or one.level != "danger"
    # No lot by its worth, no way into the book, and nothing once the link is ended.
    assert "/hill-farm/" not in page
    assert "Who gets what" not in page
    which = re.findall('name="link" value="([^"]+)"', text_of(owner.get(share, secure=True)))
    assert owner.post(f"{share}/end", {"link": which[0]}, secure=True)["Location"] == share
    assert browser().get(link, secure=True).status_code == 404


def test_a_book_of_one_person_shows_nothing_by_links(open_pages: Any, demo_book: BookPlace) -> None:
    get = open_pages(demo_book)
    assert get("/s/guessed").status == 404
    assert get("/larkmoor-farm/hay/26-HILL-1/share").status == 404
    assert get("/larkmoor-farm/season/share").status == 404
    assert "/share" not in " ".join(get("/larkmoor-farm/hay/26-HILL-1").links)
