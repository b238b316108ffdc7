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
_TELL = """((name, value) => {
  const all = [...document.getElementsByName(name)].filter(at => at.type !== 'hidden');
  const at = all[0].type === 'radio' ? all.find(one => one.value === value) : all[0];
  if (at.type === 'radio') at.click(); else at.value = value;
})(%s, %s)"""
_FIELDS = """[...new Set([...document.querySelectorAll('.qs input[name]')]
  .filter(at => at.type !== 'hidden' && at.name !== 'head').map(at => at.name))]"""


@pytest.mark.more
def test_a_first_farm_by_asking_ends_in_a_printed_week(
    browser: Browser, new_book: BookPlace, monkeypatch: pytest.MonkeyPatch
) -> None:
    quick = PlanRequest(effort=0.01)
    monkeypatch.setattr(programs, "plan_farm", lambda opened, *_, **__: plan_farm(opened, quick))
    with opened_book(new_book):
        application = make_application(new_book, "x" * 50 + "abcdefgh")
        with served(application) as port:
            base = f"http://127.0.0.1:{port}"
            browser.open(f"{base}/", 360)
            browser.open(f"{base}/start/ask/1", 360)
            for said in ANSWERS:
                answered(browser, said)
            assert "by a rough count" in browser.text()
            browser.press("Keep this farm")
            assert "being worked out" in browser.text()
            assert work_once("w")
            browser.open(f"{base}/stone-creek/season/", 360)
            browser.press("Feed by this program?", leads=False)
            browser.told("document.querySelectorAll('.ticks input').forEach(at => at.click())")
            browser.press("Feed by this program")
            browser.open(f"{base}/stone-creek/feeding/week/2026-11-30", 360)
            browser.ask("Emulation.setEmulatedMedia", media="print")
            printed = browser.text()
            browser.ask("Emulation.setEmulatedMedia", media="")
    assert "Cows" in printed
    assert "Fescue" in printed
    assert "Look back" not in printed


def answered(browser: Browser, said: tuple[str, ...]) -> None:
    """Answer a question, then what it asks beside, and go on."""
    browser.told(_TELL % ("'head'", repr(said[0])))
    browser.press("Next")
    for _ in said[1:]:
        names = browser.told(_FIELDS)
        if not names:
            return
        for name, value in zip(names, said[1:], strict=False):
            browser.told(_TELL % (repr(name), repr(value)))
        browser.press("Next")


@pytest.mark.more
@pytest.mark.parametrize("visit", [1280], indirect=True)
def test_a_what_if_is_taken_and_given_back(
    visit: Visit, made: Planned, monkeypatch: pytest.MonkeyPatch
) -> None:
    def quick(opened: Any, changes: Any, *_: Any, **__: Any) -> Any:
        program = replace(made.program, costs=made.program.costs)
        return made.program, [WhatIfAnswer("70 cows", program, 900.0, "It would cost $900 more.")]

    monkeypatch.setattr(sys.modules["rickyard.book.working.what_ifs"], "what_if", quick)
    visit.go("season/what-if")
    visit.browser.fill("group", "COWS")
    visit.browser.fill("head", "70")
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
    browser: Browser, new_book: BookPlace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
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
            sign_in(browser, base, "kim@example.org")
            assert "Dale farm" in browser.text()
            browser.open(f"{base}/hill-farm/people/", 360)
            browser.fill("name", "Lee")
            browser.told("document.querySelector('[name=role][value=producer]').click()")
            browser.press("Make a link")
            link = browser.told("document.querySelector('.note .printed').textContent")
            browser.ask("Network.clearBrowserCookies")
            browser.open(link.replace("https:", "http:"), 360)
            browser.fill("name", "Lee")
            browser.fill("email", "lee@example.org")
            browser.fill("password", PASSWORD)
            browser.press("Come in")
            browser.open(f"{base}/", 360)
            mine = browser.text()
            browser.open(f"{base}/dale-farm/", 360)
            theirs = browser.text()
            browser.ask("Network.clearBrowserCookies")
        assert len(list_farms(owner)) == 2
    assert "Hill farm" in mine
    assert "Dale farm" not in mine
    assert "Dale farm" not in theirs


def sign_in(browser: Browser, base: str, email: str) -> None:
    browser.open(f"{base}/sign-in", 360)
    browser.fill("email", email)
    browser.fill("password", PASSWORD)
    browser.press("Sign in")


@pytest.mark.more
@pytest.mark.parametrize(("width", "script"), [(360, False), (1280, True)])
def test_a_specialists_morning_over_thirty_farms(
    browser: Browser, new_book: BookPlace, tmp_path: Path, width: int, script: bool
) -> None:
    """Who needs a call, what is due, a letter with its sheet: by mouse, by keys, without script."""
    with opened_book(new_book):
        for number in range(30):
            toml = FARM["farm.toml"].replace("Hill farm", f"Farm {number:02}")
            take_in(write_texts(tmp_path / str(number), {**FARM, "farm.toml": toml}))
        while Keeper().keep_next(datetime.now(UTC)):
            pass
        with served(make_application(new_book, "x" * 50 + "abcdefgh")) as port:
            browser.ask("Emulation.setScriptExecutionDisabled", value=not script)
            try:
                browser.open(f"http://127.0.0.1:{port}/?on=2025-12-04", width)
                while "not looked at yet" in browser.text():
                    browser.open(f"http://127.0.0.1:{port}/?on=2025-12-04", width)
                assert browser.text().count("Farm ") >= 30
                browser.press("Due")
                browser.tab_to("at.textContent.startsWith('Letter to Farm ')")
                browser.key("Enter", leads=True)
                letter = browser.text()
                assert "what to say, in one page" in letter
                browser.press("Short")
                assert "Short. 30 farms" in browser.text()
            finally:
                browser.ask("Emulation.setScriptExecutionDisabled", value=False)
