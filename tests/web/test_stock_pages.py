"""The stock: needs and hays alone as the service says them; what is written of a group is dated."""

import re
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
from rickyard.book.services import read_farm, read_group_facts, read_things
from rickyard.service import NotUnderstood, open_farm
from rickyard.service.sections import stock_needs
from support.farm_folders import GOOD, write_texts

DEMO = Path(__file__).resolve().parents[2] / "src" / "rickyard" / "demo_farm"
COWS = "/hill-farm/stock/COWS?on=2025-12-04"


@pytest.fixture
def hill(new_book: BookPlace, open_pages: Any, tmp_path: Path) -> Iterator[Any]:
    """Return the season of a farm in a book of the test's own, whose pages can be asked for."""
    with opened_book(new_book):
        season = take_in(write_texts(tmp_path / "good", GOOD)).season
        open_pages(new_book)
        yield season


def post(**said: str) -> Any:
    client = Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)
    return client.post(COWS, said)


def cows(hill: Any) -> tuple[Any, int, Any]:
    return next(one for one in read_things(None, hill.id, "group") if one[2].group_id == "COWS")


def test_the_list_says_what_each_group_needs(get: Any) -> None:
    page = get("/larkmoor-farm/stock/?on=2026-11-28")
    farm = open_farm(DEMO).farm
    assert f"{sum(one.head for one in farm.groups)} head." in page.text
    rows = [" ".join(" ".join(row).split()) for row in page.rows("h-groups")[1:]]
    for row, one in zip(rows, stock_needs(farm), strict=True):
        assert one.group.name in row
        if one.word == "gain":
            assert f"To grow {one.needs.max() / 0.45359237:.1f} lb a day" in row
        else:
            rise = 100 * (one.needs.max() / one.needs[0] - 1.0)
            assert (f"{rise:.0f}% more" if rise >= 2.0 else "The same all season") in row
        assert f"/larkmoor-farm/stock/{one.group.group_id}" in page.links


def test_each_hay_alone_is_said_with_its_danger(get: Any) -> None:
    page = get("/larkmoor-farm/stock/cows")
    farm = open_farm(DEMO).farm
    (needs,) = stock_needs(farm, "cows")
    assert [one.short.sum() for one in needs.hays] == sorted(one.short.sum() for one in needs.hays)
    for one in needs.hays:
        assert farm.lot(one.lot_id).name in page.text
    good = [one for one in needs.hays if one.enough_until is None and not one.is_dangerous]
    for one in good:
        assert farm.lot(one.lot_id).name in page.text.partition("A head needs")[0]
    assert sum(one.is_dangerous for one in needs.hays) == page.text.count("Danger: read the page")
    first, most = needs.needs[0], needs.needs.max()
    assert f"A head needs {first:.1f} Mcal a day on Nov 2 and {most:.1f} Mcal on" in page.text
    assert "A program says it." in page.text


def test_a_group_that_is_not_there(get: Any) -> None:
    assert get("/larkmoor-farm/stock/none").status == 404
    with pytest.raises(NotUnderstood):
        stock_needs(open_farm(DEMO).farm, "none")


def test_what_is_written_of_a_group_holds_from_its_day_and_counts_once(hill: Any) -> None:
    thing, seen, _ = cows(hill)
    said = {"head": "58", "weight_kg": "1200", "weight_kg_unit": "lb", "condition_score": "5.5"}
    said |= {"on": "2025-12-01", "seen": str(seen), "fact": str(uuid4())}
    assert [post(**said).status_code for _ in range(2)] == [302, 302]
    assert len(read_group_facts(None, hill.id, thing)) == 2
    now = read_group_facts(None, hill.id, thing)[-1]
    assert (now.day, now.head, now.condition_score) == (date(2025, 12, 1), 58, 5.5)
    group = read_farm(None, hill.id).group("COWS")
    assert group.weight_kg == pytest.approx(544.3, abs=0.1)
    assert group.calving_on == date(2026, 3, 1)
    page = unescape(Client(SERVER_NAME="127.0.0.1").get(COWS).content.decode())
    facts = re.findall(r'<tr><th scope="row">([^<]+)</th><td class="n">([^<]+)', page)
    assert facts == [("Dec 1, 2025", "58 head"), ("Nov 15, 2025", "60 head")]


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({}, "Write what changed"),
        ({"head": "many"}, '"many" is not a number'),
        ({"weight_kg": "90", "weight_kg_unit": "lb"}, "too light for a cow"),
        ({"head": "58", "on": "soon"}, '"soon"'),
        ({"head": "58", "seen": "7"}, "changed this after you looked"),
    ],
)
def test_what_cannot_be_is_told_and_not_written(hill: Any, said: dict[str, str], says: str) -> None:
    _, seen, before = cows(hill)
    answer = post(**{"seen": str(seen), **said})
    assert answer.status_code == 422
    assert says in unescape(answer.content.decode())
    assert cows(hill)[2] == before
