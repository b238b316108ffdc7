"""Blocks handed from one thread to another, so that a block is packed while the next is made.

Packing and digesting leave the processor to others meanwhile; speaking to a database stays in the
thread that began to.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from queue import Full, Queue
from typing import Final, TypeVar

Block = TypeVar("Block")

#: So many blocks wait between the two.
_WAITING: Final = 8

#: How often a thread that waits for room looks whether the other is gone. [s]
_LOOK: Final = 0.2


@contextmanager
def taken_beside(take: Callable[[Block], object]) -> Iterator[Callable[[Block], None]]:
    """Take blocks in another thread.

    Parameters
    ----------
    take : callable
        Takes a block.

    Yields
    ------
    callable
        Hands over a block. At the end of the block of code all are taken, or what went wrong with
        one is raised.

    Examples
    --------
    >>> taken = []
    >>> with taken_beside(taken.append) as give:
    ...     give("hay")
    ...     give("straw")
    >>> taken
    ['hay', 'straw']
    """
    waiting: Queue[tuple[Block, ...]] = Queue(_WAITING)
    wrong: list[Exception] = []

    def work() -> None:
        # After a fault what still comes is passed over, so that who gives need not wait.
        while block := waiting.get():
            try:
                if not wrong:
                    take(block[0])
            except Exception as fault:
                wrong.append(fault)

    thread = threading.Thread(target=work, daemon=True)
    thread.start()
    try:
        yield lambda block: waiting.put((block,))
    finally:
        waiting.put(())
        thread.join()
    if wrong:
        raise wrong[0]


def made_beside(blocks: Iterable[Block]) -> Iterator[Block]:
    """Yield blocks that are made in another thread, a few ahead.

    Parameters
    ----------
    blocks : iterable of Block
        Makes them; nothing else may use what it reads from until all are there.

    Yields
    ------
    Block
        One after another; what goes wrong in making one is raised in its place.

    Examples
    --------
    >>> list(made_beside(["hay", "straw"]))
    ['hay', 'straw']
    """
    waiting: Queue[tuple[Block, ...]] = Queue(_WAITING)
    wrong: list[Exception] = []
    ended = threading.Event()

    def give(block: tuple[Block, ...]) -> bool:
        while not ended.is_set():
            try:
                waiting.put(block, timeout=_LOOK)
            except Full:
                continue
            return True
        return False

    def work() -> None:
        try:
            for block in blocks:
                if not give((block,)):
                    return
        except Exception as fault:
            wrong.append(fault)
        give(())

    thread = threading.Thread(target=work, daemon=True)
    thread.start()
    try:
        while block := waiting.get():
            yield block[0]
    finally:
        ended.set()
        thread.join()
    if wrong:
        raise wrong[0]
