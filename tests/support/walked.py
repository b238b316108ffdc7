"""Walking every page of a served book by its links."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any
from urllib.parse import urlsplit
from wsgiref.simple_server import WSGIRequestHandler, make_server

from rickyard.book.base import BookPlace
from rickyard.web.serving import make_application


class _Quiet(WSGIRequestHandler):
    def log_message(self, *_: Any) -> None:
        """Say nothing of each request."""


@contextmanager
def served(place: BookPlace) -> Iterator[str]:
    """Serve a book, and return where."""
    application = make_application(place, "x" * 50 + "abcdefgh")
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


def walked(
    address: str, first: Sequence[str], look: Callable[[str, str], Sequence[str]]
) -> set[str]:
    """Look at every page that links lead to, one of each shape; return the shapes.

    ``look`` is given an address and its path, and returns where the page leads.
    """
    host, seen, todo = urlsplit(address).netloc, set(), ["/", *first]
    while todo:
        path = todo.pop(0)
        if shape_of(path) in seen or path.endswith((".pdf", ".ics")):
            continue
        seen.add(shape_of(path))
        links = look(address + path, path)
        todo += [urlsplit(one).path for one in links if urlsplit(one).netloc == host]
    return seen
