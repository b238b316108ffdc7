"""The server: what it tells a browser to hold to, and that it starts, answers and stops."""

import os
import signal
import subprocess
import sys
import urllib.request
from collections.abc import Callable
from datetime import date
from html import unescape
from importlib import import_module
from typing import Any

import pytest
from django.core.checks import run_checks
from django.template import engines
from django.test import RequestFactory
from django.urls import reverse

from rickyard.book.base import BookPlace
from rickyard.service import forget_all
from rickyard.web.serving import make_application
from rickyard.web.serving.application import static_prefix


def test_the_deployment_check_leaves_nothing_over(get: Callable[..., Any]) -> None:
    told = run_checks(include_deployment_checks=True)
    assert [str(one) for one in told if not one.is_silenced()] == []


def test_files_of_style_are_kept_until_they_change(
    open_pages: Callable[..., Any], demo_book: BookPlace
) -> None:
    open_pages(demo_book)
    application = make_application(demo_book, "x" * 60)
    told: dict[str, Any] = {}

    def start(status: str, headers: list[tuple[str, str]], *_: object) -> None:
        told.update(headers, status=status)

    environ = RequestFactory(SERVER_NAME="127.0.0.1").get(f"{static_prefix()}pages.css").environ
    body = application(environ, start)
    assert b"var(--ink)" in b"".join(body)
    body.close()
    assert told["status"].startswith("200")
    assert "immutable" in told["Cache-Control"]


@pytest.mark.skipif(sys.platform == "win32", reason="signals of a terminal are sent otherwise")
def test_it_prints_its_address_answers_and_stops_on_ctrl_c(demo_book: BookPlace) -> None:
    """The one test that starts the real server: about two seconds, for what no other can tell."""
    command = [sys.executable, "-m", "rickyard", "serve", "--no-browser", "--port", "0"]
    with subprocess.Popen(
        [*command, "--data", str(demo_book.folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    ) as server:
        assert server.stdout is not None
        address = server.stdout.readline().strip()
        with urllib.request.urlopen(f"{address}larkmoor-farm/?on=2026-11-28", timeout=60) as page:
            assert b"What stands in the yard" in page.read()
        server.send_signal(signal.SIGINT)
        rest, faults = server.communicate(timeout=60)
    assert (server.returncode, rest, faults) == (0, "", "")


def test_an_address_in_a_template_is_the_one_of_its_page(get: Callable[..., Any]) -> None:
    names = ("'lot' farm lot", "'week' farm day", "'due'", "'cores' farm lot")
    template = engines["django"].from_string(" ".join(f"{{% url {one} %}}" for one in names))
    for lot in ("A1", "A/1 & co", "A1"):
        said = {"farm": "hill-farm", "lot": lot, "day": date(2026, 11, 30)}
        told = template.render(said)
        assert unescape(told).split() == [
            reverse("lot", args=["hill-farm", lot]),
            "/hill-farm/feeding/week/2026-11-30",
            "/due",
            reverse("cores", args=["hill-farm", lot]),
        ]
        assert "& " not in told
    # With a farm its name is dropped, and that is in its addresses.
    held, key = import_module("rickyard.web.serving.tags")._held, ("/", "lot", "hill-farm", "A1")
    assert len(held.of([key])) == 1
    forget_all()
    assert held.of([key]) == {}
