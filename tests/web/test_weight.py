"""What a first visit weighs, and that the letters of the pages come with their licences."""

import gzip
from pathlib import Path
from typing import Any

from django.test import Client

from rickyard.book.base import BookPlace
from rickyard.web.serving.application import HTMX, STATIC

ROOT = Path(__file__).resolve().parents[2]
#: [bytes]
MOST_FONTS = 90_000
MOST_STYLE = 9_000
MOST_HTMX = 17_000
MOST_SCRIPT = 5_000


def test_fonts_are_small_and_ship_with_their_licence() -> None:
    fonts = sorted(STATIC.glob("*.woff2"))
    assert [one.stem for one in fonts] == ["archivo", "besley"]
    assert sum(one.stat().st_size for one in fonts) <= MOST_FONTS
    for one in fonts:
        assert one.read_bytes()[:4] == b"wOF2"
        licence = (STATIC / f"{one.stem}-OFL.txt").read_text("utf-8")
        assert "SIL OPEN FONT LICENSE Version 1.1" in licence
        assert f"Copyright 2020 The {one.stem.capitalize()} Project Authors" in licence


def test_style_sheets_are_small() -> None:
    style = b"".join(one.read_bytes() for one in sorted(STATIC.glob("*.css")))
    assert len(gzip.compress(style)) <= MOST_STYLE


def test_scripts_are_small() -> None:
    own = b"".join(one.read_bytes() for one in sorted(STATIC.glob("*.js")))
    assert len(gzip.compress(own)) <= MOST_SCRIPT
    assert len(gzip.compress(HTMX.read_bytes())) <= MOST_HTMX


#: What a first visit to the yard of the demonstration may weigh as it is sent, and a later page.
#: [bytes]
MOST_FIRST = 180_000
MOST_LATER = 25_000


def test_a_first_visit_is_sent_small(demo_book: BookPlace) -> None:
    from rickyard.web.serving.application import FOR_ONE, make_application

    serving = make_application(demo_book, "x" * 50 + "abcdefgh", FOR_ONE)
    sent = {name: _sent(serving, name) for name in serving.files}
    assert len(sent) > 5
    asked = {"HTTP_ACCEPT_ENCODING": "gzip"}
    page = Client(SERVER_NAME="127.0.0.1").get("/larkmoor-farm/", **asked)
    assert page.headers["Content-Encoding"] == "gzip"
    assert len(page.content) <= MOST_LATER
    names = [one for one in sent if f'"{one}"' in gzip.decompress(page.content).decode()]
    assert any(one.endswith("htmx.js") for one in names)
    # The letters are asked for by the style sheets.
    names += [one for one in sent if one.endswith(".woff2") and one not in names]
    assert len(page.content) + sum(sent[one] for one in names) <= MOST_FIRST


def _sent(serving: Any, name: str) -> int:
    """Return how much of a file is sent to who takes it compressed. [bytes]"""
    answer = serving.files[name].get_response("GET", {"HTTP_ACCEPT_ENCODING": "gzip"})
    with answer.file as held:
        return len(held.read())
