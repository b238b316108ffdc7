"""The worker of a server: a process of its own, started again when it ends, ended with the server.

Making a program takes a processor for a while; pages must not wait for that.
"""

from __future__ import annotations

import multiprocessing
import secrets
import threading
from multiprocessing.process import BaseProcess
from typing import Final

from rickyard.book.base import BookPlace
from rickyard.book.working import work_until_stopped

#: A worker that ended is started again after so long. [s]
_REST: Final = 1.0

#: A worker that does not end when it is told to is ended. [s]
_LONGEST_END: Final = 10.0


class Watched:
    """A worker that is there as long as the block."""

    def __init__(self, place: BookPlace) -> None:
        self._place, self._name = place, f"serve {secrets.token_hex(4)}"
        self._ended = threading.Event()
        self._process: BaseProcess | None = None
        self._watch = threading.Thread(target=self._start_again, daemon=True)

    def __enter__(self) -> Watched:
        """Start it."""
        self._process = self._start()
        self._watch.start()
        return self

    def __exit__(self, *_: object) -> None:
        """End it; what it worked on waits for the next."""
        self._ended.set()
        if self._process is not None:
            self._process.terminate()
            self._process.join(_LONGEST_END)
            self._process.kill()

    def _start(self, *, anew: bool = False) -> BaseProcess:
        what, told = _work, (self._place, self._name)
        process: BaseProcess
        if anew:
            # By now there are threads, beside which no process may be split off.
            context = multiprocessing.get_context("spawn")
            process = context.Process(target=what, args=told, daemon=True)
        else:
            process = multiprocessing.Process(target=what, args=told, daemon=True)
        process.start()
        return process

    def _start_again(self) -> None:
        while self._process is not None:
            self._process.join()
            if self._ended.wait(_REST):
                return
            self._process = self._start(anew=True)


def _work(place: BookPlace, name: str) -> None:
    parent = multiprocessing.parent_process()
    work_until_stopped(place, name, lambda: parent is not None and not parent.is_alive())
