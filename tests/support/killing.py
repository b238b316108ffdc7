"""Kills programs that use a book, each at a moment that a seed names, and looks at what stands."""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Any

from django.db import connection

from rickyard.book import records
from rickyard.book.base import BookPlace, join_book, opened_book
from rickyard.book.folders import farm_of, seasons_of, take_in
from rickyard.book.keeping import check_backup, examine, make_backup, restore_backup
from rickyard.book.services import ask_plan, planned_in
from rickyard.book.working.working import work_once
from rickyard.farm import Farm
from rickyard.folder import read_folder
from support import killed_program
from support.farm_folders import GOOD, SHORT, write_texts
from support.killed_program import Deed, deeds

#: More moments than a program passes before it is killed by the clock.
LATE = 10**9

#: Longer than whatever is killed takes. [s]
LONGEST = 120.0

KG_PER_LB = 0.45359237


@dataclass(frozen=True, slots=True)
class Killer:
    """A book, a farm in it and one beside it, and a program of which copies are killed."""

    place: BookPlace
    season: Any
    moor: Path
    scratch: Path
    program: subprocess.Popen[str]

    def begin(self, kind: str, seed: int, at: int, place: BookPlace, **more: Any) -> Begun:
        """Begin a copy that is killed at a moment."""
        said = self.scratch / f"said-{kind}-{seed}"
        said.unlink(missing_ok=True)
        told = {
            "kind": kind,
            "seed": seed,
            "at": at,
            "folder": str(place.folder),
            "url": place.url,
            "season": str(self.season.id),
            "moor": str(self.moor),
            "said": str(said),
            "most": 40,
            **more,
        }
        assert self.program.stdin is not None
        self.program.stdin.write(f"{json.dumps(told)}\n")
        self.program.stdin.flush()
        return Begun(self.program, int(self._line()), said)

    def _line(self) -> str:
        assert self.program.stdout is not None
        return self.program.stdout.readline()


@dataclass(frozen=True, slots=True)
class Begun:
    """A copy of the program under way."""

    program: subprocess.Popen[str]
    pid: int
    said: Path

    def kill_after(self, seconds: float) -> None:
        """Kill it so long after it has begun."""
        end = time.monotonic() + LONGEST
        while not self.words("begin"):
            assert time.monotonic() < end
            time.sleep(0.002)
        time.sleep(seconds)
        # It may be done by then.
        with suppress(ProcessLookupError):
            os.kill(self.pid, signal.SIGKILL)

    def wait(self) -> int:
        """Return how it ended."""
        assert self.program.stdout is not None
        return int(self.program.stdout.readline())

    def words(self, word: str) -> list[str]:
        """Return what it said by a word; a line that was not ended says nothing."""
        text = self.said.read_text(encoding="utf-8") if self.said.exists() else ""
        lines = text.splitlines() if text.endswith("\n") else text.splitlines()[:-1]
        return [line.partition(" ")[2] for line in lines if line.split()[0] == word]


@contextmanager
def killed_programs() -> Iterator[subprocess.Popen[str]]:
    """Start the program of which copies are killed; it has loaded what they need."""
    words = [sys.executable, killed_program.__file__]
    with subprocess.Popen(
        words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as program:
        yield program
        assert program.stdin is not None
        program.stdin.close()


def killer(place: BookPlace, scratch: Path, program: subprocess.Popen[str]) -> Killer:
    """Put a farm into a book that is open with nothing in it, and another beside it."""
    season = take_in(write_texts(scratch / "hill", dict(GOOD))).season
    moor = {**GOOD, "farm.toml": GOOD["farm.toml"].replace("Hill farm", "Moor farm")}
    write_texts(scratch / "moor", moor)
    (scratch / "kept").mkdir()
    return Killer(place, season, scratch / "moor", scratch, program)


def kill(one: Killer, kind: str, seed: int, moments: int, seconds: float, **more: Any) -> Begun:
    """Kill a copy at a moment or a time that a seed names."""
    chance = random.Random(f"{kind} {seed}")
    by_clock = chance.random() < 0.4
    at = LATE if by_clock else chance.randint(1, moments)
    # Nothing of this process may keep the copy from writing.
    connection.close()
    begun = one.begin(kind, seed, at, more.pop("place", one.place), **more)
    if by_clock:
        begun.kill_after(chance.uniform(0.0, seconds))
    code = begun.wait()
    assert code in (0, -signal.SIGKILL), f"{kind}, seed {seed}: ended with {code}"
    return begun


def all_is_well(told: str) -> None:
    """Hold that the doctor finds nothing."""
    bad = [finding.sentence for finding in examine() if not finding.is_good]
    assert not bad, f"{told}: {bad}"


def kill_services(one: Killer, seed: int) -> None:
    """Kill somebody who writes, and somebody's phone; then let the phone send all again."""
    begun = kill(one, "services", seed, 300, 0.8)
    told = f"services, seed {seed}"
    sent, stood = len(begun.words("send")), len(begun.words("stands"))
    assert sent - stood in (0, 1)
    all_is_well(told)
    asked = list(islice(deeds(seed), sent))
    moor = read_folder(one.moor).farm
    for number, deed in enumerate(asked):
        is_whole(one, deed, moor, asked[number + 1 :], must=number < stood, told=told)
    for number, deed in enumerate(asked):
        if deed.kind in ("fed", "sold", "counted", "noted", "undone", "file", "season"):
            new = killed_program.do(deed, one.season.id, one.moor)
            assert not (new and number < stood), f"{told}: {deed} was acknowledged and counts again"
            assert not killed_program.do(deed, one.season.id, one.moor), f"{told}: {deed} twice"
    all_is_well(told)


def is_whole(
    one: Killer, deed: Deed, moor: Farm, later: list[Deed], *, must: bool, told: str
) -> None:
    """Hold that a deed stands as it was asked for, or nothing of it where it need not."""
    if deed.kind in ("farm", "gone"):
        found = seasons_of("Moor farm")
        assert len(found) <= 1, f"{told}: a farm stands twice"
        assert all(farm_of(season) == moor for season, _ in found), f"{told}: half a farm"
        if must and not any(next_one.kind in ("farm", "gone") for next_one in later):
            assert len(found) == (deed.kind == "farm"), f"{told}: {deed} was acknowledged"
        return
    there = _rows(one, deed)
    wanted = 2 if deed.kind == "undone" else 1
    allowed = {wanted} if must else {0, wanted}
    if deed.kind == "undone" and not must:
        # The line may stand by itself: it is taken back by another action.
        allowed.add(1)
    assert there in allowed, f"{told}: {there} rows of {deed}, of {wanted}"


def _rows(one: Killer, deed: Deed) -> int:
    """Return how many rows of a deed stand."""
    if deed.kind == "noted":
        # Its other half is looked for when it is sent again.
        near = deed.pounds * KG_PER_LB
        ends = (near - 1e-6, near + 1e-6)
        return records.Feeding.objects.filter(feed__isnull=False, mass_kg__range=ends).count()
    if deed.kind == "undone":
        both = (deed.fact, killed_program.old_of(deed))
        return records.Feeding.objects.filter(id__in=both).count()
    if deed.kind == "file":
        return records.SourceFile.objects.filter(name__endswith=f"-{deed.number}.csv").count()
    if deed.kind == "season":
        return min(1, records.Season.objects.filter(after=one.season).count())
    table = {
        "fed": records.Feeding,
        "sold": records.Move,
        "counted": records.LotState,
    }[deed.kind]
    return int(table.objects.filter(id=deed.fact).count())


def kill_planning(one: Killer, seed: int, effort: float = 0.01) -> None:
    """Kill the worker over a season that is asked for; what it was asked stays asked."""
    told = f"planning, seed {seed}"
    short = one.scratch / "short"
    if not short.exists():
        write_texts(short, {**SHORT, "farm.toml": SHORT["farm.toml"].replace("Hill", "Short")})
    season = take_in(short).season
    asked = ask_plan(None, season.id, effort).fact
    kill(one, "planning", seed, 60, 1.2)
    work = records.Work.objects.get(id=asked)
    assert work.state != records.FAILED or "three times" in work.told, f"{told}: {work.told}"
    done = records.Work.objects.filter(state=records.DONE)
    made = {row.id: row for row in records.Program.objects.all()}
    assert sorted(done.values_list("program_id", flat=True)) == sorted(made), told
    if work.program_id:
        assert planned_in(made[work.program_id]).program.made is not None
    all_is_well(told)


def kill_backup(one: Killer, seed: int) -> None:
    """Kill a backup under way; what has its name is whole."""
    told = f"backup, seed {seed}"
    begun = kill(one, "backup", seed, 150, 0.3, moor=str(one.scratch / "kept"), most=3)
    there = set(map(str, (one.scratch / "kept").glob(f"{seed}-*.backup")))
    assert set(begun.words("stands")) <= there, f"{told}: a backup that was acknowledged is lost"
    for path in there:
        assert check_backup(Path(path)).rows["Season"] == records.Season.objects.count(), told
    all_is_well(told)


def kill_restore(one: Killer, seed: int, empty: BookPlace) -> None:
    """Kill a backup that goes into an empty book: all of it is there, or nothing, and it can go."""
    told = f"restore, seed {seed}"
    kept = one.scratch / "kept" / f"to-restore-{seed}.backup"
    held = make_backup(kept)
    begun = kill(one, "restore", seed, 170, 0.3, place=empty, moor=str(kept))
    with opened_book(empty):
        all_is_well(told)
        there = records.Season.objects.count()
        assert there in (0, held.rows["Season"]), f"{told}: half a backup"
        assert there or not begun.words("stands"), f"{told}: it was acknowledged and is lost"
        if not there:
            assert restore_backup(kept) == held
            all_is_well(told)
    join_book(one.place)


def plan_what_waits() -> None:
    """Let the worker, begun again, finish what it was killed over."""
    while work_once("the one worker"):
        pass
    states = set(records.Work.objects.values_list("state", flat=True))
    assert states <= {records.DONE, records.FAILED}
