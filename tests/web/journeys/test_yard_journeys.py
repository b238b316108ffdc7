"""A sale, a count that differs, and a report with doubts that bars a lot."""

from datetime import UTC, datetime
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from rickyard.book.acting import day_at
from rickyard.book.services import read_farm
from rickyard.book.working.working import work_once
from rickyard.farm import MoveKind, StackRow
from support.hands import MOUSE, NO_SCRIPT
from web.journeys.conftest import Visit
from web.test_tests_pages import DOUBTFUL


def sold(visit: Visit) -> float:
    """Return how many bales were sold since the farm was taken in."""
    moves = read_farm(None, visit.season.id).moves
    return sum(one.bales or 0.0 for one in moves if one.kind is MoveKind.SOLD) - 4.0


def test_bales_are_sold(visit: Visit) -> None:
    visit.go("hay/B2")
    visit.press("Write a count, a sale or a loss", leads=False)
    visit.press("Sold", leads=False)
    visit.fill("bales", "12")
    visit.press("Write it")
    assert sold(visit) == 12.0
    assert "68 bales" in visit.go("hay/B2")


def test_a_count_that_differs_leads_to_another_program(visit: Visit) -> None:
    visit.go("season/")
    visit.press("Work out a program")
    assert work_once("w")
    visit.go("hay/A1")
    visit.press("Write a count, a sale or a loss", leads=False)
    visit.press("Counted", leads=False)
    visit.fill("bales", "31")
    visit.press("Write it")
    lot = read_farm(None, visit.season.id).lot("A1")
    assert (lot.bales, lot.counted_on) == (31.0, day_at("", datetime.now(UTC)))
    assert "The farm has changed since" in visit.go("season/")
    assert "A program is being worked out." in visit.press("Work it out again")
    assert work_once("w")


def printed(rows: bytes, file: Path) -> Path:
    """Print the rows of a table as a PDF."""
    sheet = Canvas(str(file), invariant=1)
    for line, row in enumerate(rows.decode().splitlines()):
        for column, cell in enumerate(row.split(",")):
            sheet.drawString(40 + 90 * column, 780 - 16 * line, cell)
    sheet.save()
    return file


def test_a_pdf_with_two_doubts_bars_its_lot_once_they_are_answered(
    visit: Visit, tmp_path: Path
) -> None:
    visit.go("tests/")
    visit.hand.bring("files", str(printed(DOUBTFUL, tmp_path / "C3.pdf")))
    page = visit.press("Read it")
    assert "2 things need your word." in page
    assert "Use this report" not in page
    assert visit.browser.told("document.querySelectorAll('input:checked').length") == 0
    while "Take my answers" in page:
        for name in visit.browser.told(
            "[...new Set([...document.querySelectorAll('input[type=radio]')].map(e => e.name))]"
        ):
            first = f"document.getElementsByName({name!r})[0]"
            visit.hand.choose(first)
        page = visit.press("Take my answers")
    before = len(read_farm(None, visit.season.id).reports)
    visit.press("Use this report")
    farm = read_farm(None, visit.season.id)
    assert len(farm.reports) == before + 1
    assert "read the danger first" in visit.go(f"hay/{farm.reports[-1].lot_id}")


def stacks(visit: Visit) -> dict[str, StackRow]:
    """Return where the stacks of the farm stand."""
    return {one.lot_id: one for one in read_farm(None, visit.season.id).stacks}


def test_a_stack_is_moved_by_mouse_or_keys_and_back(visit: Visit) -> None:
    visit.go("yard-map")
    at, stack = visit.browser, "document.querySelector('a[data-lot=B2]')"
    before = at.told(f"{stack}.querySelector('.stack').getAttribute('transform')")
    if visit.hand.way == NO_SCRIPT:
        visit.go("yard-map?stack=B2")
        visit.fill("east_m", "40")
        visit.fill("north_m", "60")
        visit.fill("turn_deg", "15")
        visit.press("Put it there")
    elif visit.hand.way == MOUSE:
        at.drag(f"{stack}.querySelector('.stack')", 90, 30)
    else:
        at.told(f"{stack}.focus()")
        for key in ("ArrowRight", "ArrowRight", "ArrowUp", "r"):
            at.key(key)
        assert "turned 15 degrees" in at.told("document.getElementById('moving').textContent")
        at.key("Enter", leads=True)
    first = stacks(visit)["B2"]
    assert first.turn_deg == (0.0 if visit.hand.way == MOUSE else 15.0)
    after = at.told(f"{stack}.querySelector('.stack').getAttribute('transform')")
    assert after != before
    assert "was placed" in at.text()
    visit.go("yard-map?stack=B2")
    visit.fill("wide", "3")
    visit.press("Put it there")
    assert stacks(visit)["B2"].wide == 3
    visit.press("Undo")
    assert stacks(visit)["B2"] == first
