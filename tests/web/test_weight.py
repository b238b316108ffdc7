"""What a first visit weighs, and that the letters of the pages come with their licences."""

import gzip
from pathlib import Path

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
