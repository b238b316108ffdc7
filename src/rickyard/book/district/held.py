"""What was worked out once, held by what it was worked out of; the oldest is dropped."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
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
    >>> held = Held[int, str](2)
    >>> held.hold({1: "a", 2: "b", 3: "c"})
    >>> held.of([3, 1, 2])
    {3: 'c', 2: 'b'}
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._found: dict[Key, Found] = {}
        self._lock = Lock()

    def of(self, keys: Iterable[Key]) -> dict[Key, Found]:
        """Return what is held of keys.

        Parameters
        ----------
        keys : iterable of Key
            What is wanted.

        Returns
        -------
        dict
            By key, in the order asked for.
        """
        with self._lock:
            return {key: self._found[key] for key in keys if key in self._found}

    def hold(self, new: Mapping[Key, Found]) -> None:
        """Hold things, and drop the oldest where there are too many.

        Parameters
        ----------
        new : mapping
            By key.
        """
        with self._lock:
            self._found.update(new)
            for old in list(self._found)[: -self._most]:
                del self._found[old]
