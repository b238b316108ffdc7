"""A first farm on pages: the questions of the terminal, nothing written before the last answer."""

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest
from click.testing import CliRunner
from django.test import Client

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.services import list_farms, plan_work, read_farm
from rickyard.cli.main import main
from rickyard.folder import read_folder
from rickyard.forage.values import feed_ids

#: What is told on each page: the first question's answer, then what belongs to it, in order.
PAGES: list[list[str]] = [
    ["Stone creek"],
    ["Ashlow"],
    ["US-KY"],
    ["2026-11-30"],
    ["2027-04-10"],
    ["44"],
    ["cows", "60", "1250", "2027-03-10"],
    [""],
    ["fescue", "round", "120", "4x5", "outside on the ground", "1", "2026-06-03", "80", "no"],
    [""],
    ["hulls", "Soybean hulls", "$210 a ton"],
    [""],
]


@pytest.fixture
def client(new_book: BookPlace, open_pages: Any) -> Iterator[Client]:
    with opened_book(new_book):
        open_pages(new_book)
        yield Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)


def follow(client: Client, address: str) -> tuple[str, str]:
    """Return where an address leads, and the page there."""
    for _ in range(3):
        answer = client.get(address)
        if answer.status_code != 302:
            assert answer.status_code == 200, answer.content.decode()
            return address, answer.content.decode()
        address = answer["Location"]
    raise AssertionError(f"{address} leads in a circle")


def names_of(page: str) -> list[str]:
    """Return the fields of a page's form, in their order."""
    form = page[page.index("Question ") : page.index('class="asknav"')]
    fields = re.findall(r'<input (?!type="hidden")[^>]*name="([^"]+)"', form)
    return list(dict.fromkeys(fields))


def tell(client: Client, address: str, said: list[str]) -> tuple[str, str]:
    """Answer a page, and what it asks beside once the first is answered."""
    known: dict[str, str] = {"head": said[0]}
    for count in range(1, len(said) + 2):
        joined = "&" if "?" in address else "?"
        there, page = follow(client, f"{address}{joined}{urlencode(known)}")
        if "head=" not in there.rpartition("?")[2]:
            return there, page
        known |= dict(zip(names_of(page), said, strict=False))
        assert count <= len(said) + 1
    raise AssertionError(f"{address}: not done with {known}")


def told_all(client: Client) -> tuple[str, str]:
    address, page = follow(client, "/start/ask/1")
    for said in PAGES:
        address, page = tell(client, address, said)
    return address, page


def test_ten_questions_end_in_a_farm_that_is_planned(client: Client) -> None:
    address, page = told_all(client)
    assert address.startswith("/start/ask/11?")
    assert "by a rough count" in page
    assert "Fescue is untested, so values of its kind are used" in page
    assert not list_farms(None)
    lines = [unescape(one) for one in re.findall(r'name="a" value="([^"]*)"', page)]
    assert lines == [line for said in PAGES for line in said]
    answers = [client.post("/start/keep", {"a": lines}) for _ in range(2)]
    assert [one["Location"] for one in answers] == ["/stone-creek/season/"] * 2
    (there,) = list_farms(None)
    work = plan_work(None, there.season)
    assert work is not None
    assert work.is_under_way
    season = client.get("/stone-creek/season/").content.decode()
    assert "A program is being worked out." in season


def test_pages_and_terminal_make_the_same_farm_of_the_same_answers(
    client: Client, tmp_path: Path
) -> None:
    lines = [line for said in PAGES for line in said]
    client.post("/start/keep", {"a": lines})
    typed = "".join(f"{line}\n" for line in lines)
    done = CliRunner().invoke(main, ["new", str(tmp_path / "f")], input=typed)
    assert done.exit_code == 0, done.output
    (there,) = list_farms(None)
    farm = read_farm(None, there.season)
    assert farm == read_folder(tmp_path / "f", known_table_ids=feed_ids()).farm


def test_what_is_not_understood_is_asked_again_with_the_reason(client: Client) -> None:
    address, _ = follow(client, "/start/ask/7?" + urlencode([("a", p[0]) for p in PAGES[:6]]))
    page = client.get(f"{address}&head=zebras").content.decode()
    assert "is not one of the words known here" in page
    page = client.get(
        f"{address}&head=cows&how-many-cows=60&what-does-one-weigh-in-lb=12"
        "&what-is-the-middle-day-of-calving="
    ).content.decode()
    assert "too light for a cow" in page
    assert 'aria-describedby="fault-what-does-one-weigh-in-lb"' in page
    assert "the middle of calving is" in page


def test_a_danger_of_a_feed_stands_where_it_is_chosen(client: Client) -> None:
    lines = [line for said in PAGES[:10] for line in said]
    address, _ = follow(client, "/start/ask/10?" + urlencode([("a", line) for line in lines]))
    assert address.startswith("/start/ask/10?")
    page = client.get(f"{address}&head=urea").content.decode()
    assert "Urea kills when it is eaten fast or unmixed" in page


def test_an_answer_is_changed_and_the_rest_stays(client: Client) -> None:
    _, page = told_all(client)
    again = [
        unescape(one)
        for one in re.findall(
            r'href="([^"]+)">Change<span class="hide"> the answer to: How much', page
        )
    ]
    address, page = tell(client, again[0], ["30"])
    assert address.startswith("/start/ask/11?")
    lines = [unescape(one) for one in re.findall(r'name="a" value="([^"]*)"', page)]
    assert lines == [line for said in [*PAGES[:5], ["30"], *PAGES[6:]] for line in said]


def test_a_page_that_is_not_next_leads_to_the_one_that_is(client: Client) -> None:
    assert client.get("/start/ask/9")["Location"] == "/start/ask/1"
    assert client.post("/start/keep", {"a": ["Stone creek"]})["Location"] == (
        "/start/ask/2?a=Stone+creek"
    )
    half = [("a", line) for said in PAGES[:6] for line in said] + [("a", "cows"), ("a", "60")]
    leads = client.get("/start/ask/8?" + urlencode(half))["Location"]
    assert leads == "/start/ask/7?" + urlencode(half[:-2])
    assert not list_farms(None)
    assert "The yard is empty." in client.get("/start").content.decode()
