"""What was worked out once, held by what it was worked out of; the oldest is dropped."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from threading import Lock
from typing import Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)
Found = TypeVar("Found")


class Held(Generic[Key, Found]):
    """Things by their keys, no more than so many; any may be dropped at any time.

    Parameters
    ----------
    most : int
        How many are held.

    Examples
    --------
    >>> held = Held[int, int](2)
    >>> held.all_of([1, 2], lambda missing: {one: one * one for one in missing})
    {1: 1, 2: 4}
    >>> held.all_of([2, 3], lambda missing: {one: -one for one in missing})
    {2: 4, 3: -3}
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._found: dict[Key, Found] = {}
        self._lock = Lock()

    def all_of(
        self, keys: Iterable[Key], work_out: Callable[[list[Key]], Mapping[Key, Found]]
    ) -> dict[Key, Found]:
        """Return what is held of keys, the rest worked out at once.

        Parameters
        ----------
        keys : iterable of Key
            What is wanted.
        work_out : callable
            Given the keys that are not held, if any, it returns what belongs to each.

        Returns
        -------
        dict
            By key, in the order asked for.
        """
        wanted = list(keys)
        with self._lock:
            there = {key: self._found[key] for key in wanted if key in self._found}
        missing = [key for key in wanted if key not in there]
        if missing:
            new = work_out(missing)
            there.update(new)
            with self._lock:
                self._found.update(new)
                for old in list(self._found)[: -self._most]:
                    del self._found[old]
        return {key: there[key] for key in wanted}
