"""Programs that are killed, disks that are full, books that two programs open at once."""

import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import datetime
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from django.db import connection

from rickyard.book import records
from rickyard.book.base import BOOK_FILE, BookPlace, BookProblem, opened_book
from rickyard.book.folders import farm_of, take_in
from rickyard.book.keeping import examine, left_open, told_at_start
from rickyard.book.services import ask_plan, count_lot
from support.farm_folders import GOOD, write_texts
from support.killed_program import DAY
from support.killing import (
    kill_backup,
    kill_planning,
    kill_restore,
    kill_services,
    killed_programs,
    killer,
    plan_what_waits,
)
from support.rows import few

#: Writes line after line, and says the id of each when it is told that it stands.
WRITER = """
import sys
from pathlib import Path
from uuid import UUID, uuid4
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.services import add_line, read_farm
from rickyard.farm import FedRow

with opened_book(BookPlace(Path(sys.argv[1]), sys.argv[2])):
    season = UUID(sys.argv[3])
    day = read_farm(None, season).fed[0].day
    for number in range(int(sys.argv[4])):
        fact = uuid4()
        add_line(None, season, "fed", FedRow(day, "A1", "COWS", bales=float(number + 1)), fact=fact)
        print("stands", fact, flush=True)
"""

HOW = {"services": kill_services, "planning": kill_planning, "backup": kill_backup}

#: So many are killed in a book before another is begun: a book that grows makes each take longer.
BLOCK = 15

needs_fork = pytest.mark.skipif(sys.platform == "win32", reason="copies of a program are killed")


@pytest.fixture
def empty(
    request: pytest.FixtureRequest, book: BookPlace, empty_file: Path, tmp_path: Path
) -> Iterator[Callable[[], BookPlace]]:
    """Return what makes an empty book of the same kind, for one test."""
    made: list[str] = []

    def make() -> BookPlace:
        folder = tmp_path / f"empty{len(made)}"
        folder.mkdir()
        made.append(f"{book.folder.parent.name}-{len(made)}")
        if book.is_server:
            return BookPlace(folder, request.getfixturevalue("server").make(made[-1], "empty"))
        shutil.copy(empty_file, folder / BOOK_FILE)
        return BookPlace(folder)

    yield make
    connection.close()
    for name in made if book.is_server else ():
        request.getfixturevalue("server").drop(name)


@pytest.fixture(scope="session")
def program() -> Iterator["subprocess.Popen[str]"]:
    with killed_programs() as one:
        yield one


@needs_fork
@pytest.mark.parametrize("kind", few(list(HOW), ["services"]))
def test_a_program_that_is_killed_loses_nothing_that_stands(
    kind: str, book: BookPlace, program: "subprocess.Popen[str]", tmp_path: Path
) -> None:
    HOW[kind](killer(book, tmp_path, program), 1)


@needs_fork
def test_a_program_that_starts_says_what_one_that_was_killed_left(
    book: BookPlace, program: "subprocess.Popen[str]", tmp_path: Path
) -> None:
    one = killer(book, tmp_path, program)
    assert told_at_start(was_left=False) == ()
    ask_plan(None, one.season.id, 0.01)
    connection.close()
    assert not left_open(book)
    begun = one.begin("planning", 1, 25, book)
    assert begun.wait() == -signal.SIGKILL
    assert left_open(book) == (not book.is_server)
    told = told_at_start(was_left=True)
    assert "All that it said was written is there, the last at 20" in told[0]
    assert told[1] == "A season was being planned. That is taken up again within half a minute."


@needs_fork
@pytest.mark.long
@pytest.mark.parametrize("kind", [*HOW, "restore"])
@pytest.mark.parametrize("block", range(5))
def test_three_hundred_kills(
    block: int,
    kind: str,
    book: BookPlace,
    empty: Callable[[], BookPlace],
    program: "subprocess.Popen[str]",
    tmp_path: Path,
) -> None:
    """On each database 75 of each kind; a seed that fails is told, and can be tried alone."""
    one = killer(book, tmp_path, program)
    for seed in range(block * BLOCK, (block + 1) * BLOCK):
        if kind == "restore":
            kill_restore(one, seed, empty())
        else:
            HOW[kind](one, seed)
    if kind == "planning":
        plan_what_waits()


def writer(place: BookPlace, season: Any, lines: int) -> "subprocess.Popen[str]":
    words = [sys.executable, "-c", WRITER, str(place.folder), place.url, str(season.id), str(lines)]
    return subprocess.Popen(words, stdout=subprocess.PIPE, text=True)


@pytest.mark.long
def test_two_programs_write_at_once_and_nothing_is_lost(book: BookPlace, tmp_path: Path) -> None:
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    before = len(farm_of(season).fed)
    children = [writer(book, season, 8) for _ in range(2)]
    for child in children:
        out, _ = child.communicate(timeout=120)
        assert child.returncode == 0
        assert len(set(out.splitlines())) == 8
    assert len(farm_of(season).fed) == before + 16
    assert all(finding.is_good for finding in examine())


@pytest.mark.long
def test_a_book_that_two_programs_begin_at_once_is_begun_once(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from rickyard.book.base import *\n"
        "with opened_book(BookPlace(Path(sys.argv[1]))): pass"
    )
    words = [sys.executable, "-c", code, str(tmp_path / "desk")]
    children = [subprocess.Popen(words, stderr=subprocess.PIPE, text=True) for _ in range(2)]
    for child in children:
        _, err = child.communicate(timeout=120)
        assert child.returncode == 0, err
    with opened_book(BookPlace(tmp_path / "desk"), create=False):
        assert all(finding.is_good for finding in examine())


def take_in_until_it_ends(pragma: str, folder: Path) -> None:
    """Let a book take in farms on a disk that takes no more."""
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA {pragma}")
    for number in range(20):
        name = GOOD["farm.toml"].replace("Hill farm", f"Moor farm {number}")
        take_in(write_texts(folder, {**GOOD, "farm.toml": name}))


@pytest.mark.parametrize(
    ("pragma", "reason"),
    [("max_page_count = 1", "full"), ("query_only = ON", "readonly")],
    ids=["a full disk", "a disk that cannot be written"],
)
def test_a_disk_that_takes_nothing_is_told_and_nothing_is_half_there(
    pragma: str, reason: str, empty_file: Path, tmp_path: Path
) -> None:
    place = BookPlace(tmp_path / "desk")
    place.folder.mkdir()
    shutil.copy(empty_file, place.folder / BOOK_FILE)
    with opened_book(place):
        season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    with pytest.raises(BookProblem, match=reason), opened_book(place):
        take_in_until_it_ends(pragma, tmp_path / "moor")
    with opened_book(place):
        assert farm_of(season).name == "Hill farm"
        assert all(finding.is_good for finding in examine())


def test_a_clock_that_is_set_back_changes_no_order(
    book: BookPlace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The trail counts its lines and a thing its revisions: no clock says which is the later."""
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    count_lot(None, season.id, "A1", 100.0, DAY)

    class Yesteryear(datetime):
        @classmethod
        def now(cls, tz: Any = None) -> "Yesteryear":
            return cls(2020, 1, 1, tzinfo=tz)

    monkeypatch.setattr(import_module("rickyard.book.acting.acting"), "datetime", Yesteryear)
    count_lot(None, season.id, "A1", 90.0, DAY)
    lines = records.TrailLine.objects.order_by("number")
    assert [(one.service, one.at.year == 2020) for one in lines] == [
        ("import", False),
        ("count lot", False),
        ("count lot", True),
    ]
    assert {one.lot_id: one.bales for one in farm_of(season).lots}["A1"] == 90.0
    assert all(finding.is_good for finding in examine())
