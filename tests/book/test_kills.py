"""Programs that are killed, disks that are full, books that two programs open at once."""

import random
import shutil
import subprocess
import sys
import time
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from django.db import connection

from rickyard.book import records
from rickyard.book.base import BOOK_FILE, BookPlace, BookProblem, opened_book
from rickyard.book.folders import farm_of, take_in
from rickyard.book.keeping import examine
from rickyard.book.services import add_line
from rickyard.farm import FedRow
from support.farm_folders import GOOD, write_texts

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
    print("begin", flush=True)
    for number in range(int(sys.argv[4])):
        fact = uuid4()
        print("send", fact, flush=True)
        add_line(None, season, "fed", FedRow(day, "A1", "COWS", bales=float(number + 1)), fact=fact)
        print("stands", fact, flush=True)
"""


def writer(place: BookPlace, season: Any, lines: int) -> "subprocess.Popen[str]":
    words = [sys.executable, "-c", WRITER, str(place.folder), place.url, str(season.id), str(lines)]
    return subprocess.Popen(words, stdout=subprocess.PIPE, text=True)


def said(lines: list[str], word: str) -> set[UUID]:
    # A line that a killed program did not finish says nothing.
    whole = (line.split() for line in lines if line.startswith(word) and line.count("-") == 4)
    return {UUID(fact) for _, fact in whole if len(fact) == 36}


def kill_and_look(place: BookPlace, season: Any, chance: random.Random) -> None:
    """Kill a writer at some moment, and hold the book against what it was told."""
    child = writer(place, season, 10_000)
    assert child.stdout is not None
    lines = [child.stdout.readline()]
    while len(said(lines, "stands")) < chance.randint(1, 3):
        lines.append(child.stdout.readline())
    time.sleep(chance.uniform(0.0, 0.05))
    child.kill()
    lines += child.stdout.read().splitlines()
    child.wait()
    child.stdout.close()
    there = set(records.Feeding.objects.filter(season=season).values_list("id", flat=True))
    assert said(lines, "stands") <= there, "a fact that was acknowledged is lost"
    assert not [finding.sentence for finding in examine() if not finding.is_good]
    # The phone sends all again that it was told nothing of: each counts once.
    before = farm_of(season)
    for fact in said(lines, "send") & there:
        row = records.Feeding.objects.get(id=fact)
        same = FedRow(row.day, "A1", "COWS", bales=row.bales)
        assert not add_line(None, season.id, "fed", same, fact=fact).is_new
    assert farm_of(season) == before


def test_a_writer_that_is_killed_loses_nothing_that_stands(book: BookPlace, tmp_path: Path) -> None:
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    kill_and_look(book, season, random.Random(1))


@pytest.mark.long
def test_three_hundred_kills(book: BookPlace, tmp_path: Path) -> None:
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    chance = random.Random(2)
    for _ in range(300):
        kill_and_look(book, season, chance)


@pytest.mark.long
def test_two_programs_write_at_once_and_nothing_is_lost(book: BookPlace, tmp_path: Path) -> None:
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    before = len(farm_of(season).fed)
    children = [writer(book, season, 8) for _ in range(2)]
    for child in children:
        out, _ = child.communicate(timeout=120)
        assert child.returncode == 0
        assert len(said(out.splitlines(), "stands")) == 8
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
