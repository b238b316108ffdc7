"""Every page by its links, laid out in a browser: narrow and wide, light and dark, zoomed."""

import csv
import io
import json
import os
import shutil
from collections.abc import Iterator
from importlib.resources import as_file, files
from itertools import pairwise
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import adopt, ask_plan, read_program, standing_dangers
from rickyard.book.working.working import work_once
from support.browser import Browser, browser_there, opened_browser
from support.walked import served, shape_of, walked

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
BESIDE = (
    "/start", "/start/ask/1", "/larkmoor-farm/season/what-if", "/labs", "/prices", "/due", "/short",
    "/none/",
)  # fmt: skip

#: A word of forty letters, which breaks nowhere by itself.
LONG = "Schattenhangglatthaferwiesenheuballenlot"

#: A page of 1280 at 200% has room for 640; a phone of 360 for 180 has none, and is zoomed by its
#: letters instead.
ZOOMED = ((640, 1, False), (360, 1, True), (360, 2, False), (1280, 1, True))

#: What sticks out of a box that hides it: words that nobody can read.
_CUT = """JSON.stringify([...document.querySelectorAll('main :not(input)')].filter(e =>
  e.checkVisibility() && !e.closest('svg') && !e.closest('.hide')
  && /hidden|clip/.test(getComputedStyle(e).overflowX)
  && e.clientWidth > 1 && e.scrollWidth > e.clientWidth + 1
).map(e => `${e.tagName}.${e.className}: ${e.textContent.trim().slice(0, 60)}`))"""


#: Figures that are broken between their digits: nobody reads them.
_BROKEN = """JSON.stringify([...document.querySelectorAll('main td, main .fig')].filter(e => {
  if (!e.checkVisibility() || !/^[$\\d.,%−]+$/.test(e.textContent.trim())) return false;
  const range = document.createRange();
  range.selectNodeContents(e);
  return new Set([...range.getClientRects()].map(one => Math.round(one.top))).size > 1;
}).map(e => e.textContent.trim()))"""


@pytest.fixture
def address(demo_book: BookPlace) -> Iterator[str]:
    """Return where the demonstration farm's book is served."""
    with served(demo_book) as address:
        yield address


def need_a_browser() -> None:
    if not browser_there():
        assert not os.environ.get("RICKYARD_EVERY_TEST"), "install chromium, so that pages are seen"
        pytest.skip("no browser is installed")


@pytest.mark.more
@pytest.mark.parametrize("widths", ["narrow", "both"])
def test_every_page_by_its_links_is_whole(address: str, widths: str) -> None:
    need_a_browser()
    host, wrong = urlsplit(address).netloc, []

    def look(at: str, path: str) -> list[str]:
        links: list[str] = []
        for width, dark in LOOKS if widths == "both" else LOOKS[1:]:
            page = browser.look(at, width, dark=dark)
            # A browser's own pictures, as of a calendar, are data.
            away = [one for one in page.asked_for if urlsplit(one).netloc not in (host, "")]
            expected = 404 if path == "/none/" else 200
            complaints = [] if expected == 404 else page.complaints
            found = (page.status, page.sticks_out, page.unnamed, complaints, away)
            if found != (expected, 0, 0, [], []):
                wrong.append((path, width, found))
            links += page.links
        return links

    with opened_browser() as browser:
        seen = walked(address, BESIDE, look)
    assert wrong == []
    assert seen >= WANTED
    assert {shape_of("/larkmoor-farm/hay/26-HILL-1"), "/larkmoor-farm/stock/N"} <= seen


#: The pages that are asked for most, as whoever does not see them hears them.
HEARD = ("", "hay/26-FLAT-1", "season/", "feeding/", "tests/")


@pytest.mark.more
def test_the_main_pages_are_whole_for_who_hears_them(address: str) -> None:
    need_a_browser()
    wrong = []
    with opened_browser() as browser:
        for path in HEARD:
            browser.open(f"{address}/larkmoor-farm/{path}", 360, dark=False)
            lines = browser.heard()
            wrong += [(path, one) for one in lines if _is_unsaid(one)]
            levels = [int(one[8]) for one in lines if one.startswith("heading ")]
            assert levels.count(1) == 1, path
            wrong += [(path, two) for one, two in pairwise(levels) if two > one + 1]
            assert lines[0] == "link: Skip to the answer"
    assert wrong == []


@pytest.mark.more
def test_no_figure_is_broken_between_its_digits_on_a_phone(new_book: BookPlace) -> None:
    need_a_browser()
    with opened_book(new_book), as_file(files("rickyard") / "demo_farm") as shipped:
        season = take_in(Path(shipped)).season
        ask_plan(None, season.id)
        work_once("w")
        kept = read_program(None, season.id)
        assert kept is not None
        adopt(None, season.id, kept.id, list(standing_dangers(kept.planned)))
    wrong = []
    with served(new_book) as address, opened_browser() as browser:
        for path in ("season/", "feeding/week/2026-11-30", "hay/", "yard-map", "look-back/"):
            browser.open(f"{address}/larkmoor-farm/{path}", 360, dark=False)
            browser.told("document.querySelectorAll('details').forEach(e => { e.open = true; })")
            wrong += [(path, one) for one in json.loads(browser.told(_BROKEN))]
    assert wrong == []


def _is_unsaid(line: str) -> bool:
    """Return whether something that is to be understood or used has no name."""
    role, _, name = line.partition(": ")
    needs = ("link", "button", "image", "textbox", "combobox", "checkbox", "radio", "heading")
    return role.split()[0] in needs and not name


def _long_names(folder: Path) -> Path:
    """Give every lot, group and feed of a farm folder a name of forty letters."""
    for name in ("lots.csv", "groups.csv", "feeds.csv"):
        rows = list(csv.DictReader(io.StringIO((folder / name).read_text("utf-8"))))
        for number, row in enumerate(rows):
            row["name"] = f"{LONG[:-2]}{number:02}"
        told = io.StringIO()
        written = csv.DictWriter(told, list(rows[0]), lineterminator="\n")
        written.writeheader()
        written.writerows(rows)
        (folder / name).write_text(told.getvalue(), "utf-8")
    return folder


def _zoomed(browser: Browser, letters: int, *, forced: bool) -> list[str]:
    """Enlarge the letters of a page, and return what sticks out or is cut."""
    if letters > 1:
        browser.told(f"document.documentElement.style.fontSize = '{100 * letters}%'")
    if forced:
        features = [{"name": "forced-colors", "value": "active"}]
        browser.ask("Emulation.setEmulatedMedia", features=features)
    out = browser.told("document.documentElement.scrollWidth - innerWidth")
    cut = json.loads(browser.told(_CUT))
    return [f"{out} px stick out"] * (out > 0) + [str(one) for one in cut]


@pytest.mark.more
def test_letters_of_twice_the_size_and_long_names_break_no_page(
    new_book: BookPlace, tmp_path: Path
) -> None:
    need_a_browser()
    with opened_book(new_book), as_file(files("rickyard") / "demo_farm") as shipped:
        take_in(_long_names(Path(shutil.copytree(shipped, tmp_path / "larkmoor"))))
    wrong = []

    def look(at: str, path: str) -> list[str]:
        for width, letters, forced in ZOOMED:
            page = browser.look(at, width)
            found = _zoomed(browser, letters, forced=forced)
            if found:
                wrong.append((path, width, letters, found))
        return page.links

    with served(new_book) as address, opened_browser() as browser:
        seen = walked(address, BESIDE, look)
    assert wrong == []
    assert seen >= WANTED
