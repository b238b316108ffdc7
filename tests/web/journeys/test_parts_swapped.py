"""What is swapped by script: the page stays, the focus stays, the title and the part are new."""

from typing import Any

import pytest

from rickyard.book.folders import take_in
from rickyard.book.services import ask_plan, read_farm, read_lines
from rickyard.book.working.working import work_once
from rickyard.service import Planned
from support.browser import Browser
from support.farm_folders import write_texts
from support.hands import KEYS
from web.journeys.conftest import FARM, Visit
from web.journeys.test_season_journeys import planned

pytestmark = [
    pytest.mark.more,
    pytest.mark.parametrize("visit", ["360 mouse", "1280 keys"], indirect=True),
]


def stay(browser: Browser) -> None:
    """Mark the page that is open now."""
    browser.told("window.stayed = true")


def has_stayed(browser: Browser) -> bool:
    """Return whether it is the page that was open when it was marked, with nothing to complain."""
    complaints = [
        one["params"]["entry"]["text"]
        for one in browser.events()
        if one.get("method") == "Log.entryAdded"
    ]
    assert complaints == []
    return browser.told("window.stayed === true") is True


def test_fed_and_undone_without_leaving_the_page(visit: Visit, made: Planned) -> None:
    planned(visit)
    if visit.width < 1024:
        visit.press("Feed by this program?", leads=False)
    visit.hand.tick_all(".ticks input")
    visit.press("Feed by this program")
    visit.go(f"feeding/{made.program.start}")
    stay(visit.browser)
    before = len(read_lines(None, visit.season.id, "fed"))
    visit.press("Fed")
    assert has_stayed(visit.browser)
    assert len(read_lines(None, visit.season.id, "fed")) > before
    assert visit.browser.told("document.querySelector('.group .done-line').role") == "status"
    assert visit.browser.told("document.activeElement.closest('.group') !== null")
    visit.press("Undo")
    assert has_stayed(visit.browser)
    assert len(read_lines(None, visit.season.id, "fed")) == before
    assert visit.browser.told("document.querySelector('.group .done-line') === null")


def test_a_wish_is_written_without_leaving_the_page(visit: Visit) -> None:
    visit.go("season/")
    stay(visit.browser)
    visit.fill("group", "COWS")
    visit.fill("wish", "keep_off")
    visit.fill("source", "B2")
    page = visit.press("Wish it")
    assert has_stayed(visit.browser)
    assert "1 wish, and what became of it" in page
    if visit.hand.way == KEYS:
        assert visit.browser.told("document.activeElement.textContent") == "Wish it"


def test_work_is_followed_until_its_program_stands_there(visit: Visit) -> None:
    visit.go("season/")
    stay(visit.browser)
    assert "A program is being worked out." in visit.press("Work out a program")
    assert work_once("w")
    ready = "[...document.querySelectorAll('.ready')].some(one => !one.hidden)"
    for _ in range(40):
        visit.browser.told_later("new Promise(done => setTimeout(done, 250))")
        if "Who gets what" in visit.browser.text() or visit.browser.told(ready):
            break
    assert has_stayed(visit.browser)
    assert "A program is being worked out." not in visit.browser.text()


def test_a_fault_is_told_where_it_was_typed(visit: Visit) -> None:
    visit.go("hay/put-up")
    stay(visit.browser)
    visit.fill("bales", "few")
    visit.press("Show its flag first")
    assert visit.browser.told("window.stayed === true")
    assert visit.browser.told("document.activeElement.getAttribute('aria-invalid')") == "true"
    assert visit.browser.told("document.getElementsByName('bales')[0].value") == "few"


def test_bales_that_are_no_number_leave_the_lot_as_it_was(visit: Visit) -> None:
    visit.go("hay/B2")
    stay(visit.browser)
    before = read_farm(None, visit.season.id).moves
    visit.press("Write a count, a sale or a loss", leads=False)
    visit.press("Sold", leads=False)
    visit.fill("bales", "many")
    page = visit.press("Write it")
    assert visit.browser.told("window.stayed === true")
    assert "many" in page
    assert read_farm(None, visit.season.id).moves == before
    visit.fill("bales", "12")
    page = visit.press("Write it")
    assert "68 bales" in page


def test_the_district_is_narrowed_without_leaving_the_page(visit: Visit, tmp_path: Any) -> None:
    toml = FARM["farm.toml"].replace("Hill farm", "Dale farm")
    take_in(write_texts(tmp_path / "dale", {**FARM, "farm.toml": toml}))
    ask_plan(None, visit.season.id)
    visit.hand.open(f"{visit.base}/?on=2025-12-04")
    while "not looked at yet" in visit.browser.text():
        visit.hand.open(f"{visit.base}/?on=2025-12-04")
    stay(visit.browser)
    visit.fill("only", "due")
    visit.press("Show these")
    assert has_stayed(visit.browser)
    assert "only=due" in visit.browser.told("location.search")
