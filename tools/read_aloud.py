"""Print pages as a screen reader would say them; their addresses are given as words.

Serve a book first: ``rickyard serve --port 8711``. Each line is what the browser's accessibility
tree holds of a thing: its role and its name, in the order in which it is read. Needs Chromium.
"""

from __future__ import annotations

import argparse
import sys
from importlib import import_module
from pathlib import Path
from typing import Any, Final

ROOT: Final = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]


def main(words: list[str]) -> int:
    """Print the pages."""
    browser: Any = import_module("support.browser")
    read = argparse.ArgumentParser(description="Print pages as a screen reader says them.")
    read.add_argument("paths", nargs="+", help="pages, from the first slash")
    read.add_argument("--at", default="http://127.0.0.1:8711", help="where a book is served")
    read.add_argument("--width", type=int, default=360)
    said = read.parse_args(words)
    with browser.opened_browser() as opened:
        show = opened.open
        for path in said.paths:
            show(said.at + path, said.width)
            print(f"== {path}", *opened.heard(), sep="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
