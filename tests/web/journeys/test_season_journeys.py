"""From a farm to a program that it is fed by; a shortage removed; a wish: with the mouse."""

from dataclasses import replace
from typing import Any

import pytest

from rickyard.book.services import programs, read_farm, read_lines, read_program
from rickyard.book.working.working import work_once
from rickyard.program.result import Remedy, Shortage
from rickyard.service import Planned
from web.journeys.conftest import Visit


def planned(visit: Visit) -> str:
    """Ask for a program, let it be made, and return the words of its page."""
    visit.go("season/")
    visit.press("Work out a program")
    assert "A program is being worked out." in visit.browser.text()
    assert work_once("w")
    return visit.go("season/")


def test_a_farm_is_planned_fed_by_and_what_was_fed_is_noted(visit: Visit, made: Planned) -> None:
    assert "No program yet." in visit.go("season/")
    assert "Who gets what" in planned(visit)
    if visit.width < 1024:
        visit.press("Feed by this program?", leads=False)
    # Each danger is to be ticked before the program can be fed by.
    visit.hand.tick_all(".ticks input")
    visit.press("Feed by this program")
    kept = read_program(None, visit.season.id, only_adopted=True)
    assert kept is not None
    first = made.program.start
    page = visit.go(f"feeding/{first}")
    assert "Mature cows" in page
    before = len(read_lines(None, visit.season.id, "fed"))
    page = visit.press("Fed")
    assert len(read_lines(None, visit.season.id, "fed")) > before
    visit.press("Undo")
    assert len(read_lines(None, visit.season.id, "fed")) == before


def test_a_shortage_is_removed_by_a_remedy_and_that_taken_back(
    visit: Visit, made: Planned, monkeypatch: Any
) -> None:
    where = ("COWS", made.program.start, made.program.end, "tdn")
    fewer = Remedy(*where, "fewer_head", "", None, 5, -90.0, "Five cows fewer would do.")
    short = Shortage(*where, "kg", 1.0, 2.0, "The cows lack energy.")
    program = replace(made.program, remedies=(fewer,), shortages=(short,))
    monkeypatch.setattr(programs, "planned_of", lambda _: replace(made, program=program))
    page = planned(visit)
    assert "The cows lack energy." in page
    # Nothing is taken unseen: what it writes and does is read first, by opening it.
    assert "Take it" not in page
    visit.press("Five cows fewer would do.", leads=False)
    assert "Writes 55 head of Mature cows" in visit.browser.text()
    page = visit.press("Take it")
    assert "Taken. Work the program out again" in page
    assert read_farm(None, visit.season.id).group("COWS").head == 55
    assert "The farm has changed since" in page
    visit.press("Undo")
    assert read_farm(None, visit.season.id).group("COWS").head == 60


def test_a_wish_is_written_and_taken_back(visit: Visit) -> None:
    visit.go("season/")
    visit.fill("group", "COWS")
    visit.fill("wish", "keep_off")
    visit.fill("source", "B2")
    visit.press("Wish it")
    assert [one.source_id for _, one in read_lines(None, visit.season.id, "wishes")] == ["B2"]
    visit.press("1 wish, and what became of it", leads=False)
    assert "None of Tarp fescue to Mature cows" in visit.browser.text()
    visit.press("Take it back")
    assert read_lines(None, visit.season.id, "wishes") == []


def test_a_question_changes_nothing(visit: Visit) -> None:
    page = visit.go("season/what-if?of=head&group=COWS&head=none")
    assert '"none" is no number of head' in page
    assert read_farm(None, visit.season.id).group("COWS").head == 60


@pytest.mark.parametrize("visit", ["360 mouse"], indirect=True)
def test_on_a_phone_all_but_answer_ration_and_dangers_is_folded(
    visit: Visit, made: Planned
) -> None:
    planned(visit)
    folds = "[...document.querySelectorAll('section.folds > details')]"
    assert not any(visit.browser.told(f"{folds}.map(d => d.open)"))
    assert visit.browser.told("document.documentElement.scrollHeight") < 3_500
    visit.press("Who gets what", leads=False)
    folds = "[...document.querySelectorAll('section[aria-labelledby=h-who] details details')]"
    assert visit.browser.told(f"{folds}.map(d => d.open)") == [True, *[False] * 2]
