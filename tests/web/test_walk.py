"""Every page by its links, laid out in a browser: narrow and wide, light and dark."""

import os
import re
import threading
from collections.abc import Iterator
from typing import Any
from urllib.parse import urlsplit
from wsgiref.simple_server import WSGIRequestHandler, make_server

import pytest

from rickyard.book.base import BookPlace
from rickyard.web.serving import make_application
from support.browser import browser_there, opened_browser

LOOKS = ((1280, False), (360, True))
#: What every walk must have seen.
WANTED = {
    "/larkmoor-farm/",
    "/larkmoor-farm/yard-map",
    "/larkmoor-farm/hay/",
    "/larkmoor-farm/hay/put-up",
    "/larkmoor-farm/season/",
    "/larkmoor-farm/feeding/",
    "/larkmoor-farm/tests/",
    "/larkmoor-farm/stock/",
    "/larkmoor-farm/look-back/",
}
#: Pages that no link of a book with one farm leads to.
BESIDE = ("/start", "/start/ask/1", "/larkmoor-farm/season/what-if", "/none/")


class _Quiet(WSGIRequestHandler):
    def log_message(self, *_: Any) -> None:
        """Say nothing of each request."""


@pytest.fixture
def address(demo_book: BookPlace) -> Iterator[str]:
    """Return where the demonstration farm's book is served."""
    application = make_application(demo_book, "x" * 50 + "abcdefgh")
    with make_server("127.0.0.1", 0, application, handler_class=_Quiet) as server:
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05})
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


def shape_of(path: str) -> str:
    """Return a path with names left out: one lot and one group stand for all."""
    path = re.sub(r"/stock/.+", "/stock/N", path)
    return "/".join("N" if re.search(r"\d", part) else part for part in path.split("/"))


def test_every_page_by_its_links_is_whole_at_both_widths(address: str) -> None:
    if not browser_there():
        assert not os.environ.get("RICKYARD_EVERY_TEST"), "install chromium, so that pages are seen"
        pytest.skip("no browser is installed")
    host, seen, todo, wrong = urlsplit(address).netloc, set(), ["/", *BESIDE], []
    with opened_browser() as browser:
        while todo:
            path = todo.pop(0)
            if shape_of(path) in seen or path.endswith((".pdf", ".ics")):
                continue
            seen.add(shape_of(path))
            for width, dark in LOOKS:
                page = browser.look(address + path, width, dark=dark)
                # A browser's own pictures, as of a calendar, are data.
                away = [one for one in page.asked_for if urlsplit(one).netloc not in (host, "")]
                expected = 404 if path == "/none/" else 200
                complaints = [] if expected == 404 else page.complaints
                found = (page.status, page.sticks_out, page.unnamed, complaints, away)
                if found != (expected, 0, 0, [], []):
                    wrong.append((path, width, found))
                todo += [urlsplit(one).path for one in page.links if urlsplit(one).netloc == host]
    assert wrong == []
    assert seen >= WANTED
    assert {shape_of("/larkmoor-farm/hay/26-HILL-1"), "/larkmoor-farm/stock/N"} <= seen
