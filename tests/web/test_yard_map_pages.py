"""The drawn yard: stacks placed by a form, bales as they stand, what a probe reaches."""

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in, write_out
from rickyard.book.services import read_farm, take_out, write_thing
from rickyard.calls import demo_farm
from rickyard.farm import Lot, Package, StackRow
from rickyard.hay.yard import stack_of
from rickyard.service import open_farm
from support.farm_folders import GOOD, write_texts

MAP = "/hill-farm/yard-map"


@pytest.fixture
def hill(new_book: BookPlace, tmp_path: Path, open_pages: Callable[..., Any]) -> Any:
    """Return the season of a farm whose stacks nobody has placed."""
    with opened_book(new_book):
        season = take_in(write_texts(tmp_path / "good", GOOD)).season
        open_pages(new_book)
        yield season


def asked(**said: str) -> dict[str, str]:
    """Return a form that places a lot."""
    there = {"lot": "A1", "east_m": "40", "north_m": "60", "turn_deg": "90", "wide": "3"}
    return {**there, "high": "2", "gap_m": "", **said}


def test_a_stack_is_placed_by_its_form_once_and_taken_back(hill: Any) -> None:
    client = Client(SERVER_NAME="127.0.0.1")
    page = client.get(MAP).content.decode()
    assert "nobody has said where" in page
    fact = re.search(r'name="fact" value="([^"]+)"', page)
    assert fact is not None
    for _ in range(2):
        answer = client.post(f"{MAP}/place", asked(fact=fact[1]))
    rows = read_farm(None, hill.id).stacks
    assert rows == (StackRow("A1", pytest.approx(12.192), pytest.approx(18.288), 90.0, 3, 2),)
    moved = client.get(answer.headers["Location"]).content.decode()
    assert "was placed" in moved
    # Who has not seen that is told, and moves it from where it stands now.
    seen = re.search(r'name="seen" value="([^"]*)"', page)
    assert seen is not None
    late = client.post(f"{MAP}/place", asked(east_m="70", seen=seen[1]))
    assert (late.status_code, read_farm(None, hill.id).stacks) == (422, rows)
    assert "has placed this stack meanwhile" in late.content.decode()
    client.post(f"{MAP}/place", asked(east_m="90"))
    line = re.search(r'name="line" value="([^"]+)"', client.get(f"{MAP}?stack=A1").content.decode())
    assert line is not None
    client.post(f"{MAP}/back", {"line": line[1]})
    assert read_farm(None, hill.id).stacks == rows


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ({"wide": ""}, "how many rows stand side by side"),
        ({"turn_deg": "400"}, "turn"),
        ({"lot": "NONE"}, "NONE"),
        ({"east_m": "far"}, "far"),
    ],
)
def test_what_is_wrong_stands_beside_its_field(hill: Any, said: dict[str, str], told: str) -> None:
    answer = Client(SERVER_NAME="127.0.0.1").post(f"{MAP}/place", asked(**said))
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert read_farm(None, hill.id).stacks == ()


def test_a_lot_taken_out_leaves_the_drawing(hill: Any) -> None:
    client = Client(SERVER_NAME="127.0.0.1")
    lot = replace(read_farm(None, hill.id).lot("A1"), lot_id="NEW", name="New")
    done = write_thing(None, hill.id, "lot", lot)
    client.post(f"{MAP}/place", asked(lot="NEW"))
    assert [one.lot_id for one in read_farm(None, hill.id).stacks] == ["NEW"]
    take_out(None, hill.id, "lot", done.thing, 1)
    assert read_farm(None, hill.id).stacks == ()
    client.post(f"{MAP}/place", asked())
    assert client.get(f"{MAP}?stack=A1").status_code == 200
    assert [one.lot_id for one in read_farm(None, hill.id).stacks] == ["A1"]


def test_bales_stand_in_rows_and_are_taken_from_their_start() -> None:
    lot = demo_farm().lot("26-SAND-1")
    made = stack_of(lot, StackRow(lot.lot_id, 0, 0, 0, wide=2, high=2), standing=10, gone=4)
    # 14 bales are 7 piles of 2, in rows of 4; the first two piles are gone.
    assert [(one.bales, one.gone) for one in made.spots] == [(2, 2)] * 2 + [(2, 0)] * 5
    # Of 5 ft bales only the lower of each pile is under chest height, and both rows are outer ones.
    assert made.reach == 5
    assert made.along_m == pytest.approx(4 * 5 * 0.3048)
    inner = stack_of(lot, StackRow(lot.lot_id, 0, 0, 0, wide=5, high=1), 10, 0)
    apart = stack_of(lot, StackRow(lot.lot_id, 0, 0, 0, wide=5, high=1, gap_m=1.0), 10, 0)
    assert (inner.reach, apart.reach) == (4, 10)


def test_square_bales_are_reached_as_high_as_a_chest() -> None:
    farm = demo_farm()
    lot: Lot = farm.lot("26-BOTM-2")
    assert lot.package is Package.LARGE_SQUARE
    # Middles at 1.5, 4.5 and 7.5 ft: two of three layers are under 1.5 m (4.9 ft).
    assert stack_of(lot, StackRow(lot.lot_id, 0, 0, 0, wide=1, high=3), 9, 0).reach == 6


def test_the_drawing_is_no_fact_of_a_program(hill: Any, tmp_path: Path) -> None:
    def written(name: str) -> Path:
        write_out(hill, tmp_path / name)
        return tmp_path / name

    before = open_farm(written("before")).sha256
    Client(SERVER_NAME="127.0.0.1").post(f"{MAP}/place", asked())
    after = written("after")
    assert open_farm(after).sha256 == before
    assert open_farm(after).farm.stacks == read_farm(None, hill.id).stacks
