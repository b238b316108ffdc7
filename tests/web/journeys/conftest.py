"""One browser for all journeys, and a book of its own for each, served on this computer."""

import os
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from socketserver import ThreadingMixIn
from typing import Any
from wsgiref.simple_server import WSGIRequestHandler, WSGIServer, make_server

import pytest

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import programs
from rickyard.service import Planned, PlanRequest, open_farm, plan_farm
from rickyard.web.serving import make_application
from support.browser import Browser, browser_there, opened_browser
from support.farm_folders import GOOD, write_texts
from support.hands import WAYS, Hand
from support.rows import few

#: There are several files of this name, and none holds examples to try.
collect_ignore = ["conftest.py"]

#: The farm with a short season and no wish.
FARM = {
    **GOOD,
    "farm.toml": GOOD["farm.toml"].replace("2026-04-15", "2025-12-20"),
    "wishes.csv": GOOD["wishes.csv"].splitlines()[0] + "\n",
}


class _Quiet(WSGIRequestHandler):
    def log_message(self, *_: Any) -> None:
        """Say nothing of each request."""


class _Threads(ThreadingMixIn, WSGIServer):
    """A browser opens connections that it does not use yet: none of them holds up another."""

    daemon_threads = True
    block_on_close = False


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    if not browser_there():
        assert not os.environ.get("RICKYARD_EVERY_TEST"), "install chromium, so that pages are seen"
        pytest.skip("no browser is installed")
    with opened_browser() as one:
        yield one


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    """Return a program of the farm."""
    folder = write_texts(tmp_path_factory.mktemp("made") / "good", FARM)
    return plan_farm(open_farm(folder), PlanRequest(effort=0.01))


@dataclass
class Visit:
    """A farm's pages in a browser, at one width and by one hand."""

    season: Any
    hand: Hand
    base: str

    @property
    def browser(self) -> Browser:
        """Return the browser."""
        return self.hand.browser

    @property
    def width(self) -> int:
        """Return how wide its window is."""
        return self.hand.width

    def go(self, path: str) -> str:
        """Open a page of the farm, and return its words."""
        return self.hand.open(f"{self.base}/hill-farm/{path}")

    def press(self, words: str, *, leads: bool = True) -> str:
        """Press what says these words, and return the words of the page that comes of it."""
        return self.hand.press(words, leads=leads)

    def fill(self, name: str, value: str) -> None:
        """Put a value into a field."""
        self.hand.fill(name, value)


@pytest.fixture(params=few(WAYS, 1))
def visit(
    request: pytest.FixtureRequest,
    browser: Browser,
    new_book: BookPlace,
    made: Planned,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> Iterator[Visit]:
    """Return a visit to a farm, for which a program is found at once."""
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
    with opened_book(new_book):
        season = take_in(write_texts(tmp_path / "good", FARM)).season
        application = make_application(new_book, "x" * 50 + "abcdefgh")
        with make_server("127.0.0.1", 0, application, _Threads, _Quiet) as server:
            how = {"poll_interval": 0.02}
            thread = threading.Thread(target=server.serve_forever, kwargs=how)
            thread.start()
            try:
                base = f"http://127.0.0.1:{server.server_port}"
                width, _, way = request.param.partition(" ")
                hand = Hand(browser, int(width), way)
                hand.begin()
                yield Visit(season, hand, base)
            finally:
                browser.ask("Emulation.setScriptExecutionDisabled", value=False)
                server.shutdown()
                thread.join()
