"""How long a record book of a large office takes: opened, a farm's yard, a backup and it restored.

Run with ``python benchmarks/book_office.py --folder PLACE`` on a quiet machine. The office is made
where it is not in PLACE yet, which takes minutes; ``--farms 6`` is a small one.
"""

from __future__ import annotations

import argparse
import gc
import random
import shutil
import statistics
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

from rickyard.book.base import BOOK_FILE, BookPlace, make_ready, opened_book

make_ready()

from office import make_office  # noqa: E402 - tables are defined after the book is made ready

from rickyard.book.keeping import make_backup, restore_backup  # noqa: E402
from rickyard.book.services import FarmThere, list_farms, read_farm  # noqa: E402
from rickyard.cli.main import LOOKED_OVER_AFTER  # noqa: E402
from rickyard.service import yard_on  # noqa: E402

DAY = date(2026, 2, 15)

#: Feedings of an office for each of its farms.
FED = 3_334

#: Yards of so many farms are worked out.
YARDS = 275

#: So many other farms come before them; a server reads as many in a second.
AHEAD = 25


def timed(what: Callable[[], object]) -> tuple[float, float]:
    """Return the seconds that something takes by the clock, and of one processor."""
    began, worked = time.perf_counter(), time.process_time()
    what()
    return time.perf_counter() - began, time.process_time() - worked


def opened(place: BookPlace) -> None:
    """Open a book and name its farms."""
    with opened_book(place, create=False):
        list_farms(None)


def yard(farm: FarmThere) -> None:
    """Read a farm of the book, and work out its yard."""
    yard_on(read_farm(None, farm.season), DAY)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--folder", type=Path, required=True)
    parser.add_argument("--farms", type=int, default=300)
    asked = parser.parse_args()
    place = BookPlace(asked.folder / "office")
    if not (place.folder / BOOK_FILE).exists():
        with opened_book(place):
            print(f"made in {timed(lambda: make_office(asked.farms, asked.farms * FED))[0]:.0f} s")
    print(f"file {(place.folder / BOOK_FILE).stat().st_size / 1e6:.0f} MB")
    seconds, worked = timed(lambda: opened(place))
    print(f"opened, farms named: {seconds:.2f} s, {worked:.2f} s of a processor")
    backup, again = asked.folder / "office.backup", BookPlace(asked.folder / "again")
    backup.unlink(missing_ok=True)
    shutil.rmtree(again.folder, ignore_errors=True)
    with opened_book(place):
        farms = list_farms(None)
        # As `serve` does: what is there once all is loaded is not looked through again for what
        # is no longer used, and what comes then seldom.
        gc.set_threshold(*LOOKED_OVER_AFTER)
        gc.collect()
        gc.freeze()
        # Each is read for the first time: nothing of it is held. `serve` reads farms ahead before
        # it is ready, so that what all farms share is read: other farms come first here too.
        drawn = random.Random(1).sample(farms, k=min(YARDS, len(farms)))
        ahead = [one for one in farms if one not in drawn][:AHEAD]
        first = [timed(lambda one=one: yard(one)) for one in ahead] or [(0.0, 0.0)]
        print(f"yard of the first farm of a process: {1e3 * first[0][0]:.0f} ms by clock")
        yards = [timed(lambda one=one: yard(one)) for one in drawn]
        for name, found in zip(("clock", "processor"), zip(*yards, strict=True), strict=True):
            middle = 1e3 * statistics.median(found)
            print(f"yard of a farm by {name}: median {middle:.0f} ms, most {1e3 * max(found):.0f}")
        seconds, worked = timed(lambda: make_backup(backup))
    size = backup.stat().st_size / 1e6
    print(f"backup of {size:.0f} MB, read again: {seconds:.1f} s, {worked:.1f} s of a processor")
    with opened_book(again):
        seconds, worked = timed(lambda: restore_backup(backup))
    print(f"restored, verified: {seconds:.1f} s, {worked:.1f} s of a processor")


if __name__ == "__main__":
    main()
