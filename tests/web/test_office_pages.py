"""Laboratories' and feeds' prices across farms: each farm's own, written to several at once."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from rickyard.book.acting import NotTaken
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import farm_of, take_in
from rickyard.book.pricing import FeedSeen, write_price
from rickyard.book.services import read_things, read_trail
from support.farm_folders import GOOD, write_texts

ON = "?on=2026-11-20"


def called(name: str) -> dict[str, str]:
    return {**GOOD, "farm.toml": GOOD["farm.toml"].replace("Hill farm", name)}


@pytest.fixture
def farms(new_book: BookPlace, tmp_path: Path) -> Iterator[list[Any]]:
    """Return the seasons of two farms in an open book; the first has a price list."""
    found = []
    with opened_book(new_book):
        for name in ("Hill farm", "Moor farm"):
            folder = write_texts(tmp_path / name, called(name))
            if name == "Moor farm":
                (folder / "labs.csv").unlink()
            found.append(take_in(folder).season)
        yield found


def boxes(client: Client, address: str) -> list[tuple[str, bool]]:
    """Return what a page's boxes send, and whether each is ticked."""
    told = client.get(address).content.decode()
    found = re.findall(r'name="farm" value="([^"]+)"( checked)?', told)
    return [(value, bool(ticked)) for value, ticked in found]


def test_a_price_is_written_to_the_farms_that_are_ticked(
    farms: list[Any], new_book: BookPlace, open_pages: Callable[..., Any]
) -> None:
    get, client = open_pages(new_book), Client(SERVER_NAME="127.0.0.1")
    page = get(f"/prices{ON}")
    names = [row[0].strip() for row in page.rows("h-prices")[1:]]
    assert names == ["20 % cubes", "Cracked corn", "Ground limestone"]
    address = next(one for one in page.links if one.startswith("/prices/feed?feed=20"))
    address += ON.replace("?", "&")
    asks = [one for one in get(address).links if "what-if?of=price" in one]
    assert [one.partition("&more=")[2] for one in asks] == ["10", "-10"] * 2
    both = boxes(client, address)
    assert [ticked for _, ticked in both] == [True, True]
    sent = {"fact": str(uuid4()), "price_usd_per_kg": "510", "price_usd_per_kg_unit": "$/ton"}
    none = client.post(address, sent)
    assert none.status_code == 422
    assert "Tick the farms" in none.content.decode()
    late = {**sent, "on": "2026-12-24", "farm": both[0][0]}
    assert "is after today" in client.post(address, late).content.decode()
    sent |= {"on": "2026-11-16", "farm": [value for value, _ in both]}
    for _ in range(2):  # A form that is sent twice counts once.
        assert client.post(address, sent).status_code == 302
    assert [round(farm_of(one).feeds[0].price_usd_per_kg * 907.18474, 2) for one in farms] == [
        510.0
    ] * 2
    for season in farms:
        assert [one.service for one in read_trail(None, season.farm_id)].count("write prices") == 1
    row = get(f"/prices{ON}").rows("h-prices")[1]
    usual, seen, *_, span = (" ".join(one.split()) for one in row[1:])
    assert (usual, seen, span) == ("$510", "Nov 16, 2026", "")
    # Who looked before that is told whose price was changed, and nothing is written anywhere.
    things = [read_things(None, one.id, "feed")[0] for one in farms]
    seen = [
        FeedSeen(farms[0].id, things[0][0], things[0][1]),
        FeedSeen(farms[1].id, things[1][0], 1),
    ]
    with pytest.raises(NotTaken, match="Moor farm: Somebody changed this after you looked"):
        write_price(None, seen, 0.7, farm_of(farms[0]).season.start, uuid4())
    assert farm_of(farms[0]).feeds[0].price_usd_per_kg < 0.6


def test_a_package_goes_into_the_lists_that_are_ticked(
    farms: list[Any], new_book: BookPlace, open_pages: Callable[..., Any]
) -> None:
    get, client = open_pages(new_book), Client(SERVER_NAME="127.0.0.1")
    page = get("/labs")
    assert "County lab" in page.text
    assert "dry matter, protein, ADF, NDF and TDN" in page.text
    address = next(one for one in page.links if "package=Basic" in one)
    both = boxes(client, address)
    assert [ticked for _, ticked in both] == [True, False]
    sent = {"lab": "County lab", "package": "Basic", "price_usd": "21", "tests": "dm cp adf ndf"}
    sent |= {"chemistry": "NIR", "working_days": "6", "note": "", "fact": str(uuid4())}
    wrong = client.post(address, {**sent, "price_usd": "dear", "farm": both[0][0]})
    assert wrong.status_code == 422
    assert "&quot;dear&quot; is not a number" in wrong.content.decode()
    for _ in range(2):
        answer = client.post(address, {**sent, "farm": [value for value, _ in both]})
        assert answer.status_code == 302
    for season in farms:
        basic = next(one for one in farm_of(season).labs if one.package == "Basic")
        assert (basic.price_usd, basic.working_days) == (21.0, 6)
        assert [one.service for one in read_trail(None, season.farm_id)].count("write labs") == 1
    # Lines that were looked at before that are not written over.
    stale = client.post(address, {**sent, "fact": str(uuid4()), "farm": both[0][0]})
    assert stale.status_code == 422
    assert "Hill farm: Somebody has undone this line already" in stale.content.decode()
    assert client.get("/labs/package?lab=Dale+desk&package=Other").status_code == 404
    assert client.get("/labs/package").status_code == 200


def test_pages_of_prices_ask_as_often_for_two_farms_as_for_three(
    farms: list[Any], new_book: BookPlace, open_pages: Callable[..., Any], tmp_path: Path
) -> None:
    get, pages = open_pages(new_book), ("/labs", "/prices")

    def asked() -> list[int]:
        found = []
        for one in pages:
            get(one)
            with CaptureQueriesContext(
                connection,
            ) as queries:
                get(one)
            found.append(len(queries))
        return found

    before = asked()
    take_in(write_texts(tmp_path / "dale", called("Dale farm")))
    assert asked() == before
    assert max(before) <= 4
