"""Lay each page beside the drawing it was built after: ``python tools/side_by_side.py DRAWINGS``.

DRAWINGS is a folder of pages as HTML files. Serve a book first, with a farm that has a program:
``rickyard serve --port 8711``. Pictures at both widths and in both themes come into
``out/side-by-side``, which git leaves alone, with ``index.html`` that shows them side by side.
Needs Chromium.
"""

from __future__ import annotations

import argparse
import base64
import sys
from collections.abc import Iterator
from html import escape
from importlib import import_module
from pathlib import Path
from typing import Any, Final

ROOT: Final = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]

#: Each drawing and the page beside it; ``{farm}`` is the farm's address, ``{day}`` a day.
PAGES: Final = {
    "ask": "/start/ask/7",
    "coring": "/{farm}/tests/{untested}/cores",
    "district": "/?all=1",
    "due": "/due",
    "feeding": "/{farm}/feeding/{day}",
    "hay": "/{farm}/hay/",
    "labs": "/labs",
    "letter": "/letter/{farm}",
    "look-back": "/{farm}/look-back/?on={day}",
    "lot": "/{farm}/hay/{lot}",
    "people": "/{farm}/people/",
    "prices": "/prices",
    "put-up": "/{farm}/hay/put-up",
    "season": "/{farm}/season/?on={day}",
    "short": "/short",
    "sign-in": "/sign-in",
    "start": "/start",
    "stock": "/{farm}/stock/",
    "stock-cows": "/{farm}/stock/{group}",
    "tests": "/{farm}/tests/?on={day}",
    "week-sheet": "/{farm}/feeding/week/{monday}",
    "yard": "/{farm}/?on={day}",
    "yard-map": "/{farm}/yard-map?on={day}",
}
WIDTHS: Final = (360, 1280)
#: Pictures are cut there. [px]
LONGEST: Final = 9_000


def shot(browser: Any, address: str, width: int, *, dark: bool) -> bytes:
    """Return a picture of a whole page as PNG."""
    browser.open(address, width, dark=dark)
    height = min(int(browser.told("document.documentElement.scrollHeight")), LONGEST)
    # What is fixed to the foot of a window stands at the foot of the picture.
    browser.ask(
        "Emulation.setDeviceMetricsOverride",
        width=width,
        height=height,
        deviceScaleFactor=1,
        mobile=False,
    )
    said = browser.ask("Page.captureScreenshot", format="png")
    return base64.b64decode(said["data"])


def pairs(drawings: Path, names: dict[str, str]) -> Iterator[tuple[str, Path, str]]:
    """Yield each drawing that is there with the path of its page."""
    for name, path in PAGES.items():
        drawing = drawings / f"{name}.html"
        if drawing.exists():
            yield name, drawing, path.format(**names)


def index_of(names: list[str]) -> str:
    """Return a page that shows all pictures, drawing left and page right."""
    rows = "".join(
        f"<h2>{escape(one)}</h2>" + "".join(f'<img src="{one}-{side}.png">' for side in "ab")
        for one in names
    )
    style = "<style>img{max-width:48%;vertical-align:top;border:1px solid}</style>"
    return f"<!doctype html><title>Side by side</title>{style}{rows}"


def main(words: list[str]) -> int:
    """Make the pictures."""
    opened_browser = import_module("support.browser").opened_browser
    read = argparse.ArgumentParser(description="Lay each page beside its drawing.")
    read.add_argument("drawings", type=Path)
    read.add_argument("--at", default="http://127.0.0.1:8711", help="where a book is served")
    read.add_argument("--out", type=Path, default=ROOT / "out" / "side-by-side")
    read.add_argument("--only", nargs="*", default=[], help="drawings by their names")
    for name, usual in (
        ("farm", "larkmoor-farm"), ("day", "2026-11-30"), ("monday", "2026-11-30"),
        ("lot", "26-FLAT-1"), ("untested", "26-BUY-1"), ("group", "cows"),
    ):  # fmt: skip
        read.add_argument(f"--{name}", default=usual)
    said = read.parse_args(words)
    said.out.mkdir(parents=True, exist_ok=True)
    made = []
    with opened_browser() as browser:
        for name, drawing, path in pairs(said.drawings, vars(said)):
            if said.only and name not in said.only:
                continue
            for width in WIDTHS:
                for dark in (False, True):
                    of = f"{name}-{width}-{'dark' if dark else 'light'}"
                    for side, address in (("a", drawing.resolve().as_uri()), ("b", said.at + path)):
                        picture = shot(browser, address, width, dark=dark)
                        (said.out / f"{of}-{side}.png").write_bytes(picture)
                    made.append(of)
    (said.out / "index.html").write_text(index_of(made), encoding="utf-8")
    print(said.out / "index.html")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
