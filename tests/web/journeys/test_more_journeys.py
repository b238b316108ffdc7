"""A first farm to a printed week; a what-if that is taken; a producer who sees only his farm."""

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from wsgiref.simple_server import make_server

import pytest

from rickyard.book.accounts import add_account
from rickyard.book.acting import Role
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.district import Keeper
from rickyard.book.folders import take_in
from rickyard.book.services import let_in, list_farms, programs, read_farm
from rickyard.book.working.working import work_once
from rickyard.program.planning import WhatIfAnswer
from rickyard.service import Planned, PlanRequest, plan_farm
from rickyard.web.serving import Access, make_application
from support.books import quick_passwords
from support.browser import Browser
from support.farm_folders import write_texts
from support.hands import WAYS, Hand
from support.rows import few
from web.journeys.conftest import FARM, Visit, _Quiet, _Threads

PASSWORD = "four dry bales of hay"


@contextmanager
def served(application: Any) -> Iterator[int]:
    """Serve pages on this computer; yield the port."""
    with make_server("127.0.0.1", 0, application, _Threads, _Quiet) as server:
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
        thread.start()
        try:
            yield server.server_port
        finally:
            server.shutdown()
            thread.join()


#: What is told on each page of the ten questions: the first answer, then what belongs to it.
ANSWERS: tuple[tuple[str, ...], ...] = (
    ("Stone creek",),
    ("Ashlow",),
    ("US-KY",),
    ("2026-11-30",),
    ("2026-12-21",),
    ("44",),
    ("cows", "60", "1250", "2027-03-10"),
    ("",),
    ("fescue", "round", "120", "4x5", "outside on the ground", "1", "2026-06-03", "80", "no"),
    ("",),
    ("hulls", "Soybean hulls", "$210 a ton"),
    ("",),
)
_FIELDS = """[...new Set([...document.querySelectorAll('.qs input[name]')]
  .filter(at => at.type !== 'hidden' && at.name !== 'head').map(at => at.name))]"""


@pytest.fixture(params=few(WAYS, 1))
def hand(request: pytest.FixtureRequest, browser: Browser) -> Iterator[Hand]:
    """Return somebody at the browser, at one width and in one way."""
    width, _, way = request.param.partition(" ")
    one = Hand(browser, int(width), way)
    one.begin()
    yield one
    one.end()


@pytest.mark.more
def test_a_first_farm_by_asking_ends_in_a_printed_week(
    hand: Hand, new_book: BookPlace, monkeypatch: pytest.MonkeyPatch
) -> None:
    quick = PlanRequest(effort=0.01)
    monkeypatch.setattr(programs, "plan_farm", lambda opened, *_, **__: plan_farm(opened, quick))
    with opened_book(new_book):
        application = make_application(new_book, "x" * 50 + "abcdefgh")
        with served(application) as port:
            base = f"http://127.0.0.1:{port}"
            hand.open(f"{base}/start/ask/1")
            for said in ANSWERS:
                answered(hand, said)
            assert "by a rough count" in hand.browser.text()
            assert "being worked out" in hand.press("Keep this farm")
            assert work_once("w")
            hand.open(f"{base}/stone-creek/season/")
            if hand.width < 1024:
                hand.press("Feed by this program?", leads=False)
            hand.tick_all(".ticks input")
            hand.press("Feed by this program")
            hand.open(f"{base}/stone-creek/feeding/week/2026-11-30")
            hand.browser.ask("Emulation.setEmulatedMedia", media="print")
            printed = hand.browser.text()
            hand.browser.ask("Emulation.setEmulatedMedia", media="")
    assert "Cows" in printed
    assert "Fescue" in printed
    assert "Look back" not in printed


def answered(hand: Hand, said: tuple[str, ...]) -> None:
    """Answer a question, then what it asks beside, and go on."""
    hand.tell("head", said[0])
    hand.press("Next")
    for _ in said[1:]:
        names = hand.browser.told(_FIELDS)
        if not names:
            return
        for name, value in zip(names, said[1:], strict=False):
            hand.tell(name, value)
        hand.press("Next")


@pytest.mark.more
def test_a_what_if_is_taken_and_given_back(
    visit: Visit, made: Planned, monkeypatch: pytest.MonkeyPatch
) -> None:
    def quick(opened: Any, changes: Any, *_: Any, **__: Any) -> Any:
        program = replace(made.program, costs=made.program.costs)
        return made.program, [WhatIfAnswer("70 cows", program, 900.0, "It would cost $900 more.")]

    monkeypatch.setattr(sys.modules["rickyard.book.working.what_ifs"], "what_if", quick)
    # The answer is there at once, however busy the machine is.
    monkeypatch.setattr("rickyard.web.pages.questions._WAITS", 60.0)
    visit.go("season/what-if")
    visit.fill("group", "COWS")
    visit.fill("head", "70")
    page = visit.press("Ask")
    assert "$900 dearer" in page
    assert read_farm(None, visit.season.id).group("COWS").head == 60
    page = visit.press("Take it")
    assert read_farm(None, visit.season.id).group("COWS").head == 70
    assert "It is written" in page
    visit.press("Undo")
    assert read_farm(None, visit.season.id).group("COWS").head == 60


def as_https(application: Any) -> Any:
    """Answer as behind a proxy that speaks HTTPS with the browser."""

    def answer(environ: dict[str, Any], start: Any) -> Any:
        environ["wsgi.url_scheme"] = "https"
        for name in ("HTTP_ORIGIN", "HTTP_REFERER"):
            if name in environ:
                environ[name] = environ[name].replace("http:", "https:", 1)
        return application(environ, start)

    return answer


def test_a_producer_who_is_invited_sees_only_his_farm(
    hand: Hand, new_book: BookPlace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    quick_passwords(monkeypatch)
    other = FARM["farm.toml"].replace("Hill farm", "Dale farm")
    with opened_book(new_book):
        hill = take_in(write_texts(tmp_path / "hill", FARM)).season
        dale = take_in(write_texts(tmp_path / "dale", {**FARM, "farm.toml": other})).season
        owner = add_account("Kim", "kim@example.org", PASSWORD)
        for season in (hill, dale):
            let_in(None, season.farm_id, owner, Role.PRODUCER)
        access = Access("localhost", Path("c"), Path("k"))
        with served(as_https(make_application(new_book, "x" * 50 + "abcdefgh", access))) as port:
            base = f"http://localhost:{port}"
            sign_in(hand, base, "kim@example.org")
            assert "Dale farm" in hand.browser.text()
            hand.open(f"{base}/hill-farm/people/")
            hand.fill("name", "Lee")
            hand.tell("role", "producer")
            hand.press("Make a link")
            link = hand.browser.told("document.querySelector('.note .printed').textContent")
            hand.browser.ask("Network.clearBrowserCookies")
            hand.open(link.replace("https:", "http:"))
            hand.fill("name", "Lee")
            hand.fill("email", "lee@example.org")
            hand.fill("password", PASSWORD)
            hand.press("Come in")
            mine = hand.open(f"{base}/")
            theirs = hand.open(f"{base}/dale-farm/")
            hand.browser.ask("Network.clearBrowserCookies")
        assert len(list_farms(owner)) == 2
    assert "Hill farm" in mine
    assert "Dale farm" not in mine
    assert "Dale farm" not in theirs


def sign_in(hand: Hand, base: str, email: str) -> None:
    hand.open(f"{base}/sign-in")
    hand.fill("email", email)
    hand.fill("password", PASSWORD)
    hand.press("Sign in")


@pytest.mark.more
def test_a_specialists_morning_over_thirty_farms(
    hand: Hand, new_book: BookPlace, tmp_path: Path
) -> None:
    """Who needs a call, what is due, a letter with its sheet, and a price for all of them."""
    with opened_book(new_book):
        for number in range(30):
            toml = FARM["farm.toml"].replace("Hill farm", f"Farm {number:02}")
            take_in(write_texts(tmp_path / str(number), {**FARM, "farm.toml": toml}))
        while Keeper().keep_next(datetime.now(UTC)):
            pass
        with served(make_application(new_book, "x" * 50 + "abcdefgh")) as port:
            base = f"http://127.0.0.1:{port}"
            while "not looked at yet" in hand.open(f"{base}/?on=2025-12-04"):
                pass
            assert hand.browser.text().count("Farm ") >= 30
            hand.press("Due")
            hand.browser.tab_to("at.textContent.startsWith('Letter to Farm ')")
            hand.browser.key("Enter", leads=True)
            assert "what to say, in one page" in hand.browser.text()
            assert "Short. 30 farms" in hand.press("Short")
            hand.press("Prices")
            assert "30 farms" in hand.press("Cracked corn")
            hand.fill("price_usd_per_kg", "233")
            hand.press("Write it to the farms ticked")
            assert {
                round(read_farm(None, one.season).feeds[1].price_usd_per_kg * 907.18474)
                for one in list_farms(None)
            } == {233}
