"""The worker: takes what waits, works on it, says how far it is, and keeps what comes of it.

Where nothing waits it keeps the summaries of all farms up to date.
"""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from types import FrameType
from typing import Any, Final

from django.db import connection
from django.db.models import F, Q
from django.db.utils import DatabaseError

from rickyard.book import records
from rickyard.book.acting import NotTaken
from rickyard.book.base import BookPlace, join_book
from rickyard.book.district import Keeper
from rickyard.book.tasks import NotDone, WorkContext, result_of

#: A worker is heard of so often. [s]
BEAT: Final = 1.0

#: One that was not heard of for so long, or by a clock that was set back not yet, is gone.
GONE_AFTER: Final = timedelta(seconds=20)

#: Work that ended its worker so often is not begun again.
MOST_TRIES: Final = 3

#: How far a worker stands back where pages want the processors. (common practice, no published
#: source) [-]
_STANDS_BACK: Final = 5

#: How long a worker waits before it looks again. [s]
PAUSE: Final = 0.5

_GIVEN_UP: Final = (
    "The program that makes season programs ended three times over this farm. Nothing was changed. "
    "Plan the farm folder with rickyard plan, and report what that says."
)


def take(worker: str) -> Any:
    """Take the oldest work that waits, or whose worker is gone.

    Parameters
    ----------
    worker : str
        Who takes it.

    Returns
    -------
    records.Work or None
        The work, which is this worker's now; ``None`` where there is none.
    """
    now = datetime.now(UTC)
    unheard = Q(beat_at__lt=now - GONE_AFTER) | Q(beat_at__gt=now + GONE_AFTER)
    there = records.Work.objects.filter(
        Q(state=records.WAITING) | Q(state=records.RUNNING) & (unheard | Q(worker=worker))
    )
    for row in there.order_by("asked_at"):
        same = records.Work.objects.filter(id=row.id, state=row.state, tries=row.tries)
        if row.tries >= MOST_TRIES:
            same.update(state=records.FAILED, told=_GIVEN_UP)
        elif same.update(
            state=records.RUNNING, worker=worker, beat_at=now, tries=F("tries") + 1, told=""
        ):
            return records.Work.objects.select_related("season", "person").get(id=row.id)
    return None


def work_on(work: Any, worker: str) -> None:
    """Do the task that was asked for.

    Parameters
    ----------
    work : records.Work
        The work, taken.
    worker : str
        Who took it.
    """
    mine = records.Work.objects.filter(id=work.id, worker=worker, state=records.RUNNING)
    result = result_of(work)
    with _heard_of(work, worker) as heard:
        context = WorkContext(
            task_result=result, work=work, worker=worker, say=heard.say, stops=heard.stop.is_set
        )
        try:
            result.task.call(context, **result.kwargs)
        except NotTaken:
            return
        except NotDone as problem:
            mine.update(state=records.FAILED, told=str(problem))


class _Heard:
    """What a piece of work says while it goes on, and whether it is to stop."""

    def __init__(self) -> None:
        self.told = ""
        self.stop = threading.Event()

    def say(self, told: str) -> None:
        """Take what is being done."""
        self.told = told


@contextmanager
def _heard_of(work: Any, worker: str) -> Iterator[_Heard]:
    """Write every second that the work goes on, and look whether it is to stop."""
    heard, ended = _Heard(), threading.Event()

    def beat() -> None:
        while not ended.wait(BEAT):
            try:
                if _stopped(work, worker, heard.told):
                    heard.stop.set()
            except DatabaseError:
                # The next is written again: where none is, others take the work for given up.
                connection.close()
        connection.close()

    thread = threading.Thread(target=beat, daemon=True)
    thread.start()
    try:
        yield heard
    finally:
        ended.set()
        thread.join()


def _stopped(work: Any, worker: str, told: str) -> bool:
    """Write that a piece of work goes on; return whether it is to stop or is no longer this one's.

    The work may end at any moment: it is asked once, so that no answer contradicts another.
    """
    mine = records.Work.objects.filter(id=work.id, worker=worker, state=records.RUNNING)
    mine.update(beat_at=datetime.now(UTC), told=told)
    return mine.values_list("stop", flat=True).first() is not False


def work_once(worker: str) -> bool:
    """Do the next piece of work.

    Parameters
    ----------
    worker : str
        Who works.

    Returns
    -------
    bool
        Whether there was any.
    """
    work = take(worker)
    if work is None:
        return False
    work_on(work, worker)
    return True


def work_until_stopped(
    place: BookPlace, worker: str, parent_is_gone: Callable[[], bool] = lambda: False
) -> None:
    """Work for a book until this process is told to stop; what is not ready waits for the next.

    Parameters
    ----------
    place : BookPlace
        The book; its tables are up to date.
    worker : str
        A name for the one who works, the same after a restart.
    parent_is_gone : callable
        Asked whether whoever started this process is gone.
    """

    def stop(_: int, __: FrameType | None) -> None:
        raise KeyboardInterrupt

    signal.signal(signal.SIGTERM, stop)
    if hasattr(os, "nice"):
        # Whoever waits for a page waits shorter than whoever waits for a program.
        os.nice(_STANDS_BACK)
    join_book(place)
    keeper = Keeper()
    try:
        while not parent_is_gone():
            # Summaries are small, and whoever asks for a program does not wait for all of them.
            if not work_once(worker) and not keeper.keep_next(datetime.now(UTC)):
                connection.close()
                time.sleep(PAUSE)
    except KeyboardInterrupt:
        running = records.Work.objects.filter(worker=worker, state=records.RUNNING)
        running.update(state=records.WAITING, tries=F("tries") - 1)
    finally:
        connection.close()
