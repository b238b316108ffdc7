"""A program that does what a book is for until it is killed, and says what stands.

Run by itself it reads what to do, a line of JSON each time, and does it in a copy of itself that
may be killed. Where it is killed is a count of the moments that it passes: before and after each
statement to the database and each commit. So a seed that fails can be tried again.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

from rickyard.book.base import BookPlace, join_book, make_ready

make_ready()

from django.db import connection  # noqa: E402 - tables are defined after the book is made ready

from rickyard.book import records  # noqa: E402
from rickyard.book.folders import seasons_of, take_in  # noqa: E402
from rickyard.book.keeping import delete_farm, make_backup, restore_backup  # noqa: E402
from rickyard.book.noting import look, note  # noqa: E402
from rickyard.book.services import (  # noqa: E402
    add_line,
    begin_season,
    count_lot,
    keep_report,
    undo_line,
)
from rickyard.book.working import work_until_stopped  # noqa: E402
from rickyard.farm import FedRow, MoveKind, MoveRow  # noqa: E402

#: The first day of what is fed.
DAY = date(2025, 11, 20)

#: A season that is begun from the one of the good folder.
NEXT = (date(2026, 11, 15), date(2027, 4, 15), date(2026, 10, 1))
PRICES = {"cubes": 0.4, "corn": 0.3, "lime": 0.3}


@dataclass(frozen=True, slots=True)
class Deed:
    """Something that is asked of the book: of what kind, by what id, how often before."""

    kind: str
    fact: UUID
    number: int

    @property
    def day(self) -> date:
        """Return the day of it."""
        return DAY + timedelta(days=self.number % 60)

    @property
    def line(self) -> str:
        """Return a message of two feedings."""
        return f"{self.day:%b} {self.day.day} cows 2 A1, corn {self.pounds:.4f} lb"

    @property
    def pounds(self) -> float:
        """Return an amount that no other deed has. [lb]."""
        return 1.0 + self.number / 10_000.0


def deeds(seed: int) -> Iterator[Deed]:
    """Yield what is done, the same for a seed: each fact with an id, as a phone has them."""
    chance, number = random.Random(seed), 1000 * seed
    kinds = ("fed", "sold", "counted", "noted", "undone", "file", "farm", "gone", "season")
    while True:
        number += 1
        kind = chance.choice(kinds)
        yield Deed(kind, UUID(int=chance.getrandbits(128), version=4), number)


def old_of(deed: Deed) -> UUID:
    """Return the id of the line that a deed adds and takes back."""
    return UUID(int=deed.fact.int ^ 1)


def do(deed: Deed, season: UUID, moor: Path) -> bool:
    """Do it; return whether it was new."""
    return _WAYS[deed.kind](deed, season, moor)


def _fed(deed: Deed, season: UUID, _: Path) -> bool:
    row = FedRow(deed.day, "A1", "COWS", bales=2.0, note=str(deed.number))
    return add_line(None, season, "fed", row, fact=deed.fact).is_new


def _sold(deed: Deed, season: UUID, _: Path) -> bool:
    row = MoveRow(deed.day, "A1", MoveKind.SOLD, bales=0.125, note=str(deed.number))
    return add_line(None, season, "moves", row, fact=deed.fact).is_new


def _counted(deed: Deed, season: UUID, _: Path) -> bool:
    bales = float(50 + deed.number % 30)
    return count_lot(None, season, "B2", bales, DAY, fact=deed.fact).is_new


def _noted(deed: Deed, season: UUID, _: Path) -> bool:
    new = {one.is_new for one in note(None, season, look(None, season, deed.line, deed.day))}
    assert len(new) == 1, "half of a message was there"
    return new.pop()


def _undone(deed: Deed, season: UUID, _: Path) -> bool:
    """Add a line, and take it back by another."""
    old = old_of(deed)
    add_line(None, season, "fed", FedRow(deed.day, "corn", "HEIF", mass_kg=9.0), fact=old)
    return undo_line(None, season, "fed", old, fact=deed.fact).is_new


def _file(deed: Deed, season: UUID, _: Path) -> bool:
    before = records.SourceFile.objects.count()
    keep_report(None, season, f"{deed.number}.csv", f"lot,cp\nA1,{deed.number}\n".encode())
    return records.SourceFile.objects.count() > before


def _farm(_: Deed, __: UUID, moor: Path) -> bool:
    return take_in(moor).is_new


def _gone(_: Deed, __: UUID, ___: Path) -> bool:
    found = seasons_of("Moor farm")
    for season, name in found:
        delete_farm(None, season.farm_id, name)
    return bool(found)


def _season(deed: Deed, season: UUID, _: Path) -> bool:
    begun = records.Season.objects.filter(after=season).values_list("id", flat=True).first()
    # A farm has one season of a day: it is asked for by the id that it was begun with.
    start, end, counted = NEXT
    fact = begun or deed.fact
    return begin_season(None, season, start, end, counted, PRICES, fact=fact).is_new


_WAYS: dict[str, Callable[[Deed, UUID, Path], bool]] = {
    "fed": _fed,
    "sold": _sold,
    "counted": _counted,
    "noted": _noted,
    "undone": _undone,
    "file": _file,
    "farm": _farm,
    "gone": _gone,
    "season": _season,
}


class Moments:
    """Kills this program at one of the moments that it passes; at none where none is named."""

    def __init__(self, at: int) -> None:
        self._left, self._at = at, at

    @property
    def passed(self) -> int:
        """Return how many moments are passed."""
        return self._at - self._left

    def __call__(self) -> None:
        """Pass a moment."""
        self._left -= 1
        if self._left == 0:
            os.kill(os.getpid(), signal.SIGKILL)

    def watch(self) -> None:
        """Count every statement and every commit of this thread from now on."""
        if connection.execute_wrappers:
            return
        commit = connection.commit

        def statement(execute: Any, *told: Any) -> Any:
            self()
            found = execute(*told)
            self()
            return found

        def committed() -> None:
            self()
            commit()
            self()

        connection.execute_wrappers.append(statement)
        connection.commit = committed


def nothing_waits(moments: Moments) -> bool:
    """Return whether there is no work; the worker has joined the book when it first asks."""
    moments.watch()
    waits = (records.WAITING, records.RUNNING)
    return not records.Work.objects.filter(state__in=waits).exists()


def run(told: dict[str, Any]) -> None:
    """Do what is told until killed."""
    file = os.open(told["said"], os.O_WRONLY | os.O_APPEND | os.O_CREAT)

    def say(*words: object) -> None:
        os.write(file, f"{' '.join(map(str, words))}\n".encode())

    place = BookPlace(Path(told["folder"]), told["url"])
    join_book(place)
    moments = Moments(told["at"])
    moments.watch()
    say("begin")
    if told["kind"] == "planning":
        work_until_stopped(place, "the one worker", lambda: nothing_waits(moments))
    elif told["kind"] == "backup":
        for number in range(told["most"]):
            path = Path(told["moor"]) / f"{told['seed']}-{number}.backup"
            make_backup(path)
            say("stands", path)
    elif told["kind"] == "restore":
        restore_backup(Path(told["moor"]))
        say("stands", told["moor"])
    else:
        for number, deed in zip(range(told["most"]), deeds(told["seed"]), strict=False):
            say("send", number)
            do(deed, UUID(told["season"]), Path(told["moor"]))
            say("stands", number)
    say("passed", moments.passed)


def main() -> None:
    """Start a copy for every line that is read; say its number, and how it ended."""
    for line in sys.stdin:
        pid = os.fork()
        if not pid:
            run(json.loads(line))
            os._exit(0)
        print(pid, flush=True)
        print(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]), flush=True)


if __name__ == "__main__":
    main()
