"""A letter to a farm: what its own book says, danger first, and nothing of another farm."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from django.test import Client

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import FarmThere
from rickyard.display import display_for
from rickyard.farm import Caution
from rickyard.program.result import Remedy, Shortage
from rickyard.service import Planned, PlanRequest, open_farm, plan_farm, yard_on
from rickyard.service.sections import farm_tests
from rickyard.sheets.wording import answer_of
from rickyard.web.shown import letter_shown, without_prices
from rickyard.web.shown.farms import addresses
from support.farm_folders import GOOD, SHORT, write_texts

DAY = date(2025, 12, 4)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    folder = write_texts(tmp_path_factory.mktemp("made") / "short", SHORT)
    return plan_farm(open_farm(folder), PlanRequest(effort=0.01))


def lacking(made: Planned) -> Planned:
    """Return a program with a danger, a shortage and a remedy at a price."""
    start, end = made.program.start, made.program.end
    harm = Caution("danger", "A1", "Hay A1 holds nitrate: none to cows in calf.", "a source")
    short = Shortage("COWS", start, end, "tdn", "kg", 1.0, 9.0, "Cows lack 9 lb of TDN.")
    help_ = Remedy("", start, end, "", "cash", "", None, None, 900.0, "Borrow $900 by Dec 1.")
    cautions = (*made.program.cautions, harm)
    program = replace(made.program, cautions=cautions, shortages=(short,), remedies=(help_,))
    return replace(made, program=program)


def test_danger_comes_first_then_what_is_short_and_what_helps(made: Planned) -> None:
    planned = lacking(made)
    farm = planned.farm
    shown = letter_shown(farm, yard_on(farm, DAY), planned, farm_tests(farm, DAY))
    told = shown.text
    answer = answer_of(planned.program, farm, display_for("us")).sentence
    order = ["none to cows in calf", answer, "Cows lack 9 lb", "Borrow $900", "Ask your veterin"]
    assert [told.index(one) for one in order] == sorted(told.index(one) for one in order)
    assert shown.subject == "Hill farm: 1 danger to read before anyone feeds"
    assert "$" not in without_prices(shown).text
    assert "Cows lack 9 lb" in without_prices(shown).text


def test_without_a_program_the_count_is_said_to_be_rough(made: Planned) -> None:
    farm = made.farm
    shown = letter_shown(farm, yard_on(farm, DAY), None, farm_tests(farm, DAY))
    assert shown.stands[0].startswith("Rough figure")
    assert "Work out the season's program" in shown.next[-1]
    later = farm_tests(farm, DAY - timedelta(days=400))
    assert not letter_shown(farm, yard_on(farm, DAY), None, later).short


def test_what_is_due_leads_to_a_letter_with_its_sheets(
    new_book: BookPlace, open_pages: Any, tmp_path: Path
) -> None:
    with opened_book(new_book):
        open_pages(new_book)
        for name in ("Hill farm", "Dale farm"):
            toml = GOOD["farm.toml"].replace("Hill farm", name)
            take_in(write_texts(tmp_path / name, {**GOOD, "farm.toml": toml}))
        client = Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)
        pages = [client.get(f"{one}?on={DAY}").content.decode() for one in ("/due", "/short")]
        assert all("/letter/" in one for one in pages)
        letter = client.get(f"/letter/hill-farm?on={DAY}").content.decode()
        assert "Dale" not in letter
        for one in farm_tests(open_farm(tmp_path / "Hill farm").farm, DAY).now:
            assert f"/hill-farm/tests/{one.lot_id}/cores" in letter
        assert client.get("/letter/none").status_code == 404


def test_a_farm_of_the_name_of_a_page_has_another_address() -> None:
    there = FarmThere(UUID(int=0), UUID(int=2), "Letter", "", "us", "UTC", DAY, DAY)
    assert list(addresses([there])) == ["letter-00000000"]
